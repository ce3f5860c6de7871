from __future__ import annotations

import pytest

from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.corner_findings import setting_findings
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.setting import CornerGeometry, FenceRule, set_corner

CUTTER = Cutter("drawer-lock", mid_depth=Estimate(5.7), step=Estimate(3.5), diameter=44, cutting_height=14)


def codes(cutter: Cutter, corner: CornerGeometry, rule: FenceRule | float = FenceRule.ONE) -> set[str]:
    return {finding.code for finding in setting_findings(set_corner(cutter, corner, rule), "here")}


@pytest.mark.parametrize(
    ("corner", "rule", "code"),
    [
        (CornerGeometry(11, 15), FenceRule.ONE, "bit-height-above-stock"),
        (CornerGeometry(11.4, 15), FenceRule.ONE, "bit-height-above-stock"),
        (CornerGeometry(12, 15), FenceRule.ONE, "thin-roof"),
        (CornerGeometry(15, 15, 8), FenceRule.ONE, "thin-neck"),
        (CornerGeometry(15, 15, 12), 15.0, "no-neck"),
        (CornerGeometry(15, 15), 2.0, "fence-below-step"),
        (CornerGeometry(15, 15, 6), FenceRule.TOOTH, "fence-beyond-cutter"),
        (CornerGeometry(15, 15, 0.5), FenceRule.ONE, "thin-lip"),
        (CornerGeometry(15, 15, -1), FenceRule.ONE, "front-short-of-sides"),
    ],
)
def test_each_doubt_is_found(corner: CornerGeometry, rule: FenceRule | float, code: str) -> None:
    assert codes(CUTTER, CornerGeometry(15, 15)) == set()
    small = Cutter(
        "drawer-lock",
        mid_depth=Estimate(5.7),
        step=Estimate(3.5),
        diameter=40 if "beyond" in code else 44,
    )
    assert code in codes(small, corner, rule)


def test_a_cutter_too_short_is_found() -> None:
    short = Cutter("drawer-lock", mid_depth=Estimate(5.7), step=Estimate(3.5), cutting_height=11.39)
    assert codes(short, CornerGeometry(15, 15)) == {"bit-height-above-cutter"}
    enough = Cutter("drawer-lock", mid_depth=Estimate(5.7), step=Estimate(3.5), cutting_height=11.4)
    assert codes(enough, CornerGeometry(15, 15)) == set()


def test_mid_depth_and_step_that_look_swapped_are_asked_about() -> None:
    swapped = Cutter("drawer-lock", mid_depth=Estimate(3.9), step=Estimate(6.12))
    assert "step-over-mid-depth" in codes(swapped, CornerGeometry(15.7, 15.7))


def test_a_middle_beyond_the_wood_is_asked_about_before_other_stock_is_bought() -> None:
    """54 for 5.4: the decimal sign was forgotten; the least cutter of 5.7 in stock of 11 is a real one."""

    def remedy(mid_depth: float) -> str:
        cutter = Cutter("drawer-lock", mid_depth=Estimate(mid_depth), step=Estimate(3.5))
        found = setting_findings(set_corner(cutter, CornerGeometry(11, 15), FenceRule.ONE), "here")
        return next(finding.remedy for finding in found if finding.code == "bit-height-above-stock")

    assert remedy(54).startswith("Check the mid depth of 54.00 mm and its decimal sign")
    assert remedy(5.7).startswith("Use thicker stock")
