"""Numbered rings on the cuts of a sheet: where each one hides nothing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import Mm
from drawerwright.drawings.scene import Circle, Item, Point, Text

Bounds: TypeAlias = tuple[Mm, Mm, Mm, Mm]
"""Left, bottom, right, top."""

CLEAR: Mm = 0.4
"""Kept free between a ring and what stands beside it."""
APART = 2.4
"""Radii from middle to middle of rings that stand in a row off the sheet."""


def distance_from(spot: Point, start: Point, end: Point) -> Mm:
    """How far a spot lies from the nearest point of an upright or level line."""
    dx = max(min(start[0], end[0]) - spot[0], spot[0] - max(start[0], end[0]), 0.0)
    dy = max(min(start[1], end[1]) - spot[1], spot[1] - max(start[1], end[1]), 0.0)
    return float((dx * dx + dy * dy) ** 0.5)


def from_ring(spot: Point, near: Point, radius: Mm) -> tuple[Point, Point]:
    dx, dy = near[0] - spot[0], near[1] - spot[1]
    far = (dx * dx + dy * dy) ** 0.5 or 1.0
    return (spot[0] + dx / far * radius, spot[1] + dy / far * radius), near


def bounds(points: Iterable[Point]) -> Bounds:
    kept = list(points)
    xs, ys = [x for x, _ in kept], [y for _, y in kept]
    return min(xs), min(ys), max(xs), max(ys)


def any_overlap(boxes: NDArray[np.float64], first: int) -> bool:
    """Whether any box (n by 4) from the `first` on lies on another by more than a tenth of a millimetre."""
    later = boxes[first:, None]
    apart = np.minimum(later[:, :, 2:], boxes[None, :, 2:]) - np.maximum(later[:, :, :2], boxes[None, :, :2])
    overlapping: NDArray[np.bool_] = np.asarray((apart > 0.1).all(axis=2))
    overlapping[np.arange(len(later)), np.arange(first, len(boxes))] = False
    return bool(overlapping.any())


def free_spot(
    start: Point,
    end: Point,
    sheet: tuple[Mm, Mm],
    radius: Mm,
    taken: Sequence[Bounds] | NDArray[np.float64],
    clear_ends: Mm,
) -> tuple[Point, Bounds]:
    """Where a cut's number can stand: off the sheet at the cut's ends first, then along the cut.

    `taken` (bounds, or n by 4) must stay clear; so must `clear_ends` at both ends of a cut inside the sheet (mm).
    """
    (x0, y0), (x1, y1) = start, end
    off = radius + 0.6
    reach = 8 * radius + off
    in_the_way = np.asarray(taken, np.float64).reshape(-1, 4)
    if in_the_way.size:
        near = (min(x0, x1) - reach, min(y0, y1) - reach, max(x0, x1) + reach, max(y0, y1) + reach)
        apart = np.minimum(near[2:], in_the_way[:, 2:]) - np.maximum(near[:2], in_the_way[:, :2])
        in_the_way = in_the_way[(apart > 0).all(axis=1)]
    spots: list[Point] = []
    if x0 == x1:
        for step in range(3):
            if y0 < 2:
                spots.append((x0, -off - step * APART * radius))
            if y1 > sheet[1] - 2:
                spots.append((x0, sheet[1] + off + step * APART * radius))
    else:
        for step in range(3):
            if x0 < 2:
                spots.append((-off - step * APART * radius, y0))
            if x1 > sheet[0] - 2:
                spots.append((sheet[0] + off + step * APART * radius, y0))
    length = abs(x1 - x0) + abs(y1 - y0)
    inset = min(clear_ends + radius + 0.8, length / 2)
    at_ends = [inset / length, 1 - inset / length] if length else [0.5]
    spots += [(x0 + (x1 - x0) * share, y0 + (y1 - y0) * share) for share in at_ends]
    clash = _clashes(np.array(spots), radius, in_the_way)
    if clash.min() > 0:  # rarely: most are free off the sheet or near an end
        count = max(int(length / 1.5), 1)
        between = [(n + 0.5) / count for n in range(count)]
        spots += [(x0 + (x1 - x0) * share, y0 + (y1 - y0) * share) for share in between]
        clash = _clashes(np.array(spots), radius, in_the_way)
        if clash.min() > 0:
            along = np.array([x0, y0]) + np.outer([*at_ends, *between], (x1 - x0, y1 - y0))
            beside = np.array([(0, 1), (0, -1), (1, 0), (-1, 0)])
            aside = np.concatenate(  # nowhere on the line: beside it, with a leader
                [(along[:, None] + beside * distance * radius).reshape(-1, 2) for distance in (2.2, 4.4, 6.6)]
            )
            free = np.flatnonzero(_clashes(aside, radius, in_the_way) == 0)
            if free.size:
                x, y = aside[free[0]]
                return (float(x), float(y)), _ring((float(x), float(y)), radius)
    best = int(clash.argmin())  # the first of those that are free, else the least bad one
    return spots[best], _ring(spots[best], radius)


def clear_of(
    at: Point, radius: Mm, room: Sequence[Point], taken: Sequence[Bounds] | NDArray[np.float64]
) -> Point:
    """Where in a rectangle a mark hides nothing that is `taken`: at `at` if it can, else as near as may be along the
    longer sides; there all the same where no place is free."""
    in_the_way = np.asarray(taken, np.float64).reshape(-1, 4)
    if _clashes(np.array([at]), radius, in_the_way)[0] == 0:
        return at
    start, end = centre_line(room)
    long = abs(end[0] - start[0]) + abs(end[1] - start[1])
    inset = min(radius + CLEAR, long / 2) / long
    shares = np.linspace(inset, 1 - inset, max(int(long / radius), 2))
    spots = np.outer(1 - shares, start) + np.outer(shares, end)
    free = spots[_clashes(spots, radius, in_the_way) == 0]
    if not len(free):
        return at
    x, y = free[np.abs(free - np.array(at)).sum(axis=1).argmin()]
    return float(x), float(y)


def letters_aside(
    words: Sequence[Text], rings: Iterable[Item], rooms: Mapping[Point, Sequence[Point]]
) -> list[Text]:
    """A letter goes aside within its piece (`rooms`, by the letter's place) where a ring found no place but on it."""
    circles = np.array([bounds(ring.corners()) for ring in rings if isinstance(ring, Circle)]).reshape(-1, 4)
    placed = list(words)
    for number, word in enumerate(words):
        if word.at not in rooms:
            continue
        left, bottom, right, top = bounds(word.corners())
        radius = max(right - left, top - bottom) / 2
        if _clashes(np.array([word.at]), radius, circles)[0] > 0:
            others = [bounds(other.corners()) for other in placed if other is not word]
            taken = np.concatenate([circles, np.array(others).reshape(-1, 4)])
            placed[number] = replace(word, at=clear_of(word.at, radius, rooms[word.at], taken))
    return placed


def _clashes(spots: NDArray[np.float64], radius: Mm, taken: NDArray[np.float64]) -> NDArray[np.float64]:
    """How much of a ring at each spot (n by 2) lies over what is taken (m by 4), in mm²."""
    places, radius = spots[:, None], radius + CLEAR
    over = np.minimum(places + radius, taken[:, 2:]) - np.maximum(places - radius, taken[:, :2])
    over = np.maximum(over, 0.0)
    area: NDArray[np.float64] = (over[:, :, 0] * over[:, :, 1]).sum(axis=1)
    return area


def _ring(spot: Point, radius: Mm) -> Bounds:
    return spot[0] - radius, spot[1] - radius, spot[0] + radius, spot[1] + radius


def centre_line(corners: Sequence[Point]) -> tuple[Point, Point]:
    (left, bottom), (right, top) = corners[0], corners[2]
    if right - left >= top - bottom:
        return (left, (bottom + top) / 2), (right, (bottom + top) / 2)
    return ((left + right) / 2, bottom), ((left + right) / 2, top)
