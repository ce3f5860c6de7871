"""The order of work counts what is really cut: sheets, strips, bands and minutes add up."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from drawerwright.basics.phrases import Phrase
from drawerwright.drawers.assembly import PlacedPart
from drawerwright.drawers.parts import PartKind, Role
from drawerwright.job.file.building import read_job
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.run.marks import PartName
from drawerwright.run.order import plan_run
from drawerwright.run.setups import Edges
from drawerwright.run.steps import RunInput, Step
from drawerwright.run.times import Rates
from drawerwright.run.work import CheckBottoms, CutGrooves, CutSheet, Rip, Rout, ScrewOnFronts, TakeWhole

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


def run_input(plan: JobPlan) -> RunInput:
    """What the order of work of a plan was made from."""
    return RunInput(
        drawers=plan.draft.assembled,
        plans=tuple(stock.sheets for stock in plan.stocks),
        blanks=tuple(stock.blanks for stock in plan.stocks),
        setups=plan.run.setups,
        rates=plan.job.rates,
        table=plan.job.table,
        runner_lines=plan.runner_lines,
        pull_holes=plan.pull_holes,
        style=plan.job.style,
    )


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


def test_every_cut_of_every_sheet_is_made_once_in_the_order_of_its_numbers(plan: JobPlan) -> None:
    layouts = {
        (place, number): layout
        for place, stock in enumerate(plan.stocks)
        for number, layout in enumerate(stock.sheets.layouts, start=1)
    }
    made: dict[tuple[int, int], list[int]] = {sheet: [] for sheet in layouts}
    for step in plan.run.steps:
        sheets = step.sawing.sheets if step.sawing is not None else ()
        cut = [item for item in step.work if isinstance(item, CutSheet)]
        assert {number for _, number in sheets} >= {item.number for item in cut}
        for item in cut:
            ((place, _),) = (sheet for sheet in sheets if sheet[1] == item.number)
            made[place, item.number] += [each.order for each in item.cuts]
    ripped = sum(cut.ripping for layout in layouts.values() for cut in layout.cuts)
    assert made == {
        sheet: [cut.order for cut in layout.cuts if not cut.ripping] for sheet, layout in layouts.items()
    }
    assert plan.run.effort.saw_cuts == ripped + sum(map(len, made.values()))


def test_fence_and_stop_are_set_in_as_many_steps_as_are_counted(plan: JobPlan) -> None:
    """Before the routing the settings of every stock, after it each width of strip once for all stocks."""
    set_up = [step for step in plan.run.steps if step.sawing is not None and step.sawing.setting is not None]
    assert plan.run.effort.saw_fence_settings == len(set_up)
    before = [setting for stock in plan.stocks for setting in stock.sheets.settings if not setting.is_ripping]
    widths = {
        round(cut.setting, 3)
        for stock in plan.stocks
        for layout in stock.sheets.layouts
        for cut in layout.cuts
        if cut.ripping
    }
    assert len(set_up) == sum(setting.length is not None for setting in before) + len(widths)


def rip_works(plan: JobPlan) -> list[Rip | TakeWhole]:
    return [item for step in plan.run.steps for item in step.work if isinstance(item, Rip | TakeWhole)]


def test_the_strips_that_are_ripped_are_the_parts_that_are_routed(plan: JobPlan) -> None:
    cuts = [cut for item in rip_works(plan) if isinstance(item, Rip) for cut in item.cuts]
    whole = [band.parts[0] for item in rip_works(plan) if isinstance(item, TakeWhole) for band in item.bands]
    freed = [name for cut in cuts for name in (cut.frees, cut.leaves) if name is not None]
    assert Counter([*freed, *whole]) == Counter(PartName.of(part) for part in plan.parts if part.ends)


def test_every_sheet_is_ripped_in_the_order_of_its_numbers_and_no_setting_comes_twice(plan: JobPlan) -> None:
    rips = [item for item in rip_works(plan) if isinstance(item, Rip)]
    fences = [round(item.fence, 3) for item in rips if item.cuts[0].frees is not None]
    assert fences == sorted(set(fences), reverse=True)
    on_sheet = {
        (band.placed.family, band.placed.number): (place, number)
        for place, stock in enumerate(plan.stocks)
        for number, layout in enumerate(stock.sheets.layouts)
        for band in (mark for mark in plan.run.bands if mark.placed in layout.bands)
    }
    numbers: dict[tuple[int, int], list[int]] = {}
    for cut in (cut for item in rips for cut in item.cuts):
        sheet = on_sheet[cut.band.placed.family, cut.band.placed.number]
        numbers.setdefault(sheet, []).append(cut.number)
    drawn = {
        (place, number): [cut.order for cut in layout.cuts if cut.ripping]
        for place, stock in enumerate(plan.stocks)
        for number, layout in enumerate(stock.sheets.layouts)
    }
    assert numbers == {sheet: order for sheet, order in drawn.items() if order}


def test_every_routed_edge_of_every_band_is_told_once(plan: JobPlan) -> None:
    told = Counter(
        (band.number, edge)
        for step in plan.run.steps
        for item in step.work
        if isinstance(item, Rout)
        for band in item.bands
        for edge in ((Edges.FRONT, Edges.BACK) if item.edges is Edges.BOTH else (item.edges,))
    )
    assert told == {(band.number, edge): 1 for band in plan.run.bands for edge in (Edges.FRONT, Edges.BACK)}
    assert {cut.role for setup in plan.run.setups for cut in setup.passes} == set(Role)


def test_bottoms_and_applied_fronts_are_told_by_name(plan: JobPlan) -> None:
    work = [item for step in plan.run.steps for item in step.work]
    for kind, told in (
        (PartKind.BOTTOM, [part for item in work if isinstance(item, CheckBottoms) for part in item.parts]),
        (
            PartKind.APPLIED_FRONT,
            [part for item in work if isinstance(item, ScrewOnFronts) for part in item.parts],
        ),
    ):
        assert Counter(told) == Counter(PartName.of(part) for part in plan.parts if part.kind is kind)


def test_grooves_at_another_height_are_cut_at_a_setting_of_their_own() -> None:
    plan = plan_job(read_job(EXAMPLE), time_limit=0.05)
    raised = {
        part.label: 4.3 if part.kind is PartKind.FRONT else 1e-9 * n for n, part in enumerate(plan.parts)
    }

    def grooved(placed: PlacedPart) -> PlacedPart:
        part = placed.part
        if part.groove is None:
            return placed
        groove = replace(part.groove, height=part.groove.height + raised[part.label])
        return replace(placed, part=replace(part, groove=groove))

    drawers = tuple(
        replace(drawer, placed=tuple(map(grooved, drawer.placed))) for drawer in plan.draft.assembled
    )
    run = plan_run(replace(run_input(plan), drawers=drawers))
    settings = [item for step in run.steps for item in step.work if isinstance(item, CutGrooves)]
    told = {
        (round(item.height, 3), kind)
        for item in settings
        for kind in {each.part.kind for each in item.passes}
    }
    sides = {PartKind.LEFT, PartKind.RIGHT}
    assert told == {
        (13.3, PartKind.FRONT),
        (15.3, PartKind.FRONT),
        *((9.0, kind) for kind in {PartKind.BACK, *sides}),
        *((11.0, kind) for kind in sides),
    }
    assert len(settings) == 4
    lines = [str(line) for step in run.steps for line in step.lines if "near side" in line]
    assert [re.search(r"near side ([\d.]+) mm", line)[1] for line in lines] == ["13.3", "9.0", "15.3", "11.0"]


@pytest.mark.parametrize(
    "rate",
    ["sheet", "saw_cut", "saw_setting", "router_setting", "test_cut", "pull_hole", "glue_up", "runners"],
)
def test_work_that_takes_longer_makes_the_day_longer_by_how_often_it_is_done(
    plan: JobPlan, rate: str
) -> None:
    def minutes(rates: Rates) -> float:
        return plan_run(replace(run_input(plan), rates=rates)).effort.minutes

    usual = Rates()
    more = [replace(usual, **{rate: getattr(usual, rate) + extra}) for extra in (1.0, 2.0)]
    often = minutes(more[0]) - minutes(usual)
    assert minutes(more[1]) - minutes(usual) == pytest.approx(2 * often)
    assert often == pytest.approx(round(often))
    done = {
        "sheet": sum(len(stock.sheets.layouts) for stock in plan.stocks),
        "saw_cut": plan.run.effort.saw_cuts,
        "router_setting": len(plan.run.setups),
        "test_cut": len(plan.run.setups),
        "pull_hole": len(plan.pull_holes),
        "glue_up": len(plan.job.all_boxes),
        "runners": len(plan.runner_lines),
    }
    assert often >= 1 if rate == "saw_setting" else often == pytest.approx(done[rate])
