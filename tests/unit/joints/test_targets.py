"""Ranges in which a reading still fits, and the table of remedies."""

import math

import pytest
from trial_cases import CUTTER, MITRE

from drawerwright.joints.setting import CornerGeometry, FenceRule, set_corner
from drawerwright.joints.targets import remedy_table

RULES = (FenceRule.ONE, FenceRule.TOOTH)


@pytest.mark.parametrize("cutter", [CUTTER, MITRE])
@pytest.mark.parametrize("rule", RULES)
def test_no_remedy_is_minus_zero(cutter, rule):
    for row in remedy_table(set_corner(cutter, CornerGeometry(15.0, 15.0), rule)):
        values = (
            row.off,
            row.bit_height_change,
            row.play,
            row.proud,
            row.fence_change_by_cut,
            row.fence_change_by_lip,
        )
        assert not [value for value in values if value == 0 and math.copysign(1, value) < 0], row
