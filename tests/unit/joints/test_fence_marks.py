"""Fences on the marks of their scale, against every choice there is."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.fence_marks import Position, SharedSum, fences_on_marks, truest
from drawerwright.joints.setting import CornerGeometry, FenceRule, set_corner
from drawerwright.joints.table import INCH_GAUGE_STEP, RouterTable

CUTTER = Cutter("drawer-lock", mid_depth=Estimate(5.65), step=Estimate(3.43))


def test_the_worst_lip_is_as_true_as_the_marks_allow() -> None:
    rng = np.random.default_rng(8)
    for _ in range(200):
        count = int(rng.integers(1, 5))
        positions = rng.uniform(4, 20, count)
        choices = [tuple(float(np.floor(p / 0.05) + n) * 0.05 for n in (-1, 0, 1, 2)) for p in positions]
        sums = []
        for _corner in range(int(rng.integers(1, 7))):
            flat, upright = (int(index) for index in rng.integers(0, count, 2))
            wanted = positions[flat] + positions[upright] + rng.uniform(-0.05, 0.05)
            sums.append(SharedSum(flat, upright, float(wanted)))

        def worst(way: tuple[float, ...], sums: list[SharedSum] = sums) -> float:
            return max(abs(way[s.flat] + way[s.upright] - s.wanted) for s in sums)

        chosen = truest([Position(p, c) for p, c in zip(positions, choices, strict=True)], sums)
        assert len(chosen) == count
        assert worst(chosen) == pytest.approx(
            min(worst(way) for way in itertools.product(*choices)), abs=1e-6
        )


def test_twenty_flat_pieces_beside_one_side_are_set_at_once() -> None:
    """Each doubles the choices, so looking at all of them would take for ever."""
    table = RouterTable()
    positions = [Position.on_scale(3.43 + 0.313 * number, table) for number in range(21)]
    sums = [SharedSum(number, 0, 3.43 + positions[number].wanted) for number in range(1, 21)]
    chosen = truest(positions, sums)
    assert max(abs(chosen[s.flat] + chosen[0] - s.wanted) for s in sums) <= 0.025 + 1e-9


def test_one_setting_for_both_pieces_stays_one_and_its_error_counts_twice() -> None:
    setting = fences_on_marks(set_corner(CUTTER, CornerGeometry(14.6, 14.63, 2.0)), RouterTable())
    assert setting.fence_flat == setting.fence_upright == pytest.approx(10.05)
    assert setting.lip == pytest.approx(2.04)


def test_between_two_marks_the_wider_lip_can_be_sanded_off() -> None:
    cutter = Cutter("drawer-lock", mid_depth=Estimate(5.65), step=Estimate(3.45))
    setting = fences_on_marks(set_corner(cutter, CornerGeometry(14.6, 14.6)), RouterTable())
    assert setting.fence_flat == pytest.approx(9.05)
    assert setting.lip == pytest.approx(0.05)


def test_marks_are_the_scale_s_own_in_either_unit() -> None:
    table = RouterTable(fence_gauge=Estimate(-0.013), fence_gauge_step=INCH_GAUGE_STEP)
    setting = fences_on_marks(set_corner(CUTTER, CornerGeometry(14.6, 14.63, 2.0), FenceRule.TOOTH), table)
    for fence in (setting.fence_flat, setting.fence_upright):
        thousandths = table.fence_reading(fence) / 25.4 * 1000
        assert thousandths == pytest.approx(2 * round(thousandths / 2), abs=1e-3)
    assert setting.lip == pytest.approx(2.0, abs=INCH_GAUGE_STEP / 2 + 1e-6)
    assert setting.fence_upright >= 3.43


def test_step_and_radius_are_kept() -> None:
    tooth = fences_on_marks(set_corner(CUTTER, CornerGeometry(14.6, 14.6), FenceRule.TOOTH), RouterTable())
    assert tooth.fence_upright == pytest.approx(3.45)
    small = Cutter("drawer-lock", mid_depth=Estimate(5.65), step=Estimate(3.43), diameter=18.04)
    assert fences_on_marks(
        set_corner(small, CornerGeometry(14.6, 14.6)), RouterTable()
    ).fence_flat == pytest.approx(9.0)
