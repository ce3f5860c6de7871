from __future__ import annotations

import pytest
from drawing_cases import corner, mitre_corner
from shapely import LineString, Polygon

from drawerwright.basics.uncertain import Estimate
from drawerwright.drawers.parts import Role
from drawerwright.drawings.scene import Fill, Layer, Path, Scene, Strokes
from drawerwright.drawings.test_pieces import PIECES_SCALE, draw_test_pieces, reading_letters
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.joint import expected_readings, joint_of
from drawerwright.joints.setting import CornerSetting, FenceRule
from legible import clipped_texts, overlapping_texts

SMALL = Cutter("drawer-lock", mid_depth=Estimate(5.2), step=Estimate(3.2), slope=Estimate(45.0))
CORNERS = [
    corner(),
    corner(flat=18.3, lip=8.0, rule=FenceRule.TOOTH),
    corner(flat=11.72, upright=11.72, cutter=SMALL),
    mitre_corner(),
]
SCALE = 6.0
"""Large enough that every figure stands between its ticks."""


def wood(scene: Scene, fill: Fill) -> Polygon:
    return next(Polygon(i.points) for i in scene.items if isinstance(i, Path) and i.closed and i.fill is fill)


@pytest.mark.parametrize("scale", [PIECES_SCALE, 2.6], ids=["paper", "screen"])
@pytest.mark.parametrize("setting", CORNERS)
def test_every_reading_stands_there_once_and_can_be_read(setting: CornerSetting, scale: float) -> None:
    scenes = draw_test_pieces(setting, scale=scale).values()
    for scene in scenes:
        assert not overlapping_texts(scene)
        assert not clipped_texts(scene)
    letters = reading_letters(joint_of(setting.cutter))
    wanted = [f"{letters[reading.kind]} {reading.value:.2f} mm" for reading in expected_readings(setting)]
    shown = [text.text for scene in scenes for text in scene.texts if text.layer is Layer.DIMENSION]
    assert sorted(shown) == sorted(wanted)


def test_the_dimensions_are_as_long_as_what_they_name() -> None:
    """Each figure against the straight line that is drawn for it, by shapely."""
    setting = CORNERS[1]
    lengths = {
        round(LineString(stroke).length / SCALE, 2)
        for scene in draw_test_pieces(setting, scale=SCALE).values()
        for item in scene.items
        if isinstance(item, Strokes) and item.layer is Layer.DIMENSION
        for stroke in item.segments
    }
    assert {round(reading.value, 2) for reading in expected_readings(setting)} <= lengths


@pytest.mark.parametrize("setting", CORNERS)
def test_head_and_neck_are_those_of_the_wood_that_is_drawn(setting: CornerSetting) -> None:
    """The reading of the law is the width of the drawn outline where it says so, cut there by shapely."""
    if setting.cutter.kind == "lock-mitre":
        flat = wood(draw_test_pieces(setting, scale=1.0)[Role.FLAT], Fill.WOOD)
        table = next(r.value for r in expected_readings(setting))
        assert flat.intersection(LineString([(-5, 0.001), (99, 0.001)])).bounds[0] == pytest.approx(
            flat.bounds[0] + table, abs=0.01
        )
        return
    upright = wood(draw_test_pieces(setting, scale=1.0)[Role.UPRIGHT], Fill.WOOD_BEHIND)
    left, _, right, tip = upright.bounds

    def width(below_tip: float) -> float:
        level = tip - below_tip
        return upright.intersection(LineString([(left - 1, level), (right + 1, level)])).length

    assert width(0.01) == pytest.approx(setting.head, abs=0.01)
    assert width(setting.bit_height - 0.01) == pytest.approx(setting.neck, abs=0.01)
