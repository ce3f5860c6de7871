"""A bottom under its load, drawn: what is written is what was reckoned, and the limit lies where it belongs."""

from __future__ import annotations

from dataclasses import replace

from drawerwright.drawings.sag_picture import DEEPEST, THICK, draw_sag
from drawerwright.drawings.scene import Ink, Path, Scene, Text
from drawerwright.strength.bottom_load import LoadedBottom
from drawerwright.wood.board import board_bending
from drawerwright.wood.thickness import Panel

BOARD = board_bending(Panel.BIRCH_PLYWOOD, 6.4)
assert BOARD is not None
HOLDS = LoadedBottom(400, 500, 6.4, BOARD, 10)
SAGS = replace(HOLDS, load=80)


def lines(scene: Scene, ink: Ink) -> list[Path]:
    return [item for item in scene.items if isinstance(item, Path) and item.ink is ink]


def words(scene: Scene) -> set[str]:
    return {item.text for item in scene.items if isinstance(item, Text)}


def test_sag_and_limit_are_written() -> None:
    assert words(draw_sag(HOLDS)) == {"limit 2.0 mm", "sags 0.6 mm"}
    assert "drawn deeper than it is" in draw_sag(HOLDS).description


def test_one_that_sags_too_far_is_marked_and_lies_below_its_limit() -> None:
    assert not lines(draw_sag(HOLDS), Ink.MARK)
    scene = draw_sag(SAGS)
    (strip,) = lines(scene, Ink.MARK)
    (limit,) = lines(scene, Ink.HIDDEN)
    lowest = min(y for _x, y in strip.points)
    assert abs(lowest + THICK + DEEPEST) < 1e-6
    assert lowest < limit.points[0][1] < 0


def test_both_are_drawn_to_one_scale() -> None:
    for bottom in (HOLDS, SAGS):
        scene = draw_sag(bottom)
        limit = -THICK - lines(scene, Ink.HIDDEN)[0].points[0][1]
        strips = [path for path in scene.items if isinstance(path, Path) and len(path.points) > 10]
        sag = -THICK - min(y for _x, y in strips[0].points)
        assert abs(sag / limit - bottom.deflection / bottom.sag_limit) < 1e-6
