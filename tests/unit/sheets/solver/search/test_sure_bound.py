"""Bounds where not every width of column is tried."""

from __future__ import annotations

import random

import pytest

from drawerwright.sheets.blanks import LooseDemand
from drawerwright.sheets.plan import plan_sheets
from drawerwright.sheets.problem import SheetProblem
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize
from drawerwright.sheets.solver.clock import now
from drawerwright.sheets.solver.filling import row_widths
from drawerwright.sheets.solver.programme.master import Master
from drawerwright.sheets.solver.translation import translate


def problem_of(dice: random.Random) -> SheetProblem:
    loose = tuple(
        LooseDemand(f"front {number}", dice.randint(180, 700), dice.randint(90, 400), dice.randint(1, 3))
        for number in range(6)
    )
    sizes = (SheetSize("large", 1500, 900, price=40.0), SheetSize("small", 1100, 800, price=29.0))
    return SheetProblem("ash 18", sizes, Saw(3.0, 5.0), loose=loose)


@pytest.mark.parametrize("seed", range(6))
def test_classes_of_widths_ask_for_no_more_than_all_widths_do(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    problem = problem_of(random.Random(seed))
    monkeypatch.setattr(row_widths, "MOST_WIDTHS", 10**6)  # every sum of parts is a width
    complete = translate(problem).task
    monkeypatch.setattr(row_widths, "MOST_WIDTHS", 5)
    monkeypatch.setattr(row_widths, "MOST_STANDING", 5)
    monkeypatch.setattr(row_widths, "MOST_CLASSES", 20)
    few = translate(problem).task
    assert complete.is_complete
    assert not few.is_complete
    exact, relaxed = Master(complete), Master(few.bounding)
    for master in (exact, relaxed):
        master.generate(now() + 60, closer=True)
    assert 0.9 * exact.ideal < relaxed.bound <= exact.ideal * (1 + 1e-9)


def test_parts_that_length_alone_keeps_apart_are_proven_to_need_a_sheet_each(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(row_widths, "MOST_WIDTHS", 2)
    monkeypatch.setattr(row_widths, "MOST_STANDING", 2)
    loose = (
        *(LooseDemand(f"door {n}", 1400 + n, 655, 1) for n in range(3)),
        LooseDemand("shelf", 300, 200, 2),
    )
    problem = SheetProblem("ash 18", (SheetSize("sheet", 2440, 1220, price=70.0),), Saw(3.0), loose=loose)
    assert not translate(problem).task.is_complete
    plan = plan_sheets(problem, time_limit=20)
    assert plan.figures.new_sheet_cost == plan.lower_bound == 3 * 70.0  # by area alone one sheet would do
    assert plan.proven
