"""What an entry of a job is called on its page, and what its field shows, for messages about it."""

from __future__ import annotations

from typing import Any

from drawerwright.job.file.entry_paths import EntryPath, value_at
from drawerwright.web.fields.every_field import fields_beside
from drawerwright.web.fields.field import Field, name_of
from drawerwright.web.reader.words import gettext as _


def field_at(path: EntryPath, data: Any) -> Field | None:
    """The field of a page that shows the entry at `path`; None where no page has one."""
    return next((field for _page, field in fields_beside(data, path) if field.path == path), None)


def called(path: EntryPath, data: Any) -> str:
    """An entry as its page calls it, with the row, stock or cutter that it belongs to; else as the job file does."""
    field = field_at(path, data)
    if field is None:
        return name_of(path)
    if len(path) < 3 or path[0] not in ("openings", "banks", "boxes", "stock", "cutters", "runners"):
        return field.label
    owner = (
        path[1]
        if path[0] in ("stock", "cutters", "runners")
        else value_at(data, (*path[:2], "name")) or path[1]
    )
    row = f", {path[3] + 1}" if len(path) > 4 and isinstance(path[3], int) else ""
    return f"{field.label} ({owner}{row})"


def in_words(shown: str, path: EntryPath, data: Any) -> str:
    """What a field shows, as its page words it: the words of a choice, whether a box is ticked."""
    field = field_at(path, data)
    if field is not None and field.is_ticked:
        return _("ticked") if shown else _("not ticked")
    words = dict(field.choices).get(shown, shown) if field is not None else shown
    return words or "–"
