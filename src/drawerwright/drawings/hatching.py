"""Hatching: fibres along a piece, crossed lines on end grain, slanted lines on what is left over.

Fibres are one small tile over and over, so that a writer that knows patterns says them once for a whole drawing, and
the others draw the strokes that the tile comes to. A spacing is paper millimetres; large faces get few strokes, since
a sheet full of lines helps nobody and makes files heavy.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import Degrees, Mm
from drawerwright.drawings.scene import Fibres, Fill, Hatch, Ink, Item, Layer, Path, Point, Segment, Strokes

GRAIN_SPACING: Mm = 1.6
WASTE_SPACING: Mm = 2.4
END_GRAIN_SPACING: Mm = 1.3
MOST_STROKES = 60
"""A face is never given more strokes than this: the spacing widens instead."""
STROKE: Mm = 11.0
GAP: Mm = 2.2
MOST_IN_A_ROW = 4
"""Strokes behind each other; on long faces they are longer instead."""
ROWS = 8
SHIFT = 5 / 8
"""How much of a stroke's length each row begins later: as near the golden share as comes out even after `ROWS`."""


def grain(outline: Sequence[Point], angle: Degrees = 0.0, spacing: Mm = GRAIN_SPACING) -> Fibres:
    """Fibres: broken fine lines along the grain, staggered so that no seam shows."""
    return Fibres(tuple(outline), angle, spacing)


def face_items(outline: Sequence[Point], fibre: Degrees | None, spacing: Mm) -> list[Item]:
    """A face of wood with its outline; `fibre` is the direction of its grain, None where the stock has none."""
    return [
        Path(tuple(outline), Ink.NONE, closed=True, fill=Fill.WOOD),
        *(() if fibre is None else (grain(outline, fibre, spacing),)),
        Path(tuple(outline), closed=True),
    ]


@dataclass(frozen=True, slots=True)
class GrainTile:
    """What is repeated to fill a face with fibres: `ROWS` rows of one stroke each, in paper millimetres.

    `turned` is the face with its fibres along x and its least x and y at 0, `at` where that corner lies on the paper.
    """

    spacing: Mm
    period: Mm
    turned: tuple[Point, ...]
    at: Point

    @property
    def height(self) -> Mm:
        return ROWS * self.spacing

    @property
    def strokes(self) -> tuple[Segment, ...]:
        """The tile's lines, y upwards from 0."""
        lines: list[Segment] = []
        for row in range(ROWS):
            y, begin = self._row(row)
            end = begin + self.period - GAP
            lines.append(((begin, y), (min(end, self.period), y)))
            if end > self.period:
                lines.append(((0.0, y), (end - self.period, y)))
        return tuple(lines)

    @property
    def bits(self) -> Iterator[tuple[Mm, Mm, Mm]]:
        """What the tiles come to within the face: from and to along the fibres, and how high."""
        row = 0
        while (row + 0.5) * self.spacing < max(v for _, v in self.turned):
            y, shift = self._row(row)
            for begin, end in _within(self.turned, y):
                number = math.floor((begin - shift) / self.period)
                while (at := shift + number * self.period) < end:
                    low, high = max(at, begin), min(at + self.period - GAP, end)
                    if high > low:
                        yield low, high, y
                    number += 1
            row += 1

    @property
    def rows(self) -> tuple[tuple[Mm, Mm, Mm, Mm], ...]:
        """Each row as a line of dashes without end: where one begins along it, how high it lies, a dash and a gap."""
        return tuple((begin, level, self.period - GAP, GAP) for level, begin in map(self._row, range(ROWS)))

    def _row(self, row: int) -> tuple[Mm, Mm]:
        """How high a row lies, and where one of its strokes begins."""
        return (row + 0.5) * self.spacing, (row * SHIFT) % 1.0 * self.period


