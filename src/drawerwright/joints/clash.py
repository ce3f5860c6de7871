r"""How far the two faces of a corner clash, over how deep the upright piece engages.

::

          flat piece    |  x of its cut face: f(y)
      ------------------+
       upright ->   |   |     the clash at an engagement Y is the largest sum f(y) + g(Y - y) of both
       g(Y - y)     |   |     insets over the levels y that the pieces share
      --------------+---+

The faces are polylines, so the clash is, over Y, piecewise linear with kinks where two corners of the faces
pass each other; between neighbouring kinks it is convex. Evaluating it at those kinks, and once inside where a
lower point can hide, is exact for faces as they are given; points that hardly leave the line of their neighbours
are dropped first (`profile.PLAIN_TOLERANCE`).
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import Mm
from drawerwright.joints.corner import Cuts
from drawerwright.joints.profile import GIVE, LEDGE_RISE, Point, without_ledges

Row: TypeAlias = NDArray[np.float64]

LEVEL: Mm = 1e-6
"""Clashes that differ by less than this are the same number."""
MANY_KINKS = 2500
"""Beyond this many pairs of corners it pays to rule out most engagements first."""
CELLS, FINE = 64, 8
"""How many cells of engagement are looked at for that, and into how many each that stays is split."""
NOTHING = -1e6
"""Stands for the inset where the cut leaves no wood at all: never the first to touch."""


@dataclass(frozen=True, slots=True)
class Face:
    """Inset over depth of one piece as it was really cut, continuous (mm)."""

    depths: Row
    insets: Row

    def at(self, depths: Row) -> Row:
        """Insets at these depths."""
        return np.interp(depths, self.depths, self.insets)


def cut_faces(cuts: Cuts) -> tuple[Face, Face]:
    """The faces of flat and upright piece: no inset deeper than the fence allows, none where no wood is left."""
    top = max(cuts.bit_height - cuts.flat_thickness, 0.0)
    flat = _capped(cuts.profile.between(top, cuts.bit_height), cuts.fence_flat)
    upright = _capped(cuts.profile.between(0.0, cuts.bit_height), cuts.fence_upright)
    through = cuts.fence_upright - cuts.upright_thickness
    return _face(flat), _face(_hollowed(upright, through) if through > 0 else upright)


def _face(points: Sequence[Point]) -> Face:
    depths = np.array([z for z, _ in points])
    insets = np.array([c for _, c in points])
    return Face(without_ledges(depths), insets)


def _capped(points: Sequence[Point], cap: Mm) -> list[Point]:
    """The line with no inset above `cap`, crossings added."""
    return [(z, min(c, cap)) for z, c in _with_crossings(points, cap)]


def _hollowed(points: Sequence[Point], floor: Mm) -> list[Point]:
    """The line with nothing where the inset is below `floor`: there the cut went through the piece."""
    line: list[Point] = []
    crossed = _with_crossings(points, floor)
    for (z0, c0), (z1, c1) in itertools.pairwise(crossed):
        gone = min(c0, c1) < floor - LEVEL
        line += [(z0, NOTHING if gone else c0), (z1, NOTHING if gone else c1)]
    return line


def _with_crossings(points: Sequence[Point], value: Mm) -> list[Point]:
    line = [points[0]]
    for (z0, c0), (z1, c1) in itertools.pairwise(points):
        if (c0 - value) * (c1 - value) < 0:
            line.append((z0 + (z1 - z0) * (value - c0) / (c1 - c0), value))
        line.append((z1, c1))
    return line


def clash_curve(flat: Face, upright: Face, cuts: Cuts, target: Mm, give: Mm = GIVE) -> tuple[Row, Row]:
    """Engagements in ascending order, and how far the two faces clash there (two rows of one length, mm).

    The clash is the largest sum of both insets over the levels that they share: the upright's outer face
    comes to lie at F_flat + F_upright - t_upright - clash. `target` is the engagement that is pressed for; what is
    further than twice the `give` from the deepest seat may be left out.
    """
    height = cuts.bit_height
    sums = np.add.outer(flat.depths, upright.depths).ravel()
    kinks = 2 * height - sums
    kinks = kinks[(kinks > 0) & (kinks < height)]
    edges = np.array([0.0, height])
    hopeful = np.array([True])
    if len(kinks) > MANY_KINKS:
        edges, hopeful = _hopeful_cells(flat, upright, height, target, give)
        kinks = kinks[hopeful[np.searchsorted(edges, kinks, side="right") - 1]]
    kinks = np.unique(np.concatenate((kinks, edges)))
    kinks = kinks[np.concatenate(((True,), np.diff(kinks) > LEDGE_RISE / 10))]
    kinks[-1] = height
    at_kinks = _clashes(flat, upright, height, kinks)
    middles = (kinks[1:] + kinks[:-1]) / 2
    spans = np.flatnonzero(hopeful[np.searchsorted(edges, middles, side="right") - 1])
    touching = _touching(flat, upright, height, middles[spans])
    starts = np.where(touching, _sums(flat, upright, height, kinks[spans]), -np.inf)
    ends = np.where(touching, _sums(flat, upright, height, kinks[spans + 1]), -np.inf)
    lower_end = np.minimum(at_kinks[spans], at_kinks[spans + 1])
    inner: list[tuple[Mm, Mm]] = []
    for dip in np.flatnonzero(np.minimum(starts, ends).max(axis=0) < lower_end - LEVEL):
        share, value = _lowest_of_highest(starts[:, dip], ends[:, dip])
        if 0 < share < 1:
            low, high = kinks[spans[dip]], kinks[spans[dip] + 1]
            inner.append((float(low + share * (high - low)), value))
    if not inner:
        return kinks, at_kinks
    more = np.array(inner)
    reaches = np.concatenate((kinks, more[:, 0]))
    order = np.argsort(reaches, kind="stable")
    return reaches[order], np.concatenate((at_kinks, more[:, 1]))[order]


def _hopeful_cells(
    flat: Face, upright: Face, height: Mm, target: Mm, give: Mm
) -> tuple[Row, NDArray[np.bool_]]:
    """Cells of the engagement that may hold the deepest seat, for faces of so many corners that it pays.

    Coarse cells are looked at first, and those that stay are looked at again in small ones.
    """
    ladder = [upright.insets]
    while len(ladder[-1]) > (gap := 1 << (len(ladder) - 1)):
        ladder.append(np.minimum(ladder[-1][:-gap], ladder[-1][gap:]))
    edges = np.linspace(0.0, height, CELLS + 1)
    hopeful = _hopeful(flat, upright, height, target, give, edges, ladder)
    share = np.arange(FINE) / FINE
    inside = (edges[:-1, None] + np.diff(edges)[:, None] * share)[hopeful].ravel()
    edges = np.unique(np.concatenate((edges, inside)))
    hopeful = _hopeful(flat, upright, height, target, give, edges, ladder)
    return edges, np.append(hopeful, hopeful[-1])


def _hopeful(
    flat: Face, upright: Face, height: Mm, target: Mm, give: Mm, edges: Row, ladder: Sequence[Row]
) -> NDArray[np.bool_]:
    """Which cells may hold the deepest seat.

    A cell is out when the clash is, all through it, more than twice the give above that at the best cell edge on the
    near side of the ridge. `ladder` has the upright's least inset over 1, 2, 4 ... corners from each on.
    """
    at_edges = _clashes(flat, upright, height, edges)
    best = deepest_seat(edges, at_edges, target, give).clash
    starts = 2 * height - edges[1:] - flat.depths[:, None]
    ends = 2 * height - edges[:-1] - flat.depths[:, None]
    least = np.minimum(upright.at(starts), upright.at(ends))
    i = np.searchsorted(upright.depths, starts)
    count = np.searchsorted(upright.depths, ends, side="right") - i
    for rung, lows in enumerate(ladder):
        here = (count >= 1 << rung) & (count < 2 << rung)
        if here.any():
            a, b = i[here], (i + count)[here] - (1 << rung)
            least[here] = np.minimum(least[here], np.minimum(lows[a], lows[b]))
    shared = flat.depths[:, None] >= height - edges[:-1]
    bound = np.where(shared, flat.insets[:, None] + least, -np.inf).max(axis=0)
    return np.asarray(bound <= best + 2 * give + LEVEL)


def _clashes(flat: Face, upright: Face, height: Mm, reaches: Row) -> Row:
    touching = _touching(flat, upright, height, reaches)
    clashes: Row = np.where(touching, _sums(flat, upright, height, reaches), -np.inf).max(axis=0)
    return clashes


def _touching(flat: Face, upright: Face, height: Mm, reaches: Row) -> NDArray[np.bool_]:
    """Which corners of the faces (rows: flat piece's, then upright's) meet the other face at each reach."""
    sums = 2 * height - reaches
    slack = LEDGE_RISE
    by_flat = flat.depths[:, None] >= height - reaches - slack
    partner = sums - upright.depths[:, None]
    by_upright = (partner >= flat.depths[0] - slack) & (partner <= flat.depths[-1] + slack)
    return np.concatenate((by_flat, by_upright))


def _sums(flat: Face, upright: Face, height: Mm, reaches: Row) -> Row:
    """Sum of both insets at every corner of either face (rows), for each reach."""
    sums = 2 * height - reaches
    by_flat = flat.insets[:, None] + upright.at(sums - flat.depths[:, None])
    by_upright = upright.insets[:, None] + flat.at(sums - upright.depths[:, None])
    return np.concatenate((by_flat, by_upright))


def _lowest_of_highest(starts: Row, ends: Row) -> tuple[float, float]:
    """Where the highest of some straight lines over [0, 1] is lowest, and how high it is there."""
    live = np.isfinite(starts) & np.isfinite(ends)
    starts, ends = starts[live], ends[live]
    rates = ends - starts
    left, right = int(np.argmax(starts)), int(np.argmax(ends))
    for _ in range(len(starts)):
        if rates[left] >= 0:
            return 0.0, float(starts[left])
        if rates[right] <= 0:
            return 1.0, float(ends[right])
        share = float((starts[left] - starts[right]) / (rates[right] - rates[left]))
        values = starts + rates * share
        top = int(np.argmax(values))
        if values[top] <= values[left] + 1e-12:
            return share, float(values[top])
        if rates[top] < 0:
            left = top
        else:
            right = top
    return share, float(values[top])


@dataclass(frozen=True, slots=True)
class Seat:
    """The deepest seat (mm): the ends of the engagements that are as deep, the clash, and whether a hook holds it."""

    pulled: Mm
    pressed: Mm
    clash: Mm
    is_held: bool


def deepest_seat(reaches: Row, clashes: Row, target: Mm, give: Mm = GIVE) -> Seat:
    """The deepest seat within reach.

    What is no more than `give` less deep is as deep, but the flank that ends it is not part of it: the seat ends where
    the flank, as steep as it is just above, would meet the deepest.

    Args:
        reaches, clashes: from `clash_curve`.
        target: engagement that the woodworker presses for (mm).
        give: in what depths may differ that are equally deep (mm).
    """
    goal = int(np.argmin(np.abs(reaches - target)))
    ridge = _ridge(clashes, goal, give)
    if ridge is None:
        return Seat(float(reaches[goal]), float(reaches[goal]), float(clashes[goal]), False)
    within, reach = clashes[ridge:], reaches[ridge:]
    least = float(within.min())
    good = within <= least + give
    last = len(within) - 1 - int(np.argmax(good[::-1]))
    first = last
    while first > 0 and good[first - 1]:
        first -= 1
    deepest = np.flatnonzero(within[first : last + 1] <= least + LEVEL) + first
    pulled = _foot(reach[last::-1], within[last::-1], last - first, give, least)
    pressed = _foot(reach[first:], within[first:], last - first, give, least)
    return Seat(
        pulled=min(pulled, float(reach[deepest[0]])),
        pressed=max(pressed, float(reach[deepest[-1]])),
        clash=least,
        is_held=True,
    )


def _foot(reaches: Row, clashes: Row, end: int, give: Mm, least: Mm) -> Mm:
    """Where the flank beyond the index `end` meets the level `least` (mm); the end itself where there is none."""
    if end == len(reaches) - 1:
        return float(reaches[end])
    higher = np.flatnonzero(clashes[end:] >= least + 2 * give)
    top = end + int(higher[0]) if len(higher) else end + int(np.argmax(clashes[end:]))
    low, high = least + give, min(float(clashes[top]), least + 2 * give)
    flank = np.maximum.accumulate(clashes[end : top + 1])
    at_low, at_high = (float(np.interp(level, flank, reaches[end : top + 1])) for level in (low, high))
    return at_low + (at_low - at_high) * give / (high - low)


def _ridge(clashes: Row, goal: int, give: Mm) -> int | None:
    """The highest place below the goal that the upright would have to climb, by more than the give, to fall out."""
    best: int | None = None
    lowest_after = np.minimum.accumulate(clashes[: goal + 1][::-1])[::-1]
    for index in range(goal):
        is_top = index == 0 or clashes[index] >= clashes[index - 1] - LEVEL
        if not is_top or lowest_after[index + 1] >= clashes[index] - give:
            continue
        if best is None or clashes[index] >= clashes[best]:
            best = index
    return best
