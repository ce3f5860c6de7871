"""Sheets emptied and filled anew, against the fewest that boxes no two of which are alike can need."""

from __future__ import annotations

import random

import pytest

from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.blanks import StripDemand
from drawerwright.sheets.problem import SheetProblem
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize
from drawerwright.sheets.solver.clock import now
from drawerwright.sheets.solver.outcome import Watch
from drawerwright.sheets.solver.search import repacking
from drawerwright.sheets.solver.search.best_so_far import BestSoFar, fullness
from drawerwright.sheets.solver.search.mixed_at_once import mixed_at_once
from drawerwright.sheets.solver.search.repacking import Repacking
from drawerwright.sheets.solver.task import Task, area_bound
from drawerwright.sheets.solver.translation import translate

NEW, OFFCUT = SheetSize("new", 2440, 1220), SheetSize("offcut", 700, 500, is_offcut=True)


def boxes(count: int, *offcuts: SheetSize, sizes: tuple[SheetSize, ...] = (NEW,)) -> Task:
    """As many boxes, each with sides of its own, from new sheets and offcuts."""
    dice = random.Random(3)
    strips = tuple(
        StripDemand(f"{box} {side}", f"{box} {side}", dice.randint(180, 620), dice.randint(60, 180), 2, False)
        for box in range(count)
        for side in ("side", "front")
    )
    problem = SheetProblem(
        "box", (*sizes, *offcuts), Saw(3.2, 6.0), BandRules(14.0, 2, 150.0, 1300.0), strips
    )
    return translate(problem).task


def begun(task: Task) -> BestSoFar:
    found = BestSoFar(task, Watch(now() + 60), area_bound(task))
    found.offer(mixed_at_once(task))
    return found


@pytest.mark.parametrize(("count", "offcuts"), [(10, ()), (21, ()), (12, (OFFCUT,))])
def test_sheets_filled_anew_reach_the_fewest_that_the_parts_can_need(
    count: int, offcuts: tuple[SheetSize, ...]
) -> None:
    """`offer` looks that every part is cut; no plan takes fewer sheets than the area of parts and kerfs asks for."""
    found = begun(boxes(count, *offcuts))
    assert found.cost > found.bound
    Repacking(found, random.Random(1)).run(found.watch)
    assert found.cost == found.bound


def test_the_search_ends_where_nothing_better_comes() -> None:
    """One sheet holds all, and no plan takes none: only that the bound is not known keeps it going."""
    found = begun(boxes(3))
    found.bound = 0
    Repacking(found, random.Random(1)).run(found.watch)
    assert found.cost == 1
    assert not found.is_done


def test_of_plans_of_one_cost_the_emptier_last_sheet_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(repacking, "PATIENCE", 4)
    task = boxes(11)
    found = begun(task)
    assert found.best is not None
    before = min(fullness(task, found.best))
    Repacking(found, random.Random(1)).run(found.watch)
    assert found.cost == len(found.best) == 2
    assert min(fullness(task, found.best)) < before


def test_sheets_that_are_dearer_by_their_area_are_tried_alone() -> None:
    """Of the larger sheet one holds all; the smaller one is cheaper by its area, but two of them cost more."""
    larger, smaller = SheetSize("larger", 2440, 1220, 74.5), SheetSize("smaller", 1600, 1220, 46.0)
    found = begun(boxes(9, sizes=(larger, smaller)))
    cheapest = min(frame.cost for frame in found.task.frames)
    dearer = max(frame.cost for frame in found.task.frames)
    found.best, found.cost = None, 2 * cheapest
    Repacking(found, random.Random(1)).try_one_size(found.watch)
    assert found.cost == dearer < 2 * cheapest
