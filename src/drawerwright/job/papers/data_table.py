"""Tables of a plan as data: each column with what it counts, each cell as the value it is.

A table is filled once and written as CSV (for machines: millimetres, two decimals) or into the workbook (for people: in
their unit and words).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TypeAlias

from drawerwright.basics.phrases import plain
from drawerwright.job.papers.csv_text import csv_text

Cell: TypeAlias = str | float | int | None


class Quantity(StrEnum):
    """What the numbers of a column count."""

    TEXT = "text"
    NUMBER = "number"
    LENGTH = "length"
    """A size that is cut (mm)."""
    FINE = "fine"
    """A setting that is dialled in (mm)."""
    MINUTES = "minutes"
    MONEY = "money"
    WEIGHT = "weight"
    """kg"""


_KEY_UNITS = {Quantity.LENGTH: "_mm", Quantity.FINE: "_mm", Quantity.MINUTES: "_min", Quantity.WEIGHT: "_kg"}
_TWO_DECIMALS = (Quantity.LENGTH, Quantity.FINE, Quantity.MONEY, Quantity.WEIGHT)


@dataclass(frozen=True, slots=True)
class Column:
    """`name` is what it is called in files for machines, without its unit; `heading` what people read."""

    name: str
    heading: str
    quantity: Quantity = Quantity.TEXT
    is_for_some: bool = False
    """It is left out of a workbook where no row says anything in it."""

    @property
    def key(self) -> str:
        """The name with its unit.

        >>> Column("length", "Length", Quantity.LENGTH).key
        'length_mm'
        """
        return f"{self.name}{_KEY_UNITS.get(self.quantity, '')}"


@dataclass(frozen=True, slots=True)
class DataTable:
    """Rows of values, as many in each as there are columns; columns whose names are `summed` have a total below."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    summed: tuple[str, ...] = ()
    is_read_again: bool = False
    """Its lengths make the same drawers when they are read in, so they are kept finer than they are shown."""

    def __post_init__(self) -> None:
        for row in self.rows:
            if len(row) != len(self.columns):
                raise ValueError(
                    f"a row of {len(row)} cells in a table of {len(self.columns)} columns: {row}"
                )

    @property
    def in_use(self) -> DataTable:
        """The same without the columns for some rows that no row needs."""
        kept = [
            place
            for place, column in enumerate(self.columns)
            if not column.is_for_some or any(row[place] is not None for row in self.rows)
        ]
        return replace(
            self,
            columns=tuple(self.columns[place] for place in kept),
            rows=tuple(tuple(row[place] for place in kept) for row in self.rows),
        )


def table_csv(table: DataTable) -> str:
    """The table as CSV text, without its totals."""
    head = [column.key for column in table.columns]
    rows = (
        [_written(cell, column) for cell, column in zip(row, table.columns, strict=True)]
        for row in table.rows
    )
    return csv_text([head, *rows])


def _written(cell: Cell, column: Column) -> object:
    if cell is None or isinstance(cell, str):
        return plain(cell or "")
    return f"{cell:.2f}" if column.quantity in _TWO_DECIMALS else cell
