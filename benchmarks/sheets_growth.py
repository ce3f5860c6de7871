"""How planning time grows with the number of drawers, drawn for the docs.

    python benchmarks/sheets_growth.py [--svg docs/pictures/sheets-growth.svg] [--offcuts N]

Batches are made by a fixed rule: side and end lengths and heights of a shop's drawers, two sheet sizes with
prices, kerf 3.2 mm, trim 8 mm, sacrificial strips of 20 mm. Every plan passes the referee. `--offcuts N`
adds N batches of 400 drawers with 30 offcuts on hand.
"""

from __future__ import annotations

import argparse
import random
import sys
import time
from collections import Counter
from pathlib import Path

from drawerwright.sheets import referee
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.blanks import StripDemand
from drawerwright.sheets.plan import SheetPlan, SheetPreferences, SheetProblem, plan_sheets
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize

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
    began = time.perf_counter()
    plan = plan_sheets(problem)
    seconds = time.perf_counter() - began
    if violations := referee.check(plan):
        raise SystemExit(f"the referee rejects a plan: {violations[0]}")
    return seconds, plan


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--svg", type=Path)
    parser.add_argument(
        "--offcuts", type=int, default=0, metavar="N", help="so many batches of 400 drawers with 30 offcuts"
    )
    parser.add_argument("--only-offcuts", action="store_true", help="leave the growth out")
    args = parser.parse_args()
    lines: dict[str, list[float]] = {}
    growth = () if args.only_offcuts else (("one sheet size", True), ("two sheet sizes with prices", False))
    for label, one_size in growth:
        for drawers in COUNTS:
            seconds, plan = measure(batch(drawers, one_size=one_size))
            lines.setdefault(label, []).append(seconds)
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
    if args.svg and lines:
        args.svg.write_text(draw(lines), encoding="utf-8")
    return 0


def draw(lines: dict[str, list[float]]) -> str:
    """A log-log plot as SVG, 160 × 100 mm."""
    from math import log10

    left, right, bottom, top = 20.0, 154.0, 84.0, 8.0
    low, high = -3, 1

    def x_of(drawers: float) -> float:
        return left + (log10(drawers) - log10(COUNTS[0])) / (log10(COUNTS[-1] / COUNTS[0])) * (right - left)

    def y_of(seconds: float) -> float:
        return bottom - (log10(seconds) - low) / (high - low) * (bottom - top)

    marks = []
    for power in range(low, high + 1):
        y = y_of(10.0**power)
        marks.append(f'<line class="thin" x1="{left}" y1="{y:.2f}" x2="{right}" y2="{y:.2f}"/>')
        marks.append(f'<text x="{left - 2}" y="{y + 1.2:.2f}" text-anchor="end">{10.0**power:g} s</text>')
    for drawers in COUNTS:
        x = x_of(drawers)
        marks.append(f'<line class="thin" x1="{x:.2f}" y1="{bottom}" x2="{x:.2f}" y2="{bottom + 1.5}"/>')
        marks.append(f'<text x="{x:.2f}" y="{bottom + 5}" text-anchor="middle">{drawers:,}</text>')
    marks.append(
        f'<text x="{(left + right) / 2}" y="{bottom + 11}" text-anchor="middle">drawers in the batch</text>'
    )
    for number, (label, seconds) in enumerate(lines.items()):
        points = [
            (x_of(drawers), y_of(min(max(s, 10.0**low), 10.0**high)))
            for drawers, s in zip(COUNTS, seconds, strict=True)
        ]
        path = " ".join(f"{x:.2f},{y:.2f}" for x, y in points)
        dash = "" if number == 0 else ' stroke-dasharray="3 1.5"'
        marks.append(f'<polyline class="line"{dash} points="{path}"/>')
        for x, y in points:
            fill = "#1f2a33" if number == 0 else "#fbf8f0"
            marks.append(f'<circle class="line" cx="{x:.2f}" cy="{y:.2f}" r="1" style="fill:{fill}"/>')
        key = bottom - 14 + 5 * number
        marks.append(f'<line class="line"{dash} x1="96" y1="{key}" x2="106" y2="{key}"/>')
        marks.append(f'<text x="108" y="{key + 1.2}">{label}</text>')
    body = "\n".join(marks)
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="160mm" height="100mm" viewBox="0 0 160 100" role="img" '
        'aria-label="Planning time against number of drawers">\n'
        "<style>.thin{stroke:#1f2a33;stroke-width:.12}.line{stroke:#1f2a33;stroke-width:.5;fill:none}"
        "text{font:3.2px sans-serif;fill:#1f2a33}</style>\n"
        f'<rect width="160" height="100" fill="#fbf8f0"/>\n{body}\n</svg>\n'
    )


if __name__ == "__main__":
    sys.exit(main())
