"""A job with two cutters: each drawer comes out as in a job of its own cutter, and each cutter is put in once."""

from __future__ import annotations

from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

import pytest

from drawerwright.basics.errors import FaultyInputError
from drawerwright.drawers.parts import Part
from drawerwright.job.file.building import read_job
from drawerwright.job.file.editing import get_value, set_value
from drawerwright.job.kept_settings import (
    Tried,
    keep_settings,
    keeps_settings,
    own_settings,
    recommended_settings,
    release_settings,
)
from drawerwright.job.papers.plan_data import plan_report
from drawerwright.job.planning.days import plan_days
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.first_cut_odds import job_odds
from drawerwright.job.planning.job_findings import draft_findings
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.run.work import ChangeCutter, SetRouter
from random_jobs import random_entries, text_of, two_cutter_entries

EXAMPLE = (Path(__file__).parents[3] / "examples" / "trays-and-chest.yaml").read_text("utf-8")
SMALL, LARGE = "small cutter", "large cutter"
TRAYS = [f"Part tray {number}" for number in range(1, 9)]
CHEST = ["A1", "A2", "A3", "A4"]
FEW_SECONDS = 0.05


@pytest.fixture(scope="module")
def plan() -> JobPlan:
    return plan_job(read_job(EXAMPLE), time_limit=FEW_SECONDS)


def one_cutter_job(name: str, drawers: str) -> str:
    """The example as a job of one of its cutters, with the drawers of that cutter alone."""
    text = set_value(EXAMPLE, ("cutter",), get_value(EXAMPLE, ("cutters", name)) | {"name": name})
    text = set_value(
        set_value(text, ("cutters",), None), ({"banks": "boxes", "boxes": "banks"}[drawers],), None
    )
    return set_value(text, (drawers, 0, "cutter"), None)


@pytest.mark.parametrize(("name", "drawers"), [(SMALL, "boxes"), (LARGE, "banks")])
def test_drawers_come_out_as_in_a_job_of_their_own_cutter(plan: JobPlan, name: str, drawers: str) -> None:
    alone = plan_job(read_job(one_cutter_job(name, drawers)), time_limit=FEW_SECONDS)
    made = {box.name for box in alone.job.all_boxes}
    assert [p for p in plan.parts if p.drawer in made] == list(alone.parts)
    here = [(c.key, c.setting, c.drawers) for c in plan.corners if c.key.cutter == name]
    assert here == [(c.key, c.setting, c.drawers) for c in alone.corners]
    assert [asdict(line) for line in plan.runner_lines if line.drawer in made] == [
        asdict(line) for line in alone.runner_lines
    ]
    odds = {corner.key: joint for corner, joint in plan.odds.corners}
    for corner, joint in alone.odds.corners:
        assert odds[corner.key].odds == joint.odds
        assert odds[corner.key].shares == joint.shares
    assert {each.name: each for each in plan.odds.drawers if each.name in made} == {
        each.name: each for each in alone.odds.drawers
    }
    settings = [(s.bit_height, s.fence, s.height_reading, s.fence_reading) for s in alone.run.setups]
    assert settings == [
        (s.bit_height, s.fence, s.height_reading, s.fence_reading)
        for s in plan.run.setups
        if s.cutter.name == name
    ]
    fences = {each.cutter.name: each.choice for each in plan.draft.fences}
    assert fences[name] == alone.draft.fences[0].choice


@pytest.mark.parametrize("seed", range(0, 40, 4))
def test_parts_of_random_jobs_are_those_of_two_jobs(seed: int) -> None:
    """What a drawer measures does not hang on who else is in the job; only its mark may be another."""
    job = read_job(text_of(two_cutter_entries(seed, seed + 1)))
    sizes = [sorted(map(_size, draft_job(job.only(job.drawers_of(cutter))).parts)) for cutter in job.cutters]
    alone = [random_entries(one) for one in (seed, seed + 1)]
    for entries in alone:
        entries["fences"].pop("plan", None)
        entries["fences"]["flushness"] = alone[0]["fences"]["flushness"]
        entries["machine"] = alone[0]["machine"]
    assert sizes == [sorted(map(_size, draft_job(read_job(text_of(entries))).parts)) for entries in alone]


