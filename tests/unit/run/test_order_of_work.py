"""The order of work counts what is really cut: sheets, strips, bands and minutes add up."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from drawerwright.basics.phrases import Phrase
from drawerwright.drawers.parts import PartKind, Role
from drawerwright.job.building import read_job
from drawerwright.job.planning import JobPlan, plan_job
from drawerwright.run.order import plan_run
from drawerwright.run.steps import RunInput, Step
from drawerwright.run.times import Rates

EXAMPLE = (Path(__file__).parents[3] / "examples" / "music-school.yaml").read_text("utf-8")
FLUSH = """
format: 1
job: Trays
cutter: {mid_depth: 5.65, step: 3.45}
stock: {ply: {nominal: 15, measured: [14.6], sheets: [{length: 1200, width: 800}]}}
boxes: [{name: tray, count: 5, outer: {width: 300, depth: 200, height: 80}, box: {all: ply}}]
"""


@pytest.fixture(scope="module", params=[EXAMPLE, FLUSH], ids=["example", "plain trays"])
def plan(request: pytest.FixtureRequest) -> JobPlan:
    return plan_job(read_job(request.param))


def phrases(steps: list[Step]) -> list[Phrase]:
    """The lines of steps, with the values that they were made from."""
    lines = [line for step in steps for line in step.lines]
    assert all(isinstance(line, Phrase) for line in lines)
    return [line for line in lines if isinstance(line, Phrase)]


def test_steps_are_numbered_and_their_minutes_add_up(plan: JobPlan) -> None:
    run = plan.run
    assert [step.number for step in run.steps] == list(range(1, len(run.steps) + 1))
    assert run.effort.minutes == pytest.approx(sum(step.minutes for step in run.steps))
    assert all(step.minutes >= 0 and step.lines for step in run.steps)


def test_every_sheet_is_cut_in_one_step_and_every_cut_is_counted(plan: JobPlan) -> None:
    layouts = {
        (place, number): layout
        for place, stock in enumerate(plan.stocks)
        for number, layout in enumerate(stock.sheets.layouts, start=1)
    }
    cutting = [step for step in plan.run.steps if step.sheet is not None]
    assert [step.sheet for step in cutting] == list(layouts)
    ripped = 0
    for step in cutting:
        assert step.sheet is not None
        layout = layouts[step.sheet]
        line = next(line for line in phrases([step]) if line.many is not None)
        ripped += sum(cut.ripping for cut in layout.cuts)
        assert line.how_many == sum(not cut.ripping for cut in layout.cuts)
    assert plan.run.effort.saw_cuts == ripped + sum(
        not cut.ripping for layout in layouts.values() for cut in layout.cuts
    )


def test_the_strips_that_are_ripped_are_the_parts_that_are_routed(plan: JobPlan) -> None:
    (rip,) = (step for step in plan.run.steps if step.title == "Rip the bands into parts")
    heights = {
        str(line.values["height"]): line.how_many for line in phrases([rip]) if "height" in line.values
    }
    routed = [part for part in plan.parts if part.ends]
    assert sum(heights.values()) == len(routed)
    tallest_first = [float(height.split()[0]) for height in heights]
    assert tallest_first == sorted(tallest_first, reverse=True)


def test_every_routed_edge_of_every_band_is_on_one_line(plan: JobPlan) -> None:
    bands = Counter(
        band.family for stock in plan.stocks for layout in stock.sheets.layouts for band in layout.bands
    )
    edges: Counter[str] = Counter()
    for setup in plan.run.setups:
        for cut in setup.passes:
            edges[cut.family.key] += len(cut.bands) * (2 if cut.edges == "both edges" else 1)
    assert edges == {family: 2 * count for family, count in bands.items()}
    told = Counter(
        line.values["edges"]
        for step in plan.run.steps
        for line in phrases([step])
        if line.template.startswith("{count} band ")
        for _ in range(line.how_many)
    )
    wanted: Counter[str] = Counter()
    for setup in plan.run.setups:
        for cut in setup.passes:
            wanted[cut.edges] += len(cut.bands)
    assert told == wanted
    assert {cut.role for setup in plan.run.setups for cut in setup.passes} == set(Role)


def test_bottoms_and_applied_fronts_are_counted(plan: JobPlan) -> None:
    kinds = Counter(part.kind for part in plan.parts)
    said = phrases(list(plan.run.steps))
    bottoms = [line.values["count"] for line in said if line.template.startswith("{count} of {length}")]
    assert sum(bottoms) == kinds[PartKind.BOTTOM]
    fronts = [line.how_many for line in said if line.template.startswith("Screw on")]
    assert sum(fronts) == kinds[PartKind.APPLIED_FRONT]


@pytest.mark.parametrize("rate", ["sheet", "saw_cut", "saw_setting", "router_setting", "test_cut", "glue_up"])
def test_work_that_takes_longer_makes_the_day_longer_by_how_often_it_is_done(
    plan: JobPlan, rate: str
) -> None:
    job, sheets = plan.job, tuple(stock.sheets for stock in plan.stocks)

    def minutes(rates: Rates) -> float:
        given = RunInput(
            job.all_boxes, plan.parts, sheets, plan.run.setups, rates, plan.runner_lines, plan.pull_holes
        )
        return plan_run(given).effort.minutes

    usual = Rates()
    more = [replace(usual, **{rate: getattr(usual, rate) + extra}) for extra in (1.0, 2.0)]
    often = minutes(more[0]) - minutes(usual)
    assert minutes(more[1]) - minutes(usual) == pytest.approx(2 * often)
    assert often == pytest.approx(round(often))
    done = {
        "sheet": sum(len(plan.layouts) for plan in sheets),
        "saw_cut": plan.run.effort.saw_cuts,
        "router_setting": len(plan.run.setups),
        "test_cut": len(plan.run.setups),
        "glue_up": len(job.all_boxes),
    }
    assert often >= 1 if rate == "saw_setting" else often == pytest.approx(done[rate])
