"""A part has one size: what is to be cut is rounded once, and is the same wherever it is told."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawers.parts import Part, PartKind
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.cut_lists import cut_list_table
from drawerwright.job.papers.plan_data import plan_report
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.job_plan import JobPlan, plan_job

EXAMPLES = Path(__file__).parents[3] / "examples"
STEPS = {"repair-bench": 0.005 * 25.4, "music-school": 0.1}


@pytest.fixture(scope="module")
def bench() -> JobPlan:
    return plan_job(read_job((EXAMPLES / "repair-bench.yaml").read_text("utf-8")), time_limit=0.3)


@pytest.mark.parametrize("name", STEPS)
@pytest.mark.parametrize("coarse", [None, 25.4 / 16, 0.5])
def test_what_is_cut_lies_on_the_step_and_makes_the_drawer_within_it(name: str, coarse: float | None) -> None:
    job = read_job((EXAMPLES / f"{name}.yaml").read_text("utf-8"))
    job = replace(job, style=replace(job.style, step=coarse))
    step = coarse or STEPS[name]
    for drawer in draft_job(job).assembled:
        for placed in drawer.placed:
            part = placed.part
            for cut in (part.cut_length, part.cut_width):
                assert cut / step == pytest.approx(round(cut / step), abs=1e-4)
        # The finished sizes put the drawer together exactly, the sizes to be cut within the step.
        front, side = drawer[PartKind.FRONT].part, drawer[PartKind.LEFT].part
        across, along = drawer[PartKind.FRONT].bounds, drawer[PartKind.LEFT].bounds
        outer = along[1][1] - along[0][1]
        assert abs(outer + _cut_less_finished(side) - outer) <= step / 2 + 1e-6
        assert abs(_cut_less_finished(front)) <= step / 2 + 1e-6
        assert across[1][0] - across[0][0] == pytest.approx(front.length)


def _cut_less_finished(part: Part) -> float:
    return part.cut_length - (part.length - part.banded_short_edges * part.banding)


def test_every_size_of_a_part_is_told_alike(bench: JobPlan) -> None:
    """Parts list, sheets and cut list of the example in inches."""
    style = bench.job.style
    for stock in bench.stocks:
        wanted = {style.show(part.cut_width, with_unit=False) for part in _of(stock.blanks.stock.name, bench)}
        wanted |= {
            style.show(part.cut_length, with_unit=False) for part in _of(stock.blanks.stock.name, bench)
        }
        for layout in stock.sheets.layouts:
            laid = [strip.height for band in layout.bands for strip in band.strips]
            laid += [size for loose in layout.loose for size in (loose.length, loose.width)]
            laid += [band.length for band in layout.bands]
            assert {style.show(size, with_unit=False) for size in laid} <= wanted
        strip = style.show(bench.job.band_rules.sacrificial_strip, with_unit=False)
        ripped = {str(row[0]) for row in cut_list_table(bench, stock).rows if row[1] == "rip, after routing"}
        assert ripped - {strip} <= wanted
        assert stock.blanks.stock.name != "birch half" or len(ripped) > 3


def _of(stock: str, plan: JobPlan) -> list[Part]:
    return [part for part in plan.parts if part.stock.name == stock]


def test_the_report_keeps_the_exact_length_beside_the_one_to_be_cut(bench: JobPlan) -> None:
    parts = {part.label: part for part in bench.parts}
    for told in plan_report(bench)["parts"]:
        part = parts[told["label"]]
        assert told["length"] == pytest.approx(part.length, abs=0.0005)
        assert told["cut_length"] == pytest.approx(part.cut_length, abs=0.0005)
        assert told["cut_length"] / 0.127 == pytest.approx(round(told["cut_length"] / 0.127), abs=0.01)


def test_a_step_of_sixteenths_shows_sixteenths() -> None:
    style = LengthStyle("in", step=25.4 / 16)
    assert style.show(114.3 + 0.5) == "4.50 in"
    assert style.show(115.5) == "4.5625 in"
    assert re.fullmatch(r"\d+ \d+/\d+ in|\d+ in", LengthStyle("in/64", step=25.4 / 16).show(115.7))