def _size(part: Part) -> tuple[str, float, float, float]:
    return str(part.kind), part.length, part.width, part.thickness


def test_each_cutter_is_put_in_once_before_its_set_ups(plan: JobPlan) -> None:
    work = [
        item for step in plan.run.steps for item in step.work if isinstance(item, ChangeCutter | SetRouter)
    ]
    changes = [item for item in work if isinstance(item, ChangeCutter)]
    assert [(change.takes_out, change.cutter) for change in changes] == [(None, SMALL), (SMALL, LARGE)]
    is_in = ""
    for item in work:
        is_in = item.cutter if isinstance(item, ChangeCutter) else is_in
        if isinstance(item, SetRouter):
            assert item.corner.cutter.name == is_in


def test_a_change_takes_its_time_and_tells_the_speed(plan: JobPlan) -> None:
    steps = [step for step in plan.run.steps if any(isinstance(item, ChangeCutter) for item in step.work)]
    assert [step.title for step in steps] == [f"Put in the cutter: {SMALL}", f"Change the cutter to {LARGE}"]
    assert [step.minutes for step in steps] == [plan.job.rates.cutter_change] * 2
    for step, speed in zip(
        steps, ("18,000", "14,000"), strict=True
    ):  # the fastest of the machine within the limit
        assert f"Spindle speed: {speed} 1/min" in " ".join(step.lines)
        assert "Unplug the router" in " ".join(step.lines)
    assert "hold it with a rag" not in " ".join(steps[0].lines)
    assert f"All bands for {SMALL} are routed" in " ".join(steps[1].lines)
    said = " ".join(plan.cautions)
    assert f"{SMALL}: Spindle speed: 18,000" in said
    assert f"{LARGE}: Spindle speed: 14,000" in said


def test_a_new_cutter_is_set_to_its_height_even_where_it_is_the_last_one_s() -> None:
    """Both cutters alike: nothing tells their heights apart, but who changes a cutter has to set it again."""
    text = set_value(EXAMPLE, ("cutters", SMALL), dict(get_value(EXAMPLE, ("cutters", LARGE))))
    text = set_value(text, ("boxes", 0, "box", "all"), "birch15")
    steps = plan_job(read_job(text), time_limit=FEW_SECONDS).run.steps
    settings = [item for step in steps for item in step.work if isinstance(item, SetRouter)]
    assert len({setting.bit_height for setting in settings}) == 1
    first = [setting for setting in settings if not setting.keeps_height]
    assert [setting.corner.cutter.name for setting in first] == [SMALL, LARGE]


def test_the_odds_of_all_drawers_are_not_those_of_two_shops(plan: JobPlan) -> None:
    """The gauges are the same: together both come out right more often than if they were not."""
    trays, chest = (job_odds(draft_job(plan.job.only(names))).whole.odds for names in (TRAYS, CHEST))
    assert trays.flush * chest.flush + 0.005 < plan.odds.whole.odds.flush < min(trays.flush, chest.flush)


def test_corners_say_their_cutter_where_there_are_several(plan: JobPlan) -> None:
    names = {corner.name for corner in plan.corners}
    assert names == {
        f"front and back corner, flush, birch10, {SMALL}",
        f"front and back corner, flush, birch15, {LARGE}",
    }
    (alone,) = draft_job(read_job(one_cutter_job(SMALL, "boxes"))).corners
    assert alone.name == "front and back corner, flush"


def test_the_report_names_cutters_by_id(plan: JobPlan) -> None:
    data = plan_report(plan)
    assert data["version"] == 3
    assert [cutter["id"] for cutter in data["cutters"]] == [SMALL, LARGE]
    assert [fences["cutter"] for fences in data["fences"]] == [SMALL, LARGE]
    assert {setting["key"]["cutter"] for setting in data["settings"]} == {SMALL, LARGE}
    in_order = [setup["cutter"] for setup in data["run"]["setups"]]
    assert in_order == sorted(in_order, key=[SMALL, LARGE].index)


