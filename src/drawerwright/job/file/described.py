"""Entries of a file as people read about them, from the model that reads them; docs and fields ask here."""

from __future__ import annotations

import ast
import inspect
import re
import sys
import types
import typing
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from functools import cache
from itertools import pairwise
from typing import Any

import annotated_types as limits
from pydantic import BaseModel
from pydantic.fields import FieldInfo

from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.entry_types import Told, Usual

NOTHING = "–"
EACH = "*"
"""Stands for any item of a list, and for any name that the user gives."""


@dataclass(frozen=True, slots=True)
class DescribedEntry:
    """One entry.

    path: steps from the file's root, `EACH` for members of lists and of named sections. kind: what is written there, in
    words. usual: what is taken where it is missing, None for nothing. sections: the models of what stands below it.
    """

    path: tuple[str, ...]
    meaning: str
    kind: str
    unit: str
    limits: str
    is_required: bool
    usual: Any
    sections: tuple[type[BaseModel], ...]

    @property
    def name(self) -> str:
        return self.path[-1]


@cache
def described(model: type[BaseModel], above: tuple[str, ...] = ()) -> tuple[DescribedEntry, ...]:
    """Every entry of a model and of the sections below it, in the model's order."""
    hints, meanings = typing.get_type_hints(model, include_extras=True), _meanings(model)
    found: list[DescribedEntry] = []
    for name, field in model.model_fields.items():
        path, hint = (*above, name), hints[name]
        sections = tuple(kind for kind in _inner(hint) if _is_model(kind))
        found.append(
            DescribedEntry(
                path,
                meanings.get(name, ""),
                _words(hint),
                next((note.unit for note in _notes(hint, Told) if note.unit), ""),
                _limits(hint, field),
                field.is_required(),
                _usual(hint, field),
                sections,
            )
        )
        below = (*path, EACH) if typing.get_origin(_bare(hint)) in (tuple, dict) else path
        for section in sections:
            found += described(section, below)
    return tuple(found)


def _meanings(model: type[BaseModel]) -> dict[str, str]:
    """The text below each entry of a model, those of the models that it extends among them."""
    found: dict[str, str] = {}
    for kind in reversed(model.__mro__):
        if issubclass(kind, BaseModel) and kind is not BaseModel:
            found |= _texts_below(kind.__module__).get(kind.__qualname__, {})
    return found


@cache
def _texts_below(module: str) -> dict[str, dict[str, str]]:
    """For each class of a module by its name, the texts that stand below its annotated names."""
    tree = ast.parse(inspect.getsource(sys.modules[module]))
    return {
        node.name: {
            above.target.id: " ".join(below.value.value.split())
            for above, below in pairwise(node.body)
            if isinstance(above, ast.AnnAssign)
            and isinstance(above.target, ast.Name)
            and isinstance(below, ast.Expr)
            and isinstance(below.value, ast.Constant)
            and isinstance(below.value.value, str)
        }
        for node in tree.body
        if isinstance(node, ast.ClassDef)
    }


def usual_of(model: type[BaseModel], *path: str) -> Any:
    """What is taken where the entry at a path is missing, None for nothing; the path leaves out `EACH`.

    Raises:
        KeyError: there is no such entry.
    """
    return _usual_by_path(model)[path]


@cache
def _usual_by_path(model: type[BaseModel]) -> dict[tuple[str, ...], Any]:
    return {tuple(step for step in entry.path if step != EACH): entry.usual for entry in described(model)}


def figure_words(value: Any) -> str:
    """What is taken for a missing entry, as docs and editors write it.

    >>> figure_words(Estimate(45, 5)), figure_words(0.2), figure_words(("a", "b")), figure_words(None)
    ('45 ± 5', '0.2', '`a`, `b`', '–')
    """
    if isinstance(value, Estimate):
        return f"{value.value:g} ± {value.uncertainty:g}"
    if isinstance(value, bool):
        return f"`{str(value).lower()}`"
    if isinstance(value, int | float):
        return f"{value:g}"
    if isinstance(value, tuple):
        return ", ".join(f"`{each}`" for each in value)
    return NOTHING if value is None else f"`{value}`"


def _usual(hint: Any, field: FieldInfo) -> Any:
    stand_in = next(iter(_notes(hint, Usual)), None)
    if stand_in is not None:
        return stand_in.value
    default = None if field.is_required() else field.get_default(call_default_factory=True)
    return None if isinstance(default, BaseModel) or default in ((), {}) else default


