from __future__ import annotations

import pytest
from drawing_cases import corner, mitre_corner
from shapely import Polygon
from shapely.affinity import scale

from drawerwright.drawers.parts import Role
from drawerwright.drawings.scene import Fill, Ink, Path, Scene
from drawerwright.drawings.setup import draw_pass, draw_setup
from drawerwright.joints.corner_key import CornerKey
from drawerwright.joints.setting import CornerSetting, FenceRule
from drawerwright.joints.table import Feed
from drawerwright.run.setups import SetUp
from legible import clipped_texts, overlapping_texts

KEY = CornerKey("drawer-lock", "lock cutter", "ash15", "ash15")
CORNERS = [corner(), corner(flat=18.3, lip=8.0, rule=FenceRule.TOOTH), mitre_corner()]


def shape(scene: Scene, *fills: Fill) -> Polygon:
    return next(
        Polygon(item.points)
        for item in scene.items
        if isinstance(item, Path) and item.closed and item.fill in fills
    )


@pytest.mark.parametrize("setting", CORNERS)
@pytest.mark.parametrize("role", Role)
def test_the_cutter_leaves_exactly_the_wood_that_is_drawn(setting: CornerSetting, role: Role) -> None:
    """Checked with shapely: cutter and wood touch along the profile and never overlap."""
    scene = draw_pass(setting, role, scale=1.0)
    wood = shape(scene, Fill.WOOD, Fill.WOOD_BEHIND)
    cutter = shape(scene, Fill.STEEL)
    assert cutter.intersection(wood).area < 1e-6
    assert cutter.boundary.intersection(wood.boundary).length > setting.bit_height / 2
    assert cutter.bounds[3] == pytest.approx(setting.bit_height)
    assert cutter.bounds[2] == pytest.approx(
        setting.fence_flat if role is Role.FLAT else setting.fence_upright
    )


def test_the_flat_piece_lies_on_the_table_and_the_upright_stands_at_the_fence() -> None:
    flat = shape(draw_pass(corner(), Role.FLAT), Fill.WOOD)
    upright = shape(draw_pass(corner(), Role.UPRIGHT), Fill.WOOD_BEHIND)
    assert flat.bounds[:2] == pytest.approx((0.0, 0.0))
    assert flat.bounds[3] == pytest.approx(14.6)
    assert upright.bounds[:3] == pytest.approx((0.0, 0.0, 14.7))


@pytest.mark.parametrize("size", [1.0, 2.5])
@pytest.mark.parametrize("setting", CORNERS)
def test_a_set_up_can_be_read(setting: CornerSetting, size: float) -> None:
    setup = SetUp(1, setting.bit_height, setting.fence_flat, 0.0, 0.0, {KEY: setting}, ())
    scene = draw_setup(setup, scale=size)
    assert not overlapping_texts(scene)
    assert not clipped_texts(scene)
    words = {text.text for text in scene.texts}
    assert f"fence {setting.fence_flat:.2f} mm" in words
    assert f"height {setting.bit_height:.2f} mm" in words
    if size == 1.0:
        assert scene.width <= 180  # the width of a page between its margins


def test_only_what_is_cut_here_is_shown() -> None:
    lipped = CORNERS[1]
    words = {
        text.text for text in draw_setup(SetUp(2, 11.0, lipped.fence_upright, 0, 0, {KEY: lipped}, ())).texts
    }
    assert "upright, inside face to the fence" in words
    assert "flat, inside face on the table" not in words


def test_the_inside_face_is_marked_in_ink_and_ticks() -> None:
    for role in Role:
        marks = [i for i in draw_pass(corner(), role).items if getattr(i, "ink", None) is Ink.MARK]
        assert len(marks) == 2


@pytest.mark.parametrize("role", Role)
def test_fed_the_other_way_it_is_seen_from_the_other_end(role: Role) -> None:
    """Wood, cutter and fence are mirrored to the last point; the lettering stays, is to be read, and takes the room of
    its mirror image."""
    usual, other = draw_pass(corner(), role), draw_pass(corner(), role, feed=Feed.LEFT_TO_RIGHT)
    for fills in ((Fill.WOOD, Fill.WOOD_BEHIND), (Fill.STEEL,)):
        flipped = scale(shape(usual, *fills), xfact=-1.0, origin=(0.0, 0.0))
        assert shape(other, *fills).symmetric_difference(flipped).area < 1e-6
    assert [text.text for text in other.texts] == [text.text for text in usual.texts]
    assert (other.left, other.right) == pytest.approx((-usual.right, -usual.left))
    assert not overlapping_texts(other)
    assert not clipped_texts(other)
    assert "from left to right" in other.description
    assert "from right to left" in usual.description
