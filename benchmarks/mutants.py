"""How many small mistakes in joints, drawers and the referee the tests would notice.

    PYTHONPATH=src python benchmarks/mutants.py [--mutants N] [--seed N] [--group NAME ...] [--at FILE:LINE]
        [--callers FILE] [--keep]

A mutant is the program with one operator, number or branch changed (`small_mistakes.py`). First all tests but those of
the pages run once, and each function is noted with the tests that call it; `--callers` keeps that. Then each mutant has
the tests of its function, those of its own room first and the quickest first, until one fails. Before every tenth the
same tests run without a change and must pass, so that nothing else is taken for a mistake that was noticed. A change
inside a function is put into a fork of a process that has the tests collected and the program loaded; one outside of
all functions into a program that is loaded anew. Files are not touched.
Printed: how many were noticed, and every survivor.
"""

from __future__ import annotations

import argparse
import gc
import itertools
import json
import math
import os
import resource
import signal
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random
from types import FrameType
from typing import Any

import hypothesis  # noqa: F401 - loaded once for all forks
import manifold3d  # noqa: F401
import numpy  # noqa: F401 - ICN001
import pydantic  # noqa: F401
import pytest
import shapely  # noqa: F401

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests"))

from changed_program import NAMES, SOURCE, Loaded, Mutated  # noqa: E402
from small_mistakes import Function, Mutant, mutants_of  # noqa: E402

from counted_runs import keep_run  # noqa: E402 - below what tells where it is

MOST_TESTS = 1000
MOST_SECONDS = 15.0
"""Of the tests of one mutant, by the time they took without it."""
CPU_SECONDS = 12.0
"""Of one test, beside three times what it took without a change: a mutant that never ends is noticed. What several
tests share is made for the first of them, which need not be the one that it was made for before."""
FIRST = 200
"""Tests that are run before others are looked at, where the program is loaded anew."""
CONTROL = 10
GROUPS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "joints": (("joints/*.py", "joints/kinds/*.py", "joints/kinds/finger/*.py"), ("tests/unit/joints",)),
    "drawers": (("drawers/*.py",), ("tests/unit/drawers",)),
    "referee": (("sheets/referee/*.py",), ("tests/unit/sheets/referee",)),
}
"""By name: what is changed, and the tests of its own room."""
EVERY_TEST = (
    *(f"tests/unit/{room}" for room in ("joints", "drawers", "sheets/referee", "run", "strength", "job")),
    *(
        f"tests/validation/test_{name}.py"
        for name in ("corners_of_jobs", "assembled_drawers", "common_practice")
    ),
)
"""Of the rooms, and of those that use them; not of the pages, which would be long, nor examples in the program itself,
whose modules pytest loads in a way of its own."""
FILES = {
    group: sorted(f for pattern in told[0] for f in SOURCE.glob(pattern)) for group, told in GROUPS.items()
}


class Watch:
    """A pytest plugin that notes which functions each test calls, how long it takes, and whether it passes."""

    def __init__(self, files: Collection[Path]) -> None:
        self.files = {str(file): str(file.relative_to(SOURCE)) for file in files}
        self.tests: dict[Function, set[str]] = defaultdict(set)
        self.seconds: dict[str, float] = {}
        self.failed: set[str] = set()

    def _into(self, found: set[Function]) -> Callable[[FrameType, str, Any], None]:
        files = self.files

        def called(frame: FrameType, _event: str, _given: Any) -> None:
            code = frame.f_code
            if code.co_filename in files:
                found.add((files[code.co_filename], code.co_qualname))

        return called

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item, nextitem: pytest.Item | None) -> Iterator[None]:
        found: set[Function] = set()
        began = time.process_time()
        sys.settrace(self._into(found))
        try:
            return (yield)
        finally:
            sys.settrace(None)
            self.seconds[item.nodeid] = time.process_time() - began
            for function in found:
                self.tests[function].add(item.nodeid)
            if nextitem is None or nextitem.path != item.path:
                forget_results()

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.failed.add(report.nodeid)


