"""The corner in section: both pieces and the daylight between them, as plain outlines in the joint frame.

The frame is that of `drawerwright.joints.law`: x runs inwards along the flat piece from its end, y outwards
through its thickness from its inner face. Outlines are tuples of (x, y) in mm, counter-clockwise, not closed
(the last point is not the first one again). No geometry library is needed to make them.
"""

from __future__ import annotations

import itertools
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from operator import itemgetter
from typing import TypeAlias

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints import law
from drawerwright.joints.profile import Point, Profile
from drawerwright.joints.setting import CornerSetting

Outline: TypeAlias = tuple[Point, ...]
"""A simple polygon."""

SEEN: Mm = 0.0005
"""A gap narrower than this is contact: wood is not truer than that, and neither is the arithmetic needed."""


class Place(StrEnum):
    """Where in a corner: the words of the glossary."""

    ROOF = "roof"
    """Between the upright's tip and what is left over the cut on the flat piece."""
    SHOULDER = "shoulder"
    """Between the upright's ledge and the flat piece's inner face."""
    HOOK = "hook"
    """Under the head, where the undercut bears when the upright is pulled; measured along the upright."""
    NECK = "neck"
    """Between the upright's thinnest part and the end of the flat piece's hook; measured along the flat piece."""
    HEAD = "head"
    """Between the upright's thick end and the flat piece's deepest cut; measured along the flat piece."""
    SLOPE = "slope"
    """Between the two profiles anywhere else; measured along the flat piece."""

    @property
    def words(self) -> Phrase:
        """The place in the reader's language."""
        return _PLACE_WORDS[self]


_PLACE_WORDS = {
    Place.ROOF: phrase("roof"),
    Place.SHOULDER: phrase("shoulder"),
    Place.HOOK: phrase("hook"),
    Place.NECK: phrase("neck"),
    Place.HEAD: phrase("head"),
    Place.SLOPE: phrase("slope"),
}

PLUMB = 0.15
"""A face that leans by no more than this, run over rise, stands upright: a slope leans by far more."""


def place_on_face(start: Point, end: Point, middle: Mm) -> Place:
    """What a stretch of the upright's cut face is called, given from end to end as (thickness left or x, height).

    `middle` lies between the upright's thinnest part and its thickness at the tip.
    """
    (x0, y0), (x1, y1) = start, end
    if abs(x1 - x0) > max(PLUMB * abs(y1 - y0), SEEN):
        return Place.SLOPE
    return Place.HEAD if (x0 + x1) / 2 > middle else Place.NECK


@dataclass(frozen=True, slots=True)
class Gap:
    """Daylight in a corner: where, how wide (mm, along the direction its place names), and its outline."""

    place: Place
    width: Mm
    outline: Outline

    @property
    def area(self) -> float:
        """Area in mm²."""
        return area(self.outline)


@dataclass(frozen=True, slots=True)
class Cuts:
    """One corner as it was cut: profile, thicknesses and machine settings (mm), whatever they may be."""

    profile: Profile
    flat_thickness: Mm
    upright_thickness: Mm
    bit_height: Mm
    fence_flat: Mm
    fence_upright: Mm

    @classmethod
    def of(cls, setting: CornerSetting) -> Cuts:
        """What a corner's settings cut."""
        return cls(
            profile=setting.cutter.profile(),
            flat_thickness=setting.corner.flat_thickness,
            upright_thickness=setting.corner.upright_thickness,
            bit_height=setting.bit_height,
            fence_flat=setting.fence_flat,
            fence_upright=setting.fence_upright,
        )

    @property
    def has_roof(self) -> bool:
        """Whether the cutter's top ends inside the flat piece."""
        return law.roof(self.flat_thickness, self.bit_height) > 0

    def flat_face(self) -> tuple[Point, ...]:
        """The cut face of the flat piece, from its inner face outwards."""
        top = max(self.bit_height - self.flat_thickness, 0.0)
        cut = self.profile.between(top, self.bit_height)
        return _floored([(self.fence_flat - c, self.bit_height - z) for z, c in reversed(cut)], 0.0)

    def upright_face(self, lip: Mm = 0.0, engagement: Mm = 0.0) -> tuple[Point, ...]:
        """The cut face of the upright piece, from its shoulder to its tip, lying at a lip and engagement."""
        cut = self.profile.between(0.0, self.bit_height)
        inside = lip + self.upright_thickness
        shoulder = engagement - self.bit_height
        face = _floored([(self.fence_upright - c, shoulder + z) for z, c in cut], 0.0)
        left = _floored([(self.upright_thickness - x, y) for x, y in face], 0.0)
        return tuple((x + lip, y) for x, y in left) if left else ((inside, shoulder),)


