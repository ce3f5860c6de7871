"""The unit of bare numbers in a user's file: millimetres, or inches where the file says `units: in`.

Which entries are lengths is known from the model of the file. A file in inches is read as if each of its bare numbers
named its unit, so that whatever reads entries takes no number of inches for millimetres.
"""

from __future__ import annotations

import types
import typing
from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal
from typing import Any, Literal, TypeAlias

from pydantic import BaseModel

from drawerwright.basics.lengths import MM_PER_INCH
from drawerwright.basics.loads import KG_PER_POUND, LOAD_UNITS
from drawerwright.basics.typed_lengths import at_plus_minus, unit_named
from drawerwright.job.file.entry_paths import EntryPath
from drawerwright.job.file.entry_types import Length, LengthsByName, Told

FileUnit: TypeAlias = Literal["mm", "in"]
UNITS = "units"
"""The entry that says it."""
INCHES_KEPT_TO = 5
"""Decimals of inches that the program writes into a file: less than 0.001 mm."""
_IMPERIAL = {"mm": "in", "kg": LOAD_UNITS["in"]}
_METRIC_OF = {"mm": MM_PER_INCH, "kg": KG_PER_POUND}
Change: TypeAlias = Callable[[Any, str], Any]
"""What becomes of a figure, and the unit that its entry is told in."""


def unit_of(data: Any) -> FileUnit:
    """The unit of bare numbers in a file with these entries."""
    return "in" if isinstance(data, dict) and data.get(UNITS) == "in" else "mm"


def with_units_named(data: Any, model: Any, unit: FileUnit) -> Any:
    """Entries of a file of `model`, each length that names no unit with the one that is meant.

    Millimetres stay bare: they are what is read where no unit is named.
    """
    return data if unit == "mm" else _changed(data, model, _named)


def in_unit(value: Any, model: Any, path: Sequence[str | int], unit: FileUnit) -> Any:
    """A value for the entry at `path` whose bare lengths are mm, as a file of this unit has it."""
    hint = model
    for step in path:
        hint = _below(hint, step)
        if hint is None:
            return value
    return value if unit == "mm" else _changed(value, hint, _from_metric)


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def digits(value: float) -> str:
    """A number with every digit, and no exponent."""
    return format(Decimal(repr(value)), "f") if value == value and abs(value) < 1e15 else repr(value)


def _named(value: Any, told: str) -> Any:
    """A figure with its unit, where it names none."""
    if isinstance(value, dict):
        return {key: _named(each, told) for key, each in value.items()}
    if isinstance(value, list):
        return [_named(each, told) for each in value]
    if _is_number(value):
        return f"{digits(value)} {_IMPERIAL[told]}"
    if not isinstance(value, str):
        return value
    bits = at_plus_minus(value)
    return " ± ".join(f"{bit.strip()} {_IMPERIAL[told]}" if unit_named(bit) == "" else bit for bit in bits)


def _from_metric(value: Any, told: str) -> Any:
    """A figure in mm or kg as a number of inches or pounds; what names its unit stays."""
    if isinstance(value, dict):
        return {key: _from_metric(each, told) for key, each in value.items()}
    if isinstance(value, list):
        return [_from_metric(each, told) for each in value]
    if _is_number(value):
        figure = round(value / _METRIC_OF[told], INCHES_KEPT_TO)
        return int(figure) if figure == int(figure) else figure
    if not isinstance(value, str):
        return value
    bits = at_plus_minus(value)
    if any(unit_named(bit) != "" for bit in bits):
        return value
    return " ± ".join(digits(_from_metric(float(bit.replace(",", ".")), told)) for bit in bits)


def _changed(node: Any, hint: Any, change: Change) -> Any:
    """`node`, which a model reads by `hint`, with every figure of a unit in it changed."""
    kind = _kind(hint, node)
    if kind is None:
        return node
    if isinstance(kind, str):
        return change(node, kind)
    if isinstance(node, dict):
        return {key: _changed(each, _below(kind, key), change) for key, each in node.items()}
    if isinstance(node, list):
        return [_changed(each, _below(kind, place), change) for place, each in enumerate(node)]
    return node


def lengths_in(node: Any, hint: Any, path: EntryPath) -> Iterator[tuple[EntryPath, Any]]:
    """Every length in `node`, with its path."""
    kind = _kind(hint, node)
    if kind == "mm":
        yield path, node
    elif kind is not None and isinstance(node, dict):
        for key, each in node.items():
            yield from lengths_in(each, _below(kind, key), (*path, key))
    elif kind is not None and isinstance(node, list):
        for place, each in enumerate(node):
            yield from lengths_in(each, _below(kind, place), (*path, place))


def _kind(hint: Any, node: Any) -> Any:
    """What a hint says of `node`: the unit that its figure is told in, a section, a list, named entries; None where it
    holds no such figure."""
    if hint is None or isinstance(hint, LengthsByName):
        return hint
    if typing.get_origin(hint) is typing.Annotated:
        inside, *notes = typing.get_args(hint)
        if isinstance(node, dict) and (
            by_name := next((n for n in notes if isinstance(n, LengthsByName)), None)
        ):
            return by_name
        told = next((note.unit for note in notes if isinstance(note, Told)), "")
        return told if told in _IMPERIAL else _kind(inside, node)
    if typing.get_origin(hint) in (typing.Union, types.UnionType):
        kinds = [kind for each in typing.get_args(hint) if (kind := _kind(each, node)) is not None]
        wanted = [kind for kind in kinds if _takes(kind, node)]
        return wanted[0] if wanted else None
    if isinstance(hint, type) and issubclass(hint, BaseModel):
        return hint
    return hint if typing.get_origin(hint) in (tuple, dict) else None


def _takes(kind: Any, node: Any) -> bool:
    if isinstance(kind, str):
        return not isinstance(node, list)
    return isinstance(node, list) if typing.get_origin(kind) is tuple else isinstance(node, dict)


def _below(hint: Any, step: str | int) -> Any:
    """The hint of what stands at `step` below what `hint` reads; None where that is unknown."""
    kind = _kind(hint, [] if isinstance(step, int) else {})
    if isinstance(kind, LengthsByName):
        return None if step in kind.but else Length
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        return _hints(kind).get(str(step))
    inside = typing.get_args(kind)
    if typing.get_origin(kind) is dict:
        return inside[1]
    if typing.get_origin(kind) is tuple and isinstance(step, int):
        if len(inside) == 2 and inside[1] is Ellipsis:
            return inside[0]
        return inside[step] if step < len(inside) else None
    return None


_KNOWN: dict[type[BaseModel], dict[str, Any]] = {}


def _hints(model: type[BaseModel]) -> dict[str, Any]:
    if model not in _KNOWN:
        _KNOWN[model] = typing.get_type_hints(model, include_extras=True)
    return _KNOWN[model]