def forget_results() -> None:
    """So that the next test calls what this one did, in place of finding what came of it."""
    for name, module in list(sys.modules.items()):
        if name.startswith("drawerwright."):
            for each in list(vars(module).values()):
                if hasattr(each, "cache_clear"):
                    each.cache_clear()


def in_fork(work: Callable[[], int]) -> int:
    """How a fork of this process that does some work in silence ends: 0, or not."""
    child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    quiet = os.open(os.devnull, os.O_WRONLY)
    os.dup2(quiet, 1)
    os.dup2(quiet, 2)
    code = 70
    try:
        code = work()
    finally:
        os._exit(code)


def run_tests(tests: Sequence[str], plugins: Sequence[object] = ()) -> int:
    """Whether tests pass."""
    os.chdir(ROOT)
    options = ["-q", "-p", "no:cacheprovider", "-p", "no:xdist", "-W", "ignore", *tests]
    return int(pytest.main(options, plugins=list(plugins)))


@dataclass(frozen=True)
class Callers:
    """Which tests call each function of the three rooms, and the seconds that each test takes."""

    tests: dict[Function, list[str]]
    seconds: dict[str, float]

    @classmethod
    def noted(cls, kept: Path | None) -> Callers:
        """As noted in a file; noted now where there is none."""
        with tempfile.TemporaryDirectory() as name:
            said = kept or Path(name) / "callers.json"
            if not said.exists():
                in_fork(lambda: cls._note(said))
            told, seconds = json.loads(said.read_text("utf-8"))
        return cls({(file, function): names for file, function, names in told}, seconds)

    @staticmethod
    def _note(into: Path) -> int:
        watch = Watch([file for files in FILES.values() for file in files])
        run_tests(EVERY_TEST, [watch])
        seconds = {name: taken for name, taken in watch.seconds.items() if name not in watch.failed}
        told = [[*function, sorted(names & seconds.keys())] for function, names in watch.tests.items()]
        into.write_text(json.dumps([told, seconds]), "utf-8")
        return 0

    def limit(self, test: str) -> float:
        """Seconds of the processor after which a test is given up."""
        return CPU_SECONDS + 3 * self.seconds[test]

    def of(self, group: str, mutant: Mutant) -> list[str]:
        """The tests of a mutant: those that call its function, then those beside them, which may look at what was
        made once for all; of each the own room's first, the quickest first. A figure outside of all functions is
        looked at by the whole room, then by what calls its module."""
        own = GROUPS[group][1]
        file = str(mutant.file.relative_to(SOURCE))
        direct = {
            test
            for name, tests in self.tests.items()
            if name[0] == file and name[1] == (mutant.function or name[1])
            for test in tests
        }
        if mutant.function:
            modules = {test.split("::")[0] for test in direct}
            sets = direct, {test for test in self.seconds if test.split("::")[0] in modules} - direct
        else:
            room = {test for test in self.seconds if test.startswith(own)}
            sets = room, direct - room
        found: list[str] = []
        left = MOST_SECONDS
        for some in sets:
            for test in sorted(some, key=lambda one: (not one.startswith(own), self.seconds[one])):
                if len(found) < MOST_TESTS and self.seconds[test] <= left:
                    found.append(test)
                    left -= self.seconds[test]
        return found


Limited = Mapping[str, float]
"""Tests in their order, each with its limit (s)."""


def fails_anew(tests: Limited, mutant: Mutant) -> bool:
    """Whether any of the tests fails in a program loaded with a change in it, or they take more than their limits."""

    def work() -> int:
        most = math.ceil(sum(some.values()) - CPU_SECONDS * (len(some) - 1))
        resource.setrlimit(resource.RLIMIT_CPU, (most, most + 1))
        sys.meta_path.insert(0, Mutated(mutant))
        return run_tests(["-x", *some])

    # Tests of many modules take longer to be collected than to run: the first ones by themselves.
    for begin, end in itertools.pairwise((0, FIRST, MOST_TESTS)):
        if (some := dict(itertools.islice(tests.items(), begin, end))) and in_fork(work):
            return True
    return False


