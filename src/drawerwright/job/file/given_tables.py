"""Tables that somebody gives: CSV, or the sheets of a workbook (XLSX), as rows of cells. The only door to openpyxl.

What comes in is trusted with nothing: sizes are looked at before anything is unpacked, and nothing is reckoned, loaded
from elsewhere or expanded.
"""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import PurePath
from typing import Any, TypeAlias

from drawerwright.basics.errors import Fault, FaultyInputError
from drawerwright.basics.phrases import phrase

Cell: TypeAlias = str | float | int | None

LARGEST_TABLE_BYTES = 2_000_000
LARGEST_UNPACKED_BYTES = 40_000_000
"""What the parts of a workbook may come to, all together: a table of 5,000 rows takes some 3 MB."""
MOST_PARTS = 200
"""Files in a workbook."""
MOST_ROWS, MOST_COLUMNS = 5000, 80
LONGEST_CELL = 500
"""Characters of a cell that are read."""
ENDINGS = (".csv", ".txt", ".tsv", ".xlsx")
_SEPARATORS = "\t;,"
_COMMANDS = tuple("=+-@\t\r\n＝＋－＠")


class Formula(str):
    """A cell that holds a formula of which no result is stored: nothing is reckoned here."""

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class GivenSheet:
    """One table: rows of cells as they stand in the file, from line 1 on, and the sheet's name in a workbook."""

    name: str
    rows: tuple[tuple[Cell, ...], ...]


def given_sheets(name: str, content: bytes) -> tuple[GivenSheet, ...]:
    """The tables of a file of this name.

    Raises:
        FaultyInputError: it is none, cannot be read, or is too large.
    """
    ending = PurePath(name).suffix.lower()
    if ending not in ENDINGS:
        raise _fault(name, phrase("a table ends in {endings}", endings=", ".join(ENDINGS)))
    if len(content) > LARGEST_TABLE_BYTES:
        raise _fault(name, phrase("is larger than {limit:,} bytes, the limit", limit=LARGEST_TABLE_BYTES))
    if ending == ".xlsx":
        return _workbook(name, content)
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        words = phrase("is not UTF-8 text (byte {start}); save it as UTF-8", start=error.start)
        raise _fault(name, words) from None
    if not text.strip():
        raise _fault(name, phrase("is empty"))
    return (table_of_text(text, name),)


def table_of_text(text: str, name: str = "") -> GivenSheet:
    """A table as it is typed or pasted: tabs, semicolons or commas part its cells, whichever the first full line has.

    Raises:
        FaultyInputError: it cannot be read, or is too large.
    """
    first = next((line for line in text.splitlines() if line.strip()), "")
    separator = next((sign for sign in _SEPARATORS if sign in first), ",")
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    rows = []
    try:
        for row in reader:
            rows.append(tuple(_typed(cell.strip()) or None for cell in row))
            if len(rows) > MOST_ROWS:
                break
    except csv.Error:
        words = phrase(
            "cannot be read: a cell has more than {longest:,} characters", longest=csv.field_size_limit()
        )
        raise FaultyInputError((Fault("", words, reader.line_num, name or None),)) from None
    return GivenSheet("", _within_limits(name, rows))


def _typed(cell: str) -> str:
    """A cell without the apostrophe that keeps a spreadsheet from reckoning it (`csv_text`); one without is a formula
    where it begins as one."""
    if cell.startswith("'") and cell[1:].startswith(_COMMANDS):
        return cell[1:]
    return Formula(cell) if cell.startswith("=") else cell


def _retyped(cell: Cell) -> str | float:
    """A cell as `_typed` reads it again."""
    is_command = isinstance(cell, str) and not isinstance(cell, Formula) and cell.startswith("=")
    return "" if cell is None else f"'{cell}" if is_command else cell