def test_a_day_has_only_the_cutters_that_it_needs() -> None:
    first, last = plan_days(read_job(f"{EXAMPLE}days: [[Part tray], [Chest]]\n"), time_limit=FEW_SECONDS)
    for day, name in ((first, SMALL), (last, LARGE)):
        assert [cutter["name"] for cutter in plan_report(day)["cutters"]] == [name]
        assert not any(isinstance(item, ChangeCutter) for step in day.run.steps for item in step.work)


def test_a_cutter_that_is_too_fast_stops_only_its_own_drawers() -> None:
    text = set_value(EXAMPLE, ("cutters", LARGE, "max_speed"), 7000)
    plan = plan_job(read_job(text), time_limit=FEW_SECONDS)
    (finding,) = (finding for finding in plan.findings if finding.stops)
    assert (finding.code, finding.where, list(finding.drawers)) == ("spindle-too-fast", LARGE, CHEST)


def test_what_is_assumed_of_the_gauges_is_said_once() -> None:
    text = EXAMPLE.replace("0.05 ± 0.05", "0.05").replace("3.55 ± 0.04", "3.55")
    found = draft_job(read_job(text))
    assumed = {f.where: f.text for f in draft_findings(found) if f.code == "uncertainty-assumed"}
    assert "mid depth" in assumed[SMALL]
    assert "gauge" not in assumed[SMALL]
    assert LARGE not in assumed
    assert "height gauge" in assumed["gauges and calipers"]


def test_gauges_are_nobody_s_concern_where_no_cutter_is_set_by_them() -> None:
    """Fingers come from a jig and a test cut of their own: no figure of theirs rests on the gauges' scales."""
    job = read_job(
        """
format: 1
job: Tool trays
stock: {ash: {nominal: 15, measured: [15.2], panel: solid, species: ash, sheets: [{length: 2400, width: 1200}]}}
boxes:
  - {name: Tray, joint: finger, outer: {width: 500, depth: 450, height: 142.5}, box: {all: ash}}
"""
    )
    assert not [f for f in draft_findings(draft_job(job)) if f.code == "uncertainty-assumed"]


# -- what is wrong in a file -----------------------------------------------------------------------------------------


def faults(text: str) -> list[tuple[str, str]]:
    with pytest.raises(FaultyInputError) as raised:
        read_job(text, "trays.yaml")
    assert all(fault.line for fault in raised.value.faults)
    return [(fault.field, fault.message) for fault in raised.value.faults]


@pytest.mark.parametrize(
    ("path", "value", "field", "words"),
    [
        (("boxes", 0, "cutter"), "smal cutter", "boxes[1].cutter", "the file has small cutter, large cutter"),
        (
            ("boxes", 0, "cutter"),
            None,
            "boxes[1].cutter",
            "so name the one for these corners: small cutter, large",
        ),
        (("cutter",), {"mid_depth": 5, "step": 3}, "cutters", "Move that cutter here"),
        (("cutters", SMALL, "name"), "little", f"cutters.{SMALL}.name", "does not belong here"),
        (("cutters", SMALL, "step"), None, f"cutters.{SMALL}.step", "is missing"),
        (
            ("cutters", LARGE, "id"),
            SMALL,
            f"cutters.{LARGE}.id",
            "is already the id of cutter 'small cutter'",
        ),
        (("cutters",), {}, "cutters", "must have at least 1 entry"),
        (("cutters",), None, "cutter", "give one cutter, or several by name under 'cutters'"),
        (
            ("learnt",),
            {"taught": dict.fromkeys(("mid_depth", "step", "height_gauge_offset", "fence_gauge_offset"), 1)},
            "learnt",
            "write it under that cutter's name",
        ),
        (
            ("cutters", SMALL, "fences"),
            {"plan": "one", "positions": [6.1]},
            f"cutters.{SMALL}.fences.positions",
            "give one or the other",
        ),
        (
            ("cutters", SMALL, "fences"),
            {"positions": [9.0]},
            f"cutters.{SMALL}.fences.positions",
            "no two positions add up",
        ),
    ],
)
def test_a_fault_says_where_and_what_there_is(path: Any, value: object, field: str, words: str) -> None:
    found = faults(set_value(EXAMPLE, path, value))
    assert any(name == field and words in text for name, text in found), found


