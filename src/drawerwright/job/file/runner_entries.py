"""Sheets of runners in a job file's text: one more, and a bank that has figures of its own again."""

from __future__ import annotations

import copy

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.editing import set_value
from drawerwright.job.file.entry_paths import EntryPath, members_at, value_at
from drawerwright.job.file.reading import entries_of

RUNNERS = "runners"


def with_own_runner(text: str, path: EntryPath) -> str:
    """The text whose bank no longer names a sheet of runners at `path` but has the figures of that sheet itself."""
    data = entries_of(text)
    name = value_at(data, path)
    sheet = members_at(data, (RUNNERS,)).get(name) if isinstance(name, str) else None
    return set_value(text, path, None if sheet is None else copy.deepcopy(sheet))


def add_runners(text: str, name: str, kind: str) -> str:
    """The text with one more sheet of runners, to be filled in.

    Raises:
        InvalidValueError: the name is empty, or a sheet has it.
    """
    name = name.strip()
    if not name:
        raise InvalidValueError(phrase("give the sheet of runners a name; banks refer to it"))
    if name in members_at(entries_of(text), (RUNNERS,)):
        raise InvalidValueError(phrase("the name {name!r} is taken: choose another", name=name))
    return set_value(text, (RUNNERS, name), {"kind": kind})
