"""Try random input at each door for some seconds; what is found lies in `tests/corpus` and ends the run with 1.

PYTHONPATH=src:tests python -m fuzz [--seconds S] [--texts N] [--seed N] [--keep] [TARGET ...]
"""

from __future__ import annotations

import argparse
import hashlib
import random
import sys
import time
import traceback
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import seed as seeded
from hypothesis import strategies as st

from counted_runs import keep_run
from fuzz.requests import REQUESTS
from fuzz.targets import TARGETS, Target
from fuzz.watching import MOST_BYTES, Check, HeavyError, SlowError, peak, watched

CORPUS = Path(__file__).parents[1] / "corpus"
BATCH = 100
"""Texts tried between two looks at the clock."""
NEAR_SHARE = 0.2
"""Of the time in which hypothesis draws, which is slower and looks near what did something new."""
MOST_REDUCED = 400
"""How often a find is tried with something less of it."""
ALL = {**TARGETS, REQUESTS.name: REQUESTS}


def place_of(error: Exception) -> str:
    """What went wrong, and where: two finds with one place have one cause."""
    frames = traceback.extract_tb(error.__traceback__)
    ours = [frame for frame in frames if "site-packages" not in frame.filename] or frames
    return f"{type(error).__name__} in {Path(ours[-1].filename).name}:{ours[-1].lineno}"


def place_for(check: Check, text: str) -> str | None:
    """Where `text` fails, if it does."""
    try:
        check(text)
    except Exception as error:
        return place_of(error)
    return None


def reduced(check: Check, text: str, place: str) -> str:
    """What is left of a find when all is taken out without which it still fails at its place."""
    tries, piece = 0, max(1, len(text) // 2)
    while piece and tries < MOST_REDUCED:
        begin = 0
        while begin < len(text) and tries < MOST_REDUCED:
            less = text[:begin] + text[begin + piece :]
            tries += 1
            if place_for(check, less) == place:
                text = less
            else:
                begin += piece
        piece //= 2
    return text


@dataclass
class Trial:
    """The texts tried at one door."""

    target: Target
    count: int = 0
    finds: dict[str, str] = field(default_factory=dict)
    """By place, what was said."""

    def __post_init__(self) -> None:
        self.check = watched(self.target.check)

    def one(self, text: str) -> None:
        """Try a text; what is found is kept, made small."""
        self.count += 1
        try:
            self.check(text)
        except Exception as error:
            place = place_of(error)
            if place not in self.finds:
                self.finds[place] = f"{place}: {error}".splitlines()[0][:200]
                less = (
                    text
                    if isinstance(error, SlowError | HeavyError)
                    else reduced(self.target.check, text, place)
                )
                keep(self.target.name, less)

    def plainly(self, seed: int) -> None:
        """A batch out of plain random numbers."""
        source = random.Random(seed)
        for _text in range(BATCH):
            self.one(self.target.make(source))

    def near(self, seed: int) -> None:
        """A batch drawn by hypothesis."""

        @seeded(seed)
        @settings(
            max_examples=BATCH,
            deadline=None,
            database=None,
            phases=(Phase.generate,),
            suppress_health_check=list(HealthCheck),
        )
        @given(st.randoms(use_true_random=False))
        def batch(source: random.Random) -> None:
            self.one(self.target.make(source))

        batch()


def tried(target: Target, seconds: float, texts: float, seed: int) -> Trial:
    """Texts at one door for some seconds, or until there are enough."""
    trial = Trial(target)
    began = time.monotonic()
    spent_near = 0.0
    while (now := time.monotonic()) - began < seconds and trial.count < texts:
        if spent_near < NEAR_SHARE * (now - began):
            trial.near(seed)
            spent_near += time.monotonic() - now
        else:
            trial.plainly(seed)
        seed += 1
    return trial


def keep(name: str, text: str) -> None:
    """Put a find into the corpus."""
    folder = CORPUS / name
    folder.mkdir(parents=True, exist_ok=True)
    content = text.encode("utf-8", "surrogatepass")
    (folder / f"{hashlib.sha256(content).hexdigest()[:12]}.txt").write_bytes(content)


def results(args: argparse.Namespace) -> Iterator[Trial]:
    """Each door in turn, told when it is done."""
    used = peak()
    for name in args.targets or ALL:
        trial = tried(ALL[name], args.seconds, args.texts, args.seed)
        most = peak() - used
        if most > MOST_BYTES:
            trial.finds["memory"] = f"memory grew by {most / 2**20:.0f} MB"
        print(f"{name:10}{trial.count:9} texts, {len(trial.finds)} finds", flush=True)
        for said in trial.finds.values():
            print(f"          {said}", flush=True)
        yield trial


def main() -> int:
    parser = argparse.ArgumentParser(prog="fuzz", description=__doc__)
    parser.add_argument("targets", nargs="*", choices=[*ALL, []], metavar="TARGET", help=", ".join(ALL))
    parser.add_argument("--seconds", type=float, default=60.0, help="for each target (default: %(default)s)")
    parser.add_argument(
        "--texts", type=float, default=float("inf"), help="no more than these for each target"
    )
    parser.add_argument("--seed", type=int, default=int(time.time()), help="for the same texts again")
    parser.add_argument("--keep", action="store_true", help="add the counts to those of docs/reliability.md")
    args = parser.parse_args()
    print(f"seed {args.seed}")
    found = 0
    for trial in results(args):
        found += len(trial.finds)
        if args.keep:
            what = trial.target.what
            keep_run("make fuzz", {what: trial.count}, {what: len(trial.finds)}, adds=True)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
