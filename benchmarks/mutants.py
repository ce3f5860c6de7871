"""How many small mistakes in joints, drawers and the referee the quick tests would notice.

    PYTHONPATH=src python benchmarks/mutants.py [--mutants N] [--seed N] [--group NAME ...] [--at FILE:LINE] [--keep]

A mutant is the program with one operator, number or branch changed. First the tests of a group run once, and each
function is noted with the tests that call it; then each mutant has the tests of its function, the quickest first, until
one fails. Everything happens in forks of one process that has the libraries loaded and nothing of the program; files
are not touched. Printed: how many were killed, and every survivor.
"""

from __future__ import annotations

import argparse
import ast
import importlib.abc
import importlib.machinery
import importlib.util
import json
import os
import resource
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
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

from counted_runs import keep_run  # noqa: E402 - below what tells where it is

SOURCE = ROOT / "src" / "drawerwright"
MOST_TESTS = 120
"""Of one mutant. The first test that needs a plan counts as slow, so that fewer leave out whole modules."""
CPU_SECONDS = 60
"""Of one mutant; one that never ends is noticed."""
GROUPS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "joints": (
        ("joints/*.py", "joints/kinds/*.py", "joints/kinds/finger/*.py"),
        ("tests/unit/joints", "tests/validation/test_corners_of_jobs.py"),
    ),
    "drawers": (("drawers/*.py",), ("tests/unit/drawers", "tests/validation/test_assembled_drawers.py")),
    "referee": (("sheets/referee/*.py",), ("tests/unit/sheets/referee",)),
}
"""By name: what is changed, and the tests that should see it."""
SWAPPED: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.And: ast.Or,
    ast.Or: ast.And,
}
NAMES = {"min": "max", "max": "min", "any": "all", "all": "any"}
WORDS = {"phrase", "plural", "millimetres", "Finding", "Violation", "field", "measure", "TypeVar"}
"""Calls whose arguments are words, or how a value is kept; not looked into."""
Function = tuple[str, int]
"""A file and the first line of a function in it; 0 for what stands outside all."""


@dataclass(frozen=True)
class Mutant:
    """One change: in which file, the how manyth that can be made there, where, and what it is."""

    file: Path
    number: int
    line: int
    function: Function
    what: str


class Changes(ast.NodeTransformer):
    """Goes through a module, counts every change that can be made, and makes the one asked for."""

    def __init__(self, file: Path, wanted: int | None = None) -> None:
        self.file, self.wanted = file, wanted
        self.mutants: list[Mutant] = []
        self.functions: list[Function] = [(str(file), 0)]

    def _is_wanted(self, node: Any, what: str) -> bool:
        number = len(self.mutants)
        self.mutants.append(Mutant(self.file, number, node.lineno, self.functions[-1], what))
        return number == self.wanted

    def visit_FunctionDef(self, node: ast.FunctionDef) -> ast.AST:
        first = min([node.lineno, *(each.lineno for each in node.decorator_list)])
        self.functions.append((str(self.file), first))
        node.body = [self.visit(each) for each in node.body]
        self.functions.pop()
        return node

    def visit_ClassDef(self, node: ast.ClassDef) -> ast.AST:
        """Without what decorates it: whether a value can be changed is nothing that it does."""
        node.body = [self.visit(each) for each in node.body]
        return node

    def visit_AnnAssign(self, node: ast.AnnAssign) -> ast.AST:
        if node.value is not None:
            node.value = self.visit(node.value)
        return node

    def visit_If(self, node: ast.If) -> ast.AST:
        is_for_types = isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"
        return node if is_for_types else self.generic_visit(node)

    def visit_Raise(self, node: ast.Raise) -> ast.AST:
        return node

    def visit_JoinedStr(self, node: ast.JoinedStr) -> ast.AST:
        return node

    def visit_Call(self, node: ast.Call) -> ast.AST:
        if isinstance(node.func, ast.Name):
            if node.func.id in WORDS:
                return node
            other = NAMES.get(node.func.id)
            if other is not None and self._is_wanted(node, f"{node.func.id} -> {other}"):
                node.func = ast.copy_location(ast.Name(other, ast.Load()), node.func)
        return self.generic_visit(node)

    def visit_Compare(self, node: ast.Compare) -> ast.AST:
        for place, operator in enumerate(node.ops):
            self._swap(node, operator, lambda new, at=place: node.ops.__setitem__(at, new))
        return self.generic_visit(node)

    def visit_BinOp(self, node: ast.BinOp) -> ast.AST:
        self._swap(node, node.op, lambda new: setattr(node, "op", new))
        return self.generic_visit(node)

    def visit_BoolOp(self, node: ast.BoolOp) -> ast.AST:
        self._swap(node, node.op, lambda new: setattr(node, "op", new))
        return self.generic_visit(node)

    def _swap(self, node: ast.AST, operator: ast.AST, put: Callable[[Any], object]) -> None:
        other = SWAPPED.get(type(operator))
        if other is not None and self._is_wanted(node, f"{type(operator).__name__} -> {other.__name__}"):
            put(other())

    def visit_UnaryOp(self, node: ast.UnaryOp) -> ast.AST:
        if isinstance(node.op, ast.Not | ast.USub) and self._is_wanted(node, f"no {type(node.op).__name__}"):
            return node.operand
        return self.generic_visit(node)

    def visit_IfExp(self, node: ast.IfExp) -> ast.AST:
        if self._is_wanted(node, "branches swapped"):
            node.body, node.orelse = node.orelse, node.body
        return self.generic_visit(node)

    def visit_Constant(self, node: ast.Constant) -> ast.AST:
        value = node.value
        if not isinstance(value, bool | int | float):
            return node
        new = (not value) if isinstance(value, bool) else value + 1 if isinstance(value, int) else value * 10
        if value == 0 and isinstance(value, float):
            new = 1.0
        return (
            ast.copy_location(ast.Constant(new), node) if self._is_wanted(node, f"{value} -> {new}") else node
        )


