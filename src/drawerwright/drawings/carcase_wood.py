"""Dividers, stiles and rails of a carcase from the front, as wood with its fibre."""

from __future__ import annotations

from collections.abc import Iterable

from drawerwright.basics.lengths import Mm
from drawerwright.drawers.opening import CarcaseBoard
from drawerwright.drawings.hatching import grain
from drawerwright.drawings.scene import Fill, Ink, Item, Path, box

FIBRE_GAP: Mm = 2.6
"""Between the lines of the fibre, on paper."""


def wood_items(
    boards: Iterable[CarcaseBoard], scale: float, within: tuple[Mm, Mm, Mm, Mm] | None = None
) -> list[Item]:
    """Boards in the order in which they lie behind each other, cut off at the edges of `within` (left, low, right, top
    in mm)."""
    items: list[Item] = []
    for board in boards:
        left, low, right, top = board.edges
        if within is not None:
            left, low = max(left, within[0]), max(low, within[1])
            right, top = min(right, within[2]), min(top, within[3])
        if right <= left or top <= low:
            continue
        edges = box(left * scale, low * scale, right * scale, top * scale)
        items += [
            Path(edges, Ink.NONE, closed=True, fill=Fill.WOOD_BEHIND),
            grain(edges, 90.0 if board.is_upright else 0.0, FIBRE_GAP),
            Path(edges, Ink.FINE, closed=True),
        ]
    return items
