"""Plans that fill one sheet after the other."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

import pytest

from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.blanks import StripDemand
from drawerwright.sheets.problem import SheetPreferences, SheetProblem
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize
from drawerwright.sheets.solver.columns import FilledSheet
from drawerwright.sheets.solver.outcome import Outcome, Watch
from drawerwright.sheets.solver.search import in_columns
from drawerwright.sheets.solver.search.greedy import fill_sheets
from drawerwright.sheets.solver.task import Task
from drawerwright.sheets.solver.translation import translate

PROBLEM = SheetProblem(
    "birch 15",
    (SheetSize("2440 × 1220", 2440, 1220),),
    Saw(3.2, 8.0),
    BandRules(14.0, 2, 150.0, 1300.0),
    tuple(
        StripDemand(f"{length} {height}", f"{length}", length, height, 3)
        for length in (310, 365, 402, 448, 520)
        for height in (92, 117, 143, 168, 204)
    ),
)


@pytest.mark.parametrize("turns", [0, 2, 5])
def test_in_haste_the_rest_is_planned_at_once(turns: int) -> None:
    """All that is wanted is cut, nothing twice; what was filled in turn comes first, as long as there is time."""
    task = translate(PROBLEM).task
    whole = fill_sheets(task, task.areas) or []
    hastes = iter([False] * 2 * turns)
    sheets = fill_sheets(task, task.areas, in_haste=lambda: next(hastes, True)) or []
    assert Counter(
        d for sheet in sheets for s in sheet.stacks for d, n in s.takes for _ in range(n)
    ) == Counter({demand: count for demand, count in enumerate(task.demand) if count})
    in_time = min(turns, len(whole))
    assert sheets[:in_time] == whole[:in_time]
    assert len(sheets) <= 1.2 * len(whole)


def test_counting_columns_that_ends_without_a_plan_leaves_sheets_filled_in_turn(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Of two priced sizes and thousands of parts, counting that time cut short once left five times as many sheets."""
    two = (SheetSize("2440 × 1220", 2440, 1220, 78.0), SheetSize("1525 × 1525", 1525, 1525, 61.5))
    task = translate(replace(PROBLEM, sizes=two, preferences=SheetPreferences(trim_bands=False))).task

    def begun(task: Task, watch: Watch, *, known: Sequence[Sequence[FilledSheet]], **_: object) -> Outcome:
        return Outcome(tuple(known[0]), sum(task.frames[sheet.frame].cost for sheet in known[0]), 0)

    monkeypatch.setattr(in_columns._Counting, "go_on", lambda *_: True)
    monkeypatch.setattr(in_columns, "search", begun)
    outcome = in_columns.search_in_columns(task, Watch(math.inf))
    assert outcome is not None
    filled = fill_sheets(task, task.areas) or []
    assert outcome.cost == sum(task.frames[sheet.frame].cost for sheet in filled)
