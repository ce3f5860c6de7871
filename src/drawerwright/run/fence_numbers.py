"""Numbers for a hand-out of fence positions: the neck first, then true lips, then what is free for thicker necks."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from drawerwright.basics.lengths import Mm
from drawerwright.joints import law
from drawerwright.run.fence_pairs import Demands, Solutions
from drawerwright.run.octagons import Indices, Mask, Numbers, Octagons

SETTLED: Mm = 1e-5
"""How exactly necks and lips are settled."""
PROBES = 24
"""Values that are tried at once while one is settled."""


def most_promising(demands: Demands, solutions: Solutions) -> Indices:
    """The pairs of the solution that may leave the thickest neck, flat's and upright's told apart."""
    low, _ = solutions.octagons.ranges()
    rows = np.arange(len(solutions.pairs))[:, None]
    flat, upright = low[rows, solutions.pairs[:, :, 0]], low[rows, solutions.pairs[:, :, 1]]
    smallest: Numbers = np.where(solutions.either_way, np.minimum(flat, upright), upright)
    necks = np.where(demands.is_split_free, law.neck(demands.thickness, smallest), math.inf)
    return _told_apart(solutions, int(necks.min(axis=1).argmax()))


def _told_apart(solutions: Solutions, row: int) -> Indices:
    """Pairs with the smaller setting as the upright's where either would do, at some point of the octagon."""
    octagons = solutions.octagons.taken(np.array([row]))
    point = np.zeros(octagons.count)
    for a in range(octagons.count):
        low, high = (float(bound[0, a]) for bound in octagons.ranges())
        point[a] = low if math.isinf(high) else (low + high) / 2
        octagons.keep_range(a, point[a], point[a])
    pairs: Indices = solutions.pairs[row].copy()
    turned = solutions.either_way & (point[pairs[:, 0]] < point[pairs[:, 1]])
    pairs[turned] = pairs[turned][:, ::-1]
    return pairs


def thickest_neck(demands: Demands, pairs: Indices, tolerance: Mm) -> Mm | None:
    """The most that the thinnest neck can be (mm); None where there is none to speak of (lock-mitres)."""
    if not demands.is_split_free.any():
        return None
    thickest = float(demands.thickness.max())
    lost = _least(
        0.0,
        thickest + float(demands.sums.max()) + tolerance,  # no setting is larger than the largest sum
        lambda values: _shapes(demands, pairs, np.full(len(values), tolerance), thickest - values)[1],
    )
    return thickest - lost


def least_slack(demands: Demands, pairs: Indices, tolerance: Mm, neck: Mm) -> Mm:
    """How far the worst sum must be missed to leave this neck (mm); at most the tolerance."""
    return _least(
        0.0, tolerance, lambda values: _shapes(demands, pairs, values, np.full(len(values), neck))[1]
    )


def settings(demands: Demands, pairs: Indices, slack: Mm, neck: Mm) -> Numbers:
    """A setting for each position (mm): sums missed by no more than `slack`, necks no thinner than `neck`.

    Within that every sum in turn is met as truly as the ones before it allow, then every neck, the thinnest
    stock first, is left as thick as it can be.
    """
    shape, holds = _shapes(demands, pairs, np.array([slack + SETTLED]), np.array([neck - SETTLED]))
    if not holds.all():
        raise AssertionError("slack and neck come from the same hand-out and are possible")
    for wanted, (flat, upright) in zip(demands.sums, pairs, strict=True):
        least, most = (bound[0, flat, upright] for bound in shape.sums())
        nearest = min(max(wanted, least), most)
        shape.keep_sum(flat, upright, nearest, nearest)
    for upright in pairs[np.argsort(demands.thickness, kind="stable"), 1]:
        low = shape.ranges()[0][0, upright]
        shape.keep_range(upright, low, low)
    low, _ = shape.ranges()
    return np.asarray(low[0])


def _shapes(demands: Demands, pairs: Indices, slacks: Numbers, necks: Numbers) -> tuple[Octagons, Mask]:
    """Octagons of one hand-out for several slacks and necks, and which of them hold a point."""
    count = int(pairs.max()) + 1
    shapes = Octagons.within(len(slacks), count, float(demands.least.min()), float(demands.most_flat.max()))
    holds = np.ones(len(slacks), np.bool_)
    limits = [demands.uprights_within(float(neck)) for neck in necks]
    for index, (flat, upright) in enumerate(pairs):
        wanted, least = demands.sums[index], demands.least[index]
        holds &= shapes.keep_sum(flat, upright, wanted - slacks, wanted + slacks)
        holds &= shapes.keep_range(flat, least, demands.most_flat[index])
        holds &= shapes.keep_range(upright, least, np.array([limit[index] for limit in limits]))
    return shapes, holds


def _least(low: Mm, high: Mm, works: Callable[[Numbers], Mask]) -> Mm:
    """The least value that works, to `SETTLED`, where everything above one that works does, as `high` is known to."""
    if works(np.array([low]))[0]:
        return low
    while high - low > SETTLED:
        values = np.linspace(low, high, PROBES + 1)
        working = np.flatnonzero(works(values[1:-1]))
        first = int(working[0]) + 1 if len(working) else PROBES
        low, high = float(values[first - 1]), float(values[first])
    return high
