"""How many small mistakes in joints, drawers and the referee the tests would notice.

    PYTHONPATH=src python benchmarks/mutants.py [--mutants N] [--seed N] [--group NAME ...] [--at FILE:LINE]
        [--callers FILE] [--keep]

A mutant is the program with one operator, number or branch changed (`small_mistakes.py`). First all tests but those of
the pages run once, and each function is noted with the tests that call it; `--callers` keeps that. Then each mutant has
the tests of its function, those of its own room first and the quickest first, until one fails. After every tenth the
same tests run without a change and must pass, so that nothing else is taken for a mistake that was noticed. Everything
happens in forks of one process that has the libraries loaded and nothing of the program; files are not touched.
Printed: how many were noticed, and every survivor.
"""

from __future__ import annotations

import argparse
import ast
import importlib.abc
import importlib.machinery
import importlib.util
import json
import math
import os
import resource
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random
from types import CodeType, FrameType, ModuleType
from typing import Any

import hypothesis  # noqa: F401 - loaded once for all forks
import manifold3d  # noqa: F401
import numpy  # noqa: F401 - ICN001
import pydantic  # noqa: F401
import pytest
import shapely  # noqa: F401

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests"))

from small_mistakes import Changes, Function, Mutant, mutants_of, whole_names  # noqa: E402

from counted_runs import keep_run  # noqa: E402 - below what tells where it is

SOURCE = ROOT / "src" / "drawerwright"
MOST_TESTS = 400
MOST_SECONDS = 15.0
"""Of the tests of one mutant, by the time they took without it."""
CPU_SECONDS = 10.0
"""Of one mutant, beside twice what its tests took without it; one that never ends is noticed."""
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
WHOLE = whole_names(SOURCE.rglob("*.py"))


class Mutated(importlib.abc.MetaPathFinder):
    """Gives one module of the program with its change in it."""

    def __init__(self, mutant: Mutant) -> None:
        self.mutant = mutant
        parts = mutant.file.relative_to(SOURCE.parent).with_suffix("").parts
        self.name = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)

    def find_spec(
        self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        if fullname != self.name:
            return None
        loader = _Loader(fullname, str(self.mutant.file))
        loader.mutant = self.mutant
        return importlib.util.spec_from_file_location(fullname, self.mutant.file, loader=loader)


class _Loader(importlib.machinery.SourceFileLoader):
    mutant: Mutant

    def get_code(self, fullname: str) -> CodeType:
        tree = ast.parse(Path(self.path).read_bytes())
        changed = Changes(self.mutant.file, WHOLE, self.mutant.number).visit(tree)
        code: CodeType = compile(ast.fix_missing_locations(changed), self.path, "exec")
        return code


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

    def limit(self, tests: Sequence[str]) -> int:
        """Seconds of the processor after which these tests are given up."""
        return math.ceil(CPU_SECONDS + 2 * sum(self.seconds[test] for test in tests))

    def of(self, group: str, mutant: Mutant) -> list[str]:
        """The tests of a mutant: those that call its function, then those beside them, which may look at what was
        made once for all; of each the own room's first, the quickest first."""
        file = str(mutant.file.relative_to(SOURCE))
        functions = [name for name in self.tests if name[0] == file]
        direct = {
            test
            for name in functions
            if name[1] == mutant.function or not mutant.function
            for test in self.tests[name]
        }
        modules = {test.split("::")[0] for test in direct}
        beside = {test for test in self.seconds if test.split("::")[0] in modules} - direct
        own = GROUPS[group][1]
        found: list[str] = []
        left = MOST_SECONDS
        for some in (direct, beside):
            for test in sorted(some, key=lambda one: (not one.startswith(own), self.seconds[one])):
                if len(found) < MOST_TESTS and self.seconds[test] <= left:
                    found.append(test)
                    left -= self.seconds[test]
        return found


def fails(tests: Sequence[str], mutant: Mutant | None, limit: int) -> bool:
    """Whether any of the tests fails, with a change or without one, or takes more than a limit (s)."""

    def work() -> int:
        resource.setrlimit(resource.RLIMIT_CPU, (limit, limit + 1))
        if mutant is not None:
            sys.meta_path.insert(0, Mutated(mutant))
        return run_tests(["-x", *tests])

    return bool(tests) and in_fork(work) != 0


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
    drawn = [(group, mutant) for group in options.group for mutant in mutants_of(FILES[group], WHOLE)]
    print(", ".join(f"{sum(g == group for g, _ in drawn)} in {group}" for group in options.group), flush=True)
    Random(options.seed).shuffle(drawn)
    if options.at:
        drawn = [(g, m) for g, m in drawn if f"{m.file.name}:{m.line}" in options.at]
    callers = Callers.noted(options.callers)
    print(f"the tests have run, {time.monotonic() - began:.0f} s", flush=True)
    killed, tried, survivors = 0, 0, 0
    for group, mutant in drawn[: options.mutants]:
        if time.monotonic() - began > options.seconds:
            break
        tests = callers.of(group, mutant)
        limit = callers.limit(tests)
        tried += 1
        if tried % CONTROL == 0 and fails(tests, None, limit):
            raise SystemExit(f"tests fail without any change: {' '.join(tests)}")
        if fails(tests, mutant, limit):
            killed += 1
            if killed % CONTROL == 0:
                print(f"{killed} of {tried} killed so far", flush=True)
            continue
        survivors += 1
        place = mutant.file.relative_to(SOURCE)
        print(f"{tried}: survives: {place}:{mutant.line}: {mutant.what} ({len(tests)} tests)", flush=True)
    print(f"{killed} of {tried} killed ({killed / max(tried, 1):.0%}), {time.monotonic() - began:.0f} s")
    if options.keep:
        what = "small mistakes put into joints, drawers and referee (finds: not noticed)"
        keep_run("python benchmarks/mutants.py", {what: tried}, {what: survivors}, adds=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
