"""The cutting edge as a line: inset over depth, straight pieces only once it is here.

::

        z = 0  ____________          top of the cutter, its free end
                           |
                           |  c = 0  (largest radius)
        z = m             /
                         /  the slope: run along the fence's x, rise along z
                        |
                        |  c = d
        z = 2m          |
                        |            table side

`z` and `c` are defined in `drawerwright.joints.law`. Arcs are flattened when a profile is made, to a
tolerance that is far below what a caliper can see, so that everything after works on straight pieces and can
be exact about them.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, TypeAlias

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Degrees, Mm, millimetres
from drawerwright.basics.phrases import phrase

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Point: TypeAlias = tuple[Mm, Mm]
"""A point (mm). On a profile: depth, inset. On a section: x, y of the joint frame."""

ARC_TOLERANCE: Mm = 0.0005
"""How far a flattened arc may leave the true one: a quarter of what a seating is asked to be good for."""
LEDGE_RISE: Mm = 1e-7
"""A ledge is computed with as a slope of this rise, so that the inset is a continuous function of depth."""
PLAIN_TOLERANCE: Mm = 0.0002
"""How far the edge may move where a dense profile is seated with fewer points: a tenth of what a seating is
asked to be good for."""
GIVE: Mm = 2 * PLAIN_TOLERANCE
"""Seats whose depths differ by no more are equally deep, even where the edge is known exactly: that of either piece may
have been moved by `PLAIN_TOLERANCE`, and figures in a file are rounded."""
SAME_DEPTH: Mm = 1e-9
"""Depths closer than this are one ledge."""


@dataclass(frozen=True)
class Profile:
    """A cutter's profile: points of (depth, inset) in mm, from the top down, joined by straight lines.

    Two points at one depth make a ledge (a vertical step in the inset). The first inset holds up to the top,
    the last one holds below the last point. The smallest inset is zero: it is the largest radius, which the fence
    setting is measured from.

    Raises:
        InvalidValueError: fewer than two points, a depth above the top or running backwards, or no point at
            the largest radius.
    """

    points: tuple[Point, ...]

    def __post_init__(self) -> None:
        if len(self.points) < 2:
            raise InvalidValueError(
                phrase("a profile needs at least two points, not {count}", count=len(self.points))
            )
        for depth, inset in self.points:
            if not (math.isfinite(depth) and math.isfinite(inset)):
                raise InvalidValueError(
                    phrase(
                        "a profile's point must be two finite numbers, not {depth}, {inset}",
                        depth=depth,
                        inset=inset,
                    )
                )
        if self.points[0][0] < 0:
            raise InvalidValueError(
                phrase(
                    "the first depth is {depth}: depths count from the cutter's top, so none is below zero",
                    depth=millimetres(self.points[0][0], "g"),
                )
            )
        for number, (above, below) in enumerate(zip(self.points, self.points[1:], strict=False), start=2):
            if below[0] < above[0]:
                raise InvalidValueError(
                    phrase(
                        "point {number} lies at depth {below}, above point {before} at {above}: give the "
                        "points from the top of the cutter down",
                        number=number,
                        below=millimetres(below[0], "g"),
                        before=number - 1,
                        above=millimetres(above[0], "g"),
                    )
                )
        if abs(min(inset for _, inset in self.points)) > SAME_DEPTH:
            raise InvalidValueError(
                phrase(
                    "the smallest inset of a profile must be 0 (its largest radius): use "
                    "Profile.measured for readings taken from another line"
                )
            )

    @classmethod
    def measured(cls, points: Iterable[Point], bulges: Sequence[float] | None = None) -> Profile:
        """A profile from readings whose insets were taken from any line parallel to the axis.

        Args:
            points: depth, inset in mm. Given from the table up, they are turned round.
            bulges: for each point the bulge of the arc to the next one, 0 for a straight line: the tangent of
                a quarter of the arc's angle, positive where the arc turns left in the plane (depth, inset).

        >>> Profile.measured([(0, 1.5), (4, 1.5), (4, 5.5), (12, 5.5)]).points
        ((0, 0.0), (4, 0.0), (4, 4.0), (12, 4.0))
        """
        given = list(points)
        turns = [0.0] * len(given) if bulges is None else [*bulges, *[0.0] * (len(given) - len(bulges))]
        if len(given) > 1 and given[0][0] > given[-1][0]:
            given.reverse()
            turns = [-bulge for bulge in turns[-2::-1]] + [0.0]
        flat: list[Point] = []
        for index, point in enumerate(given):
            if index and turns[index - 1]:
                flat += flatten_arc(given[index - 1], point, turns[index - 1])
            flat.append(point)
        if not flat:
            raise InvalidValueError(phrase("a profile needs at least two points, not 0"))
        least = min(inset for _, inset in flat)
        return cls(tuple((depth, inset - least) for depth, inset in flat))

    @cached_property
    def _depths(self) -> list[Mm]:
        return [depth for depth, _ in self.points]

    @cached_property
    def plain(self) -> Profile:
        """The same edge without the points that lie on the line of their neighbours (`PLAIN_TOLERANCE`)."""
        kept = fewest_points(self.points, PLAIN_TOLERANCE)
        return self if len(kept) == len(self.points) else Profile(kept)

    def moved(self, deeper: Mm, wider: float) -> Profile:
        """The same edge further down by `deeper` (mm), its insets `wider` times as large.

        >>> Profile(((0, 0), (4, 0), (6, 2))).moved(-1, 1.5).points
        ((0, 0.0), (3, 0.0), (5, 3.0))
        """
        line = self.points if deeper >= 0 else self.between(-deeper, self.depth)
        return Profile.measured([(depth + deeper, inset * wider) for depth, inset in line])

    @property
    def depth(self) -> Mm:
        """How far down the profile is known."""
        return self.points[-1][0]

    def inset(self, depth: Mm) -> Mm:
        """The inset at a depth (mm); on a ledge the inset just below it."""
        index = bisect_right(self._depths, depth)
        if index == 0:
            return self.points[0][1]
        if index == len(self.points):
            return self.points[-1][1]
        (z0, c0), (z1, c1) = self.points[index - 1], self.points[index]
        return c0 + (c1 - c0) * (depth - z0) / (z1 - z0)

    def between(self, top: Mm, bottom: Mm) -> tuple[Point, ...]:
        """The piece of the profile from one depth down to another, both ends included."""
        first, last = bisect_right(self._depths, top), bisect_left(self._depths, bottom)
        inner = self.points[first:last]
        return ((top, self.inset(top)), *inner, (bottom, self._inset_just_above(bottom)))

    def _inset_just_above(self, depth: Mm) -> Mm:
        index = bisect_left(self._depths, depth)
        if index == 0 or index == len(self.points):
            return self.inset(depth)
        (z0, c0), (z1, c1) = self.points[index - 1], self.points[index]
        return c0 + (c1 - c0) * (depth - z0) / (z1 - z0)


def fewest_points(points: Sequence[Point], tolerance: Mm) -> tuple[Point, ...]:
    """Fewest points, halving where it bends most, that no point given lies further from (mm); the largest radius
    stays (D. Douglas and T. Peucker 1973; from memory)."""
    first = min(range(len(points)), key=lambda index: points[index][1])
    kept = {0, first, len(points) - 1}
    spans = [(0, first), (first, len(points) - 1)]
    while spans:
        start, end = spans.pop()
        if end - start < 2:
            continue
        (z0, c0), (z1, c1) = points[start], points[end]
        dz, dc = z1 - z0, c1 - c0
        chord = math.hypot(dz, dc)
        furthest, index = -1.0, start
        for middle in range(start + 1, end):
            z, c = points[middle]
            # A point beyond an end of the chord (a ledge that turns back) is as far as that end.
            along = (z - z0) * dz + (c - c0) * dc
            if chord == 0 or not 0 <= along <= chord * chord:
                off = min(math.dist((z, c), (z0, c0)), math.dist((z, c), (z1, c1)))
            else:
                off = abs(dz * (c - c0) - dc * (z - z0)) / chord
            if off > furthest:
                furthest, index = off, middle
        if furthest > tolerance:
            kept.add(index)
            spans += [(start, index), (index, end)]
    return tuple(points[index] for index in sorted(kept))


def flatten_arc(start: Point, end: Point, bulge: float, tolerance: Mm = ARC_TOLERANCE) -> list[Point]:
    """Points between the ends of an arc such that straight lines leave it by at most `tolerance` (mm).

    `bulge` is the tangent of a quarter of the arc's angle, positive where the arc turns left on its way from
    `start` to `end` (the convention of DXF polylines).
    """
    chord = math.dist(start, end)
    if chord == 0 or bulge == 0:
        return []
    angle = 4 * math.atan(bulge)
    radius = chord / (2 * abs(math.sin(angle / 2)))
    largest_step = 2 * math.acos(max(1 - tolerance / radius, 0.0))
    pieces = max(1, math.ceil(abs(angle) / largest_step))
    direction = math.atan2(end[1] - start[1], end[0] - start[0])
    # From the start, each chord of the arc turns by the same angle from the one before.
    turn = angle / pieces
    length = 2 * radius * math.sin(abs(turn) / 2)
    heading = direction - angle / 2 + turn / 2
    points: list[Point] = []
    x, y = start
    for _ in range(pieces - 1):
        x, y = x + length * math.cos(heading), y + length * math.sin(heading)
        points.append((x, y))
        heading += turn
    return points


def drawer_lock_profile(mid_depth: Mm, step: Mm, slope: Degrees, depth: Mm | None = None) -> Profile:
    """The ideal drawer-lock profile: tooth at the top, one slope through the mid depth.

    Args:
        mid_depth: depth of the middle of the slope, m.
        step: inset below the slope, d.
        slope: angle whose tangent is run / rise; 90 makes a ledge.
        depth: how far down to draw it; twice the corner's height by default.

    Raises:
        InvalidValueError: the slope would begin above the cutter's top.

    >>> [round(drawer_lock_profile(5.65, 3.4, 45).inset(depth), 6) for depth in (3.95, 5.65, 7.35)]
    [0.0, 1.7, 3.4]
    """
    rise = _rise(step, slope)
    if rise / 2 > mid_depth:
        raise InvalidValueError(
            phrase(
                "a step of {step} at a slope of {slope:g} degrees takes {rise} of depth, more than "
                "twice the mid depth of {mid_depth}: measure the step or the mid depth again, or check "
                "the slope (run over rise)",
                step=millimetres(step, "g"),
                slope=slope,
                rise=millimetres(rise),
                mid_depth=millimetres(mid_depth, "g"),
            )
        )
    bottom = max(4 * mid_depth, depth or 0.0)
    return Profile(
        ((0.0, 0.0), (mid_depth - rise / 2, 0.0), (mid_depth + rise / 2, float(step)), (bottom, float(step)))
    )


LOCK_WIDTH_SHARE = 0.06
"""Half the width of the drawn lock, as a share of the step. Makers differ; a measured profile replaces it."""


def lock_mitre_profile(mid_depth: Mm, step: Mm, slope: Degrees = 45.0, depth: Mm | None = None) -> Profile:
    """A lock-mitre profile: the mitre falls towards the table, its lock is a zigzag about the mid depth.

    The lock's true shape is the maker's; only its symmetry about the mid depth enters the settings. Here the
    slope simply turns back on itself for a twelfth of the step or so.

    Args:
        mid_depth: depth of the lock's middle, m.
        step: twice the inset at the mid depth, d: what the mitre spans along x.
        slope: angle of the mitre, run / rise; 45 degrees for a square corner.
        depth: how far down to draw it.
    """
    rate = math.tan(math.radians(slope))
    half, lock = step / (2 * rate), LOCK_WIDTH_SHARE * step
    below = [
        (0.0, step / 2),
        (lock, step / 2 + rate * lock),
        (3 * lock, step / 2 - 3 * rate * lock),
        (half, 0.0),
    ]
    above = [(-u, step - c) for u, c in reversed(below[1:])]
    line = [(mid_depth + u, c) for u, c in (*above, *below)]
    bottom = max(4 * mid_depth, depth or 0.0, mid_depth + 2 * half)
    kept = [(0.0, float(step)), *line, (bottom, 0.0)]
    if line[0][0] < 0:  # the mitre begins above the top: start where the top cuts it
        whole = Profile(tuple((z - line[0][0], c) for z, c in (*line, (bottom, 0.0))))
        kept = [(z + line[0][0], c) for z, c in whole.between(-line[0][0], bottom - line[0][0])]
        kept[0] = (0.0, kept[0][1])
    return Profile(tuple(kept))


def without_ledges(depths: NDArray[np.float64]) -> NDArray[np.float64]:
    """Depths (ascending) with the two points of a ledge drawn apart by `LEDGE_RISE`."""
    import numpy as np

    apart = np.array(depths, dtype=np.float64)
    ledge = np.diff(apart) < LEDGE_RISE
    apart[:-1][ledge] -= LEDGE_RISE / 2
    apart[1:][ledge] += LEDGE_RISE / 2
    ascending: NDArray[np.float64] = np.maximum.accumulate(apart)
    return ascending


def _rise(step: Mm, slope: Degrees) -> Mm:
    return 0.0 if slope >= 90 else step / math.tan(math.radians(slope))
