"""Tables of a plan as one workbook (XLSX). The only door to xlsxwriter.

A sheet a table: numbers are numbers, the head names their unit, stands still while the rows move and comes again on
every printed page. Texts are written as texts, whatever sign they begin with.
"""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from datetime import datetime
from typing import Any

import xlsxwriter
from xlsxwriter.utility import xl_rowcol_to_cell

from drawerwright.basics.lengths import MM_PER_INCH, LengthStyle
from drawerwright.basics.loads import KG_PER_POUND, LOAD_UNITS
from drawerwright.basics.phrases import phrase, plain
from drawerwright.job.papers.data_table import Cell, Column, DataTable, Quantity

NARROWEST, WIDEST = 7.0, 44.0
"""Of a column, in characters."""
WIDEST_PAGE = 300.0
"""Characters beside each other on a page: more would be too small to read."""
LONGEST_TEXT = 32_000
"""Characters of a cell: the format ends at 32,767."""
KEPT_DIGITS = 6
"""Of a length or a load that is read in again, in either unit: finer than what reads it keeps."""
REST_DIGITS = 2
"""Of money and minutes."""
_PAPERS = {"a4": 9, "letter": 1}
"""Numbers of the format for sizes of paper (ECMA-376 part 1, 18.3.1.63)."""
_MADE = datetime(2000, 1, 1)
"""What a file says of when it was made: the same plan gives the same bytes."""
_FORMATS = {
    ("mm", Quantity.LENGTH): "0.0",
    ("mm", Quantity.FINE): "0.00",
    ("in", Quantity.LENGTH): "0.000",
    ("in", Quantity.FINE): "0.000",
}


def write_workbook(tables: Sequence[DataTable], job: str, style: LengthStyle) -> bytes:
    """The tables as sheets of one workbook, in the words and the unit of `style`.

    A unit of sixty-fourths is written as decimal inches, since a number is one.
    """
    stream = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    book = xlsxwriter.Workbook(stream, options)
    book.set_properties({"title": job, "created": _MADE})
    writer = _Writer(book, job, style)
    for table in tables:
        writer.add(table.in_use)
    book.close()
    return stream.getvalue()


def unit_of(column: Column, style: LengthStyle) -> str:
    """The unit that stands in the head of a column; nothing where its numbers have none."""
    if column.quantity in (Quantity.LENGTH, Quantity.FINE):
        return style.typed_unit
    if column.quantity is Quantity.WEIGHT:
        return LOAD_UNITS[style.typed_unit]
    return "min" if column.quantity is Quantity.MINUTES else ""


class _Writer:
    def __init__(self, book: Any, job: str, style: LengthStyle) -> None:
        self.book, self.job, self.style = book, job, style
        lined = {"valign": "top", "text_wrap": True}
        self.head = book.add_format({"bold": True, "bottom": 1, **lined})
        self.text = book.add_format(lined)
        self.numbers = {
            quantity: book.add_format({"num_format": self._format(quantity), "valign": "top"})
            for quantity in Quantity
        }
        self.totals = {
            quantity: book.add_format({"num_format": self._format(quantity), "bold": True, "top": 1})
            for quantity in Quantity
        }

    def _format(self, quantity: Quantity) -> str:
        if quantity is Quantity.MONEY:
            return "0.00"
        if quantity is Quantity.MINUTES:
            return "0.0"
        return _FORMATS.get((self.style.typed_unit, quantity), "General")

    def add(self, table: DataTable) -> None:
        """One sheet."""
        said = [
            [self._said(cell, column, table) for cell, column in zip(row, table.columns, strict=True)]
            for row in table.rows
        ]
        sheet = self.book.add_worksheet(self.style.say(table.title)[:31])
        heads = [self._heading(column) for column in table.columns]
        whole = 0.0
        for number, (heading, column) in enumerate(zip(heads, table.columns, strict=True)):
            sheet.write_string(0, number, heading, self.head)
            texts = [heading.rpartition(" (")[0] or heading]
            texts += [_shown(row[number]) for row in said]
            wide = min(max(max(map(len, texts)) + 2.0, NARROWEST), WIDEST)
            whole += wide
            sheet.set_column(number, number, wide)
            for at, row in enumerate(said, start=1):
                self._write(sheet, at, number, row[number], column)
        last = len(said)
        if said and table.summed:
            last += 1
            self._totals(sheet, table, last, said)
        sheet.freeze_panes(1, 1)
        sheet.repeat_rows(0)
        sheet.print_area(0, 0, max(last, 1), len(table.columns) - 1)
        sheet.set_landscape()
        sheet.set_paper(_PAPERS[self.style.paper])
        pages = math.ceil(whole / WIDEST_PAGE)
        if pages > 1:
            sheet.repeat_columns(0)
        sheet.fit_to_pages(pages, 0)
        name = self.job.replace("&", "&&")[:80]
        sheet.set_header(f"&L{name}&R&A")
        sheet.set_footer("&R&P / &N")

    def _heading(self, column: Column) -> str:
        heading, unit = self.style.say(column.heading), unit_of(column, self.style)
        return f"{heading} ({unit})" if unit else heading

    def _said(self, cell: Cell, column: Column, table: DataTable) -> Cell:
        """A cell as it is written: what is cut or dialled as the papers show it, without what reckoning leaves in the
        last digits."""
        if isinstance(cell, str):
            return plain(self.style.say(cell))[:LONGEST_TEXT]
        if cell is None or isinstance(cell, int):
            return cell
        if column.quantity in (Quantity.LENGTH, Quantity.FINE):
            if not table.is_read_again:
                return self.style.number(cell, fine=column.quantity is Quantity.FINE)
            return round(cell if self.style.typed_unit == "mm" else cell / MM_PER_INCH, KEPT_DIGITS)
        if column.quantity is Quantity.WEIGHT:
            return round(cell if self.style.typed_unit == "mm" else cell / KG_PER_POUND, KEPT_DIGITS)
        return round(cell, REST_DIGITS)

    def _write(self, sheet: Any, row: int, number: int, cell: Cell, column: Column) -> None:
        if isinstance(cell, str):
            sheet.write_string(row, number, cell, self.text)
        elif cell is not None:
            sheet.write_number(row, number, cell, self.numbers[column.quantity])

    def _totals(self, sheet: Any, table: DataTable, row: int, said: list[list[Cell]]) -> None:
        sheet.write_string(row, 0, self.style.say(phrase("Total")), self.head)
        for number, column in enumerate(table.columns):
            if column.name in table.summed:
                values = [each[number] for each in said]
                total = sum(value for value in values if isinstance(value, int | float))
                first, end = xl_rowcol_to_cell(1, number), xl_rowcol_to_cell(row - 1, number)
                sheet.write_formula(row, number, f"=SUM({first}:{end})", self.totals[column.quantity], total)


def _shown(cell: Cell) -> str:
    return cell if isinstance(cell, str) else "" if cell is None else f"{cell:.2f}"
