r"""What the wood does at any setting: how the upright piece seats in the flat piece.

::

          flat piece    |  x of its cut face: f(y)
      ------------------+
       upright ->   |   |     the upright slides in along +x until the first level y at which
       g(Y - y)     |   |     lip + g(Y - y) meets f(y); how deep that is depends on Y
      --------------+---+

The upright may lie at any engagement Y that keeps its tip below the roof and its shoulder below the flat
piece's inner face (both say Y <= h). Among these it takes those that let it go deepest. Falling out is not
going deep: a corner without a hook is held at its target by hand, and one with a hook keeps to the near side
of the ridge that the hook makes.

No formula of an ideal joint is used here. The faces are polylines, so the depth at which they meet is, over Y,
piecewise linear with kinks where two corners of the faces pass each other; between neighbouring kinks it is
convex. Evaluating it at those kinks, and once inside where a lower point can hide, is exact for faces as they
are given; points that hardly leave the line of their neighbours are dropped first (`profile.PLAIN_TOLERANCE`).
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.joints import law
from drawerwright.joints.corner import SEEN, Cuts, Gap, corner_gaps
from drawerwright.joints.profile import LEDGE_RISE, Point, without_ledges
from drawerwright.joints.setting import CornerSetting

Row: TypeAlias = NDArray[np.float64]

CLOSED: Mm = 0.001
"""A corner that stands proud by no more than this closes: no clamp or glue line is truer."""
LEVEL: Mm = 1e-6
"""Engagements whose depths differ by less than this are equally deep."""
MANY_KINKS = 2500
"""Beyond this many pairs of corners it pays to rule out most engagements first."""
CELLS, FINE = 64, 8
"""How many cells of engagement are looked at for that, and into how many each that stays is split."""
NOTHING = -1e6
"""Stands for the inset where the cut leaves no wood at all: never the first to touch."""


@dataclass(frozen=True, slots=True)
class SeatedState:
    """One end of the play: where the upright lies, and the gaps that show (mm).

    `roof_gap` and `shoulder_gap` are None for a cutter that goes right through the flat piece; then
    `tip_step` says how far the upright's tip stands beyond the flat piece's outer face (negative: short of
    it). `hook_gap` is measured along the upright piece: how far it still moves before the hook bears.
    """

    cuts: Cuts
    engagement: Mm
    lip: Mm
    hook_gap: Mm

    @property
    def roof_gap(self) -> Mm | None:
        """Daylight between tip and roof."""
        return self._opening

    @property
    def shoulder_gap(self) -> Mm | None:
        """Daylight between the upright's ledge and the flat piece's inner face."""
        return self._opening

    @property
    def tip_step(self) -> Mm | None:
        """How far the tip stands beyond the flat piece's outer face, where there is no roof."""
        return None if self.cuts.has_roof else self.engagement - self.cuts.flat_thickness

    @property
    def gaps(self) -> tuple[Gap, ...]:
        """All gaps by place, with width, area and outline."""
        return corner_gaps(self.cuts, self.lip, self.engagement)

    @property
    def touches_at(self) -> tuple[str, ...]:
        """Where the pieces touch: roof, shoulder, neck, slope, head."""
        return _touches(self)

    @property
    def _opening(self) -> Mm | None:
        return max(self.cuts.bit_height - self.engagement, 0.0) if self.cuts.has_roof else None


@dataclass(frozen=True, slots=True)
class Fit:
    """How a corner seats. All lengths in mm.

    `stands_proud` is how far the upright stays out of its seat along the flat piece; `lip` is where its outer
    face really ends up (the lip the fence meant, less what stands proud); `is_held` is False when no hook
    keeps the upright from being pulled out along its length.
    """

    stands_proud: Mm
    lip: Mm
    is_held: bool
    pressed: SeatedState
    pulled: SeatedState

    @property
    def closes(self) -> bool:
        """Whether the upright reaches its seat."""
        return self.stands_proud <= CLOSED

    @property
    def play(self) -> Mm:
        """How far the seated upright can still move along its length."""
        return self.pressed.engagement - self.pulled.engagement

    @property
    def touches_at(self) -> tuple[str, ...]:
        """Where the pieces touch when pressed home."""
        return self.pressed.touches_at


def seat(cuts: Cuts, step: Mm, *, give: Mm = LEVEL) -> Fit:
    """Slide the upright piece in and see what happens.

    Args:
        cuts: profile, thicknesses and settings of the corner, whatever they are.
        step: the cutter's step, which its seat is measured from (`drawerwright.joints.mate` finds it for a
            measured profile).
        give: engagements that are less deep by no more than this count as equally deep (mm). Room for the
            roughness of a measured profile; 0.000001 by default.

    Raises:
        InvalidValueError: a thickness is none, the cutter does not reach the wood, or it cuts the end of the
            upright piece off.
    """
    _check(cuts)
    cuts = replace(cuts, profile=cuts.profile.plain)
    flat, upright = _faces(cuts)
    target = _target(cuts)
    reaches, clashes = _clash_curve(flat, upright, cuts, target)
    first, last, is_held = _deepest(reaches, clashes, target, give)
    meant = law.lip(cuts.fence_flat, cuts.fence_upright, cuts.upright_thickness, step)
    proud = float(clashes[last]) - step
    lip = meant - proud
    pulled, pressed = float(reaches[first]), float(reaches[last])
    return Fit(
        stands_proud=max(proud, 0.0) if proud > LEVEL else 0.0,
        lip=lip,
        is_held=is_held,
        pressed=SeatedState(cuts, pressed, lip, pressed - pulled),
        pulled=SeatedState(cuts, pulled, lip, 0.0),
    )