def mutants_of(patterns: Sequence[str]) -> list[Mutant]:
    """Every change that can be made in some files."""
    found: list[Mutant] = []
    for file in (file for pattern in patterns for file in sorted(SOURCE.glob(pattern))):
        changes = Changes(file)
        changes.visit(ast.parse(file.read_text("utf-8")))
        found += changes.mutants
    return found


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
        tree = Changes(self.mutant.file, self.mutant.number).visit(ast.parse(Path(self.path).read_bytes()))
        code: CodeType = compile(ast.fix_missing_locations(tree), self.path, "exec")
        return code


class Callers:
    """A pytest plugin that notes which functions each test calls, and how long it takes."""

    def __init__(self, patterns: Sequence[str]) -> None:
        self.files = {str(file) for pattern in patterns for file in SOURCE.glob(pattern)}
        self.tests: dict[Function, set[str]] = defaultdict(set)
        self.seconds: dict[str, float] = {}

    def _into(self, found: set[Function]) -> Callable[[FrameType, str, Any], None]:
        files = self.files

        def called(frame: FrameType, event: str, _given: Any) -> None:
            if event == "call" and frame.f_code.co_filename in files:
                found.add((frame.f_code.co_filename, frame.f_code.co_firstlineno))

        return called

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        found: set[Function] = set()
        began = time.process_time()
        sys.setprofile(self._into(found))
        try:
            return (yield)
        finally:
            sys.setprofile(None)
            self.seconds[item.nodeid] = time.process_time() - began
            for function in found:
                self.tests[function].add(item.nodeid)


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
    options = ["-q", "-x", "-p", "no:cacheprovider", "-p", "no:xdist", "-W", "ignore", *tests]
    return int(pytest.main(options, plugins=list(plugins)))


def called_by(group: str) -> tuple[dict[Function, list[str]], list[str]]:
    """The tests that call each function, and all tests of a group, the quickest first."""
    patterns, tests = GROUPS[group]
    with tempfile.TemporaryDirectory() as name:
        said = Path(name) / "callers.json"

        def watched() -> int:
            plugin = Callers(patterns)
            code = run_tests(tests, [plugin])
            told = [[*function, sorted(names)] for function, names in plugin.tests.items()]
            said.write_text(json.dumps([told, plugin.seconds]))
            return code

        if in_fork(watched) != 0:
            raise SystemExit(f"the tests of {group} fail as they stand")
        told, seconds = json.loads(said.read_text())
    quickest = sorted(seconds, key=seconds.__getitem__)
    return {(file, line): sorted(names, key=seconds.__getitem__) for file, line, names in told}, quickest


def is_killed(mutant: Mutant, tests: Sequence[str]) -> bool:
    """Whether any of the tests fails with the change."""

    def work() -> int:
        resource.setrlimit(resource.RLIMIT_CPU, (CPU_SECONDS, CPU_SECONDS + 1))
        sys.meta_path.insert(0, Mutated(mutant))
        return run_tests(tests)

    return bool(tests) and in_fork(work) != 0


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--mutants", type=int, default=400, help="of all groups together, drawn at random")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=float("inf"), help="then no further one is begun")
    parser.add_argument("--group", nargs="*", choices=[*GROUPS, []], default=list(GROUPS))
    parser.add_argument("--at", nargs="*", default=[], help="FILE:LINE: only what changes there")
    parser.add_argument("--keep", action="store_true", help="keep the counts for docs/reliability.md")
    options = parser.parse_args()
    began = time.monotonic()
    every = {group: mutants_of(GROUPS[group][0]) for group in options.group}
    drawn = [(group, mutant) for group, mutants in every.items() for mutant in mutants]
    print(", ".join(f"{len(mutants)} in {group}" for group, mutants in every.items()), flush=True)
    Random(options.seed).shuffle(drawn)
    if options.at:
        drawn = [(g, m) for g, m in drawn if f"{m.file.name}:{m.line}" in options.at]
    callers = {group: called_by(group) for group in {group for group, _ in drawn[: options.mutants]}}
    print(f"the tests have run, {time.monotonic() - began:.0f} s", flush=True)
    killed, tried, survivors = 0, 0, 0
    for group, mutant in drawn[: options.mutants]:
        if time.monotonic() - began > options.seconds:
            break
        functions, every_test = callers[group]
        tests = functions.get(mutant.function, []) if mutant.function[1] else every_test
        tried += 1
        if is_killed(mutant, tests[:MOST_TESTS]):
            killed += 1
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
