"""Whole jobs of bands, bottoms and fronts, and how long `plan` takes for them with its packet.

    python benchmarks/mixed_jobs.py [--drawers 24 100 400 2000] [--time-limit S] [--processor]
    python benchmarks/mixed_jobs.py --write FOLDER --jobs N [--seed S]

Jobs are made by a fixed rule: banks of 3 to 8 drawers in several widths and depths, lipped or applied fronts, wooden
or side-mounted runners, three stocks. The first form plans each job with one size for each stock, lays everything out,
makes the order of work and writes the packet; it prints seconds by the clock and of the processor, the most memory used
so far, and what each stock costs. With `--processor` stocks are planned one after the other, and the time limit counts
the processor's seconds, so that other work on the machine does not tell. The second writes job files with two priced
sizes and offcuts for `real_jobs.py`.
"""

from __future__ import annotations

import argparse
import gc
import math
import random
import resource
import sys
import tempfile
import time
from pathlib import Path

from drawerwright.cli import OBJECTS_BETWEEN_LOOKS
from drawerwright.sheets.solver import outcome

SIZES = ((2500, 1250), (1525, 1525), (2440, 1220))
SECOND_PRICE = 0.83
"""Price of the second size by area against the first one."""
HEAD = """\
format: 1
job: {name}
cutter: {{name: c, kind: drawer-lock, mid_depth: 5.65 ± 0.05, step: 3.45 ± 0.03, slope: 55, diameter: 44.4,
  cutting_height: 14.5, max_speed: 16000}}
machine:
  saw: {{kerf: 3.2, trim: 6}}
  router_table: {{tallest_upright: 620, longest_band: 1300, shortest_piece: 150, repeatability: 0.03,
    speeds: [8000, 12000, 16000]}}
  sacrificial_strip: {{width: 14, ends: 2}}
stock:
"""
FRONTS = {
    "lipped": "{{style: lipped, heights: {{given: [{heights}, rest]}}, reveal: 2.5, overlay: {{sides: 7}}}}",
    "applied": "{{style: applied, heights: {{given: [{heights}, rest]}}, reveal: 2.5, "
    "overlay: {{sides: 7, top: 7, bottom: 7}}, stock: front, match: {match}}}",
}


def job_text(drawers: int, *, sizes: int = 1, offcuts: int = 0, turning: bool = False, seed: int = 1) -> str:
    """A job file of so many drawers; `sizes` of every stock, `offcuts` of the box stock, parts of which may turn."""
    dice = random.Random(seed)
    first, second = dice.sample(SIZES, 2)
    lines = [HEAD.format(name=f"M{drawers}-{seed}")]
    for stock, nominal, price, grain in (
        ("box", 15, 74.5, "none" if turning else "length"),
        ("thin", 6.5, 39.8, dice.choice(("none", "length"))),
        ("front", 18, 96.0, "length"),
    ):
        measured = f"[{nominal - 0.38}, {nominal - 0.42}, {nominal - 0.34}]"
        lines.append(
            f"  {stock}:\n    panel: birch-plywood\n    nominal: {nominal}\n    measured: {measured}\n"
        )
        lines.append(f"    grain: {grain}\n    sheets:\n")
        lines.append(f"      - {{length: {first[0]}, width: {first[1]}, price: {price}}}\n")
        if sizes > 1:
            share = SECOND_PRICE * second[0] * second[1] / (first[0] * first[1])
            lines.append(
                f"      - {{length: {second[0]}, width: {second[1]}, price: {round(price * share, 1)}}}\n"
            )
        if offcuts and stock == "box":
            lines.append("    offcuts:\n")
            for number in range(offcuts):
                length, width = dice.randrange(400, 1300), dice.randrange(220, 700)
                lines.append(f"      - {{length: {length}, width: {width}, label: o{number}}}\n")
    lines.append("fences: {plan: fewest, flushness: 0.05}\nbanks:\n")
    left, bank = drawers, 0
    while left:
        bank += 1
        count = min(left, dice.randint(3, 8))
        if left - count == 1:
            count += 1
        left -= count
        style = dice.choice(("lipped", "applied"))
        depth = dice.choice((350, 420, 470, 520, 560))
        runner = (
            "{kind: wooden, back: 12, top: 0, bottom: 0}"
            if style == "lipped"
            else f"{{kind: side-mounted, length: {depth // 50 * 50 - 50}}}"
        )
        given = [dice.choice((90, 105, 120, 140, 160, 180, 220)) for _ in range(count - 1)]
        is_matched = dice.random() < 0.2
        height = sum(given) + count * 3 + dice.randint(95, 215)
        fits = (
            height <= min(first[1], second[1] if sizes > 1 else first[1]) - 20
        )  # a matched set is one block
        fronts = FRONTS[style].format(
            heights=", ".join(map(str, given)), match="true" if is_matched and fits else "false"
        )
        bottom = dice.choice(("captured", "slid"))
        width = dice.choice((368, 402, 418, 427, 468, 518, 568, 580, 600))
        lines.append(
            f"  - name: Bank {bank}\n    opening: {{width: {width}, height: {height}, depth: {depth}}}\n"
            f"    fronts: {fronts}\n    runner: {runner}\n    box: {{all: box}}\n"
            f"    bottom: {{style: {bottom}, stock: thin, groove_depth: 5, groove_height: 10}}\n"
        )
    return "".join(lines)


