"""How planning time grows with the number of drawers; `docs/draw_benchmarks.py` draws a kept run.

    python benchmarks/sheets_growth.py [--offcuts N] [--processor]

Batches are made by a fixed rule: side and end lengths and heights of a shop's drawers, two sheet sizes with
prices, kerf 3.2 mm, trim 8 mm, sacrificial strips of 20 mm. Every plan passes the referee. `--offcuts N`
adds N batches of 400 drawers with 30 offcuts on hand. With `--processor` seconds and the time limit are the
processor's, so that other work on the machine does not tell.
"""

from __future__ import annotations

import argparse
import math
import random
import sys
import time
from collections import Counter

from drawerwright.sheets import referee
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.blanks import StripDemand
from drawerwright.sheets.plan import SheetPlan, SheetPreferences, SheetProblem, plan_sheets
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize
from drawerwright.sheets.solver import outcome

COUNTS = (6, 24, 100, 400, 2_000, 10_000)
LENGTHS = (268.4, 318.4, 368.4, 428.4, 458.4, 538.4)
HEIGHTS = (80.0, 100.0, 116.0, 132.0, 150.0, 180.0, 204.0)


def batch(drawers: int, *, offcuts: int = 0, one_size: bool = False, seed: int = 1) -> SheetProblem:
    """A batch of drawers of up to twelve kinds, four strips each."""
    dice = random.Random(seed)
    kinds = [
        (dice.choice(LENGTHS), dice.choice(LENGTHS) - 12, dice.choice(HEIGHTS))
        for _ in range(max(2, min(12, drawers // 6)))
    ]
    wanted: Counter[tuple[str, float, float]] = Counter()
    for _ in range(drawers):
        side, end, height = dice.choice(kinds)
        wanted["sides", side, height] += 2
        wanted["ends", end, height] += 2
    strips = tuple(
        StripDemand(f"{what} {length} × {height}", f"{what} {length}", length, height, count)
        for (what, length, height), count in wanted.items()
    )
    sizes = [SheetSize("2440 × 1220", 2440, 1220, 78.0), SheetSize("1525 × 1525", 1525, 1525, 61.5)]
    rests = [
        SheetSize(f"offcut {n}", dice.randrange(300, 1400), dice.randrange(200, 900), None, 1, True)
        for n in range(offcuts)
    ]
    return SheetProblem(
        "plywood 15",
        (*sizes[: 1 if one_size else 2], *rests),
        Saw(3.2, 8.0),
        BandRules(20.0, 2, 250.0, 1000.0),
        strips,
        preferences=SheetPreferences(trim_bands=False),
    )


def measure(problem: SheetProblem) -> tuple[float, SheetPlan]:
    """Seconds and the plan; the referee must accept it."""
    began = time.process_time()
    plan = plan_sheets(problem)
    seconds = time.process_time() - began
    if violations := referee.check(plan):
        raise SystemExit(f"the referee rejects a plan: {violations[0]}")
    return seconds, plan


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument(
        "--offcuts", type=int, default=0, metavar="N", help="so many batches of 400 drawers with 30 offcuts"
    )
    parser.add_argument("--only-offcuts", action="store_true", help="leave the growth out")
    parser.add_argument(
        "--processor", action="store_true", help="however long it takes by the clock of a busy machine"
    )
    args = parser.parse_args()
    if args.processor:
        outcome.MOST_BY_THE_CLOCK = math.inf
    growth = () if args.only_offcuts else (("one sheet size", True), ("two sheet sizes with prices", False))
    for label, one_size in growth:
        for drawers in COUNTS:
            seconds, plan = measure(batch(drawers, one_size=one_size))
            figures = plan.figures
            print(
                f"{label:28} {drawers:>6} drawers {figures.new_sheets:>5} sheets  cost {figures.new_sheet_cost:>9.2f}"
                f"  bound {plan.lower_bound:>9.2f}  {'proven' if plan.proven else '      '} {seconds:6.2f} s",
                flush=True,
            )
    for seed in range(1, args.offcuts + 1):
        seconds, plan = measure(batch(400, offcuts=30, seed=seed))
        gap = plan.figures.new_sheet_cost - plan.lower_bound
        cheapest = min(size.price or 0.0 for size in plan.problem.sizes if not size.is_offcut)
        print(
            f"400 drawers, two sizes, 30 offcuts, batch {seed:>2}: cost {plan.figures.new_sheet_cost:>8.2f}  "
            f"bound {plan.lower_bound:>8.2f}  gap {gap:>6.2f} = {gap / cheapest:.2f} of the cheapest sheet  "
            f"{plan.figures.offcuts_used} offcuts used  {seconds:.2f} s",
            flush=True,
        )
    return 0


if __name__ == "__main__":
    sys.exit(main())
