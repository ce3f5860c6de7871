"""Write docs/validation.md from the tests that hold the program to something outside it: `make validation`.

The first case of each test is run, and each assertion that passes tells what the program gave and what it was held
to. What a test checks and where its figure is from stands in its docstring; nothing on the page is typed twice.
"""

from __future__ import annotations

import ast
import io
import re
import sys
from collections.abc import Iterator
from contextlib import redirect_stdout
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

HERE = Path(__file__).parent
TESTS = HERE.parent / "tests" / "validation"
PAGE = HERE / "validation.md"
LONGEST = 60
"""Characters of a figure in the table; what is longer says nothing there."""
HEAD = """\
# Validation

What the program is checked against, all of it from outside: published tables, other libraries, geometry carried out in
full, finite elements, figures worked out by hand. Running the tests in `tests/validation` writes this page (`make
validation`): *got* and *expected* are what the first case of a test compared; `make test` runs all cases. A dash means
that the test compares too much for a line; its source says what. "From memory" and "common practice, no source" are
said where they are true.
"""


@dataclass
class Check:
    """A validation test: what it checks, and what it was seen to compare."""

    name: str
    source: str
    cases: int = 0
    got: str = ""
    expected: str = ""


@dataclass
class Part:
    """The tests of one module, with what it says of itself."""

    title: str
    about: str
    checks: dict[str, Check] = field(default_factory=dict)


def parts() -> dict[str, Part]:
    """Every module of validation tests, by its name."""
    found = {}
    for path in sorted(TESTS.glob("test_*.py")):
        tree = ast.parse(path.read_text("utf-8"))
        checks = {
            node.name: Check(_words(node.name), _source(ast.get_docstring(node) or ""))
            for node in tree.body
            if isinstance(node, ast.FunctionDef) and node.name.startswith("test_")
        }
        if path.stem != "test_sources":
            about = " ".join((ast.get_docstring(tree) or "").split())
            found[path.stem] = Part(_words(path.stem), about, checks)
    return found


def _words(name: str) -> str:
    said = name.removeprefix("test_").replace("_", " ")
    return said[0].upper() + said[1:]


def _source(docstring: str) -> str:
    return re.sub(r"^Source: ?", "", " ".join(docstring.split()))


class Watch:
    """A plugin that notes what passing assertions compared."""

    def __init__(self, found: dict[str, Part]) -> None:
        self.found = found

    def check(self, item: pytest.Item) -> Check | None:
        name = getattr(item, "originalname", item.name)
        part = self.found.get(item.path.stem)
        return part.checks.get(name) if part else None

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.when == "call" and not report.passed:
            raise SystemExit(f"{report.nodeid} does not pass: nothing was written")

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Of each test only its first case is run here; `make test` runs all of them."""
        for item in list(items):
            check = self.check(item)
            if check is not None:
                check.cases += 1
            if check is None or check.cases > 1:
                items.remove(item)

    def pytest_assertion_pass(self, item: pytest.Item, lineno: int, orig: str, expl: str) -> None:
        check = self.check(item)
        if check is None or check.got:
            return
        for got, expected in compared(expl):
            check.got, check.expected = got, expected
            return


def compared(told: str) -> Iterator[tuple[str, str]]:
    """What stands on both sides of an assertion as pytest tells it, where both are figures that fit into a line."""
    first = told.split("\n", 1)[0]
    for sign in (" == ", " <= ", " < ", " >= ", " > "):
        left, found, right = first.partition(sign)
        if found and all(re.search(r"\d", side) and len(side) <= LONGEST for side in (left, right)):
            yield _plain(left), f"{'' if sign == ' == ' else sign.strip() + ' '}{_plain(right)}"
            return


def _plain(told: str) -> str:
    """Figures with no more digits than anybody reads."""
    short = re.sub(r"\d+\.\d{5,}(?:e[+-]?\d+)?", lambda number: f"{float(number[0]):.5g}", told.strip())
    return re.sub(r"np\.float64\(([^)]*)\)", r"\1", short)


def page(found: dict[str, Part]) -> str:
    """The page with a table for each module."""
    lines = [HEAD]
    for part in found.values():
        lines += [f"## {part.title}", "", part.about, "", "| check | source | expected | got | cases |"]
        lines.append("| --- | --- | --- | --- | --- |")
        for check in part.checks.values():
            cells = (check.name, check.source, _code(check.expected), _code(check.got), str(check.cases))
            lines.append(f"| {' | '.join(cell.replace('|', chr(92) + '|') for cell in cells)} |")
        lines.append("")
    return "\n".join(lines).rstrip("\n") + "\n"


def _code(figure: str) -> str:
    return f"`{figure}`" if figure else "–"


def main(given: list[str]) -> int:
    """Run the tests and write the page."""
    found = parts()
    options: list[Any] = [
        str(TESTS),
        "-q",
        "-o",
        "enable_assertion_pass_hook=true",
        "-p",
        "no:cacheprovider",
        *given,
    ]
    said = io.StringIO()
    with redirect_stdout(said):
        code = pytest.main(options, plugins=[Watch(found)])
    if code != pytest.ExitCode.OK:
        sys.stderr.write(said.getvalue())
        return int(code)
    PAGE.write_text(page(found), "utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