def _words(hint: Any) -> str:
    """What is written for a value of this kind."""
    told = next(iter(_notes_here(hint, Told)), None)
    if told is not None:
        return str(told.kind() if callable(told.kind) else told.kind)
    kind = _bare(hint)
    origin, inside = typing.get_origin(kind), typing.get_args(kind)
    if origin in (typing.Union, types.UnionType):
        return " or ".join(dict.fromkeys(_words(each) for each in inside if each is not types.NoneType))
    if origin is tuple:
        is_list = len(inside) == 2 and inside[1] is Ellipsis
        return _list_of(_words(inside[0])) if is_list else f"[{', '.join(map(_words, inside))}]"
    if origin is dict:
        return f"{_words(inside[1])} by name"
    if origin is typing.Literal:
        return ", ".join(f"`{value}`" for value in inside)
    if _is_model(kind):
        return "section"
    if isinstance(kind, type) and issubclass(kind, Enum):
        return ", ".join(f"`{value}`" for value in kind)
    return {bool: "`true`, `false`", int: "whole number", float: "number", str: "text"}[kind]


def _list_of(words: str) -> str:
    if words.startswith("list of "):
        return f"list of lists{words.removeprefix('list')}"
    return f"list of {words}s" if re.fullmatch("[a-z ]+", words) else f"list: {words}"


def _limits(hint: Any, field: FieldInfo) -> str:
    """Between which values an entry lies, in words."""
    told = [
        note
        for word in _notes(hint, Told)
        for note in (
            *([] if word.least is None else [limits.Ge(word.least)]),
            *([] if word.above is None else [limits.Gt(word.above)]),
        )
    ]
    inner = [note for extra in _notes(hint, FieldInfo) for note in extra.metadata]
    words: dict[str, None] = {}
    each = "each " if _is_many(hint) else ""
    for note in (*told, *inner, *field.metadata):
        match note:
            case limits.Gt(gt=value):
                words[f"{each}more than {value:g}"] = None
            case limits.Ge(ge=value):
                words[f"{each}{value:g} or more"] = None
            case limits.Le(le=value):
                words[f"{value:g} at most"] = None
            case limits.MinLen(min_length=value) if value > 1 or _is_many(hint):
                words[f"{value} or more"] = None
            case limits.MaxLen(max_length=value):
                words[f"{value}{'' if _is_many(hint) else ' characters'} at most"] = None
    return ", ".join(words)


def _is_many(hint: Any) -> bool:
    return any(typing.get_origin(each) in (tuple, dict) for each in _inner(hint))


def _is_model(kind: object) -> typing.TypeGuard[type[BaseModel]]:
    return isinstance(kind, type) and issubclass(kind, BaseModel)


def _bare(hint: Any) -> Any:
    """A hint without its notes, and without the None that says it may be left out."""
    while typing.get_origin(hint) is typing.Annotated:
        hint = typing.get_args(hint)[0]
    if typing.get_origin(hint) in (typing.Union, types.UnionType):
        kept = [each for each in typing.get_args(hint) if each is not types.NoneType]
        return _bare(kept[0]) if len(kept) == 1 else hint
    return hint


def _inner(hint: Any) -> Iterator[Any]:
    """A hint and all that it is made of."""
    yield hint
    for each in typing.get_args(hint):
        yield from _inner(each)


def _notes_here(hint: Any, kind: type[Any]) -> Iterator[Any]:
    """Notes on a hint itself, or on what it is where it is not left out."""
    while True:
        if typing.get_origin(hint) is typing.Annotated:
            inside, *notes = typing.get_args(hint)
            yield from (note for note in notes if isinstance(note, kind))
            hint = inside
        elif typing.get_origin(hint) in (typing.Union, types.UnionType):
            kept = [each for each in typing.get_args(hint) if each is not types.NoneType]
            if len(kept) != 1:
                return
            hint = kept[0]
        else:
            return


def _notes(hint: Any, kind: type[Any]) -> Iterator[Any]:
    """Notes on a hint and on all that it is made of."""
    yield from (
        note for each in _inner(hint) for note in getattr(each, "__metadata__", ()) if isinstance(note, kind)
    )
