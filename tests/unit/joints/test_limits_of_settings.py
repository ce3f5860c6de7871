"""A drawer lock in round figures, and where each finding about settings begins, from both sides of its limit. Settings
follow docs/law.md; what is usual of roof, neck and lip is common practice without a source."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.corner_findings import lip_findings, setting_findings
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.joint import joint_of
from drawerwright.joints.readings import FitRange
from drawerwright.joints.setting import CornerGeometry, CornerSetting, FenceRule, set_corner
from limits import Limit

LOCK = Cutter("drawer-lock", mid_depth=Estimate(5.5), step=Estimate(3.6))
MITRE = Cutter("lock-mitre", mid_depth=Estimate(11.0), step=Estimate(18.0))
EDGE = Cutter("edge", mid_depth=Estimate(10.0), step=Estimate(4.0))
RIGHT = set_corner(LOCK, CornerGeometry(16.0, 14.0))
"""Bit 2 × 5.5 = 11 high, fence (14 + 3.6) / 2 = 8.8 for both: a roof of 5, a neck of 5.2, a head of 8.8."""


def close(values: object) -> object:
    return pytest.approx(values, abs=1e-9)


def test_a_drawer_lock_in_round_figures() -> None:
    assert (RIGHT.bit_height, RIGHT.fence_flat, RIGHT.fence_upright) == close((11.0, 8.8, 8.8))
    assert (RIGHT.roof, RIGHT.neck, RIGHT.head, RIGHT.engagement) == close((5.0, 5.2, 8.8, 11.0))
    joint = joint_of(LOCK)
    assert [size for _name, size in joint.figures(RIGHT)][-3:] == close([5.2, 8.8, 5.0])
    assert joint.groove_shows(RIGHT, 11.04) is None
    assert joint.groove_shows(RIGHT, 11.06) is not None


def test_lengths_on_the_section_of_a_drawer_lock() -> None:
    """With a lip of 4 everything of the upright piece begins at 4; the fence sum of 4 + 14 + 3.6 is 10.8 for each."""
    made = set_corner(LOCK, CornerGeometry(16.0, 14.0, 4.0))
    spans = joint_of(LOCK).spans(made)
    assert [(one.start, one.end) for one in spans.above] == [close((0.0, 10.8)), close((0.0, 4.0))]
    assert [(one.start, one.end) for one in spans.below] == [
        close((4, 18)),
        close((4, 7.2)),
        close((7.2, 18)),
    ]
    assert [(one.start, one.end) for one in spans.left] == [close((0, 11)), close((11, 16))]
    assert [(one.start, one.end) for one in spans.right] == [close((0, 16))]
    assert [one.is_detail for one in (*spans.above, *spans.below)] == [True, False, False, True, True]


def test_names_on_the_section_of_a_drawer_lock() -> None:
    """The slope's middle lies 11 - 5.5 = 5.5 up. Each name stands in the middle of its place."""
    named = {str(one.name): (*one.middle, *one.room, one.on_upright) for one in joint_of(LOCK).places(RIGHT)}
    assert named["roof"] == close((4.4, 13.5, 8.8, 5.0, False))
    assert named["head"] == close((4.4, 11 - 2.75 / 2, 8.8, 2.75, True))
    assert named["neck"] == close((2.6, 2.75, 5.2, 5.5, True))
    assert named["hook"] == close((5.2 + 1.8 + 1.2, 5.5 / 3, 5.6, 2.75, False))
    assert named["shoulder"] == close(((5.2 + 14) / 2, -1.0, 8.8, 2.0, True))


def found(setting: CornerSetting, largest: float | None = None) -> Iterable[Finding]:
    return setting_findings(setting, "corner", largest)


def lock(flat: float = 16.0, upright: float = 14.0, lip: float = 0.0, **measures: object) -> CornerSetting:
    return set_corner(replace(LOCK, **measures), CornerGeometry(flat, upright, lip))


def mitre(flat: float, step: float = 18.0) -> CornerSetting:
    return set_corner(replace(MITRE, step=Estimate(step)), CornerGeometry(flat, flat))


