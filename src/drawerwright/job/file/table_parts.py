"""Parts from a table: what is cut, without a drawer around it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from drawerwright.basics.errors import Fault, FaultyInputError
from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.given_tables import GivenSheet
from drawerwright.job.file.table_cells import no_column, place_of_field, read_rows
from drawerwright.job.file.table_columns import TableField, matched_table

PART_FIELDS = (
    TableField("part", phrase("Part"), ("name", "label", "teil", "bezeichnung"), False, True),
    TableField("cut_length", phrase("Cut length"), ("zuschnittlänge", "length", "länge"), True, True),
    TableField("cut_width", phrase("Cut width"), ("zuschnittbreite", "width", "breite"), True, True),
    TableField(
        "count",
        phrase("Quantity"),
        ("number", "nummer", "count", "qty", "quantity", "pieces", "anzahl", "stück", "menge"),
    ),
    TableField("stock", phrase("Stock"), ("material",)),
)
"""What a table of parts may hold."""


@dataclass(frozen=True, slots=True)
class TablePart:
    """A part of a table: name, size as it is cut (mm), how many, and its stock where the table names one."""

    name: str
    length: Mm
    width: Mm
    count: int = 1
    stock: str = ""


def parts_of_table(
    sheets: Sequence[GivenSheet],
    *,
    columns: Mapping[str | int, str] | None = None,
    sheet: str | None = None,
    unit: Literal["mm", "in"] = "mm",
    table: str | None = None,
) -> tuple[TablePart, ...]:
    """Every part of a table.

    Args:
        sheets: those of a file.
        columns: field by letter or heading of a column, where its heading does not say.
        sheet: the one to read, of a workbook.
        unit: of bare numbers in columns whose heads name none.
        table: its name, for messages.

    Raises:
        InvalidValueError: no row of the table is a head, or a choice names what there is not.
        FaultyInputError: with every fault of the table.
    """
    matched = matched_table(sheets, PART_FIELDS, chosen=columns, sheet=sheet)
    faults = [
        Fault(wanted.name, no_column(wanted), matched.head_line, table)
        for wanted in PART_FIELDS
        if wanted.is_needed and not matched.has(wanted.name)
    ]
    parts = []
    for row, wrong in read_rows(matched, unit, table):
        faults += wrong
        for wanted in PART_FIELDS:
            if wanted.is_needed and matched.has(wanted.name) and wanted.name not in row.given:
                words = phrase("is empty: every row needs it")
                faults.append(Fault(place_of_field(matched, wanted.name), words, row.line, table))
            value = row.values.get(wanted.name)
            if wanted.is_length and wanted.is_needed and value is not None and value <= 0:
                words = phrase("must be more than 0")
                faults.append(Fault(place_of_field(matched, wanted.name), words, row.line, table))
        values = row.values
        parts.append(
            TablePart(
                values.get("part", ""),
                values.get("cut_length", 0.0),
                values.get("cut_width", 0.0),
                values.get("count", 1),
                values.get("stock", ""),
            )
        )
    if faults:
        raise FaultyInputError(tuple(faults))
    return tuple(parts)
