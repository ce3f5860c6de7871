"""A sheet that stands shows what the lying one shows: the same pieces, in the same order from the same corner."""

from __future__ import annotations

import pytest
from drawing_cases import layouts

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawings.scene import Text
from drawerwright.drawings.sheet import draw_sheet
from drawerwright.drawings.sheet_look import SheetLook
from drawerwright.drawings.sheet_turned import quarter_turned
from drawerwright.sheets.patterns import SheetLayout

Rectangle = tuple[float, float, float, float]


def strips_of(layout: SheetLayout) -> dict[tuple[str, int], Rectangle]:
    """Where every strip and loose part lies: left, bottom, right, top."""
    found = {}
    for band in layout.bands:
        for strip in band.strips:
            if band.turned:
                left, bottom, wide, high = band.x + strip.offset, band.y, strip.height, band.length
            else:
                left, bottom, wide, high = band.x, band.y + strip.offset, band.length, strip.height
            found[strip.key, strip.number] = (left, bottom, left + wide, bottom + high)
    for part in layout.loose:
        found[part.key, part.number] = (part.x, part.y, part.x + part.x_extent, part.y + part.y_extent)
    return found


@pytest.mark.parametrize(("count", "which"), [(1, 0), (4, 0), (9, -1)])
def test_every_piece_is_turned_with_its_sheet(count: int, which: int) -> None:
    """Source: a clockwise quarter turn takes (x, y) to (y, length - x)."""
    layout = layouts(count)[which]
    length = layout.size.length
    turned = quarter_turned(layout)
    assert (turned.size.length, turned.size.width) == (layout.size.width, length)
    lying, standing = strips_of(layout), strips_of(turned)
    for key, (left, bottom, right, top) in lying.items():
        assert standing[key] == pytest.approx((bottom, length - right, top, length - left))
    for before, after in zip(layout.cuts, turned.cuts, strict=True):
        assert (after.x0, after.y0, after.x1, after.y1) == pytest.approx(
            (before.y0, length - before.x1, before.y1, length - before.x0)
        )
        assert after.order == before.order
    assert [o.area for o in turned.offcuts] == pytest.approx([o.area for o in layout.offcuts])


@pytest.mark.parametrize("standing", [False, True])
def test_an_offcut_is_lettered_along_the_grain_first(standing: bool) -> None:
    layout = next(each for each in layouts(9) if each.kept_offcuts)
    scene = draw_sheet(layout, look=SheetLook(room=(400, 400), is_titled=False, is_standing=standing))
    style = LengthStyle()
    told = {item.text for item in scene.items if isinstance(item, Text)}
    for offcut in layout.kept_offcuts:
        assert f"{style.show(offcut.length, with_unit=False)} × {style.show(offcut.width)}" in told


@pytest.mark.parametrize("standing", [False, True])
def test_every_part_is_a_region_where_it_is_drawn(standing: bool) -> None:
    layout = layouts(1)[0]
    scene = draw_sheet(layout, look=SheetLook(room=(120, 120), is_titled=False, is_standing=standing))
    places = strips_of(quarter_turned(layout) if standing else layout)
    assert {region.name for region in scene.regions} == {f"{key} #{number}" for key, number in places}
    for region in scene.regions:
        key, number = region.name.rsplit(" #", 1)
        (left, bottom), (right, top) = region.outline[0], region.outline[2]
        drawn = [value / scene.scale for value in (left, bottom, right, top)]
        assert drawn == pytest.approx(places[key, int(number)], abs=0.01)
