"""Cells of a table read as what their column holds, every fault with its line and column."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, Literal

from drawerwright.basics.errors import Fault, InvalidValueError
from drawerwright.basics.loads import LOAD_UNITS, parse_load
from drawerwright.basics.phrases import phrase, plain
from drawerwright.basics.typed_lengths import parse_length, unit_named
from drawerwright.drawers.bank import FrontStyle
from drawerwright.drawers.bottom import BottomStyle
from drawerwright.drawers.duty import Contents, Use
from drawerwright.drawers.runners import RunnerKind
from drawerwright.job.file.given_tables import Cell, Formula
from drawerwright.job.file.table_columns import MatchedTable, TableColumn, TableField
from drawerwright.joints.plain_joint import plain_joints

_ZOLL = re.compile(r"\s*(?:zoll|inch|inches)\s*$", re.IGNORECASE)
"""Inches written out behind a figure."""
KEPT_DIGITS = 4
"""Of a millimetre: finer than anything is set or compared, and fit to be read in a job file."""


@dataclass(frozen=True, slots=True)
class ReadRow:
    """A row: the line that it stands on, all its cells, those that are read by their field, and the values that could
    be read."""

    line: int
    cells: tuple[Cell, ...]
    given: dict[str, Cell]
    values: dict[str, Any]
    faults: dict[str, str] = field(default_factory=dict)
    """What is wrong with a cell, by its field."""


def read_rows(
    table: MatchedTable, unit: Literal["mm", "in"], file: str | None = None
) -> Iterator[tuple[ReadRow, list[Fault]]]:
    """Each row of a table with its faults.

    Args:
        table: whose columns are known.
        unit: of bare numbers in columns whose heads name none.
        file: for messages.
    """
    for line, cells in table.rows:
        given: dict[str, Cell] = {}
        values: dict[str, Any] = {}
        wrong: dict[str, str] = {}
        faults = []
        for column in table.columns:
            if column.field is None or column.place >= len(cells) or cells[column.place] is None:
                continue
            name, cell = column.field.name, cells[column.place]
            given[name] = cell
            try:
                values[name] = _read(cell, column, unit)
            except InvalidValueError as error:
                wrong[name] = str(error)
                faults.append(Fault(place_of(column), str(error), line, file))
        yield ReadRow(line, cells, given, values, wrong), faults


def place_of(column: TableColumn) -> str:
    """A column as a message names it: `C (Width)`."""
    return f"{column.letter} ({column.heading})" if column.heading else column.letter


def place_of_field(table: MatchedTable, name: str) -> str:
    """The column that holds a field; the field itself where none does."""
    held = (column for column in table.columns if column.field is not None and column.field.name == name)
    return next(map(place_of, held), name)


def no_column(wanted: TableField) -> str:
    """That a table lacks a column."""
    return phrase("no column holds it: call one {label}, or say which it is", label=wanted.label)


def _read(cell: Cell, column: TableColumn, unit: Literal["mm", "in"]) -> Any:
    assert column.field is not None
    if isinstance(cell, Formula):
        raise InvalidValueError(
            phrase(
                "holds a formula without a stored result: open and save the file in a spreadsheet program, or type "
                "the result"
            )
        )
    if column.field.is_length:
        if column.field.name == "front_height" and str(cell).strip().casefold() == "rest":
            return "rest"
        if isinstance(cell, str):
            cell = _ZOLL.sub(" in", cell)
        is_bare = not isinstance(cell, str) or unit_named(cell) == ""
        length = parse_length(cell or 0, default_unit=column.unit or unit)
        return round(length * (column.times if is_bare else 1.0), KEPT_DIGITS)
    if column.field.holds == "load":
        return round(parse_load(cell or 0, default_unit=LOAD_UNITS[column.unit or unit]), KEPT_DIGITS)
    if column.field.holds == "price":
        return _price(cell)
    if column.field.name == "count":
        return _count(cell)
    said = " ".join(cell.casefold().split()) if isinstance(cell, str) else cell
    if column.field.name in YES_OR_NO:
        return _yes_or_no(said, cell)
    if column.field.name == "match" and said in _ANSWERS:
        return _ANSWERS[said]
    if column.field.name == "joint" and isinstance(cell, str):
        return _joint(cell)
    if isinstance(said, str) and column.field.name in ONE_OF and said not in _SAID[column.field.name]:
        raise InvalidValueError(
            phrase("must be {known}, not {given!r}", known=ONE_OF[column.field.name], given=cell)
        )
    if isinstance(said, str):
        return _SAID.get(column.field.name, {}).get(said, cell)
    return f"{cell:g}" if isinstance(cell, int | float) else cell


_SAID: dict[str, dict[str, str]] = {
    "bottom": {
        **{str(style): str(style) for style in BottomStyle},
        "eingenutet": "captured",
        "eingeschoben": "slid",
        "untergesetzt": "fixed",
    },
    "fronts": {
        **{str(style): str(style) for style in FrontStyle},
        "mit frontdoppel": "applied",
        "frontdoppel": "applied",
        "mit überstand": "lipped",
        "einliegend": "inset",
    },
    "runner": {
        **{str(kind): str(kind) for kind in RunnerKind},
        **{plain(kind.words): str(kind) for kind in RunnerKind},
        "side mounted": "side-mounted",
        "seitliche führungen": "side-mounted",
        "seitlich": "side-mounted",
        "under mounted": "under-mounted",
        "unterflurführungen": "under-mounted",
        "unterflur": "under-mounted",
        "laufleisten aus holz": "wooden",
        "laufleisten": "wooden",
        "aus holz": "wooden",
        "holz": "wooden",
        "holzführungen": "wooden",
        "seitliche führung": "side-mounted",
        "kugelschienen": "side-mounted",
        "kugelauszüge": "side-mounted",
        "unterflurführung": "under-mounted",
        "keine führungen": "none",
        "keine": "none",
    },
    "contents": {
        **{str(each): str(each) for each in Contents},
        "papier": "paper",
        "wäsche": "linen",
        "werkzeug": "tools",
        "geschirr": "crockery",
        "flaschen": "bottles",
    },
    "use": {
        **{str(each): str(each) for each in Use},
        **{plain(each.words): str(each) for each in Use},
        "gelegentlicher gebrauch": "occasional",
        "gelegentlich": "occasional",
        "täglicher gebrauch": "daily",
        "täglich": "daily",
        "starker gebrauch": "heavy",
        "stark": "heavy",
    },
    "rails_direction": {"across": "across", "quer": "across", "along": "along", "längs": "along"},
    "match_direction": {"abwärts": "down", "quer": "across", "down": "down", "across": "across"},
    "orientation": {
        "fronts-flat": "fronts-flat",
        "sides-flat": "sides-flat",
        "fronts flat": "fronts-flat",
        "fronten flach": "fronts-flat",
        "sides flat": "sides-flat",
        "seiten flach": "sides-flat",
    },
}
"""What a cell may say in English or German for a word of the job file, in small letters."""


ONE_OF = {
    "fronts": "applied (mit Frontdoppel), lipped (mit Überstand), inset (einliegend)",
    "bottom": "captured (eingenutet), slid (eingeschoben), fixed (untergesetzt)",
    "orientation": "fronts-flat (Fronten flach), sides-flat (Seiten flach)",
    "match_direction": "down (abwärts), across (quer)",
    "contents": "paper (Papier), linen (Wäsche), tools (Werkzeug), crockery (Geschirr), bottles (Flaschen)",
    "use": "occasional (gelegentlich), daily (täglich), heavy (stark)",
    "rails_direction": "across (quer), along (längs)",
}
"""What a cell may say where nothing else will do, in both languages: the table's need not be the reader's."""
RUNNER_WORDS = "side-mounted (seitlich), under-mounted (Unterflur), wooden (aus Holz), none (keine)"
YES_OR_NO = ("grain_upright", "false_front")
"""Fields that are so or not."""
_ANSWERS: dict[Any, bool] = {
    **dict.fromkeys(("yes", "y", "x", "true", "ja", "j", "1", 1), True),
    **dict.fromkeys(("no", "n", "false", "nein", "0", 0), False),
}


def _yes_or_no(said: Any, cell: Cell) -> bool:
    if said not in _ANSWERS:
        raise InvalidValueError(phrase("must be yes or no, not {given!r}", given=cell))
    return _ANSWERS[said]


def _joint(cell: str) -> Any:
    """A joint by its name, or its kind with measures: `finger: finger 9.5 mm, kerf 3 mm`."""
    kind, colon, told = cell.partition(":")
    said = {word: joint.name for joint in plain_joints() for word in (joint.name, *joint.said)}
    name = said.get(" ".join(kind.casefold().split()), kind.strip())
    if not colon:
        return name
    measures = {}
    for each in filter(None, map(str.strip, re.split(r"[,;](?!\d)", told))):
        measure, _space, value = each.partition(" ")
        measures[measure] = value.strip()
    return {"kind": name, **measures}


def _price(cell: Cell) -> float:
    try:
        price = float(str(cell).replace(",", "."))
    except ValueError:
        price = -1.0
    if not 0 <= price < math.inf:
        raise InvalidValueError(
            phrase("must be a price of 0 or more, a number alone, not {given!r}", given=cell)
        )
    return price


def _count(cell: Cell) -> int:
    try:
        number = float(cell or 0)
    except ValueError:
        number = 0.5
    if number != int(number) or number < 1:
        raise InvalidValueError(phrase("must be a whole number of 1 or more, not {given!r}", given=cell))
    return int(number)
