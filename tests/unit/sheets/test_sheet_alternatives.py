"""What if: other sizes, a thinner blade, drawers for free, sheets on hand, days."""

from __future__ import annotations

from dataclasses import replace
from typing import NoReturn

import pytest

from drawerwright.basics.errors import InvalidValueError, NoPlanError
from drawerwright.sheets import alternatives, referee
from drawerwright.sheets.alternatives import (
    Batch,
    compare_alternatives,
    drawers_for_free,
    left_after,
    most_within_stock,
    with_batches,
)
from drawerwright.sheets.blanks import StripDemand
from drawerwright.sheets.plan import SheetPreferences, SheetProblem, plan_sheets
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import LeastOffcut, SheetSize

SHEET = SheetSize("1000 × 500", 1000, 500, 20.0)


def drawer(number: int = 0, count: int = 2) -> Batch:
    return Batch(f"drawer {number}", (StripDemand("side", "sides", 480, 120, count),))


def problem(size: SheetSize = SHEET, kerf: float = 3.2) -> SheetProblem:
    return SheetProblem("ash 12", (size,), Saw(kerf))


def test_batches_with_equal_keys_are_counted_together() -> None:
    task = with_batches(problem(), [drawer(), drawer()])
    assert task.demand == {"side": 4}
    other = Batch("odd", (StripDemand("side", "sides", 480, 121, 1),))
    with pytest.raises(InvalidValueError, match="different size"):
        with_batches(task, [other])


def test_a_thinner_blade_saves_a_sheet_where_the_kerf_was_in_the_way() -> None:
    """Worked by hand: 4 × 122.8 + 3 × 2.2 = 497.8 fits 500, with a kerf of 3.2 it is 500.8."""
    strips = (StripDemand("side", "sides", 480, 122.8, 8),)
    plan = plan_sheets(SheetProblem("ash 12", (SHEET,), Saw(3.2), strips=strips))
    assert plan.figures.new_sheets == 2
    (thinner,) = compare_alternatives(plan)
    assert thinner.saving == 20.0
    assert thinner.plan is not None
    assert referee.check(thinner.plan) == []


def test_what_allows_all_that_today_does_is_never_dearer(monkeypatch: pytest.MonkeyPatch) -> None:
    """A search that ran out of time finds too many sheets, or none; the pieces still come out of today's sheets."""
    size = replace(SHEET, price=None)
    plan = plan_sheets(with_batches(problem(size), [drawer()]))
    wasteful = plan_sheets(with_batches(problem(size), [drawer(count=20)]))
    assert (plan.figures.new_sheets, wasteful.figures.new_sheets) == (1, 3)
    monkeypatch.setattr(alternatives, "plan_sheets", lambda _problem, *, time_limit: wasteful)
    small = SheetSize("600 × 400", 600, 400)
    smaller, thinner = compare_alternatives(plan, other_sizes=(small,))
    assert (thinner.plan, thinner.saving) == (plan, 0.0)
    assert (smaller.plan, smaller.saving) == (wasteful, -2.0)

    def out_of_time(_problem: SheetProblem, *, time_limit: float) -> NoReturn:
        raise NoPlanError("no plan found in time")

    monkeypatch.setattr(alternatives, "plan_sheets", out_of_time)
    smaller, thinner = compare_alternatives(plan, other_sizes=(small,))
    assert (thinner.plan, thinner.saving, thinner.reason) == (plan, 0.0, None)
    assert smaller.plan is None


def test_other_sizes_are_compared_by_cost_and_refused_with_a_reason() -> None:
    plan = plan_sheets(with_batches(problem(), [drawer()]))
    small = SheetSize("400 × 400", 400, 400, 5.0)
    half = SheetSize("500 × 500", 500, 500, 9.0)
    refused, cheaper, _ = compare_alternatives(plan, other_sizes=(small, half))
    assert refused.plan is None
    assert refused.reason == "side fits on none of these sheets"
    assert cheaper.saving == 11.0


def test_drawers_for_free_fill_the_sheets_that_are_cut_anyway() -> None:
    """A sheet holds 2 × 4 strips; two are taken, so three more drawers of two strips come for free."""
    plan = plan_sheets(with_batches(problem(), [drawer()]))
    free = drawers_for_free(plan, drawer())
    assert free.count == 3
    assert free.plan is not None
    assert referee.check(free.plan) == []


def test_sheets_on_hand_say_how_many_drawers() -> None:
    """Two sheets hold 16 strips: eight drawers of two."""
    stock = SheetSize("1000 × 500", 1000, 500, 20.0, 2)
    answer = most_within_stock(problem(stock), [drawer(number) for number in range(12)])
    assert answer.count == 8
    assert answer.plan is not None
    assert referee.check(answer.plan) == []


def test_the_next_day_uses_what_the_day_before_left() -> None:
    first = plan_sheets(with_batches(problem(), [drawer()]))
    second = plan_sheets(with_batches(replace(problem(), sizes=left_after(first, 1)), [drawer()]))
    assert first.figures.new_sheets == 1
    assert second.figures.new_sheets == 0
    assert second.figures.offcuts_used >= 1
    assert referee.check(second) == []


def test_only_what_is_worth_keeping_goes_back_to_the_rack() -> None:
    """By hand: two strips leave 516.8 × 500 of the sheet beside them, and 480 × 253.6 above them."""
    crosscut = replace(problem(), preferences=SheetPreferences(()))
    task = with_batches(crosscut, [drawer()])
    for least, kept in (
        (LeastOffcut(), [(516.8, 500.0), (480.0, 253.6)]),
        (LeastOffcut(516.8, 300), [(516.8, 500.0)]),
        (LeastOffcut(480, 253.6), [(516.8, 500.0), (480.0, 253.6)]),
        (LeastOffcut(517, 100), []),
    ):
        plan = plan_sheets(replace(task, least_offcut=least))
        assert referee.check(plan) == []
        assert sum(len(layout.offcuts) for layout in plan.layouts) == 2
        assert [(offcut.length, offcut.width) for offcut in plan.kept_offcuts] == kept
        assert plan.figures.largest_offcut == (kept[0][0] * kept[0][1] if kept else 0.0)
        left = [size for size in left_after(plan, 1) if size.is_offcut]
        assert [(size.length, size.width) for size in left] == kept


def test_the_least_offcut_counts_whichever_way_the_grain_runs() -> None:
    least = LeastOffcut(600, 200)
    assert least.keeps(200, 600)
    assert least.keeps(600, 200)
    assert not least.keeps(599, 400)
    assert not least.keeps(2000, 199)


@pytest.mark.parametrize(
    ("length", "width", "least"),
    [(None, None, (100, 100)), (80, None, (80, 80)), (None, 250, (250, 250)), (600, None, (600, 100))],
)
def test_a_side_that_is_not_named_is_the_usual_one(
    length: float | None, width: float | None, least: tuple[float, float]
) -> None:
    assert LeastOffcut.of(length, width) == LeastOffcut(*least)
