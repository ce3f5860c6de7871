"""What each part of the planner is worth: leave out one at a time, and count what gets dearer or loses its proof.

    python benchmarks/leave_one_out.py [--time-limit S] [--part NAME ...] [--markdown]
        [JOB.yaml[:STOCK] | SET.json[:N] ...]

Without files the real jobs and the drawer batches beside this script are planned. Stocks of a job that have bands are
planned twice, with and without trimmed ones; of a set of instances only every Nth is taken where N is given. Limits
count seconds of the processor, so that other work on the machine does not tell. A part that costs no value and no proof
has no place in the planner.
"""

from __future__ import annotations

import argparse
import json
import math
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, replace
from pathlib import Path
from unittest import mock

from real_jobs import problems_of

from drawerwright.sheets import plan
from drawerwright.sheets.problem import SheetProblem
from drawerwright.sheets.published.instance import solve_instance
from drawerwright.sheets.solver import outcome
from drawerwright.sheets.solver.search import in_columns, within_limits
from drawerwright.sheets.solver.search.cheapest import _Search
from drawerwright.sheets.solver.search.repacking import Repacking
from drawerwright.sheets.solver.task import Task, area_bound
from drawerwright.sheets.solver.whole.shared_columns import SharedColumns

DATA = Path(__file__).parent / "data"
outcome.MOST_BY_THE_CLOCK = math.inf
USUAL = (*sorted((DATA / "real-jobs").glob("*.yaml")), DATA / "drawer-batches.json")


def area_alone(task: Task, found: outcome.Outcome, watch: outcome.Watch) -> int:
    """The bound of a search, where not every width was tried that of the parts' area."""
    return found.bound if task.is_complete else area_bound(task)


PARTS: dict[str, tuple[object, str, object]] = {
    "whole columns first": (in_columns, "suits", lambda task: False),
    "columns of several lengths made at once": (within_limits, "mixed_at_once", lambda task: None),
    "diving for fillings of whole columns": (SharedColumns, "_dived", lambda *_: None),
    "choosing fillings of whole columns": (SharedColumns, "_chosen", lambda *_: None),
    "bound of classes of widths": (plan, "sure_bound", area_alone),
    "numbers of sheets ruled out": (_Search, "by_numbers", lambda self: None),
    "ways to cut offcuts, annealed": (_Search, "by_whole_columns", lambda self: None),
    "sheets emptied and filled anew": (Repacking, "run", lambda self, watch: None),
    "one size alone": (Repacking, "try_one_size", lambda self, watch: None),
    "dives": (_Search, "dive", lambda self, turn: None),
    "columns made anew": (_Search, "refine", lambda self, seconds: None),
    "all columns listed": (_Search, "exhaust", lambda self, most: False),
    "the best choice of columns": (_Search, "pick", lambda self, seconds, *, presolve=True: False),
    "more good columns by chance": (_Search, "enrich", lambda self: None),
}
"""Where a part is called, and what stands in for it."""


@dataclass(frozen=True, slots=True)
class Answer:
    """Cost and proof of one stock or instance, and seconds of the processor."""

    value: float
    proven: bool
    seconds: float


def both_ways(problems: Iterable[SheetProblem]) -> Iterator[SheetProblem]:
    """Problems with and without trimmed bands, where there are bands."""
    for problem in problems:
        yield problem
        if problem.strips:
            yield replace(problem, preferences=replace(problem.preferences, trim_bands=False))


def tasks(files: Sequence[str]) -> Iterator[tuple[str, Callable[[float], Answer]]]:
    """Everything that is planned, by name."""
    for file in files:
        name, _, every = file.partition(":")
        path = Path(name)
        if path.suffix == ".yaml":
            for problem in both_ways(p for p in problems_of(path)[1] if every in ("", p.stock)):

                def planned(limit: float, problem=problem) -> Answer:  # type: ignore[no-untyped-def]
                    began = time.process_time()
                    made = plan.plan_sheets(problem, time_limit=limit)
                    return Answer(made.figures.new_sheet_cost, made.proven, time.process_time() - began)

                trims = "" if problem.preferences.trim_bands else ", untrimmed"
                yield f"{path.stem} {problem.stock}{trims}", planned
            continue
        for instance in json.loads(path.read_text(encoding="utf-8"))[:: int(every or 1)]:

            def solve(limit: float, instance=instance) -> Answer:  # type: ignore[no-untyped-def]
                began = time.process_time()
                result = solve_instance(instance, time_limit=limit)
                return Answer(result.value, result.proven, time.process_time() - began)

            yield instance["name"], solve


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("files", nargs="*", default=[str(path) for path in USUAL])
    parser.add_argument("--time-limit", type=float, default=4.0)
    parser.add_argument("--part", action="append", choices=PARTS)
    parser.add_argument("--markdown", action="store_true")
    args = parser.parse_args()
    todo = dict(tasks(args.files))
    whole = {name: run(args.time_limit) for name, run in todo.items()}
    show(
        ("left out", "dearer", "cheaper", "proofs lost", "proofs won", "s of processor", "which"),
        args.markdown,
    )
    if args.markdown:
        print("|" + "---|" * 7)
    proven = sum(answer.proven for answer in whole.values())
    seconds = sum(answer.seconds for answer in whole.values())
    show(("nothing", f"of {len(whole)}", "", f"of {proven}", "", f"{seconds:.0f}", ""), args.markdown)
    for part in args.part or PARTS:
        owner, name, instead = PARTS[part]
        with ExitStack() as stack:
            stack.enter_context(mock.patch.object(owner, name, instead))
            without = {task: run(args.time_limit) for task, run in todo.items()}
        dearer = [n for n, answer in without.items() if answer.value > whole[n].value + 0.005]
        cheaper = [n for n, answer in without.items() if answer.value < whole[n].value - 0.005]
        lost = [n for n, answer in without.items() if whole[n].proven and not answer.proven]
        won = [n for n, answer in without.items() if answer.proven and not whole[n].proven]
        seconds = sum(answer.seconds for answer in without.values())
        counts = (str(len(some)) for some in (dearer, cheaper, lost, won))
        show((part, *counts, f"{seconds:.0f}", ", ".join(sorted({*dearer, *lost})[:4])), args.markdown)
    return 0


def show(cells: Sequence[str], markdown: bool) -> None:
    print(
        "| " + " | ".join(cells) + " |" if markdown else "  ".join(f"{cell:>12}" for cell in cells),
        flush=True,
    )


if __name__ == "__main__":
    sys.exit(main())
