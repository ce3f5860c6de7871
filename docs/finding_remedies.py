"""What each finding tells to change, read out of the program's own text."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import drawerwright

TREE = Path(drawerwright.__file__).parent
SAYS = ("phrase", "plural")
REMEDY = 4
"""Which argument of a finding it is."""


@cache
def remedies() -> dict[str, list[str]]:
    """The remedies of each code, figures as `…`, in the order in which the program has them."""
    found: dict[str, list[str]] = {}
    for tree in _modules():
        for call, around in _findings(tree):
            code, remedy = _argument(call, 0, "code"), _argument(call, REMEDY, "remedy")
            for name in _texts(code, around, tree):
                told = found.setdefault(name, [])
                told += [
                    words
                    for words in map(_plain, _texts(remedy, around, tree))
                    if words and words not in told
                ]
    return found


def _findings(tree: ast.Module) -> Iterator[tuple[ast.Call, ast.AST]]:
    """Every call that makes a finding, with the function that it stands in."""
    if not any(isinstance(node, ast.Name) and node.id == "Finding" for node in ast.walk(tree)):
        return
    for around in ast.walk(tree):
        if isinstance(around, ast.FunctionDef):
            for node in ast.walk(around):
                if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Finding":
                    yield node, around


def _argument(call: ast.Call, place: int, name: str) -> ast.expr | None:
    if len(call.args) > place:
        return call.args[place]
    return next((each.value for each in call.keywords if each.arg == name), None)


def _texts(value: ast.AST | None, around: ast.AST, tree: ast.Module, deep: int = 3) -> Iterator[str]:
    """Every text that an expression may come to, through names and functions of its module."""
    match value:
        case ast.Constant(value=str(text)):
            yield text
        case ast.IfExp(body=one, orelse=other):
            yield from _texts(one, around, tree, deep)
            yield from _texts(other, around, tree, deep)
        case ast.Call(func=ast.Name(id=name), args=args) if name in SAYS:
            for each in args[: 1 + (name == "plural")]:
                yield from _texts(each, around, tree, deep)
        case ast.Call(func=ast.Name(id="joined"), args=[first, *_]):
            yield from _texts(first, around, tree, deep)
        case ast.Tuple(elts=each) | ast.List(elts=each):
            yield " ".join(text for part in each for text in list(_texts(part, around, tree, deep))[:1])
        case ast.Attribute(value=ast.Name(id=name), attr="remedy") if deep:
            for node in ast.walk(around):
                match node:
                    case ast.Assign(
                        targets=[ast.Name(id=given)], value=ast.Call(func=ast.Attribute(attr=method))
                    ) if given == name:
                        yield from _doubts(method, deep - 1)
        case ast.BoolOp(values=each):
            for part in each:
                yield from _texts(part, around, tree, deep)
        case ast.Call(func=ast.Name(id=name)) if deep:
            for function, module in _functions(name, tree):
                for node in ast.walk(function):
                    if isinstance(node, ast.Return):
                        yield from _texts(node.value, function, module, deep - 1)
        case ast.Name(id=name) if deep and isinstance(around, ast.FunctionDef) and name in _given(around):
            for call in ast.walk(tree):
                if isinstance(call, ast.Call) and getattr(call.func, "id", "") == around.name:
                    yield from _texts(_argument(call, _given(around).index(name), name), tree, tree, deep - 1)
        case ast.Name(id=name) if deep:
            for scope in (around, tree):
                for node in ast.walk(scope) if scope is around else ast.iter_child_nodes(scope):
                    targets = node.targets if isinstance(node, ast.Assign) else []
                    if any(isinstance(each, ast.Name) and each.id == name for each in targets):
                        assert isinstance(node, ast.Assign)
                        yield from _texts(node.value, around, tree, deep - 1)
                    elif isinstance(node, ast.AnnAssign) and getattr(node.target, "id", "") == name:
                        yield from _texts(node.value, around, tree, deep - 1)


@cache
def _modules() -> tuple[ast.Module, ...]:
    return tuple(ast.parse(path.read_text("utf-8")) for path in sorted(TREE.rglob("*.py")))


@cache
def _named() -> dict[str, list[tuple[ast.FunctionDef, ast.Module]]]:
    """Every function of the program by its name, with its module."""
    found: dict[str, list[tuple[ast.FunctionDef, ast.Module]]] = {}
    for module in _modules():
        for node in ast.walk(module):
            if isinstance(node, ast.FunctionDef):
                found.setdefault(node.name, []).append((node, module))
    return found


def _functions(name: str, tree: ast.Module) -> list[tuple[ast.FunctionDef, ast.Module]]:
    """The function of a name: of the module, or else of the one that it may import it from."""
    found = _named().get(name, [])
    own = [each for each in found if each[1] is tree]
    return (own or found)[:1]


def _doubts(method: str, deep: int) -> Iterator[str]:
    """The remedies in what the methods of a name give back: each kind of joint has its own."""
    for function, module in _named().get(method, []):
        for call in ast.walk(function):
            if isinstance(call, ast.Call) and getattr(call.func, "id", "") == "Doubtful":
                yield from _texts(call.args[1], function, module, deep)


def _given(function: ast.FunctionDef) -> list[str]:
    return [each.arg for each in function.args.args]


def _plain(template: str) -> str:
    return re.sub(r"\{[^}]*\}", "…", template).strip()
