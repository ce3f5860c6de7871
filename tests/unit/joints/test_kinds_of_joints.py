"""What is true of every kind of joint, and of how kinds are found."""

from __future__ import annotations

import ast
from dataclasses import replace
from pathlib import Path

import pytest

import drawerwright
from drawerwright.basics.errors import InvalidValueError
from drawerwright.job.file.model import JobFile
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.joint import corner_joints, joint_named, self_mating
from drawerwright.joints.mating import mating, self_mating_names
from drawerwright.joints.readings import FitRange, height_for_misfit, misfit
from drawerwright.joints.registry import kind_names
from drawerwright.joints.setting import CornerGeometry, CornerSetting, set_corner

ROOT = Path(drawerwright.__file__).parent
OWN = {"joints/registry.py"}
"""Besides the kinds themselves, what may know one by its name."""


def setting(kind: str) -> CornerSetting:
    cutter = Cutter(kind, mid_depth=9.0, step=4.0, slope=45.0)
    return set_corner(cutter, CornerGeometry(15.0, 15.0))


def test_no_module_knows_a_kind_by_its_name() -> None:
    """A name in the code is where a branch on it would begin."""
    names = set(kind_names())
    found = {
        str(path.relative_to(ROOT))
        for path in ROOT.rglob("*.py")
        if "kinds" not in path.relative_to(ROOT).parts
        for text in [path.read_text("utf-8")]
        if any(name in text for name in names)
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Constant) and node.value in names
    }
    assert found <= OWN
    templates = (path.read_text("utf-8") for path in (ROOT / "web").rglob("*.html"))
    assert not any(f'"{name}"' in text for text in templates for name in names)


@pytest.mark.parametrize("kind", self_mating_names())
def test_a_kind_closes_at_its_own_settings(kind: str) -> None:
    tight = setting(kind)
    assert misfit(tight) == pytest.approx(0)
    assert tight.closes
    assert tight.lip == pytest.approx(tight.corner.lip)
    low, high = mating(kind).fitting(0.0, 0.15, 0.1)
    assert low < high
    for off in (low, high):
        assert misfit(replace(tight, bit_height=height_for_misfit(tight, off))) == pytest.approx(off)
    # Where there is no play to choose, a wrong height leaves none and keeps nothing open.
    high_set = replace(tight, bit_height=tight.bit_height + 0.2)
    assert (high_set.play is None) == (high_set.stands_proud == 0)
    assert min(tight.fence_flat, tight.fence_upright) >= mating(kind).least_fence(4.0)


@pytest.mark.parametrize("kind", self_mating_names())
def test_what_is_read_says_something_of_the_settings(kind: str) -> None:
    """Each reading moves with height, fences or step; else it would tell nothing."""
    tight = setting(kind)
    moved = [
        replace(tight, bit_height=tight.bit_height + 0.1),
        replace(tight, fence_flat=tight.fence_flat + 0.1),
        replace(tight, fence_upright=tight.fence_upright + 0.1),
        replace(tight, cutter=replace(tight.cutter, step=4.1)),
    ]
    for rule in self_mating(kind).rules:
        assert any(abs(rule.value(one) - rule.value(tight)) > 0.01 for one in moved), rule.kind


@pytest.mark.parametrize("kind", self_mating_names())
def test_a_kind_has_words(kind: str) -> None:
    joint, tight = self_mating(kind), setting(kind)
    assert joint.words
    assert joint.meaning
    assert joint.where_to_measure
    assert joint.glue_lines
    assert all(joint.misfit_ways)
    assert joint.misfit_words("0.20 mm", True) != joint.misfit_words("0.20 mm", False)
    assert "0.10" in joint.fit_words(FitRange(0.05, 0.1, 0.1), _style())
    assert "9.1" in joint.off_height(replace(tight, bit_height=9.1), tight.bit_height)


def _style():
    from drawerwright.basics.lengths import LengthStyle

    return LengthStyle()


def test_editors_are_told_the_kinds() -> None:
    schema = JobFile.model_json_schema()
    assert schema["$defs"]["CutterEntry"]["properties"]["kind"]["enum"] == list(self_mating_names())


def test_edge_joints_make_no_corners() -> None:
    assert "edge" in self_mating_names()
    assert "edge" not in [joint.name for joint in corner_joints()]


def test_a_kind_that_is_not_there_is_refused_with_those_that_are() -> None:
    with pytest.raises(
        InvalidValueError, match="no kind of joint 'dovetail'; choose from drawer-lock, lock-mitre"
    ):
        joint_named("dovetail")
    with pytest.raises(InvalidValueError, match="no kind of joint 'dovetail'"):
        Cutter("dovetail", mid_depth=5.0, step=3.0)
