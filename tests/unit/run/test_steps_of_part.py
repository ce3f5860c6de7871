"""A label's code leads to what is next for its part: the steps that a part goes through, and where it is in them."""

from __future__ import annotations

from typing import get_args

import pytest
from order_cases import VARIANTS, planned

from drawerwright.basics.phrases import plain
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.job.run_list import asked_part
from drawerwright.run.marks import PartName
from drawerwright.run.steps_of_part import part_mark, steps_of_part, works_on
from drawerwright.run.work import (
    ChangeCutter,
    CheckSheet,
    CutSheet,
    CutTrialPieces,
    FetchSheet,
    FitRunner,
    GlueUp,
    MeasureKerf,
    Rip,
    SetRouter,
    SetSaw,
    TakeWhole,
    Work,
)

TO_NO_PART = (MeasureKerf, FetchSheet, CheckSheet, SetSaw, ChangeCutter, SetRouter, CutTrialPieces)


@pytest.fixture(scope="module", params=["example", "edging above", "two cutters"])
def plan(request: pytest.FixtureRequest) -> JobPlan:
    return planned(VARIANTS[request.param])


def test_every_part_goes_from_its_sheet_past_its_set_ups_to_the_glued_drawer(plan: JobPlan) -> None:
    for part in plan.parts:
        places = steps_of_part(plan.run.steps, PartName.of(part))
        steps = [plan.run.steps[place] for place in places]
        assert any(isinstance(work, CutSheet) for work in steps[0].work), part.label
        setups = {plan.setup_of_end(part, index) for index in range(len(part.ends))} - {None}
        assert {step.setup for step in steps} - {None} == setups, part.label
        ripped = [
            work
            for step in steps
            for work in step.work
            if isinstance(work, (Rip, TakeWhole)) and works_on(work, PartName.of(part))
        ]
        assert len(ripped) == (0 if part.is_loose else 1), part.label
        assert any(isinstance(work, (GlueUp, FitRunner)) for work in steps[-1].work), part.label


def test_all_work_is_done_to_some_part_but_settings_and_trials(plan: JobPlan) -> None:
    """A kind of work that nobody thought of here would be on no part's way."""
    names = [PartName.of(part) for part in plan.parts]
    met = set()
    for work in (work for step in plan.run.steps for work in step.work):
        met.add(type(work))
        only_trims = isinstance(work, CutSheet) and not (work.bands or work.loose)
        only_strips = isinstance(work, Rip) and not any(cut.frees or cut.leaves for cut in work.cuts)
        to_none = isinstance(work, TO_NO_PART) or only_trims or only_strips
        assert any(works_on(work, name) for name in names) != to_none, work
    assert met <= set(get_args(Work))


def test_a_code_leads_to_the_first_step_that_is_not_ticked(plan: JobPlan) -> None:
    part = plan.parts[0]
    mark = part_mark(PartName.of(part))
    places = steps_of_part(plan.run.steps, PartName.of(part))
    ticked = [False] * len(plan.run.steps)
    for place in places:
        asked = asked_part(plan, mark, ticked)
        assert (asked.label, asked.place, asked.is_done) == (part.label, place, False)
        ticked[place] = True
    assert asked_part(plan, mark, ticked).is_done
    assert asked_part(plan, mark, ticked).place == places[-1]
    assert asked_part(plan, "ffffffff", ticked).label is None


def test_no_two_parts_have_one_mark(plan: JobPlan) -> None:
    marks = {part_mark(PartName.of(part)): plain(part.label) for part in plan.parts}
    assert len(marks) == len(plan.parts)
