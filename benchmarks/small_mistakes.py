"""Small mistakes that can be put into a module: an operator, a number or a branch changed.

A change that nobody could notice with a rule is no mistake, and is left out by these rules:

* **Two measured sizes** are never exactly equal, so `<` in place of `<=` between them changes nothing; there the
  comparison is turned round. Where whole numbers are compared, it is moved by its limit.
* **A number below a thousandth** is slack for arithmetic, also by its name, and whether it is added or taken off: no
  length is measured, no share is told so finely.
* **How finely or how far something is sought**: a whole number of ten or more (slices, draws, tries), of which one more
  is a tenth at most; the digits to which something is rounded; rows of trial values, that is the numbers of a
  `linspace`, `geomspace` or `arange` and lists of four numbers or more.
* **How a search goes on**: functions of `SEARCHES`, which say where an iteration begins, how far its next step goes, or
  what need not be looked at; what comes out is judged by another function, and is the same with any of them.
* **Words**: what is written in a sentence, and functions that return nothing else. Sentences are read, not computed.
* **Guards of the program itself**: `assert`, `strict=`, the words and the way of an error, `TYPE_CHECKING`, aliases of
  types, what decorates a class.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

LEAST_NUMBER = 0.001
FINE = 10
MANY = 4
TRIAL_VALUES = {"linspace", "geomspace", "arange"}
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
TURNED: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.GtE,
    ast.LtE: ast.Gt,
    ast.Gt: ast.LtE,
    ast.GtE: ast.Lt,
}
NAMES = {"min": "max", "max": "min", "any": "all", "all": "any"}
WORDS = {"phrase", "plural", "millimetres", "Finding", "Violation", "field", "measure", "TypeVar"}
"""Calls whose arguments are words, or how a value is kept; not looked into."""
OF_WORDS = {
    "Phrase",
    "Phrase | None",
    "tuple[Phrase, ...]",
    "Sequence[Phrase]",
    "list[Phrase]",
    "Iterator[Phrase]",
}
SEARCHES = {
    "joints/clash.py": {"_hopeful", "_hopeful_cells"},  # rule out most engagements before all are looked at
    "joints/chain.py": {"begin", "least_squares"},  # the start, and steps of Levenberg and Marquardt
    "joints/roughness.py": {"_moved"},  # steps of Gauss and Newton
}
"""By file, functions by their own names."""
COUNTING = {"len", "count", "index", "bit_length"}
Function = tuple[str, str]
"""A file below the program's folder, and the qualified name of a function in it; "" for what stands outside all."""


@dataclass(frozen=True)
class Mutant:
    """One change: in which file, the how manyth that can be made there, where, and what it is."""

    file: Path
    number: int
    line: int
    function: str
    what: str


@dataclass(frozen=True)
class Names:
    """What is known of the values of some names wherever they stand: whole numbers, and slack for arithmetic."""

    whole: frozenset[str]
    slack: frozenset[str]

    @classmethod
    def of(cls, files: Iterable[Path]) -> Names:
        """Annotated as whole numbers in some files and as nothing else; given as slack and as nothing more."""
        whole: dict[bool, set[str]] = {True: set(), False: set()}
        slack: dict[bool, set[str]] = {True: set(), False: set()}
        for file in files:
            for node in ast.walk(ast.parse(file.read_text("utf-8"))):
                given = node.targets[0] if isinstance(node, ast.Assign) else getattr(node, "target", None)
                name = (
                    getattr(node, "arg", None) or getattr(given, "id", None) or getattr(given, "attr", None)
                )
                if name is None:
                    continue
                if (kind := getattr(node, "annotation", None)) is not None:
                    whole[ast.unparse(kind) in ("int", "int | None")].add(name)
                if name.isupper() and isinstance(value := getattr(node, "value", None), ast.Constant):
                    slack[isinstance(value.value, float) and 0 < value.value < LEAST_NUMBER].add(name)
        return cls(frozenset(whole[True] - whole[False]), frozenset(slack[True] - slack[False]))


