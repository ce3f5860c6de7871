"""Corners cut at a height of the user's own: what they reach, how they seat, and what is said about it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drawerwright.basics.findings import Severity
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.bit_heights import BY_LAW, BitHeights
from drawerwright.joints.corner_findings import height_findings, lip_findings
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.fence_marks import fences_on_marks
from drawerwright.joints.fit import seat_setting
from drawerwright.joints.readings import FitRange
from drawerwright.joints.setting import CornerGeometry, CornerSetting, set_corner
from drawerwright.joints.table import RouterTable

LOCK = Cutter("drawer-lock", mid_depth=Estimate(5.7), step=Estimate(3.5))
MITRE = Cutter("lock-mitre", mid_depth=Estimate(11.0), step=Estimate(18.0))


def at(cutter: Cutter, off: float, thickness: float = 15.0) -> CornerSetting:
    right = set_corner(cutter, CornerGeometry(thickness, thickness))
    return replace(right, bit_height=right.bit_height + off)


@pytest.mark.parametrize("off", [-0.6, -0.1, 0.0, 0.2, 0.5])
def test_the_corner_reaches_and_stands_where_the_wood_seats(off: float) -> None:
    setting = at(LOCK, off)
    seated = seat_setting(setting)
    assert setting.engagement == pytest.approx(seated.pressed.engagement, abs=1e-6)
    assert setting.stands_proud == pytest.approx(seated.stands_proud, abs=1e-6)
    assert setting.seated_lip == pytest.approx(seated.lip, abs=1e-6)


@pytest.mark.parametrize("off", [-0.4, 0.0, 0.3])
def test_a_cutter_through_the_stock_reaches_by_twice_what_it_is_raised(off: float) -> None:
    assert at(MITRE, off).engagement == pytest.approx(15 + 2 * off)


def test_each_corner_takes_the_nearest_of_the_kept_heights() -> None:
    kept = BitHeights(kept=(18.3, 17.1))
    assert kept.of(MITRE, 12.0) == 17.1
    assert kept.of(MITRE, 15.0) == 18.3
    assert BY_LAW.of(MITRE, 15.0) == 18.5


@pytest.mark.parametrize(
    ("setting", "fit", "severity", "words"),
    [
        (at(LOCK, -0.03), FitRange(), Severity.NOTE, "closes with 0.03 mm of play"),
        (at(LOCK, -0.4), FitRange(), Severity.WARNING, "closes with 0.40 mm of play"),
        (at(LOCK, -0.08), FitRange(0.1, 0.2), Severity.WARNING, "closes with 0.08 mm of play"),
        (at(LOCK, 0.2), FitRange(), Severity.STOP, "stands 0.20 mm proud"),
        (at(MITRE, 0.03), FitRange(), Severity.NOTE, "stands 0.06 mm proud"),
        (at(MITRE, -0.3), FitRange(), Severity.WARNING, "stops 0.60 mm short"),
    ],
)
def test_a_kept_height_away_from_the_recommended_one_says_what_it_does(
    setting: CornerSetting, fit: FitRange, severity: Severity, words: str
) -> None:
    (finding,) = height_findings(setting, "front corner", BitHeights(fit))
    assert finding.severity is severity
    assert words in finding.text


def test_the_recommended_height_is_no_finding_but_the_tight_one_where_it_is_kept() -> None:
    heights = BitHeights(FitRange())
    for off in (0.0, 0.004, -0.004):
        setting = at(LOCK, heights.of(LOCK, 15.0) - LOCK.bit_height(15.0) + off)
        assert height_findings(setting, "front corner", heights) == ()
    (tight,) = height_findings(at(LOCK, 0.0), "front corner", heights)
    assert tight.severity is Severity.NOTE
    assert "at a bit height of 11.40 mm instead of 11.30 mm" in tight.text
    assert "11.30 mm has better odds" in tight.remedy


def test_a_gauge_too_coarse_for_the_wanted_play_is_a_finding() -> None:
    heights = BitHeights(FitRange(0.02, 0.06), RouterTable(height_gauge=Estimate(0.1), height_gauge_step=0.1))
    height = heights.of(LOCK, 15.0)
    assert height == pytest.approx(11.36)
    (finding,) = height_findings(replace(at(LOCK, 0.0), bit_height=height), "front corner", heights)
    assert finding.text == "none of its marks gives a play of 0.02 to 0.06 mm; they are 0.100 mm apart."
    assert "to 11.46 mm, plane a block to 11.36 mm" in finding.remedy


def test_a_lip_that_the_marks_of_the_scale_leave_off_is_a_finding() -> None:
    wanted = set_corner(LOCK, CornerGeometry(15.0, 15.0, 2.0))
    for step, found in ((0.05, 0), (0.5, 1)):
        setting = fences_on_marks(wanted, RouterTable(fence_gauge_step=step))
        findings = lip_findings(setting, "front corner", FitRange())
        assert len(findings) == found
        assert all("the lip comes out at 2.50 mm, not 2.00 mm" in finding.text for finding in findings)


@pytest.mark.parametrize(("off", "closes"), [(0.009, True), (0.011, False)])
def test_what_stands_proud_by_less_than_can_be_set_closes(off: float, closes: bool) -> None:
    """Run over rise is 1 here: the upright stands as proud as the bit is too high."""
    setting = at(LOCK, off)
    assert setting.closes is closes
    assert seat_setting(setting).closes is closes
    (finding,) = height_findings(setting, "front corner", BitHeights(FitRange()))
    assert finding.stops is not closes
