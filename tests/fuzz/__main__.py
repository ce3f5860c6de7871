"""Try random input at each door for some seconds; what is found lies in `tests/corpus` and ends the run with 1.

PYTHONPATH=src:tests python -m fuzz [--seconds S] [--seed N] [TARGET ...]
"""

from __future__ import annotations

import argparse
import hashlib
import resource
import sys
import time
from collections.abc import Callable
from pathlib import Path

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import seed as seeded

from fuzz.requests import REQUESTS
from fuzz.targets import TARGETS, Target

CORPUS = Path(__file__).parents[1] / "corpus"
BATCH = 100
"""Texts tried between two looks at the clock."""
MOST_SECONDS = 2.0
"""Of the processor, for one text."""
MOST_BYTES = 500 * 2**20
ALL = {**TARGETS, REQUESTS.name: REQUESTS}


class SlowError(AssertionError):
    """A text that takes too long."""


def watched(check: Callable[[str], object]) -> Callable[[str], None]:
    """`check`, failing where it takes too long, also when all that it needs is loaded."""

    def seconds_for(text: str) -> float:
        began = time.process_time()
        check(text)
        return time.process_time() - began

    def timed(text: str) -> None:
        if seconds_for(text) > MOST_SECONDS and (seconds := seconds_for(text)) > MOST_SECONDS:
            raise SlowError(f"{seconds:.1f} s")

    return timed


def tried(target: Target, seconds: float, seed: int) -> tuple[int, list[str]]:
    """How many texts were tried, and what each different find is."""
    count, finds = 0, []
    ends = time.monotonic() + seconds
    check = watched(target.check)
    while time.monotonic() < ends:
        last = ""

        @seeded(seed)
        @settings(
            max_examples=BATCH,
            deadline=None,
            database=None,
            phases=(Phase.generate, Phase.shrink),
            suppress_health_check=list(HealthCheck),
        )
        @given(target.texts)
        def batch(text: str) -> None:
            nonlocal count, last
            count += 1
            last = text
            check(text)

        try:
            batch()
        except Exception as error:
            finds.append(f"{type(error).__name__}: {error}".splitlines()[0][:200])
            keep(target.name, last)
        seed += 1
    return count, finds


def keep(name: str, text: str) -> None:
    """Put a find into the corpus."""
    folder = CORPUS / name
    folder.mkdir(parents=True, exist_ok=True)
    content = text.encode("utf-8", "surrogatepass")
    (folder / f"{hashlib.sha256(content).hexdigest()[:12]}.txt").write_bytes(content)


def main() -> int:
    parser = argparse.ArgumentParser(prog="fuzz", description=__doc__)
    parser.add_argument("targets", nargs="*", choices=[*ALL, []], metavar="TARGET", help=", ".join(ALL))
    parser.add_argument("--seconds", type=float, default=60.0, help="for each target (default: %(default)s)")
    parser.add_argument("--seed", type=int, default=int(time.time()), help="for the same texts again")
    args = parser.parse_args()
    used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
    worst = 0
    print(f"seed {args.seed}")
    for name in args.targets or ALL:
        count, finds = tried(ALL[name], args.seconds, args.seed)
        most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024 - used
        if most > MOST_BYTES:
            finds.append(f"memory grew by {most / 2**20:.0f} MB")
        print(f"{name:10}{count:9} texts, {len(finds)} finds", flush=True)
        for line in dict.fromkeys(finds):
            print(f"          {line}")
        worst += len(finds)
    return 1 if worst else 0


if __name__ == "__main__":
    sys.exit(main())
