"""Random jobs held to everything that can be checked without the program's own arithmetic.

    python benchmarks/checked_jobs.py [--jobs N] [--first SEED] [--plan-each N] [--keep]

The jobs are those of the tests (tests/random_jobs.py). Of each: every drawer out of boards (tests/virtual_drawers.py),
and at every
drawer-lock corner setting and seat against the statement of the law, and whether a corner that was cut with cutter and
gauges off fits once it is read and corrected (tests/virtual_corners.py). Of every so many, the sheets are
planned, looked over by the referee, and the order of work is carried out (benchmarks/order_of_work.py). With --keep the
counts go to docs/reliability.md.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from order_of_work import found_in

from counted_runs import keep_run
from drawerwright.basics.errors import DrawerwrightError
from random_jobs import random_entries
from virtual_corners import disagreements
from virtual_drawers import drafted_of, flaws_of

TOLD_EACH = 500
"""Jobs between two lines of progress."""
JOBS, CORNERS = (
    "random jobs: drawers put together out of boards",
    "their corners: set, seated, read, corrected",
)
PLANNED = "of these jobs: planned, refereed and carried out at the bench"


def checked(seed: int, time_limit: float | None, counts: Counter[str]) -> Iterator[tuple[str, str]]:
    """What is wrong with a job, each with what was looked at; `counts` gets how much was."""
    entries = random_entries(seed)
    counts[JOBS] += 1
    try:
        draft = drafted_of(entries)
    except DrawerwrightError as refused:  # these jobs are made to be plannable
        yield JOBS, f"refused: {refused}"
        return
    for flaw in flaws_of(entries, draft):
        yield JOBS, f"{flaw.what}: {flaw}"
    counts[CORNERS] += len(draft.corners)
    for what, where in disagreements(draft, Random(seed)):
        yield CORNERS, f"{what}: {where}"
    if time_limit is not None:
        counts[PLANNED] += 1
        for fault in found_in(seed, time_limit, Counter()):
            yield PLANNED, fault


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--jobs", type=int, default=10_000)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--plan-each", type=int, default=10)
    parser.add_argument("--time-limit", type=float, default=0.05, help="seconds for the sheets of a job")
    parser.add_argument("--keep", action="store_true", help="add the counts to those of docs/reliability.md")
    options = parser.parse_args()
    counts: Counter[str] = Counter()
    finds: Counter[str] = Counter()
    all_finds = 0
    ends = options.first + options.jobs
    began = time.perf_counter()
    for seed in range(options.first, ends):
        is_planned = seed % options.plan_each == 0
        for what, line in checked(seed, options.time_limit if is_planned else None, counts):
            print(f"job {seed}: {line}", flush=True)
            finds[what] += 1
        if (seed - options.first + 1) % TOLD_EACH == 0 or seed == ends - 1:
            print(f"up to {seed}: {dict(counts)}, {finds.total()} finds, ", end="")
            print(f"{time.perf_counter() - began:.0f} s", flush=True)
            if options.keep:
                keep_run("python benchmarks/checked_jobs.py", counts, finds, adds=True)
                counts.clear()
                all_finds += finds.total()
                finds.clear()
    return 1 if all_finds or finds else 0


if __name__ == "__main__":
    sys.exit(main())
