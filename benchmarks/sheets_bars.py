"""Solve files of cutting instances and compare with their best known values.

    python benchmarks/sheets_bars.py [--time-limit S] [--processor] [--layouts OUT.json] [FILE.json ...]

Each instance runs with a cold planner; every answer passes the independent referee. Without files the
drawer batches beside this script are solved. Prints one line per instance and a summary per file; exit code 1
when an answer is wrong, or a bound lies above a proven value. With `--processor` the time limit counts the processor's
seconds, so that other work on the machine does not tell.
"""

from __future__ import annotations

import argparse
import json
import math
import sys
import time
from pathlib import Path
from typing import Any

from drawerwright.basics.errors import DrawerwrightError
from drawerwright.sheets.published.instance import solve_instance
from drawerwright.sheets.referee.published_patterns import check_patterns
from drawerwright.sheets.solver import outcome

DATA = Path(__file__).parent / "data" / "drawer-batches.json"


def judge(instance: dict[str, Any], limit: float, better: list[dict[str, Any]]) -> tuple[str, set[str]]:
    """One line for an instance, and words on how it went; an answer better than known is added to `better`."""
    known = instance["best_known"]
    began = time.process_time()
    try:
        result = solve_instance(instance, time_limit=limit)
    except DrawerwrightError as error:
        return f"{instance['name']:32} refused: {error}", {"refused"}
    seconds = time.process_time() - began
    words = set()
    if check_patterns(instance, result.value, result.patterns):
        words.add("WRONG")
    if known["proven"] and result.lower_bound > known["value"]:
        words.add("BOUND TOO HIGH")
    if result.value > known["value"]:
        words.add("worse")
    if result.value < known["value"]:
        words.add("better")
        better.append({"instance": instance, "answer": result.as_json()})
    if result.proven:
        words.add("proven" if known["proven"] else "newly proven")
    elif known["proven"]:
        words.add("not proven")
    gap = 100 * (result.value / known["value"] - 1)
    line = (
        f"{instance['name']:32} {result.value:>12g} bound {result.lower_bound:>12g} "
        f"best known {known['value']:>12g} ({gap:+.3f} %) {seconds:7.2f} s  {', '.join(sorted(words))}"
    )
    return line, words


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("files", nargs="*", type=Path, default=[DATA])
    parser.add_argument("--time-limit", type=float, default=9.5)
    parser.add_argument("--layouts", type=Path, help="write answers better than known, with their layouts")
    parser.add_argument(
        "--processor", action="store_true", help="however long it takes by the clock of a busy machine"
    )
    args = parser.parse_args()
    if args.processor:
        outcome.MOST_BY_THE_CLOCK = math.inf
    code = 0
    better: list[dict[str, Any]] = []
    for file in args.files:
        tally: dict[str, int] = {}
        instances = json.loads(file.read_text(encoding="utf-8"))
        for instance in instances:
            line, words = judge(instance, args.time_limit, better)
            print(line, flush=True)
            for word in words:
                tally[word] = tally.get(word, 0) + 1
        print(f"== {file.stem}: {len(instances)} instances; {tally}\n", flush=True)
        if "WRONG" in tally or "BOUND TOO HIGH" in tally:
            code = 1
    if args.layouts:
        args.layouts.write_text(json.dumps(better), encoding="utf-8")
    return code


if __name__ == "__main__":
    sys.exit(main())