def _check(cuts: Cuts) -> None:
    """Refuse what leaves no two pieces to put together."""
    for piece, thickness in (
        (phrase("flat piece"), cuts.flat_thickness),
        (phrase("upright piece"), cuts.upright_thickness),
    ):
        if not thickness > 0:
            raise InvalidValueError(
                phrase(
                    "the {piece} must be thicker than 0 mm, not {thickness}",
                    piece=piece,
                    thickness=millimetres(thickness, "g"),
                )
            )
    if not cuts.bit_height > 0:
        raise InvalidValueError(
            phrase(
                "bit height {bit_height} leaves nothing above the table: raise the bit",
                bit_height=millimetres(cuts.bit_height, "g"),
            )
        )
    for piece, fence in (
        (phrase("flat piece"), cuts.fence_flat),
        (phrase("upright piece"), cuts.fence_upright),
    ):
        if not fence > 0:
            raise InvalidValueError(
                phrase(
                    "a fence setting of {fence} for the {piece} keeps the cutter behind the fence, and nothing is cut: "
                    "set it to more than 0 mm",
                    fence=millimetres(fence, "g"),
                    piece=piece,
                )
            )
    through = cuts.fence_upright - cuts.upright_thickness
    cut = cuts.profile.between(0.0, cuts.bit_height)
    gone = next((z for z, c in cut if c <= through), None)
    if gone is not None and (gone == 0 or any(c > through for z, c in cut if z > gone)):
        raise InvalidValueError(
            phrase(
                "a fence setting of {fence} cuts the end of the upright piece of {thickness} off: less than "
                "{thickness} leaves it a neck",
                fence=millimetres(cuts.fence_upright, "g"),
                thickness=millimetres(cuts.upright_thickness, "g"),
            )
        )


def seat_setting(setting: CornerSetting) -> Fit:
    """How the ideal corner of a setting seats, at whatever height and fence it asks for."""
    return seat(Cuts.of(setting), setting.cutter.seated_step)


def _target(cuts: Cuts) -> Mm:
    """Engagement that the woodworker presses for: tip on the roof, or flush with the outer face."""
    return cuts.bit_height if cuts.has_roof else min(cuts.flat_thickness, cuts.bit_height)


@dataclass(frozen=True, slots=True)
class _Face:
    """Inset over depth of one piece as it was really cut, continuous."""

    depths: Row
    insets: Row

    def at(self, depths: Row) -> Row:
        return np.interp(depths, self.depths, self.insets)


def _faces(cuts: Cuts) -> tuple[_Face, _Face]:
    """Effective insets of both faces: none deeper than the fence allows, none where no wood is left."""
    top = max(cuts.bit_height - cuts.flat_thickness, 0.0)
    flat = _capped(cuts.profile.between(top, cuts.bit_height), cuts.fence_flat)
    upright = _capped(cuts.profile.between(0.0, cuts.bit_height), cuts.fence_upright)
    through = cuts.fence_upright - cuts.upright_thickness
    return _face(flat), _face(_hollowed(upright, through) if through > 0 else upright)


def _face(points: Sequence[Point]) -> _Face:
    depths = np.array([z for z, _ in points])
    insets = np.array([c for _, c in points])
    return _Face(without_ledges(depths), insets)


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


def _clash_curve(flat: _Face, upright: _Face, cuts: Cuts, target: Mm) -> tuple[Row, Row]:
    """Engagements in ascending order, and how far the two faces clash there.

    The clash is the largest sum of both insets over the levels that they share: the upright's outer face
    comes to lie at F_flat + F_upright - t_upright - clash.
    """
    height = cuts.bit_height
    sums = np.add.outer(flat.depths, upright.depths).ravel()
    kinks = 2 * height - sums
    kinks = kinks[(kinks > 0) & (kinks < height)]
    edges = np.array([0.0, height])
    hopeful = np.array([True])
    if len(kinks) > MANY_KINKS:
        edges, hopeful = _hopeful_cells(flat, upright, height, target)
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


