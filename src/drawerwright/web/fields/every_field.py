"""Every field of a job's pages, and on which page it stands."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any

from drawerwright.job.file.cutter_places import cutter_places
from drawerwright.job.file.entry_paths import EntryPath, members_at, rows_at, value_at
from drawerwright.job.file.likes import with_likes
from drawerwright.web.fields.cutter_fields import cutter_fields
from drawerwright.web.fields.drawer_fields import columns_of, panels_of
from drawerwright.web.fields.field import Field, name_of
from drawerwright.web.fields.job_fields import whole_fields
from drawerwright.web.fields.job_text import REMEMBERED, data_of, faults_of
from drawerwright.web.fields.machine_fields import machine_fields, machine_name
from drawerwright.web.fields.runner_fields import length_columns, sheet_fields_of
from drawerwright.web.fields.stock_fields import sheet_fields, stock_fields
from drawerwright.web.reader import words

ROWS_REMEMBERED = 256
"""Rows whose fields are kept with their places."""

ROWS = ("openings", "banks", "boxes")
"""Sections whose fields are so many in a long job that only those of one row are made at once."""


def every_field(data: Any) -> Iterator[tuple[str, Field]]:
    """The fields of a job with these entries, each with the last step of its page's address."""
    data = with_likes(data)
    for section in ROWS:
        for place in range(len(rows_at(data, (section,)))):
            yield from _fields_of_row(data, section, place)
    yield from _fields_beside_rows(data)


def fields_beside(data: Any, path: EntryPath) -> Iterator[tuple[str, Field]]:
    """Those of every field among which the one of an entry is, if it has one."""
    if len(path) > 1 and path[0] in ROWS and isinstance(path[1], int):
        return _fields_of_row(with_likes(data), str(path[0]), path[1])
    return every_field(data)


def _fields_of_row(data: Any, section: str, place: int) -> Iterator[tuple[str, Field]]:
    """The fields of a bank or a box, of entries that say what is like another themselves."""
    rows = rows_at(data, (section,))
    if 0 <= place < len(rows):
        item = rows[place]
        groups = (columns_of(section, item), *(group for _title, group in panels_of(section, item, data)))
        yield from (("drawers", field.at(section, place)) for group in groups for field in group)


def _fields_beside_rows(data: Any) -> Iterator[tuple[str, Field]]:
    for cutter in cutter_places(data):
        has_profile = value_at(data, (*cutter.path, "points")) is not None
        for field in cutter_fields(has_profile, is_only=not cutter.is_one_of_several):
            yield "cutter", field.at(*cutter.path)
    for name, entry in members_at(data, ("stock",)).items():
        yield from (("stock", field.at("stock", name)) for field in stock_fields(entry).fields)
        for rows in ("sheets", "offcuts"):
            for place, _sheet in enumerate(rows_at(entry, (rows,))):
                yield from (("stock", field.at("stock", name, rows, place)) for field in sheet_fields(rows))
    for name, entry in members_at(data, ("runners",)).items():
        yield from (("stock", field.at("runners", name)) for field in sheet_fields_of(entry).fields)
        for place, _length in enumerate(rows_at(entry, ("lengths",))):
            yield from (("stock", field.at("runners", name, "lengths", place)) for field in length_columns())
    machines = (field for machine in machine_fields() for field in machine.fields)
    yield from (("stock", field) for field in (machine_name(), *machines, *whole_fields(data).fields))


@lru_cache(maxsize=REMEMBERED)
def _with_likes(text: str) -> Any:
    return with_likes(data_of(text))


@lru_cache(maxsize=ROWS_REMEMBERED)
def _places(text: str, language: str, row: tuple[str, int] | None) -> Mapping[str, tuple[str, str]]:
    """Where each field of a row of a job stands, or each that stands in none, by the name of its entry: the rest of an
    address, and its label in the language of the request, which is `language`."""
    data = _with_likes(text)
    fields = _fields_beside_rows(data) if row is None else _fields_of_row(data, *row)
    return {field.path_name: (f"{page}#{field.id}", field.label) for page, field in fields}


def _place_of(text: str, name: str) -> tuple[str, str] | None:
    """The field of an entry, or of the entry around it that has one."""
    in_row = _IN_ROW.match(name)
    row = (in_row[1], int(in_row[2]) - 1) if in_row else None
    places = _places(text, words.language(), row)
    while name and name not in places:
        name = name[: max(name.rfind("."), name.rfind("["), 0)]
    return places.get(name)


_IN_ROW = re.compile(rf"({'|'.join(ROWS)})\[([0-9]{{1,6}})\]")


def field_of(text: str, entry: EntryPath) -> tuple[str, str] | None:
    """Where an entry of a job file is typed, and what its field is called; None where no page shows it."""
    return _place_of(text, name_of(entry))


def entry_link(text: str, entry: EntryPath) -> str:
    """Where an entry of a job file is typed: the rest of an address; empty where no page shows it."""
    found = field_of(text, entry)
    return "" if found is None else found[0]


@lru_cache(maxsize=REMEMBERED)
def fault_links(text: str) -> Mapping[str, str]:
    """Where the pages of a job show the entries that have faults: the rest of an address, by the name of the entry.

    An entry that no page shows by itself is shown with the one around it, if that has a field.
    """
    found = {fault.field: _place_of(text, fault.field) for fault in faults_of(text)}
    return {name: place[0] for name, place in found.items() if place is not None}
