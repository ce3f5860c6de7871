"""Plane regions: the only door to shapely.

Outlines come in and go out as plain tuples of (x, y) in mm, so that no other module knows which library
does the work. Nothing that a live drawing waits for passes through here.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeAlias

from shapely import Polygon, affinity, union_all
from shapely.validation import explain_validity

from drawerwright.basics.errors import InvalidValueError

Outline: TypeAlias = Sequence[tuple[float, float]]
"""A simple polygon, not closed."""


def region(outline: Outline) -> Polygon:
    """The region inside an outline.

    Raises:
        InvalidValueError: the outline crosses itself or encloses nothing; the text says where.
    """
    polygon = Polygon(outline)
    if not polygon.is_valid:
        raise InvalidValueError(f"the outline is not a simple polygon: {explain_validity(polygon)}")
    return polygon


def left_over(whole: Outline, parts: Iterable[Outline]) -> tuple[tuple[tuple[float, float], ...], ...]:
    """What the parts leave of the whole, as outlines (holes are not kept)."""
    rest = region(whole).difference(union_all([region(part) for part in parts]))
    pieces = getattr(rest, "geoms", [rest])
    return tuple(tuple(piece.exterior.coords)[:-1] for piece in pieces if piece.area > 0)


def moved(outline: Outline, dx: float, dy: float) -> tuple[tuple[float, float], ...]:
    """The outline shifted by (dx, dy) mm."""
    return tuple(affinity.translate(region(outline), dx, dy).exterior.coords)[:-1]
