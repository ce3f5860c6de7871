"""Corners that no two fence settings make: never proven, never said to keep limits, and said in words."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from drawerwright.job.file.building import read_job
from drawerwright.job.papers.plan_data import plan_report
from drawerwright.job.planning.draft import JobDraft, draft_job
from drawerwright.job.planning.fence_costs import ComparedPlan, choice_in_words, compared_plans
from drawerwright.job.planning.job_findings import draft_findings
from drawerwright.job.planning.job_plan import plan_job
from drawerwright.run.fence_joints import FenceJoint
from drawerwright.run.fence_plans import FencePlan, FenceRoutine
from drawerwright.run.fences import plan_fences

EXAMPLE = (Path(__file__).parents[3] / "examples" / "music-school.yaml").read_text("utf-8")
STEP = 3.2


def lipped(overlay: float, plan: str = "fewest") -> str:
    """The example with its lipped bank on side runners, 13 mm to either side."""
    text = EXAMPLE.replace("overlay: {sides: 7}    #", f"overlay: {{sides: {overlay}}}  #")
    text = text.replace("{kind: wooden, back: 12, top: 0, bottom: 0}", "{kind: side-mounted, length: 400}")
    return text.replace("plan: fewest", f"plan: {plan}")


def drafted(text: str) -> JobDraft:
    return draft_job(read_job(text))


@pytest.mark.parametrize("seed", range(16))
def test_a_plan_that_keeps_limits_has_necks_and_stays_within_the_cutter(seed: int) -> None:
    dice = random.Random(seed)
    joints = []
    for number in range(dice.choice([1, 2, 3])):
        upright = dice.choice([12.0, 14.7, 17.8])
        wanted = dice.choice([0.0, dice.uniform(0, 30)]) + upright + STEP
        reach = dice.choice([12.0, 17.5, 22.0])
        joints.append(FenceJoint(str(number), wanted, upright, STEP, upright / 3, largest_setting=reach))
    compared = plan_fences(joints)
    possible = all(
        j.wanted_sum < j.largest_setting + min(j.largest_setting, j.upright_thickness) for j in joints
    )
    assert compared.fewest.keeps_limits == possible
    assert compared.fewest.is_proven <= possible
    for plan in compared.plans:
        sound = all(
            s.neck > 0
            and max(s.flat, s.upright) <= s.joint.largest_setting + 0.01
            and min(s.flat, s.upright) >= STEP - 0.01
            for s in plan.splits
        )
        assert plan.keeps_limits <= sound


def test_a_plan_that_breaks_a_limit_says_which() -> None:
    """A fence at 1 mm is short of the step of 3.2 mm."""
    joint = FenceJoint("front corner", 14.7 + STEP, 14.7, STEP, 5.0, largest_setting=22.0)
    plan = FencePlan.of(FenceRoutine.ONE, [joint], [(joint.wanted_sum - 1.0, 1.0)])
    said = ComparedPlan(plan, is_used=False).standing
    assert "1.00 mm for the front corner is less than the step of 3.20 mm" in said


def test_an_impossible_job_says_that_no_plan_cuts_it() -> None:
    fences = drafted(lipped(9.5)).fences
    said = {compared.standing.removeprefix("used, ") for compared in compared_plans(fences)}
    assert all(words == "breaks a limit" or "fence setting of" in words for words in said)
    assert any("more than the 22.20 mm that the cutter can stand out" in words for words in said)
    assert "No fence plan can cut the corner with a lip of 22.50 mm" in choice_in_words(fences)
    report = plan_report(plan_job(read_job(lipped(9.5)), time_limit=1))
    assert not any(plan["keeps_limits"] or plan["proven"] for plan in report["fences"][0]["compared"])


@pytest.mark.parametrize("plan", ["fewest", "tooth", "one", "two-position"])
def test_whatever_plan_is_forced_the_advice_is_the_same_and_ends_the_matter(plan: str) -> None:
    stops = [finding for finding in draft_findings(drafted(lipped(9.5, plan))) if finding.stops]
    assert stops
    for finding in stops:
        assert "The lip can be at most 14.3 mm" in finding.remedy
        said = finding.text + finding.remedy
        assert not any(f"use {other}" in said for other in FenceRoutine)
        assert finding.drawers == tuple(f"A{number}" for number in range(1, 8))
    taken = drafted(lipped(14.3 - 13))
    assert taken.fences[0].choice.chosen is not None
    assert taken.fences[0].choice.chosen.keeps_limits
    codes = {finding.code for finding in draft_findings(taken)}
    assert not codes & {"no-neck", "thin-neck", "fence-beyond-cutter", "fence-below-step"}
