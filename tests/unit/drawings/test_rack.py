"""The rack of a stock: every size and offcut is there, to one scale, with its size in words."""

from __future__ import annotations

import pytest

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawings.rack import ROOM, draw_rack
from drawerwright.drawings.scene import MARGIN, Fill, Path
from drawerwright.sheets.sheet_stock import SheetSize

SIZES = (
    SheetSize("a", 2500, 1250, on_hand=6),
    SheetSize("b", 1525, 1525),
    SheetSize("c", 1180, 420, on_hand=1, is_offcut=True),
    SheetSize("d", 300, 250, on_hand=2, is_offcut=True),
)


def test_pieces_are_drawn_to_one_scale_with_their_sizes() -> None:
    scene = draw_rack(SIZES, style=LengthStyle())
    assert scene is not None
    drawn = [item for item in scene.items if isinstance(item, Path) and item.fill is not Fill.NONE]
    boxes = [(x1 - x0, y1 - y0) for x0, y0, x1, y1 in map(_extent, drawn)]
    assert boxes == [
        (pytest.approx(size.length * scene.scale), pytest.approx(size.width * scene.scale)) for size in SIZES
    ]
    assert [path.fill is Fill.WOOD_BEHIND for path in drawn] == [size.is_offcut for size in SIZES]
    words = [text.text for text in scene.texts]
    assert words == [
        "2500.0 × 1250.0 mm", "6 on hand", "1525.0 × 1525.0 mm", "to buy", "1180.0 × 420.0 mm", "offcut",
        "300.0 × 250.0 mm", "2 offcuts",
    ]  # fmt: skip
    assert scene.width <= ROOM[0] + 2 * MARGIN
    rows = [_extent(path) for path in drawn]
    assert not any(
        a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3] for a in rows for b in rows if a is not b
    )


def test_an_empty_rack_is_not_drawn() -> None:
    assert draw_rack((), style=LengthStyle()) is None


def _extent(path: Path) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in path.points], [y for _, y in path.points]
    return min(xs), min(ys), max(xs), max(ys)
