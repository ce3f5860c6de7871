"""Whether a drawing can be read: lettering that overlaps, is cut off at the edge, or lies on a line."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations

from drawerwright.basics.lengths import Mm
from drawerwright.drawings.scene import (
    Block,
    Circle,
    Fill,
    Ink,
    Item,
    Path,
    PlainItem,
    Point,
    Scene,
    Segment,
    Strokes,
    Text,
)
from drawerwright.drawings.scene import moved as moved_items

TOUCHING: Mm = 0.05
"""Boxes closer than this to each other, or this deep in each other, count as touching, not as overlapping."""


ROUNDED: Mm = 0.3
"""The corners of a number's room may reach so far beyond its ring; its letters do not."""


def overlapping_texts(scene: Scene) -> list[tuple[Text, Text]]:
    """Pairs of texts whose boxes overlap."""
    rooms = [(text, text.corners(), _bounds(text.corners())) for text in _texts(scene)]
    return [
        (one, other)
        for (one, room, (x0, y0, x1, y1)), (other, others_room, (u0, v0, u1, v1)) in combinations(rooms, 2)
        if x1 >= u0 and u1 >= x0 and y1 >= v0 and v1 >= y0 and _boxes_overlap(room, others_room)
    ]


def _texts(scene: Scene) -> list[Text]:
    return [item for item in _plain(scene.items) if isinstance(item, Text) and item.text]


def clipped_texts(scene: Scene) -> list[Text]:
    """Texts that reach beyond the scene's paper."""
    return [
        text
        for text in _texts(scene)
        if any(
            not (scene.left - TOUCHING <= x <= scene.right + TOUCHING)
            or not (scene.bottom - TOUCHING <= y <= scene.top + TOUCHING)
            for x, y in text.corners()
        )
    ]


def struck_texts(scene: Scene) -> list[Text]:
    """Texts that a line runs through: any line but fibres and hatching. What a filled shape hides strikes nothing; a
    plate behind letters parts fine lines, and hides nothing of an outline."""
    items = list(_plain(scene.items))
    lines = [
        (place, ink, line, _bounds(line)) for place, item in enumerate(items) for ink, line in _lines(item)
    ]
    found = []
    for place, item in enumerate(items):
        if not isinstance(item, Text) or not item.text:
            continue
        room = item.corners()
        left, low, right, high = _bounds(room)
        hits = [
            at
            for at, ink, line, (x0, y0, x1, y1) in lines
            if x1 >= left and x0 <= right and y1 >= low and y0 <= high
            if at > place or item.halo is Fill.NONE or ink in HEAVY
            if _boxes_overlap(room, line)
        ]
        if hits:
            hidden_by = max(
                (at for at, other in enumerate(items[:place]) if _covers(other, item)), default=-1
            )
            if any(at > hidden_by for at in hits):
                found.append(item)
    return found


def _bounds(points: Iterable[Point]) -> tuple[Mm, Mm, Mm, Mm]:
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


HEAVY = (Ink.OUTLINE, Ink.MARK)


def _plain(items: Iterable[Item]) -> Iterator[PlainItem]:
    """What a scene is made of, blocks taken apart."""
    for item in items:
        if isinstance(item, Block):
            yield from moved_items(item.items, *item.at)
        else:
            yield item


def _lines(item: PlainItem) -> list[tuple[Ink, Segment]]:
    if not isinstance(item, Path | Strokes) or item.ink in (Ink.NONE, Ink.GRAIN):
        return []
    if isinstance(item, Strokes):
        return [] if item.hatch is not None else [(item.ink, segment) for segment in item.segments]
    return [(item.ink, segment) for segment in _segments(item)]


def _covers(item: PlainItem, text: Text) -> bool:
    """Whether a filled shape lies under all of a text."""
    if isinstance(item, Circle) and item.fill is not Fill.NONE:
        return all(math.dist(item.centre, corner) <= item.radius + ROUNDED for corner in text.corners())
    if isinstance(item, Path) and item.closed and item.fill is not Fill.NONE:
        return all(_is_inside(corner, item.points) for corner in text.corners())
    return False


def _is_inside(point: Point, outline: Sequence[Point]) -> bool:
    (x, y), inside = point, False
    for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if (y0 > y) != (y1 > y) and x < (x1 - x0) * (y - y0) / (y1 - y0) + x0:
            inside = not inside
    return inside


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