def worked() -> float:
    """Seconds that the processor has worked for this process and for those it began."""
    return sum(
        used.ru_utime + used.ru_stime
        for used in map(resource.getrusage, (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    )


def most_memory() -> float:
    """The most (MB) that this process has taken so far; those that plan sheets take some 0.1 GB each meanwhile, which
    cannot be told: a child counts what its parent held when it began."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def measure(drawers: int, limit: float | None, at_once: int) -> str:
    """One line for a job."""
    from drawerwright.job.papers.files_out import write_plan
    from drawerwright.job.planning.job_plan import open_job, plan_job
    from drawerwright.job.planning.planner_process import plan_in_process
    from drawerwright.sheets.plan import plan_sheets

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "job.yaml"
        path.write_text(job_text(drawers), encoding="utf-8")
        began, before = time.perf_counter(), worked()
        planner = plan_sheets if at_once == 1 else plan_in_process
        plan = plan_job(open_job(path), time_limit=limit, planner=planner, at_once=at_once)
        planned, plan_worked = time.perf_counter() - began, worked() - before
        write_plan(plan, Path(folder) / "out")
        seconds, processor = time.perf_counter() - began, worked() - before
    proven = sum(stock.sheets.proven for stock in plan.stocks)
    costs = " + ".join(f"{stock.sheets.figures.new_sheet_cost:.2f}" for stock in plan.stocks)
    stocks = f"{proven} of {len(plan.stocks)} stocks proven, {costs}"
    return (
        f"{drawers:>6} drawers  {seconds:7.2f} s ({processor:.2f} of processor)  sheets and order of work "
        f"{planned:7.2f} s ({plan_worked:.2f})  {most_memory():6.0f} MB  {stocks}"
    )


def main() -> int:
    from drawerwright.job.planning.planner_process import processors

    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--drawers", type=int, nargs="+", default=[24, 100, 400, 2_000])
    parser.add_argument("--time-limit", type=float, help="seconds for each stock")
    parser.add_argument(
        "--processor", action="store_true", help="however long it takes by the clock of a busy machine"
    )
    parser.add_argument("--write", type=Path, metavar="FOLDER", help="write job files instead")
    parser.add_argument("--jobs", type=int, default=10)
    parser.add_argument("--seed", type=int, default=100, help="of the first job that is written")
    args = parser.parse_args()
    if args.write:
        args.write.mkdir(parents=True, exist_ok=True)
        for number in range(args.jobs):
            drawers = round(10 * 12 ** (number / max(args.jobs - 1, 1)))
            text = job_text(
                drawers,
                sizes=2 if number % 3 else 1,
                offcuts=(8, 0, 5, 3)[number % 4],
                turning=number % 5 == 3,
                seed=args.seed + number,
            )
            (args.write / f"mixed{number:02}.yaml").write_text(text, encoding="utf-8")
        return 0
    if args.processor:
        outcome.MOST_BY_THE_CLOCK = math.inf
    gc.set_threshold(OBJECTS_BETWEEN_LOOKS)  # as the command does
    for drawers in args.drawers:
        print(measure(drawers, args.time_limit, 1 if args.processor else processors()), flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
