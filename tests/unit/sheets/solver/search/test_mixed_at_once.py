"""Columns in which bands of several lengths lie, made at once."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace

import pytest

from drawerwright.sheets import referee
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.blanks import LooseDemand, StripDemand
from drawerwright.sheets.plan import plan_sheets
from drawerwright.sheets.problem import SheetProblem
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize
from drawerwright.sheets.solver.columns import Band
from drawerwright.sheets.solver.filling.mixed_columns import mixed_columns
from drawerwright.sheets.solver.search.mixed_at_once import mixed_at_once
from drawerwright.sheets.solver.task import area_bound
from drawerwright.sheets.solver.translation import translate

SHEETS = (
    SheetSize("long", 2500, 1250, 74.5),
    SheetSize("square", 1525, 1525, 46.2),
    SheetSize("short", 2440, 1220, 69.0),
)
OFFCUTS = (SheetSize("offcut 1", 930, 610, is_offcut=True), SheetSize("offcut 2", 1240, 402, is_offcut=True))
RULES = BandRules(14.0, 2, 150.0, 1300.0)


def boxes(count: int, *sizes: SheetSize, can_turn: bool = True) -> SheetProblem:
    """As many boxes, no two of which are alike."""
    dice = random.Random(count)
    strips: list[StripDemand] = []
    for box in range(count):
        length, width, height = dice.randint(250, 700), dice.randint(150, 500), dice.randint(60, 220)
        strips += [
            StripDemand(f"{box} {side}", f"{box} {side}", side, height, 2, can_turn)
            for side in (length, width)
        ]
    return SheetProblem("box", sizes, Saw(3.2, 6.0), RULES, tuple(strips))


def taken_from_bands(problem: SheetProblem) -> float:
    """Cost of the parts' area with that of sacrificial strips at the ends of a band for each length, in new sheets."""
    area = sum(s.length * (s.count * (s.height + 3.2) + 2 * (14 + 3.2)) for s in problem.strips)
    return area * min(
        float(size.price or 0) / (size.length * size.width) for size in problem.sizes if size.price
    )


@pytest.mark.parametrize("can_turn", [True, False])
def test_boxes_none_of_which_are_alike_cost_little_more_than_their_area(can_turn: bool) -> None:
    """With a column of its own for each length they took four times their area, and with little time still did."""
    problem = boxes(20, *SHEETS, can_turn=can_turn)
    plan = plan_sheets(problem, time_limit=0.02)
    assert referee.check(plan) == []
    assert plan.figures.new_sheet_cost < taken_from_bands(problem) + 46.2 + 23.1


@pytest.mark.parametrize("seed", range(4))
def test_all_that_is_wanted_is_cut_once(seed: int) -> None:
    """Offcuts are used first; loose parts lie beside the bands; the cost is no less than the area asks for."""
    dice = random.Random(seed)
    loose = tuple(
        LooseDemand(f"panel {n}", dice.randint(200, 600), dice.randint(150, 500), dice.randint(1, 4))
        for n in range(3)
    )
    strips = boxes(8 + seed, *SHEETS).strips
    problem = replace(boxes(8 + seed, *SHEETS, *OFFCUTS), loose=loose, strips=(*strips, *strips[:3]))
    problem = replace(
        problem, strips=tuple(replace(s, key=f"{n}", count=9) for n, s in enumerate(problem.strips))
    )
    task = translate(problem).task
    sheets = mixed_at_once(task) or []
    held = Counter[int]()
    for sheet in sheets:
        frame = task.frames[sheet.frame]
        assert sum(stack.u + task.sizing.kerf for stack in sheet.stacks) <= frame.length + task.sizing.kerf
        for stack in sheet.stacks:
            assert stack.v <= frame.width
            assert all(element.u <= stack.u for element in stack.elements)
            assert all(e.v <= 13_000 for e in stack.elements if isinstance(e, Band))
            held.update(dict(stack.takes))
    assert [held[demand] for demand in range(len(task.demand))] == list(task.demand)
    used = Counter(task.frames[sheet.frame].size for sheet in sheets)
    assert all(used[size] == 1 for size, kind in enumerate(problem.sizes) if kind.is_offcut)
    assert sum(task.frames[sheet.frame].cost for sheet in sheets) >= area_bound(task)


def test_a_column_takes_along_what_fills_it() -> None:
    """By hand: 100 wide and 200 long; beside the 90 that opens it 60 and 40 fill it, and not the longer 80."""
    bands = [Band(n, u, v, ((n, 1),)) for n, (u, v) in enumerate([(100, 96), (90, 76), (90, 58), (90, 38)])]
    columns = mixed_columns(bands, 200, 2)
    assert [[(band.u, band.v) for band in column] for column in columns] == [
        [(100, 96), (90, 58), (90, 38)],
        [(90, 76)],
    ]