def _workbook(name: str, content: bytes) -> tuple[GivenSheet, ...]:
    _check_package(name, content)
    import openpyxl  # loads slowly, and most commands go without

    try:
        results, formulas = (
            openpyxl.load_workbook(io.BytesIO(content), read_only=True, data_only=only, keep_links=False)
            for only in (True, False)
        )
        sheets = []
        for sheet, source in zip(results.worksheets, formulas.worksheets, strict=True):
            rows = zip(_rows(sheet), _rows(source), strict=True)
            cells = [tuple(map(_cell, *pair)) for pair in rows]
            sheets.append(GivenSheet(sheet.title, _within_limits(name, cells)))
    except FaultyInputError:
        raise
    except Exception as error:  # the library raises whatever it stumbles over in a damaged file
        words = str(error)[:LONGEST_CELL] or type(error).__name__
        raise _fault(name, phrase("cannot be read as a workbook: {error}", error=words)) from None
    return tuple(sheets)


def _rows(sheet: Any) -> Iterable[tuple[object, ...]]:
    """A sheet may claim a million rows: only so many are read as are looked at, whatever it claims."""
    sheet.reset_dimensions()
    rows: Iterable[tuple[object, ...]] = sheet.iter_rows(
        max_row=MOST_ROWS + 1, max_col=MOST_COLUMNS + 1, values_only=True
    )
    return rows


def _check_package(name: str, content: bytes) -> None:
    """Look at what a workbook would come to before any of it is unpacked for good.

    Raises:
        FaultyInputError: it is no workbook, would be too large, or has what no workbook needs and attackers use.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as package:
            parts = package.infolist()
            total = sum(part.file_size for part in parts)
            if len(parts) > MOST_PARTS or total > LARGEST_UNPACKED_BYTES:
                words = phrase(
                    "would unpack to {total:,} bytes in {count:,} parts; the limits are {most:,} and {parts:,}",
                    total=total,
                    count=len(parts),
                    most=LARGEST_UNPACKED_BYTES,
                    parts=MOST_PARTS,
                )
                raise _fault(name, words)
            if "xl/workbook.xml" not in {part.filename for part in parts}:
                raise _fault(name, phrase("is no workbook (XLSX): save it as one, or as CSV"))
            for part in parts:
                # What a part says of its own size bounds what is read of it.
                if part.filename.endswith((".xml", ".rels")) and b"<!DOCTYPE" in package.read(part):
                    raise _fault(name, phrase("declares entities of its own, which no workbook needs"))
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError, OSError, ValueError) as error:
        if isinstance(error, FaultyInputError):
            raise
        raise _fault(name, phrase("is no workbook (XLSX): save it as one, or as CSV")) from None


def _cell(value: object, source: object) -> Cell:
    """A cell by its stored value and by what was typed into it."""
    if value is None and source is not None:
        return Formula(str(source)[:LONGEST_CELL])
    if value is None or (isinstance(value, int | float) and not isinstance(value, bool)):
        return value
    return str(value).strip()[:LONGEST_CELL] or None


def _within_limits(name: str, rows: Iterable[Sequence[Cell]]) -> tuple[tuple[Cell, ...], ...]:
    """The rows without empty ends.

    Raises:
        FaultyInputError: there are too many rows or columns.
    """
    kept = [_without_empty_end(row) for row in rows]
    while kept and not kept[-1]:
        kept.pop()
    if len(kept) > MOST_ROWS:
        raise _fault(name, phrase("has more than {most:,} rows, the limit", most=MOST_ROWS))
    if any(len(row) > MOST_COLUMNS for row in kept):
        raise _fault(name, phrase("has more than {most:,} columns, the limit", most=MOST_COLUMNS))
    return tuple(
        tuple(
            cell[:LONGEST_CELL] if isinstance(cell, str) and len(cell) > LONGEST_CELL else cell
            for cell in row
        )
        for row in kept
    )


def _without_empty_end(row: Sequence[Cell]) -> Sequence[Cell]:
    end = len(row)
    while end and row[end - 1] is None:
        end -= 1
    return row[:end]


def _fault(name: str, message: str) -> FaultyInputError:
    return FaultyInputError((Fault("", message, None, name or None),))


def text_of_table(sheet: GivenSheet) -> str:
    """A table as text that `table_of_text` reads again: its cells with tabs between them."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter="\t", lineterminator="\n")
    writer.writerows([_retyped(cell) for cell in row] for row in sheet.rows)
    return out.getvalue()