def flat_section(cuts: Cuts, length: Mm | None = None) -> Outline:
    """Outline of the flat piece, from its end to `length` along it (enough to show the corner by default)."""
    far = length or max(cuts.fence_flat, cuts.upright_thickness) + 2 * cuts.flat_thickness
    face = list(reversed(cuts.flat_face()))
    top = cuts.flat_thickness
    roof = [(0.0, top), (0.0, cuts.bit_height)] if cuts.has_roof else []
    return _tidy([(far, 0.0), (far, top), *roof, *face])


def upright_section(cuts: Cuts, lip: Mm, engagement: Mm, length: Mm | None = None) -> Outline:
    """Outline of the upright piece, lying with its outer face at `lip` and its tip at `engagement`.

    Args:
        cuts: the corner as it was cut.
        lip: x of the upright's outer face: how far the flat piece's end stands beyond it.
        engagement: y of the upright's tip.
        length: how much of the piece to draw, from the tip (enough to show the corner by default).
    """
    foot = engagement - (length or cuts.bit_height + 2 * cuts.upright_thickness)
    inside = lip + cuts.upright_thickness
    face = list(cuts.upright_face(lip, engagement))
    while len(face) > 1 and face[-1][0] <= lip and face[-2][0] <= lip:
        face.pop()  # nothing is left of the piece here: the cut went through it
    tip = face[-1][1]
    shoulder = engagement - cuts.bit_height
    return _tidy([(lip, foot), (inside, foot), (inside, shoulder), *face, (lip, tip)])


def corner_gaps(cuts: Cuts, lip: Mm, engagement: Mm) -> tuple[Gap, ...]:
    """Every gap between the two pieces, lying at a lip and an engagement (mm)."""
    found: list[Gap] = []
    flat = cuts.flat_face()
    upright = cuts.upright_face(lip, engagement)
    opening = cuts.bit_height - engagement
    if cuts.has_roof and opening > SEEN:
        above = _within(flat, engagement, cuts.bit_height)
        outside = max(lip, 0.0)
        found.append(
            Gap(Place.ROOF, opening, _tidy([(outside, engagement), *above, (outside, cuts.bit_height)]))
        )
        inside = lip + cuts.upright_thickness
        below = _within(upright, -opening, 0.0)
        found.append(
            Gap(Place.SHOULDER, opening, _tidy([(inside, -opening), (inside, 0.0), *reversed(below)]))
        )
    low, high = max(0.0, upright[0][1]), min(flat[-1][1], engagement)
    if high > low:
        found += _profile_gaps(_within(flat, low, high), _within(upright, low, high))
    return tuple(found)


def area(outline: Sequence[Point]) -> float:
    """Area of a simple polygon (mm²).

    >>> area([(0, 0), (2, 0), (2, 3), (0, 3)])
    6.0
    """
    turns = zip(outline, (*outline[1:], outline[0]), strict=True)
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in turns)) / 2


def _profile_gaps(flat: Sequence[Point], upright: Sequence[Point]) -> list[Gap]:
    """The daylight between two faces over the same range of y, cut where they touch."""
    levels = _levels(flat, upright)
    middle = (min(x for x, _ in upright) + max(x for x, _ in upright)) / 2
    gaps: list[Gap] = []
    run: list[tuple[Mm, Mm, Mm]] = []  # y, x of the upright, x of the flat piece
    for y, left, right in (*levels, (levels[-1][0], 0.0, 0.0)):
        if right - left > SEEN:
            run.append((y, left, right))
            continue
        if len(run) > 1:
            gaps.append(_profile_gap([*run, (y, right, right)], middle))
        run = [(y, right, right)]
    return gaps


def _levels(flat: Sequence[Point], upright: Sequence[Point]) -> list[tuple[Mm, Mm, Mm]]:
    """Both faces at every level where one of them turns, ledges and crossings kept, from low to high."""
    pairs: list[tuple[Mm, Mm, Mm]] = []
    ys = sorted({y for _, y in flat} | {y for _, y in upright})
    for y0, y1 in itertools.pairwise(ys):
        if y1 - y0 < 1e-12:
            continue
        ends = []
        for y, inward in ((y0, 1), (y1, -1)):
            ends.append((y, _x_at(upright, y, inward), _x_at(flat, y, inward)))
        (_, l0, r0), (_, l1, r1) = ends
        pairs.append(ends[0])
        open0, open1 = r0 - l0, r1 - l1
        if (open0 - SEEN) * (open1 - SEEN) < 0 and min(open0, open1) < SEEN / 2:
            share = min(max(open0 / (open0 - open1), 0.0), 1.0)
            x = l0 + (l1 - l0) * share
            pairs.append((y0 + (y1 - y0) * share, x, x))
        pairs.append(ends[1])
    return pairs


