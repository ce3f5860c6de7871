"""Whether the drawers of random jobs go together, and what does not where they do not.

    python benchmarks/assembled_drawers.py [--jobs N] [--first SEED] [--workers W]

Jobs and checks are those of the tests (tests/random_jobs.py, tests/virtual_drawers.py): every part out of its cut
sizes, grooves and joint cuts alone, laid where the plan says. Printed: how many jobs, drawers and boards of each kind
were put together, and for each flaw the jobs that have it, how often, and one of them.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "tests"))

from random_jobs import random_entries
from virtual_drawers import drafted, flaws_of


def looked_at(seed: int) -> tuple[int, Counter[str], list[tuple[str, str]]]:
    """The seed, what the job consists of, and what does not go together: what and where."""
    entries, draft = random_entries(seed), drafted(seed)
    kinds: Counter[str] = Counter(drawers=len(draft.assembled), boards=len(draft.parts))
    kinds[f"jobs with a {entries['cutter']['kind']} cutter"] += 1
    for bank in entries.get("banks", ()):
        kinds[f"banks with {bank['fronts']['style']} fronts"] += 1
        kinds[f"banks on {bank['runner']['kind']} runners"] += 1
    kinds["plain boxes"] += sum(box.get("count", 1) for box in entries.get("boxes", ()))
    return seed, kinds, [(flaw.what, str(flaw)) for flaw in flaws_of(entries, draft)]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--jobs", type=int, default=10_000)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--workers", type=int, default=2)
    options = parser.parse_args()
    started = time.perf_counter()
    kinds: Counter[str] = Counter()
    flaws: Counter[str] = Counter()
    jobs: Counter[str] = Counter()
    examples: dict[str, str] = {}
    with ProcessPoolExecutor(options.workers) as pool:
        seeds = range(options.first, options.first + options.jobs)
        for seed, made, found in pool.map(looked_at, seeds, chunksize=25):
            kinds += made
            flaws.update(what for what, _where in found)
            jobs.update({what for what, _where in found})
            for what, where in found:
                examples.setdefault(what, f"job {seed}, {where}")
            jobs["any"] += bool(found)
    print(f"{options.jobs} jobs in {time.perf_counter() - started:.0f} s")
    for kind, count in sorted(kinds.items()):
        print(f"{count:8} {kind}")
    print(f"{jobs.pop('any')} jobs do not go together")
    for what, count in jobs.most_common():
        print(f"{count:8} jobs, {flaws[what]} times: {what} ({examples[what]})")


if __name__ == "__main__":
    main()
