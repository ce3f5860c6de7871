from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import dist

import pytest
from drawing_cases import layouts
from shapely import LineString, Point

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawings.band_marks import BandEnds
from drawerwright.drawings.lettered import lettered
from drawerwright.drawings.paper import PAPERS
from drawerwright.drawings.scene import Circle, Fill, Ink, Layer, Path, Scene, Strokes, Text
from drawerwright.drawings.sheet import draw_sheet
from drawerwright.drawings.sheet_look import SheetLook
from drawerwright.sheets.patterns import PlacedBand, PlacedStrip, SheetLayout
from drawerwright.sheets.sheet_stock import SheetSize
from legible import clipped_texts, overlapping_texts

ENDS = {
    family: BandEnds("front end", "back end", "inside face up", "front end") for family in ("sides", "ends")
}


@pytest.fixture(params=[(1, 0), (4, 0), (9, 0), (9, -1)])
def layout(request: pytest.FixtureRequest) -> SheetLayout:
    count, which = request.param
    return layouts(count)[which]


@pytest.fixture
def scene(layout: SheetLayout) -> Scene:
    return draw_sheet(layout, ends=ENDS)


def test_it_can_be_read_and_fits_its_page(scene: Scene) -> None:
    assert not overlapping_texts(scene)
    assert not clipped_texts(scene)
    assert scene.width <= PAPERS["a4"].lying[0]
    assert scene.height <= PAPERS["a4"].lying[1]


def test_inches_take_more_room_and_can_still_be_read(layout: SheetLayout) -> None:
    scene = draw_sheet(layout, ends=ENDS, style=LengthStyle("in/64", ","))
    assert not overlapping_texts(scene)
    assert not clipped_texts(scene)
    assert scene.width <= PAPERS["a4"].lying[0]
    assert scene.height <= PAPERS["a4"].lying[1]


def test_a_very_long_name_of_a_sheet_does_not_widen_the_drawing() -> None:
    """It pushed the drawing onto a page of its own. Its beginning stays, and its end, which has the size."""
    plain = layouts(4)[0]
    where = "from the stack behind the door, bought in spring, " * 3
    label = f"plywood {where}2440 x 1220"
    named = replace(plain, size=replace(plain.size, label=label))
    scene = draw_sheet(named, ends=ENDS, called="sheet 1")
    assert scene.width == pytest.approx(draw_sheet(plain, ends=ENDS, called="sheet 1").width, abs=1.0)
    headline = next(text.text for text in scene.texts if "scale" in text.text)
    assert headline.startswith("sheet 1 · plywood from the stack")
    assert "… " in headline
    assert "2440 x 1220" in headline


def test_every_part_is_named_on_the_sheet_or_below_it(layout: SheetLayout, scene: Scene) -> None:
    texts = [text.text for text in scene.texts]
    # A long name may stand on two lines, one text after the other.
    words = " | ".join([*texts, *map(" ".join, pairwise(texts))])
    names = [f"{s.key} #{s.number}" for band in layout.bands for s in band.strips]
    names += [f"{part.key} #{part.number}" for part in layout.loose]
    missing = [name for name in names if name not in words]
    assert not missing


@pytest.mark.parametrize("shrunk", [1.0, 0.15], ids=["full size", "tiny"])
def test_every_band_has_its_number_on_the_sheet_or_below_it(layout: SheetLayout, shrunk: float) -> None:
    numbers = {(band.family, band.number): 40 + place for place, band in enumerate(layout.bands)}
    room = PAPERS["a4"].lying[0] * shrunk, PAPERS["a4"].lying[1] * shrunk
    for ends in (ENDS, {}):
        scene = draw_sheet(layout, ends=ends, numbers=numbers, look=SheetLook(room))
        words = " | ".join(text.text for text in scene.texts)
        assert [number for number in numbers.values() if f"band {number}" not in words] == []


def test_every_cut_has_its_number_once(layout: SheetLayout, scene: Scene) -> None:
    numbers = sorted(
        int(text.text) for text in scene.texts if text.layer is Layer.SAW and text.text.isdigit()
    )
    assert numbers == sorted(cut.order for cut in layout.cuts)


