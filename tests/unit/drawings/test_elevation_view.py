from __future__ import annotations

import pytest
from drawing_cases import bank

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawers.bank import FrontStyle
from drawerwright.drawers.carcase import pull_places, runner_lines
from drawerwright.drawings.clearance import clipped_texts, overlapping_texts
from drawerwright.drawings.elevation import ROOM, draw_elevation
from drawerwright.drawings.scene import Circle, Fill, Path


@pytest.mark.parametrize("count", [1, 2, 6, 14])
@pytest.mark.parametrize("style", [FrontStyle.APPLIED, FrontStyle.LIPPED])
def test_it_can_be_read_and_fits_its_page(count: int, style: FrontStyle) -> None:
    scene = draw_elevation(bank(count, height=120.0 * count, style=style))
    assert not overlapping_texts(scene)
    assert not clipped_texts(scene)
    assert scene.width <= ROOM[0]


def test_inches_take_more_room_and_can_still_be_read() -> None:
    scene = draw_elevation(bank(7), style=LengthStyle("in/64", ","))
    assert not overlapping_texts(scene)
    assert not clipped_texts(scene)
    assert scene.width <= ROOM[0]


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


def test_the_small_picture_has_no_lettering() -> None:
    scene = draw_elevation(bank(), annotated=False, room=(40.0, 40.0))
    assert not scene.texts
    assert scene.width <= 45
