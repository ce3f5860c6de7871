"""Whole job files of the kind that a shop has: never dearer than the best plan known, and proven.

Reference costs: benchmarks/data/real-jobs/reference.json, found for this project by a study with another programme
(parts assigned to columns by their material, packed by subset sums, HiGHS); no source outside the project. The larger
jobs run in benchmarks/real_jobs.py.
"""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.job_plan import open_job
from drawerwright.sheets import referee
from drawerwright.sheets.plan import SheetPreferences, SheetProblem, plan_sheets

FOLDER = Path(__file__).parents[2] / "benchmarks" / "data" / "real-jobs"
REFERENCE = json.loads((FOLDER / "reference.json").read_text(encoding="utf-8"))
SECONDS = 60.0
"""A limit that only a stuck search reaches: each of these is proven in a second."""


def problem_of(name: str, stock: str = "box") -> SheetProblem:
    draft = draft_job(open_job(FOLDER / f"{name}.yaml"))
    return draft.sheet_problem(next(blanks for blanks in draft.blanks if blanks.stock.name == stock))


def of_least_cost(problem: SheetProblem) -> SheetProblem:
    """Without the later aims, which take their share of the limit."""
    return replace(problem, preferences=SheetPreferences(()))


@pytest.mark.parametrize("name", ["job00", "job02", "job04", "job06", "job08", "job10", "job12", "job16"])
def test_problem_of_without_trimmed_bands_costs_no_more_than_the_best_known(name: str) -> None:
    """Source: the study named at the head of this file."""
    plan = plan_sheets(
        replace(problem_of(name), preferences=SheetPreferences((), trim_bands=False)), time_limit=SECONDS
    )
    assert referee.check(plan) == []
    assert plan.figures.new_sheet_cost <= REFERENCE[name]["cost"]
    assert plan.proven
    assert plan.lower_bound == REFERENCE[name]["bound"]


@pytest.mark.parametrize("name", ["job00", "job02", "job08", "job18"])
def test_trimmed_bands_save_sheets_on_the_problem_of(name: str) -> None:
    """Source for job18: the study; the others are figures of this planner, each checked by the referee."""
    plan = plan_sheets(of_least_cost(problem_of(name)), time_limit=SECONDS)
    assert referee.check(plan) == []
    assert plan.figures.new_sheet_cost <= REFERENCE[name]["trimmed"]


def test_fourteen_bottoms_that_fill_nine_tenths_of_a_sheet_come_from_one() -> None:
    """Columns of several widths are counted before they are filled. No source: the referee counts and saws."""
    plan = plan_sheets(of_least_cost(problem_of("job02", "thin")), time_limit=SECONDS)
    assert referee.check(plan) == []
    assert (plan.figures.new_sheets, plan.proven) == (1, True)


@pytest.mark.parametrize("name", ["job00", "job02", "job08", "leftover"])
def test_what_is_left_over_is_nine_tenths_of_the_largest_known(name: str) -> None:
    """Source: the study named at the head of this file, which shrank the last sheet by bisection (no band trimmed)."""
    problem = replace(problem_of(name), preferences=SheetPreferences(trim_bands=False))
    plan = plan_sheets(problem, time_limit=SECONDS / 2)
    assert referee.check(plan) == []
    assert plan.figures.largest_offcut >= 0.9 * 1e6 * REFERENCE[name]["leftover"]
