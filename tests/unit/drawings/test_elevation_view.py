from __future__ import annotations

from dataclasses import replace

import pytest
from drawing_cases import bank, drawer

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawers.assembly import AssembledDrawer, assemble
from drawerwright.drawers.bank import Bank, FrontStyle
from drawerwright.drawers.carcase import pull_places, runner_lines
from drawerwright.drawings.elevation import draw_elevation
from drawerwright.drawings.paper import PAPERS
from drawerwright.drawings.scene import Circle, Fill, Ink, Path
from legible import clipped_texts, overlapping_texts


@pytest.mark.parametrize("count", [1, 2, 6, 14])
@pytest.mark.parametrize("style", [FrontStyle.APPLIED, FrontStyle.LIPPED])
def test_it_can_be_read_and_fits_its_page(count: int, style: FrontStyle) -> None:
    scene = draw_elevation(bank(count, height=120.0 * count, style=style))
    assert not overlapping_texts(scene)
    assert not clipped_texts(scene)
    assert scene.width <= PAPERS["a4"].half[0]


def test_inches_take_more_room_and_can_still_be_read() -> None:
    scene = draw_elevation(bank(7), style=LengthStyle("in/64", ","))
    assert not overlapping_texts(scene)
    assert not clipped_texts(scene)
    assert scene.width <= PAPERS["letter"].half[0]


def test_a_bank_of_sixty_drawers_still_tells_every_height() -> None:
    many = bank(60, height=1980.0)
    scene = draw_elevation(many)
    assert not overlapping_texts(scene)
    words = " ".join(text.text for text in scene.texts)
    assert all(f"runner {line.height:.1f} mm" in words for line in runner_lines(many))


def test_heights_widths_and_holes_are_those_of_the_bank() -> None:
    drawn = bank(4)
    scene = draw_elevation(drawn)
    words = " ".join(text.text for text in scene.texts)
    for front in drawn.front_places():
        assert f"{front.height:.1f} mm" in words
    for hole in pull_places(drawn):
        assert f"pull {hole.z:.1f} mm" in words
    assert "opening 520.0 mm" in words
    assert "reveal 2.5 mm" in words


def test_fronts_and_holes_are_to_scale() -> None:
    drawn = bank(3)
    scene = draw_elevation(drawn, annotated=False)
    fronts = [
        item for item in scene.items if isinstance(item, Path) and item.fill is Fill.WOOD and item.closed
    ]
    for path, front in zip(fronts, drawn.front_places(), strict=True):
        (left, bottom), (right, top) = path.points[0], path.points[2]
        true = (front.x, front.z, front.x + front.width, front.top)
        assert (left, bottom, right, top) == pytest.approx([edge * scene.scale for edge in true])
    holes = [item.centre for item in scene.items if isinstance(item, Circle)]
    for centre, hole in zip(holes, pull_places(drawn), strict=True):
        assert centre == pytest.approx([place * scene.scale for place in (hole.x, hole.z)])


def assembled(drawn: Bank) -> list[AssembledDrawer]:
    """The drawers behind the lipped fronts of a bank, their bottoms 10 mm above the sides' lower edges."""
    return [
        assemble(
            replace(
                drawer(lip=place.beside_box[0], front_height=place.front.height, front_below=place.below_box),
                name=place.name,
                width=place.box.width,
                depth=place.box.depth,
                height=place.box.height,
            )
        )
        for place in drawn.places()
    ]


@pytest.mark.parametrize("count", [1, 3, 40])
def test_bottoms_lie_where_the_drawers_have_them(count: int) -> None:
    drawn = bank(count, height=80.0 * count, style=FrontStyle.LIPPED)
    scene = draw_elevation(drawn, assembled(drawn))
    assert not overlapping_texts(scene)
    assert not clipped_texts(scene)
    hidden = [
        item.points
        for item in scene.items
        if isinstance(item, Path) and item.ink is Ink.HIDDEN and item.closed
    ]
    lowest = drawn.places()[-1]
    assert drawn.runner.bottom == 1.0
    left, right = lowest.box.x + 14.6 - 6 + 0.75, lowest.box.x + lowest.box.width - 14.6 + 6 - 0.75
    wanted = [edge * scene.scale for edge in (left, 1.0 + 10.0, right, 1.0 + 16.4)]
    assert any([*points[0], *points[2]] == pytest.approx(wanted) for points in hidden)


def test_two_groove_heights_are_written_on_it() -> None:
    drawn = bank(3, style=FrontStyle.LIPPED)
    words = " ".join(text.text for text in draw_elevation(drawn, assembled(drawn)).texts)
    assert "Front: groove 11.0 mm above its lower edge; sides: 10.0 mm (C1, C2)" in words
    assert "Front: groove 17.0 mm above its lower edge; sides: 10.0 mm (C3)" in words
    assert "groove" not in " ".join(text.text for text in draw_elevation(drawn).texts)


def test_the_small_picture_has_no_lettering() -> None:
    scene = draw_elevation(bank(), annotated=False, room=(40.0, 40.0))
    assert not scene.texts
    assert scene.width <= 45
