"""Sheets planned in processes of their own come out as they do in this one; what goes wrong there is told here."""

from __future__ import annotations

import subprocess
from collections.abc import Iterator
from typing import Any

import pytest

from drawerwright.basics.errors import NoPlanError, SolverError
from drawerwright.job.file.building import read_job
from drawerwright.job.planning import planner_process
from drawerwright.job.planning.job_plan import plan_job
from drawerwright.job.planning.planner_process import plan_in_process
from drawerwright.sheets.blanks import LooseDemand
from drawerwright.sheets.plan import PlanProgress, SheetProblem, plan_sheets
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize

TWO_STOCKS = """format: 1
job: Two stocks
cutter: {mid_depth: 6, step: 4, diameter: 44, max_speed: 16000}
stock:
  sides: {panel: birch-plywood, nominal: 12, measured: [12.1], sheets: [{length: 1250, width: 650}]}
  thin: {panel: birch-plywood, nominal: 6, measured: [6.1], sheets: [{length: 1250, width: 650}]}
boxes:
  - name: Box
    box: {all: sides}
    bottom: {stock: thin}
    outer: {width: 400, depth: 300, height: 120}
"""


@pytest.fixture(autouse=True)
def _any_stock_is_worth_a_process(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(planner_process, "WORTH_A_PROCESS", 0)


def shelves(*lengths: float, sheet: float = 1000) -> SheetProblem:
    """Shelves 300 wide out of sheets as wide."""
    loose = tuple(LooseDemand(f"shelf {length:g}", length, 300, 1) for length in lengths)
    return SheetProblem("pine", (SheetSize(f"{sheet:g} × 300", sheet, 300),), Saw(0.0), loose=loose)


def test_another_process_plans_the_same_sheets() -> None:
    """Bins of 1000: 600 + 400 and 700 + 300 fill two, and less than two cannot hold 2000."""
    problem, told = shelves(600, 700, 300, 400), list[PlanProgress]()
    plan = plan_in_process(problem, progress=told.append)
    assert plan.proven
    assert plan.problem is problem
    assert plan.layouts == plan_sheets(problem).layouts
    assert len(plan.layouts) == 2
    assert told[0].lower_bound == 2


def test_a_part_that_fits_no_sheet_is_refused_in_the_same_words() -> None:
    problem = shelves(1200)
    with pytest.raises(NoPlanError) as here:
        plan_sheets(problem)
    with pytest.raises(NoPlanError) as there:
        plan_in_process(problem)
    assert str(there.value) == str(here.value)
    assert there.value.keys == here.value.keys


def test_a_search_that_is_stopped_brings_what_it_has() -> None:
    plan = plan_in_process(shelves(600, 700, 300, 400), cancelled=lambda: True)
    assert len(plan.layouts) >= 2


def test_a_process_that_ends_without_a_word_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(planner_process, "BEGIN", "raise SystemExit(7)")
    with pytest.raises(SolverError, match="code 7"):
        plan_in_process(shelves(600))


def test_a_process_ends_with_the_one_that_began_it(monkeypatch: pytest.MonkeyPatch) -> None:
    begun: list[subprocess.Popen[bytes]] = []

    class Begun(subprocess.Popen[bytes]):
        def __init__(self, *given: Any, **how: Any) -> None:
            super().__init__(*given, **how)
            begun.append(self)

    def heard(*_given: object) -> Iterator[Any]:
        raise KeyboardInterrupt
        yield

    monkeypatch.setattr(subprocess, "Popen", Begun)
    monkeypatch.setattr(planner_process, "_heard", heard)
    with pytest.raises(KeyboardInterrupt):
        plan_in_process(shelves(600))
    assert begun[0].returncode is not None


def test_a_job_comes_out_alike_however_many_stocks_are_planned_at_once() -> None:
    job = read_job(TWO_STOCKS)
    one, other = (
        [(stock.blanks.stock.name, stock.sheets.cost, stock.sheets.proven) for stock in plan.stocks]
        for plan in (plan_job(job), plan_job(job, planner=plan_in_process, at_once=4))
    )
    assert other == one
    assert len(one) == 2


def test_one_stock_that_cannot_be_cut_ends_the_search_of_the_others() -> None:
    asked: list[bool] = []

    def planner(problem: SheetProblem, **how: Any) -> Any:
        if problem.stock == stocks[0]:
            raise NoPlanError("too long")
        while not how["cancelled"]():
            pass
        asked.append(True)
        return plan_sheets(problem, **how)

    job = read_job(TWO_STOCKS)
    stocks = list(job.sheet_sizes)
    with pytest.raises(NoPlanError, match="too long"):
        plan_job(job, planner=planner, at_once=4)
    assert asked