def _hopeful_cells(flat: _Face, upright: _Face, height: Mm, target: Mm) -> tuple[Row, NDArray[np.bool_]]:
    """Cells of the engagement that may hold the deepest seat, for faces of so many corners that it pays.

    Coarse cells are looked at first, and those that stay are looked at again in small ones.
    """
    ladder = [upright.insets]
    while len(ladder[-1]) > (gap := 1 << (len(ladder) - 1)):
        ladder.append(np.minimum(ladder[-1][:-gap], ladder[-1][gap:]))
    edges = np.linspace(0.0, height, CELLS + 1)
    hopeful = _hopeful(flat, upright, height, target, edges, ladder)
    share = np.arange(FINE) / FINE
    inside = (edges[:-1, None] + np.diff(edges)[:, None] * share)[hopeful].ravel()
    edges = np.unique(np.concatenate((edges, inside)))
    hopeful = _hopeful(flat, upright, height, target, edges, ladder)
    return edges, np.append(hopeful, hopeful[-1])


def _hopeful(
    flat: _Face, upright: _Face, height: Mm, target: Mm, edges: Row, ladder: Sequence[Row]
) -> NDArray[np.bool_]:
    """Which cells may hold the deepest seat.

    A cell is out when the clash is, all through it, more than at the best cell edge on the near side of the
    ridge. `ladder` has the upright's least inset over 1, 2, 4 ... corners from each on.
    """
    at_edges = _clashes(flat, upright, height, edges)
    first, last, _ = _deepest(edges, at_edges, target, LEVEL)
    best = float(at_edges[first : last + 1].max())
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
    return np.asarray(bound <= best + LEVEL)


def _clashes(flat: _Face, upright: _Face, height: Mm, reaches: Row) -> Row:
    touching = _touching(flat, upright, height, reaches)
    clashes: Row = np.where(touching, _sums(flat, upright, height, reaches), -np.inf).max(axis=0)
    return clashes


def _touching(flat: _Face, upright: _Face, height: Mm, reaches: Row) -> NDArray[np.bool_]:
    """Which corners of the faces (rows: flat piece's, then upright's) meet the other face at each reach."""
    sums = 2 * height - reaches
    slack = LEDGE_RISE
    by_flat = flat.depths[:, None] >= height - reaches - slack
    partner = sums - upright.depths[:, None]
    by_upright = (partner >= flat.depths[0] - slack) & (partner <= flat.depths[-1] + slack)
    return np.concatenate((by_flat, by_upright))


def _sums(flat: _Face, upright: _Face, height: Mm, reaches: Row) -> Row:
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


def _deepest(reaches: Row, clashes: Row, target: Mm, give: Mm) -> tuple[int, int, bool]:
    """First and last index of the deepest seat within reach, and whether a hook holds it there."""
    goal = int(np.argmin(np.abs(reaches - target)))
    ridge = _ridge(clashes, goal)
    if ridge is None:
        return goal, goal, False
    within = clashes[ridge:]
    least = float(within.min())
    good = within <= least + give
    last = len(within) - 1 - int(np.argmax(good[::-1]))
    first = last
    while first > 0 and good[first - 1]:
        first -= 1
    return ridge + first, ridge + last, True


def _ridge(clashes: Row, goal: int) -> int | None:
    """The highest place below the goal that the upright would have to climb over to fall out."""
    best: int | None = None
    lowest_after = np.minimum.accumulate(clashes[: goal + 1][::-1])[::-1]
    for index in range(goal):
        is_top = index == 0 or clashes[index] >= clashes[index - 1] - LEVEL
        if not is_top or lowest_after[index + 1] >= clashes[index] - LEVEL:
            continue
        if best is None or clashes[index] >= clashes[best]:
            best = index
    return best


def _touches(state: SeatedState) -> tuple[str, ...]:
    """Names of the places in contact, from the inside of the corner outwards."""
    cuts = state.cuts
    places: list[str] = []
    opening = state.roof_gap
    if opening is not None and opening <= SEEN:
        places.append(phrase("shoulder"))
    places += _profile_touches(cuts, state.lip, state.engagement)
    if opening is not None and opening <= SEEN:
        places.append(phrase("roof"))
    return tuple(dict.fromkeys(places))


def _profile_touches(cuts: Cuts, lip: Mm, engagement: Mm) -> list[str]:
    flat, upright = _faces(cuts)
    height = cuts.bit_height
    sum_of_depths = 2 * height - engagement
    deepest = cuts.fence_flat + cuts.fence_upright - cuts.upright_thickness - lip
    low = max(height - engagement, float(flat.depths[0]))
    own = np.unique(np.concatenate((upright.depths, sum_of_depths - flat.depths)))
    inside = own[(own >= sum_of_depths - height - LEDGE_RISE) & (own <= sum_of_depths - low + LEDGE_RISE)]
    near = deepest - (upright.at(inside) + flat.at(sum_of_depths - inside)) <= SEEN
    middle = float(upright.insets.max() + max(upright.insets.min(), 0.0)) / 2
    names: list[str] = []
    for here, there, closed in zip(inside, inside[1:], near[:-1] & near[1:], strict=False):
        if closed and there - here > 2 * LEDGE_RISE:
            c0, c1 = (float(c) for c in upright.at(np.array([here, there])))
            names.append(
                phrase("slope") if abs(c1 - c0) > SEEN else phrase("head") if c0 > middle else phrase("neck")
            )
    if not names and near.any():
        names.append(phrase("slope"))  # corners meet, nothing lies flat
    return names
