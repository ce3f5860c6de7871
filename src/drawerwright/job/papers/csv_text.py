"""Tables as CSV text that a spreadsheet opens as what it is."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence
from typing import Any

_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?")
_COMMANDS = tuple("=+-@\t\r\n＝＋－＠")
"""What makes a spreadsheet take a cell for a formula (OWASP, CSV Injection), the wide signs included."""


class Dialect(csv.Dialect):
    """RFC 4180: commas, quotes where a cell needs them, and a quote within them doubled."""

    delimiter = ","
    quotechar = '"'
    doublequote = True
    lineterminator = "\r\n"
    quoting = csv.QUOTE_MINIMAL


def declared_dialect() -> dict[str, Any]:
    """How the CSV files are written, for who reads them by program: the words are those of `csv.Dialect`."""
    return {
        "encoding": "utf-8",
        "header": True,
        "delimiter": Dialect.delimiter,
        "quotechar": Dialect.quotechar,
        "doublequote": Dialect.doublequote,
        "lineterminator": Dialect.lineterminator,
        "decimal": ".",
        "formula_guard": "'",
    }


def csv_text(rows: Iterable[Sequence[object]]) -> str:
    """Rows as CSV (RFC 4180): numbers with a point, a text that would be taken for a formula behind an apostrophe.

    >>> print(csv_text([("part", "length_mm"), ("=A1 front", "-0.50"), ("A1, front", 3)]), end="")
    part,length_mm
    '=A1 front,-0.50
    "A1, front",3
    """
    out = io.StringIO(newline="")
    csv.writer(out, Dialect).writerows([_cell(value) for value in row] for row in rows)
    return out.getvalue()


def _cell(value: object) -> object:
    if isinstance(value, str) and value.startswith(_COMMANDS) and not _NUMBER.fullmatch(value):
        return f"'{value}"
    return value