def _x_at(face: Sequence[Point], y: Mm, side: int) -> Mm:
    """x of a face at the level y, approached from above (side 1) or from below (side -1)."""
    find = bisect_right if side > 0 else bisect_left
    index = find(face, y, key=itemgetter(1))
    if index == 0 or index == len(face):
        return face[0][0] if index == 0 else face[-1][0]
    (x0, y0), (x1, y1) = face[index - 1], face[index]
    return x0 + (x1 - x0) * (y - y0) / (y1 - y0)


def _profile_gap(run: Sequence[tuple[Mm, Mm, Mm]], middle: Mm) -> Gap:
    outline = _tidy([*((right, y) for y, _, right in run), *((left, y) for y, left, _ in reversed(run))])
    stretches = [(low, high) for low, high in itertools.pairwise(run) if high[0] > low[0]]
    (y0, l0, r0), (y1, l1, r1) = max(
        stretches, key=lambda stretch: sum(right - left for _, left, right in stretch)
    )
    level, left, right = (y0 + y1) / 2, (l0 + l1) / 2, (r0 + r1) / 2
    chord = _hook_chord(sorted([*run, (level, left, right)], key=itemgetter(0)), level, (left + right) / 2)
    if chord is not None:
        return Gap(Place.HOOK, chord, outline)
    place = place_on_face((l0, y0), (l1, y1), middle)
    return Gap(place, max(right - left for _, left, right in run), outline)


def _hook_chord(run: Sequence[tuple[Mm, Mm, Mm]], level: Mm, x: Mm) -> Mm | None:
    """Length of the gap along y through (x, level), if the upright lies above it and the flat piece below."""
    up = [(y, left - x, right - x) for y, left, right in run if y >= level]
    down = [(y, x - right, x - left) for y, left, right in reversed(run) if y <= level]
    top, bottom = _first_met(up), _first_met(down)
    return None if top is None or bottom is None else top - bottom


def _first_met(run: Sequence[tuple[Mm, Mm, Mm]]) -> Mm | None:
    """Where the second column rises to zero; None if the third falls to zero before, or neither does."""
    for (y0, near0, far0), (y1, near1, far1) in itertools.pairwise(run):
        met = y0 + (y1 - y0) * near0 / (near0 - near1) if near0 < 0 <= near1 else None
        missed = y0 + (y1 - y0) * far0 / (far0 - far1) if far0 > 0 >= far1 else None
        if met is not None and (missed is None or abs(met - y0) <= abs(missed - y0)):
            return met
        if missed is not None:
            return None
    return None


def _within(face: Sequence[Point], low: Mm, high: Mm) -> list[Point]:
    """The part of a face between two levels, both ends included."""
    inner = [(x, y) for x, y in face if low < y < high]
    return [(_x_at(face, low, 1), low), *inner, (_x_at(face, high, -1), high)]


def _floored(points: Sequence[Point], floor: Mm) -> tuple[Point, ...]:
    """Points with x no lower than `floor`, a point added wherever the line crosses it."""
    line: list[Point] = []
    for (x0, y0), (x1, y1) in itertools.pairwise(points):
        line.append((max(x0, floor), y0))
        if (x0 - floor) * (x1 - floor) < 0:
            line.append((floor, y0 + (y1 - y0) * (floor - x0) / (x1 - x0)))
    if points:
        line.append((max(points[-1][0], floor), points[-1][1]))
    return tuple(line)


def _tidy(points: Sequence[Point]) -> Outline:
    """The outline without points that repeat the one before."""
    kept: list[Point] = []
    for x, y in points:
        point = (float(x), float(y))
        if not kept or abs(point[0] - kept[-1][0]) > 1e-9 or abs(point[1] - kept[-1][1]) > 1e-9:
            kept.append(point)
    if len(kept) > 1 and abs(kept[0][0] - kept[-1][0]) < 1e-9 and abs(kept[0][1] - kept[-1][1]) < 1e-9:
        kept.pop()
    return tuple(kept)