def test_a_faulty_cutter_hides_no_fault_of_a_drawer() -> None:
    text = set_value(EXAMPLE, ("cutters", LARGE, "mid_depth"), -1)
    text = set_value(text, ("boxes", 0, "outer", "width"), 15)
    assert {field for field, _ in faults(text)} == {f"cutters.{LARGE}.mid_depth", "boxes[1].outer.width"}


def test_a_job_with_one_cutter_may_name_it() -> None:
    alone = one_cutter_job(SMALL, "boxes")
    named = set_value(alone, ("boxes", 0, "cutter"), SMALL)
    assert draft_job(read_job(named)).parts == draft_job(read_job(alone)).parts
    assert faults(set_value(alone, ("boxes", 0, "cutter"), LARGE)) == [
        ("boxes[1].cutter", f"there is no cutter {LARGE!r}; the file has {SMALL}")
    ]


def test_an_unused_cutter_is_no_fault_and_takes_no_part() -> None:
    spare = set_value(EXAMPLE, ("cutters", "spare"), {"mid_depth": 6, "step": 4})
    assert (
        plan_report(plan_job(read_job(spare), time_limit=FEW_SECONDS))["cutters"]
        == plan_report(plan_job(read_job(EXAMPLE), time_limit=FEW_SECONDS))["cutters"]
    )


# -- settings of its own ---------------------------------------------------------------------------------------------


def test_settings_are_kept_for_the_cutter_of_their_corner() -> None:
    draft = draft_job(read_job(EXAMPLE))
    corner = next(corner for corner in draft.corners if corner.key.cutter == LARGE)
    tried = Tried(corner.setting.bit_height - 0.05, corner.setting.fence_flat, corner.setting.fence_upright)
    text = keep_settings(EXAMPLE, corner.key, tried)
    assert get_value(text, ("cutters", LARGE, "bit_heights")) == [round(tried.bit_height, 3)]
    assert get_value(text, ("bit_heights",)) is None
    after = draft_job(read_job(text)).settings
    assert after[corner.key].bit_height == pytest.approx(tried.bit_height)
    others = {key: setting for key, setting in draft.settings.items() if key.cutter == SMALL}
    assert {key: after[key] for key in others} == others
    assert keeps_settings(read_job(text))
    assert own_settings(text) != own_settings(EXAMPLE)
    assert recommended_settings(read_job(text)) == draft.settings
    assert release_settings(text) == EXAMPLE


def test_the_job_s_own_settings_hold_where_a_cutter_says_nothing() -> None:
    text = f"{EXAMPLE}bit_heights: [11.1]\nfences: {{plan: tooth}}\n"
    text = set_value(text, ("cutters", SMALL, "bit_heights"), [7.0])
    text = set_value(text, ("cutters", SMALL, "fences"), {"plan": "one"})
    job = read_job(text)
    assert [cutter.heights.kept for cutter in job.cutters] == [(7.0,), (11.1,)]
    assert [str(cutter.fences.plan) for cutter in job.cutters] == ["one", "tooth"]
    heights = {key.cutter: setting.bit_height for key, setting in draft_job(job).settings.items()}
    assert heights == {SMALL: 7.0, LARGE: 11.1}


def test_a_renamed_cutter_keeps_its_corners() -> None:
    text = EXAMPLE.replace("large cutter:", "blue cutter:\n    id: large cutter").replace(
        "cutter: large cutter", "cutter: blue cutter"
    )
    before, after = (draft_job(read_job(each)) for each in (EXAMPLE, text))
    assert list(after.settings) == list(before.settings)
    for key, setting in before.settings.items():
        assert replace(after.settings[key], cutter=setting.cutter) == setting
    assert after.corners[0].setting.cutter.name == "blue cutter"
