"""What each kind of joint is, in a table; and what counts where nothing is said (docs/joints.md, docs/law.md)."""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest

from drawerwright.joints.bench_place import BenchPlace
from drawerwright.joints.contradictions import Contradiction, Outvoted
from drawerwright.joints.corner_key import CornerKey
from drawerwright.joints.cutter import STEEPEST, MeasuredEdge
from drawerwright.joints.doubts import Board, Doubt
from drawerwright.joints.holding import WoodPlane
from drawerwright.joints.joint import BenchWork, joint_named
from drawerwright.joints.kinds.finger.finger_joint import CLEARANCE, FINGER
from drawerwright.joints.kinds.finger.finger_row import FingerRow
from drawerwright.joints.kinds.finger.finger_work import STACKED
from drawerwright.joints.kinds.finger.row_doubt import RowDoubt
from drawerwright.joints.plain_joint import TOLD_APART, BenchFigure, BenchReading, BenchSetting, JointMeasure
from drawerwright.joints.readings import RULES, FitRange, ReadingKind, ReadingRule
from drawerwright.joints.section_marks import Span
from drawerwright.joints.setting import CLOSED, FLUSH_WITHIN, SAME_SETTING, CornerGeometry
from drawerwright.joints.table import Settled, usual_gauge_step
from drawerwright.joints.trial_cut import TrialCut
from drawerwright.joints.wanted import Wanted

COLUMNS = (
    "is_self_mating", "makes_corners", "bands_flat", "bands_upright", "passes", "cuts_full_height", "upright_lies",
)  # fmt: skip


@pytest.mark.parametrize(
    ("name", "is_so"),
    [
        ("drawer-lock", (True, True, True, True, 1, True, False)),
        ("lock-mitre", (True, True, True, True, 2, True, False)),
        ("edge", (True, False, True, True, 1, True, True)),
        ("finger", (False, True, False, False, 1, False, False)),
        ("rebate", (False, True, True, False, 2, True, False)),
    ],
)
def test_what_a_kind_of_joint_is(name: str, is_so: tuple[Any, ...]) -> None:
    joint = joint_named(name)
    assert tuple(getattr(joint, column) for column in COLUMNS) == is_so


@pytest.mark.parametrize(
    ("name", "is_so"),
    [
        # Play needs a roof; knife edges and boards leave nothing to share; a panel is cut to its width when it is dry.
        ("drawer-lock", (True, True, True)),
        ("lock-mitre", (False, False, True)),
        ("edge", (False, False, False)),
    ],
)
def test_what_a_self_mating_joint_has(name: str, is_so: tuple[bool, ...]) -> None:
    joint: Any = joint_named(name)
    assert (joint.has_play, joint.shares_freely, joint.has_lip) == is_so


@pytest.mark.parametrize(
    ("kind", "defaults"),
    [
        (BenchPlace, {"flat_low": 0.0, "upright_low": 0.0, "sides_flat": False}),
        (BenchWork, {"minutes": 0.0, "passes": 0.0, "metres": 0.0, "is_setting": False, "on_bands": False}),
        (Board, {"scatter": 0.0, "by_calipers": True, "scatter_is_assumed": False}),
        (Contradiction, {"quarrel": 1, "is_of_home": False}),
        (CornerGeometry, {"lip": 0.0}),
        (CornerKey, {"lip": 0.0}),
        (Doubt, {"is_assumed": False}),
        (FingerRow, {"clearance": 0.0}),
        (FitRange, {"least_play": 0.0, "most_play": 0.15, "flushness": 0.1}),
        (JointMeasure, {"may_be_none": False}),
        (BenchReading, {"is_signed": False}),
        (BenchSetting, {"way": 1}),
        (BenchFigure, {"from_edge": False}),
        (MeasuredEdge, {"residual": 0.0}),
        (Outvoted, {"quarrel": 1}),
        (ReadingRule, {"is_seen_when_positive": False}),
        (RowDoubt, {"slack": 0.05, "pitch": 0.005}),
        (Settled, {"height_correlation": 0.0, "fence_correlation": 0.0}),
        (Span, {"is_detail": False}),
        (TrialCut, {"by_block": False}),
        (Wanted, {"lip": 0.0}),
        (WoodPlane, {"along": True}),
    ],
    ids=lambda each: each.__name__ if isinstance(each, type) else "",
)
def test_what_counts_where_nothing_is_said(kind: Any, defaults: dict[str, Any]) -> None:
    known = {field.name: field.default for field in dataclasses.fields(kind)}
    assert {name: known.get(name) for name in defaults} == defaults


def test_what_machines_and_hands_can_tell_apart() -> None:
    """Common practice without a source, as is said beside each."""
    assert (usual_gauge_step("mm"), usual_gauge_step("in")) == (0.05, pytest.approx(0.0508))
    assert (SAME_SETTING, CLOSED, FLUSH_WITHIN, TOLD_APART) == (0.005, 0.01, 0.03, 0.02)
    assert (FINGER, CLEARANCE, STACKED, STEEPEST) == (9.5, 0.1, 2, 89.5)


def test_which_readings_say_something_only_where_they_are_more_than_nothing() -> None:
    """Play, a gap, a tip that is proud: what is not there cannot be read (docs/test-cuts.md)."""
    one_sided = {kind for kind, rule in RULES.items() if rule.is_seen_when_positive}
    assert one_sided == {ReadingKind.PLAY, ReadingKind.SHOULDER_GAP, ReadingKind.STANDS_PROUD}
