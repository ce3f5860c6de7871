"""Which column of a table holds what: by its heading in English or German, or as somebody says."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from string import ascii_uppercase
from typing import Literal

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.loads import LOAD_UNITS
from drawerwright.basics.phrases import joined, phrase, plain
from drawerwright.job.file.given_tables import Cell, GivenSheet

HEAD_WITHIN = 20
"""The head is looked for in so many rows from the top: above it there may be a title."""
LEAST_MATCHES = 2
"""A row with fewer known headings is no head."""
Unit = Literal["mm", "in"]
Holds = Literal["text", "load", "price"]
_LOAD_UNITS: dict[str, Unit] = {"kg": "mm", "lb": "in", "lbs": "in"}
"""What the head of loads may name, as the unit of lengths beside which a bare load is read so."""
_UNITS: dict[str, tuple[Unit, float]] = {
    "mm": ("mm", 1.0),
    "cm": ("mm", 10.0),
    "m": ("mm", 1000.0),
    "in": ("in", 1.0),
    "inch": ("in", 1.0),
    "inches": ("in", 1.0),
    "zoll": ("in", 1.0),
    '"': ("in", 1.0),
    "″": ("in", 1.0),
    "ft": ("in", 12.0),
}
"""What a head may name, as a unit that lengths are typed in and how many of it."""
_UNIT_IN_HEAD = re.compile(
    r"""(?:[\[(]\s*([\w"″]+)\s*[\])]|(?:[ _]in)?[_, ](mm|cm|in|inch|zoll|kg|lbs?))\s*$""", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class TableField:
    """Something that a column may hold: its name in files, what people call it, what else its heading may say,
    whether it is a length, and what it is otherwise."""

    name: str
    label: str
    words: tuple[str, ...]
    is_length: bool = False
    is_needed: bool = False
    holds: Holds = "text"


@dataclass(frozen=True, slots=True)
class TableColumn:
    """A column: its place from 0, its heading, the field that it holds (None: it is not read), and the unit of its bare
    numbers where the head names one, with how many of that unit they count."""

    place: int
    heading: str
    field: TableField | None
    unit: Unit | None = None
    times: float = 1.0

    @property
    def letter(self) -> str:
        """What a spreadsheet calls it."""
        return column_letter(self.place)

    @property
    def read_in(self) -> str:
        """The unit that its bare numbers are read in, as `mm` or `inches`; empty where the head names none."""
        if self.field is not None and self.field.holds == "load":
            return "" if self.unit is None else LOAD_UNITS[self.unit]
        named = (name for name, meant in _UNITS.items() if meant == (self.unit, self.times) and name != "in")
        return next((name if name != "inch" else "inches" for name in named), "")


@dataclass(frozen=True, slots=True)
class MatchedTable:
    """A table whose columns are known: on which line its head stands, and the rows below it with their lines."""

    sheet: str
    head_line: int
    columns: tuple[TableColumn, ...]
    rows: tuple[tuple[int, tuple[Cell, ...]], ...]

    def has(self, name: str) -> bool:
        """Whether a column holds this field."""
        return any(column.field is not None and column.field.name == name for column in self.columns)


def column_letter(place: int) -> str:
    """A, B ... Z, AA ..."""
    letters = ""
    place += 1
    while place:
        place, rest = divmod(place - 1, len(ascii_uppercase))
        letters = ascii_uppercase[rest] + letters
    return letters


def matched_table(
    sheets: Sequence[GivenSheet],
    fields: Sequence[TableField],
    *,
    chosen: Mapping[str | int, str] | None = None,
    sheet: str | None = None,
) -> MatchedTable:
    """The table that fits best, its columns matched.

    Args:
        sheets: those of a file.
        fields: what is looked for.
        chosen: field by letter, heading or place (from 0) of a column, where somebody says; an empty field leaves the
            column out.
        sheet: the one to read, by its name.

    Raises:
        InvalidValueError: there is no such sheet, column or field, or no row that could be a head.
    """
    if sheet is not None:
        named = [each for each in sheets if each.name.casefold() == sheet.casefold()]
        if not named:
            known = ", ".join(each.name for each in sheets)
            raise InvalidValueError(
                phrase("there is no sheet called {name!r}: choose from {known}", name=sheet, known=known)
            )
        sheets = named
    found = [match for each in sheets if (match := _matched(each, fields, chosen or {})) is not None]
    if not found:
        wanted = joined([field.label for field in fields if field.is_needed], ", ")
        raise InvalidValueError(
            phrase(
                "none of the first {count} rows is a heading: name the columns in one, at least {wanted}",
                count=HEAD_WITHIN,
                wanted=wanted,
            )
        )
    return max(found, key=lambda match: sum(column.field is not None for column in match.columns))


def _matched(
    sheet: GivenSheet, fields: Sequence[TableField], chosen: Mapping[str | int, str]
) -> MatchedTable | None:
    best: tuple[int, int] | None = None
    for at, row in enumerate(sheet.rows[:HEAD_WITHIN]):
        texts = [cell for cell in row if isinstance(cell, str)]
        known = sum(any(_rank(text, field) is not None for text in texts) for field in fields)
        if known >= LEAST_MATCHES and (best is None or known > best[0]):
            best = known, at
    if best is None:
        if not chosen or not sheet.rows:
            return None
        best = 0, 0
    at = best[1]
    columns = _columns(sheet.rows[at], fields, chosen)
    rows = ((line, row) for line, row in enumerate(sheet.rows[at + 1 :], start=at + 2) if any(_told(row)))
    return MatchedTable(sheet.name, at + 1, columns, tuple(rows))


def _told(row: Sequence[Cell]) -> list[bool]:
    return [cell is not None for cell in row]


def _columns(
    head: Sequence[Cell], fields: Sequence[TableField], chosen: Mapping[str | int, str]
) -> tuple[TableColumn, ...]:
    headings = ["" if cell is None else str(cell) for cell in head]
    held = _chosen_places(headings, fields, chosen)
    for field in fields:
        if field in held.values():
            continue
        ranked = (
            (_rank(heading, field), place) for place, heading in enumerate(headings) if place not in held
        )
        best = min(((rank, place) for rank, place in ranked if rank is not None), default=None)
        if best is not None:
            held[best[1]] = field
    columns = []
    for place, heading in enumerate(headings):
        found = held.get(place)
        unit, times = (None, 1.0) if found is None else _unit_of(heading, found)
        columns.append(TableColumn(place, heading, found, unit, times))
    return tuple(columns)


def _chosen_places(
    headings: Sequence[str], fields: Sequence[TableField], chosen: Mapping[str | int, str]
) -> dict[int, TableField | None]:
    """What somebody says that columns hold, by their places; None leaves one out."""
    by_name = {field.name: field for field in fields}
    held: dict[int, TableField | None] = {}
    for column, name in chosen.items():
        place = _place_of(column, headings)
        if place is None:
            raise InvalidValueError(
                phrase("there is no column {name!r}: say its letter or its heading", name=column)
            )
        if name and name not in by_name:
            raise InvalidValueError(
                phrase(
                    "{name!r} is nothing that a column holds: choose from {known}",
                    name=name,
                    known=", ".join(by_name),
                )
            )
        held[place] = by_name.get(name)
    return held


def _place_of(column: str | int, headings: Sequence[str]) -> int | None:
    """The place of a column that is named by its heading, its letter or the place itself."""
    if isinstance(column, int):
        return column if column < len(headings) else None
    asked = _plain(column)
    called = [at for at, heading in enumerate(headings) if asked and _plain(heading) == asked]
    called += [at for at in range(len(headings)) if column_letter(at).casefold() == asked]
    return called[0] if called else None


def _unit_of(heading: str, field: TableField) -> tuple[Unit | None, float]:
    found = _UNIT_IN_HEAD.search(heading)
    named = (found[1] or found[2]).casefold() if found else ""
    if field.is_length:
        return _UNITS.get(named, (None, 1.0))
    return (_LOAD_UNITS.get(named) if field.holds == "load" else None), 1.0


@lru_cache(maxsize=1024)
def _plain(heading: str) -> str:
    """A heading without its unit, in small letters, signs as spaces."""
    bare = _UNIT_IN_HEAD.sub("", heading)
    return " ".join(re.sub(r"[^\w]+|_", " ", bare).casefold().split())


def _rank(heading: str, field: TableField) -> int | None:
    """How well a heading says a field: 0 the best, None not at all."""
    name = _plain(heading)
    known = [_plain(word) for word in (field.name, plain(field.label), *field.words)]
    return known.index(name) if name and name in known else None
