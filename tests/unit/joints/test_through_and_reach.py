"""Cutters that go right through the stock, thin roofs, and the largest lip that cutter, fence and neck allow."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.corner import Cuts, flat_section
from drawerwright.joints.corner_findings import setting_findings
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.fit import seat_setting
from drawerwright.joints.reach import Reach, largest_lip, least_neck, least_upright
from drawerwright.joints.setting import CornerGeometry, FenceRule, set_corner


def mitre(mid_depth: float, step: float) -> Cutter:
    return Cutter("lock-mitre", mid_depth=Estimate(mid_depth), step=Estimate(step))


def lock(diameter: float | None = 44, mid_depth: float = 5.7, step: float = 3.5) -> Cutter:
    return Cutter("drawer-lock", mid_depth=Estimate(mid_depth), step=Estimate(step), diameter=diameter)


def found(
    cutter: Cutter,
    corner: CornerGeometry,
    rule: FenceRule | float = FenceRule.ONE,
    largest_setting: float | None = None,
) -> dict[str, Finding]:
    setting = set_corner(cutter, corner, rule)
    return {finding.code: finding for finding in setting_findings(setting, "here", largest_setting)}


def test_a_lock_mitre_too_short_for_the_stock_stops_and_says_how_thick_it_may_be() -> None:
    finding = found(mitre(6.5, 13.2), CornerGeometry(13.4, 13.4))["cutter-too-short"]
    assert finding.severity is Severity.STOP
    assert "13.00 mm" in finding.text
    assert "13.00 mm" in finding.remedy
    assert "cutter-too-short" not in found(mitre(6.5, 13.2), CornerGeometry(13.0, 13.0))


def test_the_stop_for_a_short_lock_mitre_stands_just_where_the_wood_keeps_a_roof() -> None:
    """The seating of the two cut faces knows nothing of the finding."""
    dice = random.Random(3)
    stopped = 0
    for _ in range(200):
        mid_depth, thickness = dice.uniform(5, 11), dice.uniform(9, 20)
        cutter, corner = mitre(mid_depth, dice.uniform(8, 20)), CornerGeometry(thickness, thickness)
        has_roof = seat_setting(set_corner(cutter, corner)).pressed.tip_step is None
        assert ("cutter-too-short" in found(cutter, corner)) == has_roof
        stopped += has_roof
    assert 20 < stopped < 180


def test_how_much_a_lock_mitre_trims_off_the_end_is_what_the_drawn_flat_piece_has_lost() -> None:
    dice = random.Random(4)
    trimmed = 0
    for _ in range(200):
        thickness = dice.uniform(9, 20)
        cutter = mitre(thickness / 2 + dice.uniform(0, 5), dice.uniform(0.5, 1.2) * thickness)
        corner = CornerGeometry(thickness, thickness)
        lost = min(x for x, _ in flat_section(Cuts.of(set_corner(cutter, corner))))
        finding = found(cutter, corner).get("end-trimmed")
        assert (finding is not None) == (lost > 0.05)
        if finding is not None:
            trimmed += 1
            assert f"{lost:.2f} mm" in finding.text
            assert "outfeed" in finding.text
            assert cutter.step.value < thickness
    assert 20 < trimmed < 180


@pytest.mark.parametrize(
    ("flat", "severity"),
    [(14.0, None), (13.5, Severity.WARNING), (13.0, Severity.WARNING), (12.8, Severity.STOP)],
)
def test_a_thin_roof_warns_and_a_very_thin_one_stops(flat: float, severity: Severity | None) -> None:
    """The roof is the thickness less 11.4 mm; 2.5 and 1.5 mm are common practice, no source."""
    finding = found(lock(), CornerGeometry(flat, 15, 4.0)).get("thin-roof")
    assert (finding.severity if finding else None) is severity
    assert finding is None or "the lip is no thicker" in finding.text


@pytest.mark.parametrize(
    ("flat", "too_high", "code", "remedy"),
    [
        (15.0, 3.0, "thin-roof", "Lower the bit to 11.40 mm, where the corner closes: that leaves 3.60 mm."),
        (15.0, 4.0, "bit-height-above-stock", "Lower the bit to 11.40 mm"),
        (12.8, 0.3, "thin-roof", "Use thicker stock"),
        (11.0, 0.0, "bit-height-above-stock", "Use thicker stock"),
    ],
)
def test_a_bit_too_high_is_to_be_lowered_where_that_leaves_a_roof(flat, too_high, code, remedy) -> None:
    right = set_corner(lock(), CornerGeometry(flat, 15))
    tried = replace(right, bit_height=right.tight_bit_height + too_high)
    finding = {finding.code: finding for finding in setting_findings(tried, "")}[code]
    assert str(finding.remedy).startswith(remedy)


def splits(cutter: Cutter, corner: CornerGeometry, reach: float) -> bool:
    """Whether two settings, a hundredth apart each, keep the reach, the step and the usual neck."""
    step, thickness = cutter.step.value, corner.upright_thickness
    wanted = corner.lip + thickness + step
    return any(
        step - 1e-6 <= wanted - upright / 100 <= reach + 1e-6
        and upright / 100 >= step - 1e-6
        and thickness - upright / 100 >= least_neck(thickness) - 1e-6
        for upright in range(int(100 * reach) + 1)
    )


def test_the_largest_lip_is_the_last_that_any_two_settings_make() -> None:
    dice = random.Random(5)
    for _ in range(60):
        cutter, thickness = lock(dice.uniform(30, 50), step=3.5), dice.choice([12.0, 14.6, 17.8])
        table = dice.choice([None, dice.uniform(12, 20)])
        reach = Reach.of(cutter, table)
        largest = largest_lip(cutter, thickness, reach)
        assert largest is not None
        assert splits(cutter, CornerGeometry(15, thickness, largest.lip - 0.02), reach.largest)
        assert not splits(cutter, CornerGeometry(15, thickness, largest.lip + 0.02), reach.largest)


@pytest.mark.parametrize(
    ("rule", "code"),
    [(FenceRule.ONE, "no-neck"), (FenceRule.TOOTH, "fence-beyond-cutter"), (16.0, "no-neck")],
)
def test_no_advice_on_a_lip_that_is_too_large_leads_to_another_finding(
    rule: FenceRule | float, code: str
) -> None:
    """Whichever way the cut is shared: what ends the lip, and how large it can be."""
    finding = found(lock(), CornerGeometry(15, 14.6, 22.0), rule)[code]
    assert "tooth" not in finding.remedy
    assert "at most 14.1 mm" in finding.remedy  # 22 + (14.6 - 4.38) - 14.6 - 3.5 = 14.12
    assert "the cutter's radius of 22.00 mm" in finding.remedy
    assert "neck is 4.4 mm" in finding.remedy
    taken = CornerGeometry(15, 14.6, 14.1)
    sound = [found(lock(), taken, 18.2 - extra / 100) for extra in range(850)]
    assert any(not {"no-neck", "thin-neck", "fence-beyond-cutter"} & set(codes) for codes in sound)


def test_the_fence_of_the_table_is_named_where_it_ends_before_the_cutter() -> None:
    finding = found(lock(), CornerGeometry(15, 14.6, 12.0), largest_setting=14.0)["fence-beyond-table"]
    assert "14.00 mm that the router table allows" in finding.remedy
    assert "at most 6.1 mm" in finding.remedy  # 14 + 10.22 - 14.6 - 3.5 = 6.12


def test_where_another_split_helps_it_is_named_and_helps() -> None:
    corner = CornerGeometry(15, 14.6, 8.0)
    finding = found(lock(), corner)["thin-neck"]
    assert "4.10 mm to 10.22 mm for the upright piece" in finding.remedy  # 26.1 - 22 and 14.6 - 4.38
    for upright in (4.1, 10.22):
        assert found(lock(), corner, upright) == {}


def test_stock_too_thin_for_the_tooth_alone_is_sent_for_thicker_stock() -> None:
    finding = found(lock(step=4.4), CornerGeometry(15, 7.0), FenceRule.TOOTH)["thin-neck"]
    assert f"at least {least_upright(4.4):.1f} mm" in finding.remedy
    assert found(lock(step=4.4), CornerGeometry(15, least_upright(4.4)), FenceRule.TOOTH) == {}
    too_little = found(lock(step=4.4), CornerGeometry(15, 4.0))["fence-below-step"]
    assert "less than twice the step" in too_little.remedy


def test_an_end_that_keeps_a_roof_is_not_said_to_be_trimmed_whole() -> None:
    setting = set_corner(mitre(8, 13), CornerGeometry(15, 15))
    assert "end-trimmed" in {finding.code for finding in setting_findings(setting, "here")}
    low = replace(setting, bit_height=14.0)
    assert "end-trimmed" not in {finding.code for finding in setting_findings(low, "here")}