def grain_tile(face: Fibres) -> GrainTile:
    """The tile of a face, and the face as the tile fills it."""
    cos, sin = _turn(face.angle)
    flat = [(x * cos + y * sin, y * cos - x * sin) for x, y in face.outline]
    left, low = min(u for u, _ in flat), min(v for _, v in flat)
    wide, high = max(u for u, _ in flat) - left, max(v for _, v in flat) - low
    spacing = max(min(face.spacing, high), high / MOST_STROKES)
    return GrainTile(
        round(spacing, 2) or 0.01,
        round(max(STROKE + GAP, wide / MOST_IN_A_ROW), 2),
        tuple((u - left, v - low) for u, v in flat),
        (left * cos - low * sin, left * sin + low * cos),
    )


def grain_strokes(face: Fibres) -> Strokes:
    """The fibres of a face one by one."""
    tile = grain_tile(face)
    cos, sin = _turn(face.angle)
    x, y = tile.at
    return Strokes(
        tuple(
            (
                (x + u0 * cos - v * sin, y + u0 * sin + v * cos),
                (x + u1 * cos - v * sin, y + u1 * sin + v * cos),
            )
            for u0, u1, v in tile.bits
        ),
        face.ink,
        face.layer,
    )


def end_grain(outline: Sequence[Point], spacing: Mm = END_GRAIN_SPACING) -> Strokes:
    """End grain: crossed fine lines."""
    return _hatched(outline, (45.0, -45.0), spacing, Ink.GRAIN, Layer.GRAIN)


def waste(outline: Sequence[Point], spacing: Mm = WASTE_SPACING, layer: Layer = Layer.OFFCUT) -> Strokes:
    """What is not used here: slanted fine lines."""
    return _hatched(outline, (60.0,), spacing, Ink.FINE, layer)


def _hatched(
    outline: Sequence[Point], angles: tuple[Degrees, ...], spacing: Mm, ink: Ink, layer: Layer
) -> Strokes:
    lines = tuple(line for angle in angles for line in _lines(outline, angle, spacing))
    return Strokes(lines, ink, layer, Hatch(tuple(outline), angles, spacing))


@dataclass(frozen=True, slots=True)
class ParallelLines:
    """Lines at an angle without end, `spacing` apart, of which the first goes through `base`; `count` of them meet the
    face that they fill."""

    angle: Degrees
    base: Point
    spacing: Mm
    count: int


def hatched_families(hatch: Hatch) -> tuple[ParallelLines, ...]:
    """The lines of a hatching, before the outline cuts them off: those at each of its angles."""
    return tuple(_family(hatch.outline, angle, hatch.spacing) for angle in hatch.angles)


def _family(outline: Sequence[Point], angle: Degrees, spacing: Mm) -> ParallelLines:
    """They lie evenly over the face, half a step from its edges."""
    cos, sin = _turn(angle)
    across = [y * cos - x * sin for x, y in outline]
    low, high = min(across), max(across)
    count = max(round((high - low) / max(spacing, (high - low) / MOST_STROKES)), 1) if high > low else 1
    step = (high - low) / count
    return ParallelLines(angle, (-(low + step / 2) * sin, (low + step / 2) * cos), step, count)


def _lines(outline: Sequence[Point], angle: Degrees, spacing: Mm) -> tuple[Segment, ...]:
    """Parallel lines at an angle, as far as they lie inside the outline."""
    cos, sin = _turn(angle)
    flat = [(x * cos + y * sin, y * cos - x * sin) for x, y in outline]
    family = _family(outline, angle, spacing)
    first = family.base[1] * cos - family.base[0] * sin
    return tuple(
        ((u0 * cos - v * sin, u0 * sin + v * cos), (u1 * cos - v * sin, u1 * sin + v * cos))
        for v in (first + row * family.spacing for row in range(family.count))
        for u0, u1 in _within(flat, v)
        if u1 - u0 > 0.05
    )


def _within(flat: Sequence[Point], v: Mm) -> list[tuple[Mm, Mm]]:
    """From where to where a level line lies inside an outline (even-odd)."""
    met = sorted(
        u0 + (u1 - u0) * (v - v0) / (v1 - v0)
        for (u0, v0), (u1, v1) in zip(flat, (*flat[1:], flat[0]), strict=True)
        if (v0 <= v) != (v1 <= v)
    )
    return list(zip(met[::2], met[1::2], strict=True))


def _turn(angle: Degrees) -> tuple[float, float]:
    turn = math.radians(angle)
    return math.cos(turn), math.sin(turn)
