"""Facts of the trade that the law has to reproduce. Source of all figures: common practice, no source."""

from __future__ import annotations

import pytest

from drawerwright.basics.uncertain import Estimate
from drawerwright.joints import law
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.setting import CornerGeometry, FenceRule, set_corner


def drawer_lock(mid_depth: float, step: float) -> Cutter:
    return Cutter("drawer-lock", mid_depth=Estimate(mid_depth), step=Estimate(step))


def test_bit_height_is_twice_the_mid_depth() -> None:
    """Common practice, no source: mid depth 5 is cut at height 10."""
    assert set_corner(drawer_lock(5, 3.2), CornerGeometry(18, 18)).bit_height == pytest.approx(10)


@pytest.mark.parametrize(("thickness", "fence"), [(18, 10.6), (15, 9.1), (30, 16.6), (14.7, 8.95)])
def test_one_fence_setting_for_both_pieces(thickness: float, fence: float) -> None:
    """Common practice, no source: with a step of 3.2."""
    setting = set_corner(drawer_lock(5, 3.2), CornerGeometry(thickness, thickness))
    assert setting.fence_flat == pytest.approx(fence)
    assert setting.fence_upright == pytest.approx(fence)


@pytest.mark.parametrize(("outer", "thickness", "length"), [(233, 18, 217), (180, 15.2, 169.6)])
def test_length_of_an_upright_piece(outer: float, thickness: float, length: float) -> None:
    """Common practice, no source: with a mid depth of 5."""
    setting = set_corner(drawer_lock(5, 3.2), CornerGeometry(thickness, thickness))
    assert setting.upright_length(outer) == pytest.approx(length)
    reach = setting.engagement
    assert law.outer_size(length, [(thickness, reach), (thickness, reach)]) == pytest.approx(outer)


def test_first_fence_of_a_lipped_front() -> None:
    """Common practice, no source: front 178 on a box of 175 in 18.5 mm stock is first cut at fence 20."""
    lip = (178 - 175) / 2
    setting = set_corner(drawer_lock(5, 3.2), CornerGeometry(18.5, 18.5, lip), FenceRule.TOOTH)
    assert setting.fence_flat == pytest.approx(20)
    assert setting.fence_upright == pytest.approx(3.2)


def test_lip_that_a_first_fence_gives() -> None:
    """Common practice, no source: fence 20 with sides of 18.4 mm, cut by the tooth only, gives a lip of 1.6."""
    step = 3.2
    lip = law.lip(20, law.tooth_only_setting(step), 18.4, step)
    assert lip == pytest.approx(1.6)


def test_two_positions_serve_a_lipped_front_and_a_flush_back() -> None:
    """The plan of two positions: p = (t + d) / 2 for the back, p + o and p for the front (derived in the law). Source:
    the derivation in docs/law.md.
    """
    thickness, step, wanted = 15.3, 3.6, 8.0
    p = law.one_setting(law.fence_sum(0, thickness, step))
    assert law.lip(p, p, thickness, step) == pytest.approx(0)
    assert law.lip(p + wanted, p, thickness, step) == pytest.approx(wanted)


def test_lock_mitre_height_is_mid_depth_and_half_the_stock() -> None:
    """Common practice, no source: the middle of the cutter meets the middle of the stock."""
    cutter = Cutter("lock-mitre", mid_depth=Estimate(12.5), step=Estimate(21))
    setting = set_corner(cutter, CornerGeometry(19, 19))
    assert setting.bit_height == pytest.approx(12.5 + 9.5)
    assert setting.engagement == pytest.approx(19)