class Bench:
    """A pytest plugin that has all tests collected and the program loaded once, and does some work with them."""

    def __init__(self, work: Callable[[Bench], None]) -> None:
        self._work = work
        self.given_up = 0
        """Runs that were ended because a test took too long."""

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self._session = session
        self._items = {item.nodeid: item for item in session.items}
        self._loaded = Loaded()
        gc.collect()
        gc.freeze()  # so that forks share what is there
        self._work(self)
        return True

    def fails(self, tests: Limited, mutant: Mutant | None = None) -> bool:
        """Whether any of the tests fails, with a function changed or without that, or takes more than its limit."""

        def work() -> int:
            if mutant is not None:
                self._loaded.put(mutant)
            forget_results()
            items = [self._items[test] for test in tests]
            for item, limit, after in zip(items, tests.values(), [*items[1:], None], strict=True):
                signal.setitimer(signal.ITIMER_PROF, limit)  # ends the fork
                self._session.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
                if self._session.testsfailed:
                    return 1
            return 0

        code = in_fork(work)
        self.given_up += code == -signal.SIGPROF
        return code != 0


@dataclass
class Count:
    """What was tried so far, and what was noticed; each survivor is printed."""

    callers: Callers
    until: float
    tried: int = 0
    killed: int = 0

    def every(
        self,
        drawn: Sequence[tuple[str, Mutant]],
        fails: Callable[[Limited, Mutant], bool],
        bench: Bench | None,
    ) -> None:
        """Try some mutants, and the tests without them where there is a bench."""
        for group, mutant in drawn:
            if time.monotonic() > self.until:
                break
            tests = {test: self.callers.limit(test) for test in self.callers.of(group, mutant)}
            self.tried += 1
            if bench is not None and self.tried % CONTROL == 0 and bench.fails(tests):
                raise SystemExit(f"tests fail without any change: {' '.join(tests)}")
            if fails(tests, mutant):
                self.killed += 1
                if self.killed % CONTROL == 0:
                    print(f"{self.killed} of {self.tried} killed so far", flush=True)
                continue
            place = mutant.file.relative_to(SOURCE)
            print(
                f"{self.tried}: survives: {place}:{mutant.line}: {mutant.what} ({len(tests)} tests)",
                flush=True,
            )


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--mutants", type=int, default=400, help="of all groups together, drawn at random")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=float("inf"), help="then no further one is begun")
    parser.add_argument("--group", nargs="*", choices=[*GROUPS, []], default=list(GROUPS))
    parser.add_argument("--at", nargs="*", default=[], help="FILE:LINE: only what changes there")
    parser.add_argument("--callers", type=Path, help="where it is kept which test calls what")
    parser.add_argument("--keep", action="store_true", help="keep the counts for docs/reliability.md")
    options = parser.parse_args()
    began = time.monotonic()
    drawn = [(group, mutant) for group in options.group for mutant in mutants_of(FILES[group], NAMES)]
    print(", ".join(f"{sum(g == group for g, _ in drawn)} in {group}" for group in options.group), flush=True)
    Random(options.seed).shuffle(drawn)
    if options.at:
        drawn = [(g, m) for g, m in drawn if f"{m.file.name}:{m.line}" in options.at]
    del drawn[options.mutants :]
    callers = Callers.noted(options.callers)
    print(f"the tests have run, {time.monotonic() - began:.0f} s", flush=True)
    count = Count(callers, began + options.seconds)
    count.every([each for each in drawn if not each[1].function], fails_anew, None)
    inside = [each for each in drawn if each[1].function]
    bench = Bench(lambda bench: count.every(inside, bench.fails, bench))
    if run_tests(["-qq", "-s", *EVERY_TEST], [bench]) not in (
        pytest.ExitCode.OK,
        pytest.ExitCode.NO_TESTS_COLLECTED,
    ):
        return 1
    killed, tried = count.killed, count.tried
    print(f"{bench.given_up} of them because they took too long")
    print(f"{killed} of {tried} killed ({killed / max(tried, 1):.0%}), {time.monotonic() - began:.0f} s")
    if options.keep:
        what = "small mistakes put into joints, drawers and referee (finds: not noticed)"
        keep_run("python benchmarks/mutants.py", {what: tried}, {what: tried - killed}, adds=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