def fences(flat: float, upright: float) -> CornerSetting:
    return replace(RIGHT, fence_flat=flat, fence_upright=upright)


STOP = Severity.STOP
LIMITS = (
    Limit("bit-height-above-cutter", lambda h: found(lock(cutting_height=h)), 11.0, 10.99, STOP),
    Limit("fence-below-step", lambda f: found(fences(f, 14)), 3.6, 3.59, STOP),
    Limit("fence-below-step", lambda f: found(fences(14, f)), 3.6, 3.59, STOP),
    # A cutter of 20 stands out by 10 at most.
    Limit("fence-beyond-cutter", lambda f: found(replace(fences(f, 7), cutter=replace(LOCK, diameter=20))), 10, 10.01,
          STOP),
    Limit("fence-beyond-cutter", lambda f: found(replace(fences(7, f), cutter=replace(LOCK, diameter=20))), 10, 10.01,
          STOP),
    Limit("fence-beyond-table", lambda f: found(fences(f, 7), 10), 10, 10.01, STOP),
    Limit("fence-beyond-table", lambda f: found(fences(7, f), 10), 10, 10.01, STOP),
    Limit("thin-lip", lambda lip: found(lock(lip=lip)), 1.0, 0.99),
    Limit("thin-lip", lambda lip: found(lock(lip=lip)), 0.0, 0.01),
    Limit("front-short-of-sides", lambda lip: found(lock(lip=lip)), 0.0, -0.01),
    Limit("step-over-mid-depth", lambda d: found(lock(upright=30, step=Estimate(d))), 5.5, 5.51),
    Limit("bit-height-above-stock", lambda t: found(lock(flat=t)), 11.01, 11.0, STOP),
    Limit("thin-roof", lambda t: found(lock(flat=t)), 13.5, 13.49),  # 2.5 over 11
    Limit("thin-roof", lambda t: found(lock(flat=t)), 13.5, 12.5),  # 1.5 is only thin,
    Limit("thin-roof", lambda t: found(lock(flat=t)), 13.5, 12.49, STOP),  # less breaks
    # 0.3 of 14 is 4.2, so 9.8 may go; of 9 it would be 2.7, but 3 are to stay.
    Limit("thin-neck", lambda f: found(fences(7.8, f)), 9.8, 9.81),
    Limit("thin-neck", lambda f: found(replace(lock(upright=9), fence_upright=f)), 6.0, 6.01),
    Limit("no-neck", lambda f: found(fences(3.6, f)), 13.99, 14.0, STOP),
    Limit("cutter-too-short", lambda t: found(mitre(t, 22)), 22.0, 22.01, STOP),  # 2 × 11
    Limit("cutter-too-short", lambda t: found(set_corner(EDGE, CornerGeometry(t, t))), 20.0, 20.01, STOP),
    Limit("boards-differ", lambda t: found(set_corner(EDGE, CornerGeometry(18, t))), 18.04, 18.06),
    Limit("lip-off", lambda f: lip_findings(fences(f, 8.8), "corner", FitRange(0, 0.15, 0.1)), 8.9, 8.91),
    Limit("lip-off", lambda f: lip_findings(fences(8.8, f), "corner", FitRange(0, 0.15, 0.1)), 8.7, 8.69),
)  # fmt: skip


@pytest.mark.parametrize("limit", LIMITS, ids=lambda limit: f"{limit.code} {limit.bad:g}")
def test_a_finding_begins_at_its_limit(limit: Limit) -> None:
    assert limit.code not in {one.code for one in limit.of(limit.good)}
    told = [one for one in limit.of(limit.bad) if one.code == limit.code]
    assert [one.severity for one in told] == [limit.severity]


@pytest.mark.parametrize("rule", [FenceRule.ONE, FenceRule.TOOTH, 6.0])
def test_however_the_sum_is_shared_the_head_is_the_step_thicker_than_the_neck(
    rule: FenceRule | float,
) -> None:
    made = set_corner(LOCK, CornerGeometry(16.0, 14.0, 2.0), rule)
    assert made.fence_flat + made.fence_upright == close(2 + 14 + 3.6)
    assert made.head - made.neck == close(3.6)
    assert made.lip == close(2.0)
