"""Tables from elsewhere: drawers into a job file, parts for a cutting list."""

from __future__ import annotations

from collections.abc import Mapping
from os import PathLike
from pathlib import Path
from typing import Literal

from drawerwright.basics.declared import checked
from drawerwright.job.cut_parts import SheetPart
from drawerwright.job.file.given_files import given_bytes, given_text
from drawerwright.job.file.given_tables import LARGEST_TABLE_BYTES, GivenSheet, given_sheets
from drawerwright.job.file.reading import LARGEST_FILE_BYTES
from drawerwright.job.file.table_parts import parts_of_table
from drawerwright.job.imported_drawers import TableChoice, drawers_to_take
from drawerwright.job.papers.files_out import write_page


@checked
def import_drawers(
    table: str | PathLike[str],
    into: str | PathLike[str],
    *,
    columns: Mapping[str, str] | None = None,
    sheet: str | None = None,
    numbers_in: Literal["mm", "in"] | None = None,
    stock: str = "",
    preview: bool = False,
) -> int:
    """Take drawers from a table (CSV, XLSX) over into a job file, as `drawerwright import` does: a row is a plain box,
    or a front of the bank that it names with its opening.

    Args:
        table: its file; columns are known by their headings in English or German (docs/job-file.md).
        into: the job file; its comments stay.
        columns: field by letter or heading of a column, where its heading does not say, `{"B": "width"}`; an empty
            field leaves the column out.
        sheet: of a workbook; by default the one that fits best.
        numbers_in: unit of bare numbers in columns whose heads name none; by default that of the job file.
        stock: of boxes for which the table names none.
        preview: look for faults and write nothing.

    Returns:
        How many drawers came in.

    Raises:
        DrawerwrightError: the table or the job has faults, all named with line and column; nothing is written.
        OSError: the job file cannot be written.
    """
    path = Path(into)
    text = given_text(path, LARGEST_FILE_BYTES)
    chosen: dict[str | int, str] = {}
    chosen.update(columns or {})
    choice = TableChoice(chosen, sheet, numbers_in, stock, "stock=...", "numbers_in=...")
    found = drawers_to_take(text, _sheets(Path(table)), choice, table=Path(table).name, file=str(path))
    taken = found.taken()
    if not preview:
        write_page(path, taken.encode())
    return found.count


@checked
def read_parts(
    table: str | PathLike[str],
    *,
    columns: Mapping[str, str] | None = None,
    sheet: str | None = None,
    numbers_in: Literal["mm", "in"] = "mm",
) -> dict[str, tuple[SheetPart, ...]]:
    """The parts of a table (CSV, XLSX) by their stock, for `plan_sheets`; those without stock under an empty name.

    Args:
        table: its file; columns are known by their headings in English or German.
        columns: field by letter or heading of a column, where its heading does not say.
        sheet: of a workbook; by default the one that fits best.
        numbers_in: unit of bare numbers in columns whose heads name none.

    Raises:
        DrawerwrightError: the table has faults; every one is named, with line and column.
    """
    path = Path(table)
    found: dict[str, list[SheetPart]] = {}
    chosen: dict[str | int, str] = {}
    chosen.update(columns or {})
    for part in parts_of_table(_sheets(path), columns=chosen, sheet=sheet, unit=numbers_in, table=path.name):
        made = SheetPart(part.name, part.length, part.width, part.count)
        found.setdefault(part.stock, []).append(made)
    return {stock: tuple(parts) for stock, parts in found.items()}


def _sheets(path: Path) -> tuple[GivenSheet, ...]:
    return given_sheets(path.name, given_bytes(path, LARGEST_TABLE_BYTES))
