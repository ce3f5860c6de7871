"""Ranges in which a reading still fits, and the table of remedies."""

import math
from dataclasses import replace

import pytest
from trial_cases import CUTTER, MITRE

from drawerwright.joints.fit import seat_setting
from drawerwright.joints.joint import expected_readings
from drawerwright.joints.readings import RULES as READINGS
from drawerwright.joints.readings import FitRange, ReadingKind
from drawerwright.joints.setting import CornerGeometry, FenceRule, set_corner
from drawerwright.joints.targets import card_targets, reading_remedies, remedy_table

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
        )
        assert not [value for value in values if value == 0 and math.copysign(1, value) < 0], row


@pytest.mark.parametrize("cutter", [CUTTER, MITRE])
@pytest.mark.parametrize("rule", RULES)
def test_a_remedy_puts_its_reading_right(cutter, rule):
    """Read `off` too much, changed as told, the reading is what was expected."""
    right = set_corner(cutter, CornerGeometry(15.0, 15.0), rule)
    for reading in expected_readings(right):
        value = READINGS[reading.kind].value
        for row in reading_remedies(right, reading.kind):
            wrong = replace(right, **{row.cause: getattr(right, row.cause) - row.change})
            assert value(wrong) - value(right) == pytest.approx(row.off, abs=1e-6), reading.kind
            assert row.play == pytest.approx(seat_setting(wrong).play if cutter is CUTTER else 0, abs=1e-4)
            assert row.proud == pytest.approx(seat_setting(wrong).stands_proud, abs=1e-4)


def test_twice_the_error_of_centring_is_taken_out_by_half():
    right = set_corner(MITRE, CornerGeometry(15.0, 15.0))
    changes = {row.off: row.change for row in reading_remedies(right, ReadingKind.TURN_OVER)}
    assert changes[0.2] == pytest.approx(-0.1)
    assert {row.cause for row in reading_remedies(right, ReadingKind.TURN_OVER)} == {"bit_height"}


@pytest.mark.parametrize("fence", [FenceRule.ONE, 5.0])
def test_the_ends_of_a_range_are_where_the_corner_just_fits(fence):
    """0 to 0.15 mm of play: the roof may be from as expected to 0.15 more. A lip of 0.1 either way is half of it
    at each piece where one setting serves both."""
    right = set_corner(CUTTER, CornerGeometry(15.0, 15.0), fence)
    targets = {target.reading.kind: target for target in card_targets(right, FitRange(0, 0.15, 0.1))}
    roof = targets[ReadingKind.ROOF]
    assert (roof.low, roof.high) == pytest.approx((roof.reading.value, roof.reading.value + 0.15))
    cut = targets[ReadingKind.DEEPEST_CUT]
    share = 0.05 if fence is FenceRule.ONE else 0.1
    assert (cut.low, cut.high) == pytest.approx((cut.reading.value - share, cut.reading.value + share))


def test_remedies_of_a_drawer_lock_by_hand():
    """A roof 0.2 more than expected: the bit stands 0.2 too low, which is the play. 0.2 less: it is too high, and the
    corner stands proud by as much, times run over rise of a slope of 55 degrees (law, 1)."""
    right = set_corner(CUTTER, CornerGeometry(15.0, 15.0))
    rows = {row.off: row for row in remedy_table(right, (-0.2, 0.0, 0.2))}
    assert [(row.bit_height_change, row.fence_change_by_cut) for row in rows.values()] == [
        (-0.2, 0.2),
        (0.0, 0.0),
        (0.2, -0.2),
    ]
    rate = math.tan(math.radians(55.0))
    assert (rows[0.2].play, rows[0.2].proud) == pytest.approx((0.2, 0.0))
    assert (rows[-0.2].play, rows[-0.2].proud) == pytest.approx((0.0, 0.2 * rate))
    assert (rows[0.0].play, rows[0.0].proud) == pytest.approx((0.0, 0.0))
