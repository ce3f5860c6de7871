"""An edge without the scatter of its readings: the chain of straight pieces with the fewest corners that explains them.

Unlike the shapes of `drawerwright.joints.shapes` it need not be symmetric about anything. Its corners are found among
the readings (those that no straighter line explains), dropped while that pays by Schwarz's criterion (G. Schwarz 1978;
from memory), and then moved to where they leave over least.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import Mm
from drawerwright.joints.profile import LEDGE_RISE, Point, fewest_points, without_ledges

Row: TypeAlias = NDArray[np.float64]

BEYOND_SCATTER = 2.5
"""A reading further from a line than so many standard uncertainties is a corner to begin with."""
ROUNDS = 30
"""So often at most the corners are moved."""
HOPEFUL = 6
"""Of the corners that explain least so many are tried without, the others moved."""


@dataclass(frozen=True, slots=True)
class SmoothEdge:
    """Corners of the chain (mm), and the standard uncertainty of the insets of the least sure of them (mm)."""

    points: tuple[Point, ...]
    uncertainty: Mm


def without_scatter(points: Sequence[Point], uncertainty: Mm) -> SmoothEdge:
    """The chain with the fewest corners that explains readings.

    Args:
        points: depth, inset (mm), from the top down.
        uncertainty: standard uncertainty of each inset, more than zero (mm).
    """
    depths, insets = np.array(points, dtype=float).T
    depths = without_ledges(depths)
    begun = fewest_points(
        tuple(zip(depths.tolist(), insets.tolist(), strict=True)), BEYOND_SCATTER * uncertainty
    )
    # A knot has an inset and a place, and the place was searched for among many: that counts as a third figure.
    price = 3 * math.log(len(depths)) * uncertainty**2
    found = _dropped(depths, insets, np.array([depth for depth, _ in begun]), price)
    knots = _moved(depths, insets, found)
    while len(knots) > 2 and (fewer := _joined(depths, insets, knots, price)) is not None:
        knots = fewer
    levels, _ = _fitted(depths, insets, knots)
    doubt = uncertainty * math.sqrt(float(np.diag(_spread(depths, knots)).max()))
    return SmoothEdge(tuple(zip(knots.tolist(), levels.tolist(), strict=True)), min(doubt, uncertainty))


def _hats(depths: Row, knots: Row) -> Row:
    """Share of each knot's inset in that of each depth (rows: depths)."""
    piece = np.clip(np.searchsorted(knots, depths, side="right") - 1, 0, len(knots) - 2)
    share = (depths - knots[piece]) / (knots[piece + 1] - knots[piece])
    hats = np.zeros((len(depths), len(knots)))
    rows = np.arange(len(depths))
    hats[rows, piece], hats[rows, piece + 1] = 1 - share, share
    return hats


def _fitted(depths: Row, insets: Row, knots: Row) -> tuple[Row, float]:
    """Insets at the knots that leave over least, and the sum of squares that they leave (mm²)."""
    hats = _hats(depths, knots)
    levels = np.linalg.lstsq(hats, insets, rcond=None)[0]
    rest = insets - hats @ levels
    return np.asarray(levels), float(rest @ rest)


def _spread(depths: Row, knots: Row) -> Row:
    """Covariance of the insets at the knots, for readings of variance 1."""
    hats = _hats(depths, knots)
    return np.asarray(np.linalg.inv(hats.T @ hats))


def _dropped(depths: Row, insets: Row, knots: Row, price: float) -> Row:
    """The knots without those that explain less than their price (mm²), all others staying where they are."""
    while len(knots) > 2:
        costs = _costs(depths, insets, knots)
        least = int(np.argmin(costs))
        if costs[least] > price:
            break
        knots = np.delete(knots, least + 1)
    return knots


def _costs(depths: Row, insets: Row, knots: Row) -> Row:
    """What each inner knot explains (mm²): the squares that it costs to put it on the line of its neighbours."""
    levels, _ = _fitted(depths, insets, knots)
    spread = _spread(depths, knots)
    share = (knots[1:-1] - knots[:-2]) / (knots[2:] - knots[:-2])
    lines = np.zeros((len(knots) - 2, len(knots)))
    inner = np.arange(len(knots) - 2)
    lines[inner, inner], lines[inner, inner + 1], lines[inner, inner + 2] = share - 1, 1.0, -share
    return np.asarray((lines @ levels) ** 2 / np.einsum("ij,jk,ik->i", lines, spread, lines))


def _joined(depths: Row, insets: Row, knots: Row, price: float) -> Row | None:
    """One knot fewer, the others moved to make up for it; None where every knot is worth its price."""
    _, misfit = _fitted(depths, insets, knots)
    for index in np.argsort(_costs(depths, insets, knots))[:HOPEFUL]:
        fewer = _moved(depths, insets, np.delete(knots, index + 1))
        if _fitted(depths, insets, fewer)[1] - misfit <= price:
            return fewer
    return None


def _moved(depths: Row, insets: Row, knots: Row) -> Row:
    """The inner knots where they leave over least (Gauss and Newton's method, steps halved until they help)."""
    levels, misfit = _fitted(depths, insets, knots)
    for _ in range(ROUNDS):
        inner = knots[1:-1]
        if not len(inner):
            break
        hats = _hats(depths, knots)
        rates = np.diff(levels) / np.diff(knots)
        # A knot that moves down by 1 takes the line with it by the steeper piece's rate, on its own side.
        by_place = -np.where(depths[:, None] < inner, rates[:-1], rates[1:]) * hats[:, 1:-1]
        slopes = np.hstack((hats, by_place))
        rest = insets - hats @ levels
        change = np.linalg.lstsq(slopes.T @ slopes, slopes.T @ rest, rcond=1e-12)[0][len(knots) :]
        share = 1.0
        while share > 1e-3:
            trial = knots.copy()
            trial[1:-1] = inner + share * change
            if np.all(np.diff(trial) > LEDGE_RISE / 2) and _each_is_read(depths, trial):
                trial_levels, trial_misfit = _fitted(depths, insets, trial)
                if trial_misfit < misfit:
                    break
            share /= 2
        else:
            break
        is_still = misfit - trial_misfit < 1e-6 * misfit
        knots, levels, misfit = trial, trial_levels, trial_misfit
        if is_still:
            break
    return knots


def _each_is_read(depths: Row, knots: Row) -> bool:
    """Whether every knot has a reading of its own on its two pieces, so that no inset is left open.

    (I. Schoenberg and A. Whitney 1953; from memory.)
    """
    after = np.searchsorted(depths, knots[:-2], side="right")
    taken = 0  # the first reading is the first knot's
    for first, end in zip(after, knots[2:], strict=True):
        taken = max(taken + 1, int(first))
        if taken >= len(depths) - 1 or depths[taken] >= end:
            return False
    return True
