"""The cut list of a stock tells every cut of every sheet once, and of every blank once where it comes free."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from pathlib import Path

import pytest

from drawerwright.job.file.building import read_job
from drawerwright.job.papers.cut_lists import cut_list
from drawerwright.job.papers.plan_data import plan_report
from drawerwright.job.papers.plan_files import TABLES
from drawerwright.job.pictures.run_pictures import step_sheet_pictures
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.run.work import CutSheet

EXAMPLE = (Path(__file__).parents[3] / "examples" / "music-school.yaml").read_text("utf-8")


@pytest.fixture(scope="module")
def plan() -> JobPlan:
    return plan_job(read_job(EXAMPLE), time_limit=0.1)


def test_every_cut_is_listed_once_in_the_order_of_its_sheet(plan: JobPlan) -> None:
    for stock in plan.stocks:
        listed: dict[int, list[int]] = {}
        for row in cut_list(plan, stock):
            for each in row.setting.sheets:
                listed.setdefault(each.sheet, []).extend(each.numbers)
        drawn = {
            number: [cut.order for cut in layout.cuts]
            for number, layout in enumerate(stock.sheets.layouts, start=1)
        }
        assert listed == drawn


def test_every_band_and_every_loose_part_comes_free_once(plan: JobPlan) -> None:
    bands: Counter[int] = Counter()
    loose: Counter[str] = Counter()
    for stock in plan.stocks:
        for row in cut_list(plan, stock):
            for item in row.freeing:
                bands.update(band.number for band in item.bands)
                loose.update(f"{mark.part.drawer} {mark.part.kind}" for mark in item.loose)
    assert bands == {band.number: 1 for band in plan.run.bands}
    assert loose == {part.label: 1 for part in plan.parts if part.is_loose}


def test_a_row_reads_as_it_is_cut(plan: JobPlan) -> None:
    rows = cut_list(plan, plan.stocks[-1])
    assert str(rows[0].cut) == "trim"
    assert rows[0].count == 4 * len(plan.stocks[-1].sheets.layouts)
    kinds = {str(row.cut) for stock in plan.stocks for row in cut_list(plan, stock)}
    assert kinds == {"trim", "crosscut", "rip", "rip, after routing"}
    for row in rows:
        assert str(row.where).count(":") == len({each.numbers for each in row.setting.sheets})


def test_a_step_shows_the_sheets_that_it_cuts_and_one_of_each_size_that_it_fetches(plan: JobPlan) -> None:
    sizes = [{layout.size for layout in stock.sheets.layouts} for stock in plan.stocks]
    fetching = [step for step in plan.run.steps if step.title.startswith("Fetch")]
    assert [len(step_sheet_pictures(plan, step)) for step in fetching] == list(map(len, sizes))
    cutting = [
        step
        for step in plan.run.steps
        if step.sawing and step.sawing.sheets and step.sawing.setting is not None
    ]
    widest = max(cutting, key=lambda step: len(step.sawing.sheets) if step.sawing else 0)
    assert widest.sawing is not None
    assert len(step_sheet_pictures(plan, widest)) == len(widest.sawing.sheets) > 1
    assert step_sheet_pictures(plan, plan.run.steps[-1]) == []


def test_the_drawing_beside_a_step_numbers_the_cuts_of_the_step_alone(plan: JobPlan) -> None:
    """Among the numbers of all cuts, set small, those of the step were looked for."""
    numbered = 0
    for step in plan.run.steps:
        cuts = {item.number: item.cuts for item in step.work if isinstance(item, CutSheet)}
        if step.sawing is None or step.sawing.setting is None:
            continue
        for (place, number), sheet in zip(step.sawing.sheets, step_sheet_pictures(plan, step), strict=True):
            every = {str(cut.order) for cut in plan.stocks[place].sheets.layouts[number - 1].cuts}
            for picture in (sheet.wide, sheet.narrow):
                shown = set(re.findall(r">(\d+)</text>", picture)) & every
                assert shown == {str(cut.order) for cut in cuts[number]}
                numbered += 1
            assert f"sheet {number}" in str(sheet.name)
    assert numbered > 20


def test_table_and_report_say_the_same(plan: JobPlan) -> None:
    told = [
        (
            block["stock"],
            "" if setting["setting"] is None else f"{setting['setting']:.2f}",
            each["sheet"],
            " ".join(map(str, each["cuts"])),
        )
        for block in plan_report(plan)["sheets"]
        for setting in block["settings"]
        for each in setting["sheets"]
    ]
    rows = csv.DictReader(io.StringIO(TABLES["cuts.csv"](plan)))
    assert [(row["stock"], row["setting_mm"], int(row["sheet"]), row["numbers"]) for row in rows] == told
