"""Hatching: fibres along a piece, crossed lines on end grain, slanted lines on what is left over.

Hatches are worked out as strokes once, so that every writer shows the same ones. A spacing is paper
millimetres; large faces get few strokes, since a sheet full of lines helps nobody and makes files heavy.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from drawerwright.basics.lengths import Degrees, Mm
from drawerwright.drawings.scene import Ink, Layer, Point, Segment, Strokes

GRAIN_SPACING: Mm = 1.6
WASTE_SPACING: Mm = 2.4
END_GRAIN_SPACING: Mm = 1.3
MOST_STROKES = 60
"""A face is never given more strokes than this: the spacing widens instead."""


def grain(outline: Sequence[Point], angle: Degrees = 0.0, spacing: Mm = GRAIN_SPACING) -> Strokes:
    """Fibres: broken fine lines along the grain, staggered so that no seam shows."""
    return Strokes(
        tuple(
            bit
            for row, segment in enumerate(_lines(outline, angle, spacing))
            for bit in _broken(segment, row)
        ),
        Ink.GRAIN,
        Layer.GRAIN,
    )


def end_grain(outline: Sequence[Point], spacing: Mm = END_GRAIN_SPACING) -> Strokes:
    """End grain: crossed fine lines."""
    return Strokes(
        (*_lines(outline, 45.0, spacing), *_lines(outline, -45.0, spacing)), Ink.GRAIN, Layer.GRAIN
    )


def waste(outline: Sequence[Point], spacing: Mm = WASTE_SPACING, layer: Layer = Layer.OFFCUT) -> Strokes:
    """What is not used here: slanted fine lines."""
    return Strokes(_lines(outline, 60.0, spacing), Ink.FINE, layer)


def _lines(outline: Sequence[Point], angle: Degrees, spacing: Mm) -> tuple[Segment, ...]:
    """Parallel lines at an angle, as far as they lie inside the outline (even-odd)."""
    turn = math.radians(angle)
    cos, sin = math.cos(turn), math.sin(turn)
    flat = [(x * cos + y * sin, y * cos - x * sin) for x, y in outline]
    low, high = min(v for _, v in flat), max(v for _, v in flat)
    spacing = max(spacing, (high - low) / MOST_STROKES)
    count = max(round((high - low) / spacing), 1)
    step = (high - low) / count
    segments: list[Segment] = []
    for row in range(count):
        v = low + (row + 0.5) * step
        met = sorted(
            u0 + (u1 - u0) * (v - v0) / (v1 - v0)
            for (u0, v0), (u1, v1) in zip(flat, (*flat[1:], flat[0]), strict=True)
            if (v0 <= v) != (v1 <= v)
        )
        segments += [
            ((u0 * cos - v * sin, u0 * sin + v * cos), (u1 * cos - v * sin, u1 * sin + v * cos))
            for u0, u1 in zip(met[::2], met[1::2], strict=True)
            if u1 - u0 > 0.05
        ]
    return tuple(segments)


def _broken(segment: Segment, row: int, stroke: Mm = 11.0, gap: Mm = 2.2) -> list[Segment]:
    """A line as a few long strokes with short gaps, shifted from row to row."""
    (x0, y0), (x1, y1) = segment
    length = math.dist(*segment)
    most = 4
    period = max(stroke + gap, length / most)
    if length < stroke:
        return [segment]
    # The golden share spreads the gaps of neighbouring rows as evenly as can be.
    at = ((row * 0.618) % 1.0 - 1.0) * period
    bits: list[Segment] = []
    while at < length:
        begin, end = max(at, 0.0), min(at + period - gap, length)
        if end - begin > 0.3:
            a, b = begin / length, end / length
            bits.append(((x0 + (x1 - x0) * a, y0 + (y1 - y0) * a), (x0 + (x1 - x0) * b, y0 + (y1 - y0) * b)))
        at += period
    return bits
