"""Whether a drawing can be read: lettering that overlaps, is cut off at the edge, or lies on a heavy line."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from drawerwright.basics.lengths import Mm
from drawerwright.drawings.scene import Ink, Path, Point, Scene, Segment, Text

TOUCHING: Mm = 0.05
"""Boxes closer than this to each other, or this deep in each other, count as touching, not as overlapping."""


def overlapping_texts(scene: Scene) -> list[tuple[Text, Text]]:
    """Pairs of texts whose boxes overlap."""
    return [
        (one, other)
        for one, other in combinations([text for text in scene.texts if text.text], 2)
        if _boxes_overlap(one.corners(), other.corners())
    ]


def clipped_texts(scene: Scene) -> list[Text]:
    """Texts that reach beyond the scene's paper."""
    return [
        text
        for text in scene.texts
        if any(
            not (scene.left - TOUCHING <= x <= scene.right + TOUCHING)
            or not (scene.bottom - TOUCHING <= y <= scene.top + TOUCHING)
            for x, y in text.corners()
        )
    ]


def struck_texts(scene: Scene) -> list[Text]:
    """Texts that a heavy line runs through."""
    lines = [
        segment
        for item in scene.items
        if isinstance(item, Path) and item.ink in (Ink.OUTLINE, Ink.MARK)
        for segment in _segments(item)
    ]
    return [text for text in scene.texts if any(_boxes_overlap(text.corners(), line) for line in lines)]


def _segments(path: Path) -> list[Segment]:
    ends = (*path.points[1:], path.points[0]) if path.closed else path.points[1:]
    return list(zip(path.points, ends, strict=False))


def _boxes_overlap(one: Sequence[Point], other: Sequence[Point]) -> bool:
    """Whether two convex shapes overlap: no axis along their edges separates them."""
    for shape in (one, other):
        for (x0, y0), (x1, y1) in zip(shape, (*shape[1:], shape[0]), strict=True):
            nx, ny = y0 - y1, x1 - x0
            length = (nx * nx + ny * ny) ** 0.5
            if length < 1e-9:
                continue
            a = [(x * nx + y * ny) / length for x, y in one]
            b = [(x * nx + y * ny) / length for x, y in other]
            if max(a) <= min(b) + TOUCHING or max(b) <= min(a) + TOUCHING:
                return False
    return True
