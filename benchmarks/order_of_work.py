"""Orders of work carried out on virtual boards: does every job end with exactly the parts of its parts list?

    python benchmarks/order_of_work.py [--jobs N] [--first SEED] [--time-limit S]

The random jobs of the tests (tests/random_jobs.py), each planned, its order of work carried out by the virtual shop of
the tests, its parts inspected, and its sheets looked over by the referee, which shares no code with the planner.
Printed: jobs that went right, jobs refused with a reason, every job in which something was found, and what was done in
all of them together.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from drawerwright.basics.errors import DrawerwrightError
from drawerwright.job.file.building import read_job
from drawerwright.job.planning.job_plan import plan_job
from drawerwright.sheets.referee import whole_plan as referee
from parts_inspected import faults
from random_jobs import random_job
from virtual_shop import MishapError, VirtualShop


def found_in(seed: int, time_limit: float, done: Counter[str]) -> list[str]:
    """What is wrong with the parts of a job; `done` counts the work."""
    plan = plan_job(read_job(random_job(seed)), time_limit=time_limit)
    shop = VirtualShop(
        plan.job.sheet_sizes, kerf=plan.job.saw.kerf, table=plan.job.table, random=Random(seed)
    )
    try:
        for step in plan.run.steps:
            shop.carry_out(step.work)
        shop.clear_up()
    except MishapError as mishap:
        return [f"mishap: {mishap}"]
    done.update(shop.done)
    done["bands"] += len(plan.run.bands)
    done["turned bands"] += sum(band.placed.turned for band in plan.run.bands)
    done["bands with a marked edge"] += sum(band.marked is not None for band in plan.run.bands)
    done["parts"] += len(plan.parts)
    done["handed parts"] += sum(part.is_handed for part in plan.parts)
    violations = [violation for stock in plan.stocks for violation in referee.check(stock.sheets)]
    return [*faults(plan, shop), *(f"referee: {violation}" for violation in violations)]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--jobs", type=int, default=300)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--time-limit", type=float, default=0.05)
    options = parser.parse_args()
    done: Counter[str] = Counter()
    right = refused = 0
    began = time.perf_counter()
    for seed in range(options.first, options.first + options.jobs):
        try:
            found = found_in(seed, options.time_limit, done)
        except DrawerwrightError as error:
            refused += 1
            print(f"job {seed} is refused: {error}")
            continue
        right += not found
        for fault in found:
            print(f"job {seed}: {fault}")
    seconds = time.perf_counter() - began
    print(f"{right} of {options.jobs} jobs right, {refused} refused, {seconds:.0f} s")
    for what, count in done.most_common():
        print(f"{count:8}  {what}")


if __name__ == "__main__":
    main()
