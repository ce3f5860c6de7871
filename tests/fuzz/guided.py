"""Texts at one door, guided by what they reach in the program: atheris, where it is installed (`make fuzz-guided`).

PYTHONPATH=src:tests python -m fuzz.guided [--seconds S] [--keep] [TARGET ...]

Each door is tried in a process of its own, beginning with some texts of its target; a find goes into `tests/corpus`.
"""

from __future__ import annotations

import argparse
import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path
from random import Random

from counted_runs import keep_run

DOORS = ("lengths", "jobs", "trials", "profiles")
SEEDS = 200
"""Texts to begin with."""
LONGEST = 8000
"""Bytes of a text."""
DONE = re.compile(r"Done (\d+) runs")


def at_door(name: str, arguments: list[str]) -> None:
    """Try texts until libFuzzer ends this process."""
    import atheris

    with atheris.instrument_imports(include=["drawerwright"]):
        from fuzz.targets import TARGETS
        from fuzz.watching import watched

    check = watched(TARGETS[name].check)
    atheris.Setup([sys.argv[0], *arguments], lambda data: check(data.decode("utf-8", "replace")))
    atheris.Fuzz()


def tried(name: str, seconds: int) -> tuple[int, str, int]:
    """How many texts were tried at a door, what they are called, and how many finds there were: the first ends it."""
    from fuzz.__main__ import keep
    from fuzz.targets import TARGETS

    target = TARGETS[name]
    with tempfile.TemporaryDirectory() as folder:
        seeds = Path(folder, "seeds")
        seeds.mkdir()
        source = Random(1)
        for number in range(SEEDS):
            text = target.make(source).encode("utf-8", "replace")[:LONGEST]
            (seeds / str(number)).write_bytes(text)
        options = [
            f"-max_total_time={seconds}",
            f"-max_len={LONGEST}",
            f"-artifact_prefix={folder}/",
            str(seeds),
        ]
        command = [sys.executable, "-W", "ignore", "-m", "fuzz.guided", "--door", name, *options]
        ended = subprocess.run(
            command, capture_output=True, text=True, errors="replace", check=False, env=os.environ
        )
        done = DONE.search(ended.stderr)
        finds = sorted(Path(folder).glob("crash-*"))
        for find in finds:
            keep(name, find.read_bytes().decode("utf-8", "replace"))
        if done is None:
            print(ended.stdout[-2000:], ended.stderr[-2000:], flush=True)
        return int(done[1]) if done else 0, target.what, len(finds)


def main() -> int:
    if sys.argv[1:2] == ["--door"]:
        at_door(sys.argv[2], sys.argv[3:])
    parser = argparse.ArgumentParser(prog="fuzz.guided", description=__doc__)
    parser.add_argument("targets", nargs="*", choices=[*DOORS, []], metavar="TARGET", help=", ".join(DOORS))
    parser.add_argument("--seconds", type=int, default=60, help="for each target (default: %(default)s)")
    parser.add_argument("--keep", action="store_true", help="add the counts to those of docs/reliability.md")
    args = parser.parse_args()
    found = 0
    for name in args.targets or DOORS:
        count, what, finds = tried(name, args.seconds)
        print(f"{name:10}{count:9} texts, {finds} finds", flush=True)
        found += finds
        if args.keep:
            keep_run("make fuzz-guided", {what: count}, {what: finds}, adds=True)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