class Changes(ast.NodeTransformer):
    """Goes through a module, counts every change that can be made, and makes the one asked for."""

    def __init__(self, file: Path, names: Names, wanted: int | None = None) -> None:
        self.file, self.wanted, self.names = file, wanted, names
        self.mutants: list[Mutant] = []
        self._above: list[str] = []
        self._functions = [""]

    def _is_wanted(self, node: Any, what: str) -> bool:
        number = len(self.mutants)
        self.mutants.append(Mutant(self.file, number, node.lineno, self._functions[-1], what))
        return number == self.wanted

    def visit_FunctionDef(self, node: ast.FunctionDef) -> ast.AST:
        returned = ast.unparse(node.returns) if node.returns else ""
        searches = SEARCHES.get("/".join(self.file.parts[-2:]), ())
        if (
            node.name in searches
            or returned in OF_WORDS
            or (returned == "str" and node.name.endswith(("words", "text", "remedy")))
        ):
            return node
        self._functions.append(".".join((*self._above, node.name)))
        self._above += [node.name, "<locals>"]
        node.body = [self.visit(each) for each in node.body]
        del self._above[-2:]
        self._functions.pop()
        return node

    def visit_ClassDef(self, node: ast.ClassDef) -> ast.AST:
        self._above.append(node.name)
        node.body = [self.visit(each) for each in node.body]
        self._above.pop()
        return node

    def visit_AnnAssign(self, node: ast.AnnAssign) -> ast.AST:
        if node.value is not None and ast.unparse(node.annotation) != "TypeAlias":
            node.value = self.visit(node.value)
        return node

    def visit_If(self, node: ast.If) -> ast.AST:
        is_for_types = isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"
        return node if is_for_types else self.generic_visit(node)

    def visit(self, node: ast.AST) -> Any:
        """All but what a guard and a sentence are made of."""
        return node if isinstance(node, ast.Raise | ast.Assert | ast.JoinedStr) else super().visit(node)

    def visit_keyword(self, node: ast.keyword) -> ast.AST:
        return node if node.arg == "strict" else self.generic_visit(node)

    def visit_Call(self, node: ast.Call) -> ast.AST:
        if isinstance(node.func, ast.Attribute) and node.func.attr in TRIAL_VALUES:
            return node
        if isinstance(node.func, ast.Name):
            if node.func.id in WORDS:
                return node
            if node.func.id == "round":
                node.args[:1] = [self.visit(node.args[0])]
                return node
            other = NAMES.get(node.func.id)
            if other is not None and self._is_wanted(node, f"{node.func.id} -> {other}"):
                node.func = ast.copy_location(ast.Name(other, ast.Load()), node.func)
        return self.generic_visit(node)

    def _visit_row(self, node: ast.Tuple | ast.List) -> ast.AST:
        numbers = [each.operand if isinstance(each, ast.UnaryOp) else each for each in node.elts]
        is_of_trial_values = len(numbers) >= MANY and all(isinstance(each, ast.Constant) for each in numbers)
        return node if is_of_trial_values else self.generic_visit(node)

    def visit_Tuple(self, node: ast.Tuple) -> ast.AST:
        return self._visit_row(node)

    def visit_List(self, node: ast.List) -> ast.AST:
        return self._visit_row(node)

    def visit_Compare(self, node: ast.Compare) -> ast.AST:
        sides = [node.left, *node.comparators]
        for place, operator in enumerate(node.ops):
            is_whole = any(self._is_whole(side) for side in sides[place : place + 2])
            others = SWAPPED if is_whole else {**SWAPPED, **TURNED}
            self._swap(node, operator, lambda new, at=place: node.ops.__setitem__(at, new), others)
        return self.generic_visit(node)

    def _is_whole(self, node: ast.expr) -> bool:
        """Whether this is known to be a whole number; 0 may be one of a measured size as well."""
        match node:
            case ast.Constant(value=value):
                return isinstance(value, int) and value != 0
            case ast.Call(func=ast.Name(id=name)) | ast.Call(func=ast.Attribute(attr=name)):
                return name in COUNTING
            case ast.Name(id=name) | ast.Attribute(attr=name):
                return name in self.names.whole
            case ast.BinOp(left=left, right=right):
                return self._is_whole(left) and self._is_whole(right)
        return False

    def _is_slack(self, node: ast.expr) -> bool:
        match node:
            case ast.Constant(value=float(value)):
                return 0 < value < LEAST_NUMBER
            case ast.Name(id=name):
                return name in self.names.slack
        return False

    def visit_BinOp(self, node: ast.BinOp) -> ast.AST:
        if isinstance(node.op, ast.Add | ast.Sub) and self._is_slack(node.right):
            node.left = self.visit(node.left)
            return node
        self._swap(node, node.op, lambda new: setattr(node, "op", new), SWAPPED)
        return self.generic_visit(node)

    def visit_BoolOp(self, node: ast.BoolOp) -> ast.AST:
        self._swap(node, node.op, lambda new: setattr(node, "op", new), SWAPPED)
        return self.generic_visit(node)

    def _swap(
        self,
        node: ast.AST,
        operator: ast.AST,
        put: Callable[[Any], object],
        others: dict[type[ast.AST], type[ast.AST]],
    ) -> None:
        other = others.get(type(operator))
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
        value, new = node.value, None
        if isinstance(value, bool):
            new = not value
        elif isinstance(value, int) and value < FINE:
            new = value + 1
        elif isinstance(value, float) and (value == 0 or value >= LEAST_NUMBER):
            new = value * 10 or 1.0
        if new is None or not self._is_wanted(node, f"{value} -> {new}"):
            return node
        return ast.copy_location(ast.Constant(new), node)


def mutants_of(files: Sequence[Path], names: Names) -> list[Mutant]:
    """Every change that can be made in some files."""
    found: list[Mutant] = []
    for file in files:
        changes = Changes(file, names)
        changes.visit(ast.parse(file.read_text("utf-8")))
        found += changes.mutants
    return found
