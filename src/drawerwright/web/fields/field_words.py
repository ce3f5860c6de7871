"""What an entry of a job is called on its page, and what its field shows, for messages about it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from drawerwright.job.file.entry_paths import EntryPath, value_at
from drawerwright.web.fields.cutter_fields import cutter_fields
from drawerwright.web.fields.drawer_fields import columns_of, panels_of
from drawerwright.web.fields.field import Field, name_of
from drawerwright.web.fields.job_fields import machine_fields, time_fields, whole_fields
from drawerwright.web.fields.stock_fields import sheet_fields, stock_fields
from drawerwright.web.reader.words import gettext as _


def field_at(path: EntryPath, data: Any) -> Field | None:
    """The field of a page that shows the entry at `path`; None where no page has one."""
    return next((field for field in _fields_near(path, data) if field.path == path), None)


def _fields_near(path: EntryPath, data: Any) -> Iterator[Field]:
    head, inside = path[0], len(path) > 2
    if head in ("banks", "boxes") and inside:
        item = value_at(data, path[:2])
        yield from (field.at(*path[:2]) for field in columns_of(str(head), item, data))
        for _title, group in panels_of(str(head), item, data):
            yield from (field.at(*path[:2]) for field in group)
    elif head == "stock" and inside:
        yield from (field.at(*path[:2]) for field in stock_fields())
        yield from (field.at(*path[:4]) for field in sheet_fields(str(path[2])))
    elif head == "cutters" and inside:
        yield from (field.at(*path[:2]) for field in cutter_fields(is_only=False))
    else:
        yield from (field.at("cutter") for field in cutter_fields())
        yield from time_fields()
        for _title, group in (*machine_fields(), *whole_fields()):
            yield from group


def called(path: EntryPath, data: Any) -> str:
    """An entry as its page calls it, with the row, stock or cutter that it belongs to; else as the job file does."""
    field = field_at(path, data)
    if field is None:
        return name_of(path)
    if len(path) < 3 or path[0] not in ("banks", "boxes", "stock", "cutters"):
        return field.label
    owner = path[1] if path[0] in ("stock", "cutters") else value_at(data, (*path[:2], "name")) or path[1]
    row = f", {path[3] + 1}" if len(path) > 4 and isinstance(path[3], int) else ""
    return f"{field.label} ({owner}{row})"


def in_words(shown: str, path: EntryPath, data: Any) -> str:
    """What a field shows, as its page words it: the words of a choice, whether a box is ticked."""
    field = field_at(path, data)
    if field is not None and field.is_ticked:
        return _("ticked") if shown else _("not ticked")
    words = dict(field.choices).get(shown, shown) if field is not None else shown
    return words or "–"
