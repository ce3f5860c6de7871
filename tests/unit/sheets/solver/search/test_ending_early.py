"""A search that has to end at once still has a plan, however many parts there are."""

from __future__ import annotations

import random
import time

from drawerwright.sheets import referee
from drawerwright.sheets.blanks import LooseDemand, StripDemand
from drawerwright.sheets.plan import plan_sheets
from drawerwright.sheets.problem import SheetProblem
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize

SECONDS = 4.0
"""Of the processor, on a slow machine too: the first plan alone once took forty."""


def test_a_cancelled_search_of_many_kinds_ends_at_once_with_a_plan() -> None:
    dice = random.Random(3)
    loose = tuple(
        LooseDemand(
            f"{n}", dice.randint(2500, 6000) / 10, dice.randint(2500, 6000) / 10, dice.randint(1, 4), True
        )
        for n in range(237)
    )
    strips = tuple(StripDemand(f"s{n}", f"f{n % 9}", 300 + n % 9, 80 + n, 2) for n in range(60))
    problem = SheetProblem(
        "thin", (SheetSize("sheet", 2500, 1250, 40.0),), Saw(3.2, 6.0), strips=strips, loose=loose
    )
    began = time.process_time()
    plan = plan_sheets(problem, cancelled=lambda: True)
    assert time.process_time() - began < SECONDS
    assert referee.check(plan) == []
