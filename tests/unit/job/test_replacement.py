"""A spoiled part made again: from what is left over, with its own steps, on one page."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.replacement_paper import replacement_lines, replacement_page
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.job.planning.replacement import plan_replacement
from drawerwright.run.work import Bore, CutGrooves, FitRunner, GlueUp, MeasureKerf, Rout, ScrewOnFronts
from drawerwright.sheets import referee

EXAMPLE = Path(__file__).parents[3] / "examples" / "music-school.yaml"


@pytest.fixture(scope="module")
def plan() -> JobPlan:
    return plan_job(read_job(EXAMPLE.read_text("utf-8")), time_limit=2)


def kinds(plan: JobPlan, label: str) -> set[type]:
    return {type(work) for step in plan_replacement(plan, label).run.steps for work in step.work}


@pytest.mark.parametrize("label", ["A3 left side", "A3 front", "B2 back", "B2 bottom", "B2 applied front"])
def test_the_part_comes_from_what_is_left_over(plan: JobPlan, label: str) -> None:
    """Nothing but the part is cut, from an offcut of the job that is large enough for it: the referee says so."""
    made = plan_replacement(plan, label)
    listed = next(part for part in plan.parts if part.label == label)
    assert made.part == listed
    assert referee.check(made.plan.sheets) == []
    assert [part.label for parts in made.plan.blanks.members.values() for part in parts] == [label]
    (layout,) = made.plan.sheets.layouts
    assert made.source.is_offcut
    cut = next(stock for stock in plan.stocks if stock.blanks.stock.name == listed.stock.name)
    there = {(offcut.length, offcut.width) for each in cut.sheets.layouts for offcut in each.kept_offcuts}
    there |= {(size.length, size.width) for size in cut.sheets.problem.sizes if size.is_offcut}
    assert (layout.size.length, layout.size.width) in there
    assert max(layout.size.length, layout.size.width) >= listed.cut_length


def test_only_its_own_steps_are_done(plan: JobPlan) -> None:
    side = kinds(plan, "A3 left side")
    assert {Rout, CutGrooves} <= side
    assert side.isdisjoint({GlueUp, FitRunner, ScrewOnFronts, Bore})
    assert MeasureKerf in {type(work) for step in plan.run.steps for work in step.work}
    assert MeasureKerf not in side, "the job is being cut: its kerf is known"
    front = kinds(plan, "B2 applied front")
    assert Bore in front
    assert front.isdisjoint({Rout, CutGrooves, GlueUp, ScrewOnFronts})


def test_its_settings_are_those_of_the_job(plan: JobPlan) -> None:
    made = plan_replacement(plan, "A3 left side")
    (setup,) = made.run.setups
    corners = dict(plan.draft.settings)
    assert all(setting == corners[key] for key, setting in setup.corners.items())


def test_a_part_that_there_is_not_is_told_what_is_near(plan: JobPlan) -> None:
    with pytest.raises(InvalidValueError, match=re.escape("the job has no part 'A3 left sidee'")) as caught:
        plan_replacement(plan, "A3 left sidee")
    assert "A3 left side" in str(caught.value).partition("for instance")[2]
    assert plan_replacement(plan, "  a3   LEFT side ").part.label == "A3 left side"


@pytest.mark.parametrize("label", ["A3 left side", "A1 front", "B2 applied front"])
def test_it_is_one_page(plan: JobPlan, label: str) -> None:
    made = plan_replacement(plan, label)
    pdf = replacement_page(made)
    assert pdf.startswith(b"%PDF")
    assert max(int(count) for count in re.findall(rb"/Type\s*/Pages\s*/Count\s+(\d+)", pdf)) == 1
    assert replacement_lines(made)[0].startswith("From the rack: ")
    style = made.draft.job.style  # a size is written as everywhere else
    size = f"{style.show(made.part.blank_length, with_unit=False)} × {style.show(made.part.blank_width)}."
    assert style.say(replacement_lines(made)[1]).endswith(f"cut to {size}")