@pytest.mark.parametrize("turned", [False, True])
def test_the_edges_to_rout_are_those_where_the_parts_end_however_short(turned: bool) -> None:
    """A band 600 long and 150 wide, of two strips 600 long that lie side by side: its short edges are routed. Their
    sum is what the layout counts as routed."""
    strips = (PlacedStrip("side", 1, 0.0, 75.0), PlacedStrip("side", 2, 75.0, 75.0))
    band = PlacedBand("sides", 1, 100.0, 200.0, 600.0, 150.0, turned, strips)
    sheet = SheetLayout(SheetSize("1000 × 1000", 1000, 1000), (band,), (), (), (), False)
    scene = draw_sheet(sheet, ends=ENDS)
    edges = [item.points for item in scene.items if isinstance(item, Path) and item.layer is Layer.NAME]
    lengths = [dist(*edge) / scene.scale for edge in edges if edge[0][0] >= 0 and edge[0][1] >= 0]
    assert lengths == pytest.approx([150.0, 150.0])
    assert sum(lengths) == pytest.approx(band.routed_length)
    across = 1 if turned else 0
    places = sorted(edge[0][across] / scene.scale for edge in edges if edge[0][0] >= 0 and edge[0][1] >= 0)
    start = band.y if turned else band.x
    assert places == pytest.approx([start, start + 600.0], abs=1.0 / scene.scale)  # mm of paper
    assert "edge to rout" in [text.text for text in scene.texts]


def test_every_offcut_has_its_size(layout: SheetLayout, scene: Scene) -> None:
    words = " ".join(text.text for text in scene.texts)
    for offcut in layout.kept_offcuts:
        assert f"{offcut.length:.1f} × {offcut.width:.1f} mm" in words


def test_what_is_too_small_to_keep_is_left_blank(layout: SheetLayout) -> None:
    assert layout.offcuts
    blank = replace(layout, offcuts=tuple(replace(offcut, is_kept=False) for offcut in layout.offcuts))
    scene = draw_sheet(blank, ends=ENDS)
    words = " ".join(text.text for text in scene.texts)
    assert "too small to keep" in words
    assert "offcut to keep" not in words
    assert not any(isinstance(item, Strokes) and item.layer is Layer.OFFCUT for item in scene.items)
    for offcut in layout.offcuts:
        assert f"{offcut.length:.1f} × {offcut.width:.1f} mm" not in words
    assert "Offcuts: none." in scene.description


def test_kerfs_and_wood_are_to_scale(layout: SheetLayout, scene: Scene) -> None:
    """What is inked solid is exactly the wood that turns to dust before the routing; wood drawn is wood left."""

    def area(path: Path) -> float:
        xs, ys = [x for x, _ in path.points], [y for _, y in path.points]
        return (max(xs) - min(xs)) * (max(ys) - min(ys)) / scene.scale**2

    paths = [item for item in scene.items if isinstance(item, Path) and item.closed]
    kerfs = sum(area(path) for path in paths if path.fill is Fill.INK and path.layer is Layer.SAW)
    dust = sum((cut.x1 - cut.x0) * (cut.y1 - cut.y0) for cut in layout.cuts if not cut.ripping)
    assert kerfs == pytest.approx(dust, rel=1e-6)
    wood = sum(area(path) for path in paths if path.fill is Fill.WOOD)
    assert wood == pytest.approx(layout.parts_area, rel=1e-6)


def test_labels_are_the_users_words() -> None:
    layout = layouts(1)[0]
    strip = layout.bands[0].strips[0]
    scene = draw_sheet(layout, labels={(strip.key, strip.number): "D4 <left>"})
    assert any("D4 <left>" in text.text for text in scene.texts)


def test_the_cuts_at_hand_stand_out_and_the_sheet_has_its_name(layout: SheetLayout) -> None:
    plain = draw_sheet(layout, ends=ENDS)
    told = draw_sheet(layout, ends=ENDS, called="sheet 3 · 2 stacked: 3+4", at_hand=[1, 2])
    assert not overlapping_texts(told)
    assert any(text.text.startswith("sheet 3 · 2 stacked: 3+4 · ") for text in told.texts)
    assert {text.text for text in told.texts if text.bold and text.text.isdigit()} >= {"1", "2"}

    def accented(scene: Scene) -> int:
        return sum(isinstance(item, Path) and item.ink is Ink.MARK for item in scene.items)

    assert accented(told) == accented(plain) + 2


def test_no_line_is_drawn_over_the_number_of_a_cut(scene: Scene) -> None:
    """Dimension lines and leaders lie below the rings that they pass."""
    for place, ring in enumerate(scene.items):
        if isinstance(ring, Circle):
            for item in scene.items[place + 1 :]:
                if isinstance(item, Path | Strokes):
                    points = item.points if isinstance(item, Path) else None
                    lines = item.segments if points is None else tuple(pairwise(points))
                    assert all(
                        LineString(line).distance(Point(ring.centre)) > ring.radius - 0.1 for line in lines
                    )


def test_what_is_written_across_a_sheet_lies_below_its_lettering(scene: Scene) -> None:
    below, above = lettered(scene)
    assert below.texts == ()
    assert [text.text for text in above.texts] == [text.text for text in scene.texts]
    assert all(text.halo is not Fill.NONE for text in above.texts)
    assert len(below.items) + len(above.items) == len(scene.items)
    assert all(isinstance(item, Text | Circle) for item in above.items)
    assert (above.width, above.height, above.left, above.bottom) == (
        below.width,
        below.height,
        below.left,
        below.bottom,
    )
