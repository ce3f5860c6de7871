from __future__ import annotations

import re
from dataclasses import fields
from xml.etree import ElementTree

import pytest
import shapely
from drawing_cases import bank, corner, layouts

from drawerwright.drawings.corner_section import draw_corner
from drawerwright.drawings.elevation import draw_elevation
from drawerwright.drawings.scene import Arc, Circle, Fill, Ink, Path, Scene, Text, extent, framed
from drawerwright.drawings.sheet import draw_sheet
from drawerwright.drawings.svg import BLACK_ON_WHITE, PAPER, SLATE, stylesheet, write_svg
from drawerwright.drawings.svg_layers import layer_groups

SVG = "{http://www.w3.org/2000/svg}"
WICKED = "<script>alert('x')</script> & \"quoted\" ]]> \x00\x1b"


@pytest.fixture
def full_size() -> Scene:
    return draw_corner(corner(), scale=1.0, annotated=False)


def test_the_unit_is_millimetres_and_one_user_unit_is_one(full_size: Scene) -> None:
    """SVG 2, section 8.2: width over viewBox width is the size of a user unit; here it has to be 1 mm."""
    root = ElementTree.fromstring(write_svg(full_size))
    _, _, width, height = map(float, root.attrib["viewBox"].split())
    assert root.attrib["width"] == f"{width:g}mm"
    assert root.attrib["height"] == f"{height:g}mm"
    assert width == pytest.approx(full_size.width, abs=0.001)


def test_the_wood_has_its_true_size(full_size: Scene) -> None:
    root = ElementTree.fromstring(write_svg(full_size))
    flat = next(p for p in root.iter(f"{SVG}path") if "fill-wood" in p.attrib["class"].split())
    numbers = [float(n) for n in re.findall(r"-?[\d.]+", flat.attrib["d"])]
    ys = numbers[1::2]
    assert max(ys) - min(ys) == pytest.approx(14.6, abs=0.001)


def test_names_cannot_leave_their_place() -> None:
    scene = framed(WICKED, [Text((0, 0), WICKED)], description=WICKED)
    text = write_svg(scene)
    root = ElementTree.fromstring(text)  # XML that parses has no stray control characters
    assert [child.tag for child in root.iter() if "script" in child.tag] == []
    shown = root.find(f"{SVG}text")
    assert shown is not None
    assert shown.text == WICKED.replace("\x00", "").replace("\x1b", "")
    assert "<script" not in text
    named = write_svg(draw_elevation(bank()))
    assert "<mutes>" not in named
    assert "Reeds &amp; &lt;mutes&gt;" in named


def test_nothing_that_a_strict_page_would_refuse(full_size: Scene) -> None:
    text = write_svg(full_size)
    assert "style=" not in text
    assert "<style" not in text
    assert not re.search(r"\son\w+=", text)
    assert "href" not in text


def test_the_ground_can_be_left_out(full_size: Scene) -> None:
    assert PAPER.paper in write_svg(full_size)
    assert '<rect class="fill-paper"' not in write_svg(full_size, ground=False)


def test_a_printed_page_draws_black_on_white() -> None:
    """Whatever the screen shows: the colours after `@media print` are those without any hue."""
    printed = stylesheet().split("@media print{")[1].split("}")[0]
    colours = re.findall("#(..)(..)(..)", printed)
    assert len(colours) == len(fields(PAPER))
    assert all(red == green == blue for red, green, blue in colours)


def test_every_ink_and_fill_has_a_look_and_a_rule() -> None:
    rules = stylesheet()
    for ink in Ink:
        for fill in Fill:
            write_svg(framed("look", [Path(((0, 0), (1, 1)), ink, fill=fill)]))
    for ink in set(Ink) - {Ink.NONE}:
        assert f".ink-{ink}{{" in rules
    for fill in set(Fill) - {Fill.NONE}:
        assert f".fill-{fill}{{" in rules


@pytest.mark.parametrize("palette", [PAPER, SLATE, BLACK_ON_WHITE])
def test_ink_stands_out_from_paper_and_wood(palette: object) -> None:
    """WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for text; the formula is that of its relative luminance."""

    def luminance(colour: str) -> float:
        parts = [int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5)]
        linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    def contrast(one: str, other: str) -> float:
        light, dark = sorted((luminance(one), luminance(other)), reverse=True)
        return (light + 0.05) / (dark + 0.05)

    ink = palette.ink
    for ground in ("paper", "wood", "wood_behind", "steel"):
        assert contrast(ink, getattr(palette, ground)) >= 4.5, ground


def test_arc_and_circle_are_written_where_they_are() -> None:
    arc = Arc((5, 5), 2.0, 0.0, 90.0)
    assert arc.at(90.0) == pytest.approx((5.0, 7.0))
    text = write_svg(framed("round", [arc, Circle((0, 0), 1.5)]))
    root = ElementTree.fromstring(text)
    circle = root.find(f"{SVG}circle")
    assert circle is not None
    assert circle.attrib["r"] == "1.5"
    assert "M7 -5A2 2 0 0 0 5 -7" in text


def test_a_file_has_a_group_for_each_layer_and_ids_of_its_own() -> None:
    root = ElementTree.fromstring(write_svg(draw_elevation(bank()), layered=True))
    groups = [group for group in root if group.tag == f"{SVG}g"]
    layers = [group.attrib["data-layer"] for group in groups if group.attrib["id"] != "parts"]
    assert layers == ["wood", "grain", "machine", "names", "dimensions"]
    ids = [node.attrib["id"] for node in root.iter() if "id" in node.attrib]
    assert len(set(ids)) == len(ids)
    parts = next(
        layout
        for layout in ElementTree.fromstring(write_svg(draw_sheet(layouts(1)[0]), layered=True))
        if layout.attrib.get("id") == "parts"
    )
    assert {path.find(f"{SVG}title").text for path in parts} >= {"sides 96 #1", "bottom #1"}


@pytest.mark.parametrize("scene", [draw_sheet(layouts(2)[0]), draw_elevation(bank()), draw_corner(corner())])
def test_grouping_changes_nothing_of_what_lies_on_what(scene: Scene) -> None:
    """Of any two items that overlap, one of them filled, the later one stays above; by shapely's boxes."""
    order = [item for group in layer_groups(scene.items) for item in group.items]
    assert len(order) == len(scene.items)
    at = {id(item): place for place, item in enumerate(order)}
    filled = {
        id(item): getattr(item, "fill", getattr(item, "halo", Fill.NONE)) is not Fill.NONE for item in order
    }
    rooms = [shapely.box(*extent([item])).buffer(-0.02) for item in scene.items]
    for later, item in enumerate(scene.items):
        for earlier in range(later):
            below = scene.items[earlier]
            if (filled[id(item)] or filled[id(below)]) and rooms[later].intersects(rooms[earlier]):
                assert at[id(below)] < at[id(item)]
