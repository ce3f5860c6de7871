"""Sheets are searched for once, until their parts change, the search was ended early, or somebody wants it anew."""

from __future__ import annotations

from typing import Any

import pytest

from drawerwright.job.file.building import read_job
from drawerwright.job.planning import kept_sheets
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.job_plan import plan_job
from drawerwright.job.planning.kept_sheets import KeptSheets
from drawerwright.job.weighing import bytes_of
from drawerwright.sheets.plan import SheetProblem, plan_sheets

BOX = """format: 1
job: One box
cutter: {mid_depth: 6, step: 4, diameter: 44, max_speed: 16000}
stock:
  panel12: {nominal: 12, measured: [12.1], grain: none, sheets: [{length: 1250, width: 650}]}
boxes:
  - {name: Box, box: {all: panel12}, outer: {width: 400, depth: 300, height: 120}}
"""


class Searches(list[SheetProblem]):
    """A planner, and the problems that it was asked for, one after the other."""

    def __call__(self, problem: SheetProblem, **how: Any) -> Any:
        self.append(problem)
        return plan_sheets(problem, **how)


@pytest.fixture
def searched() -> Searches:
    return Searches()


def test_a_change_beside_the_sheets_keeps_them(searched: Searches) -> None:
    kept = KeptSheets(searched)
    plan = plan_job(read_job(BOX), planner=kept.plan)
    slower = plan_job(read_job(BOX.replace("16000", "9000")), planner=kept.plan)
    assert [stock.sheets for stock in slower.stocks] == [stock.sheets for stock in plan.stocks]
    assert slower.job.cutters_in_use != plan.job.cutters_in_use
    assert len(searched) == 1
    wider = plan_job(read_job(BOX.replace("width: 400", "width: 410")), planner=kept.plan)
    assert wider.stocks[0].sheets.problem == searched[1] != searched[0]


def test_a_search_that_was_ended_early_or_is_wanted_anew_is_made_again(searched: Searches) -> None:
    kept = KeptSheets(searched)
    draft = draft_job(read_job(BOX))
    problem = draft.sheet_problem(draft.blanks[0])
    kept.plan(problem, cancelled=lambda: True)
    kept.plan(problem, cancelled=lambda: False)
    kept.plan(problem, cancelled=lambda: False)
    assert len(searched) == 2
    kept.plan(problem, time_limit=2)
    assert len(searched) == 3
    kept.forget()
    kept.plan(problem)
    assert len(searched) == 4


def test_no_more_is_kept_than_there_is_room_for(searched: Searches, monkeypatch: pytest.MonkeyPatch) -> None:
    draft = draft_job(read_job(BOX))
    problem = draft.sheet_problem(draft.blanks[0])
    room = 2.5 * bytes_of(((problem, 1), plan_sheets(problem)))  # for two plans, not for three
    monkeypatch.setattr(kept_sheets, "MOST_KEPT_BYTES", room)
    kept = KeptSheets(searched)
    for seconds in (1, 2, 1, 3):
        kept.plan(problem, time_limit=seconds)
    assert len(searched) == 3
    kept.plan(problem, time_limit=1)
    assert len(searched) == 3
    kept.plan(problem, time_limit=2)  # asked for longest ago
    assert len(searched) == 4


def test_a_plan_that_there_is_no_room_for_is_made_all_the_same(
    searched: Searches, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(kept_sheets, "MOST_KEPT_BYTES", 1)
    kept = KeptSheets(searched)
    draft = draft_job(read_job(BOX))
    problem = draft.sheet_problem(draft.blanks[0])
    for _ in range(2):
        assert kept.plan(problem).problem == problem
    assert len(searched) == 2
