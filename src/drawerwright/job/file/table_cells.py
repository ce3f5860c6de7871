"""Cells of a table read as what their column holds, every fault with its line and column."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, Literal

from drawerwright.basics.errors import Fault, InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.basics.typed_lengths import parse_length, unit_named
from drawerwright.drawers.bottom import BottomStyle
from drawerwright.job.file.given_tables import Cell, Formula
from drawerwright.job.file.table_columns import MatchedTable, TableColumn, TableField
from drawerwright.joints.plain_joint import plain_joints

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
        is_bare = not isinstance(cell, str) or unit_named(cell) == ""
        length = parse_length(cell or 0, default_unit=column.unit or unit)
        return round(length * (column.times if is_bare else 1.0), KEPT_DIGITS)
    if column.field.name == "count":
        return _count(cell)
    if isinstance(cell, str):
        return _said(column.field.name).get(" ".join(cell.casefold().split()), cell)
    return f"{cell:g}" if isinstance(cell, int | float) else cell


_SAID: dict[str, dict[str, str]] = {
    "bottom": {
        **{str(style): str(style) for style in BottomStyle},
        "eingenutet": "captured",
        "eingeschoben": "slid",
        "untergesetzt": "fixed",
    },
    "orientation": {
        "fronts flat": "fronts-flat",
        "fronten flach": "fronts-flat",
        "sides flat": "sides-flat",
        "seiten flach": "sides-flat",
    },
}
"""What a cell may say in English or German for a word of the job file, in small letters."""


def _said(name: str) -> dict[str, str]:
    """That of a field; a kind of joint says its own."""
    if name == "joint":
        return {word: joint.name for joint in plain_joints() for word in joint.said}
    return _SAID.get(name, {})


def _count(cell: Cell) -> int:
    try:
        number = float(cell or 0)
    except ValueError:
        number = 0.5
    if number != int(number) or number < 1:
        raise InvalidValueError(phrase("must be a whole number of 1 or more, not {given!r}", given=cell))
    return int(number)
