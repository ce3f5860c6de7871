"""Changes to what a job file says of single drawers of a bank. Comments and all else stay."""

from __future__ import annotations

from typing import Any

from drawerwright.job.file.editing import set_value
from drawerwright.job.file.entry_paths import EntryPath, rows_at, value_at
from drawerwright.job.file.likes import with_likes
from drawerwright.job.file.reading import entries_of
from drawerwright.job.file.single_drawers_model import SINGLE_DRAWERS

EITHER = {"joint": "cutter", "cutter": "joint", "load": "contents", "contents": "load"}
"""Of these a drawer has one or the other."""


def own_singles(text: str, bank: EntryPath) -> str:
    """The text in which a bank has the list that it took over from another; as it was where it has its own."""
    data = entries_of(text)
    path = (*bank, SINGLE_DRAWERS)
    taken_over = rows_at(with_likes(data), path)
    if not taken_over or value_at(data, path) is not None:
        return text
    return set_value(text, path, [dict(row) for row in taken_over if isinstance(row, dict)])


def with_single_drawer(text: str, path: EntryPath, value: Any) -> str:
    """The text with an entry of a single drawer set. Without its number the drawer is as the rest, and its row goes;
    with a joint it has no cutter of its own, and with a load nothing that fills it.

    Args:
        text: of the job file.
        path: of the entry, `banks`, row, list, place and entry.
        value: for it; None takes it out.

    Raises:
        FaultyInputError: the text cannot be read.
    """
    text = own_singles(text, path[:2])
    row, name = path[:4], str(path[4])
    if name == "number" and value is None:
        return without_single_drawer(text, row)
    instead = EITHER.get(name)
    if value is not None and instead and value_at(entries_of(text), (*row, instead)) is not None:
        text = set_value(text, (*row, instead), None)
    # Measures that stood with a joint were for that one.
    return set_value(text, path[:5], value)


def without_single_drawer(text: str, row: EntryPath) -> str:
    """The text without the row of a single drawer, and without the list where it was the last.

    Raises:
        FaultyInputError: the text cannot be read.
    """
    is_last = len(rows_at(entries_of(text), row[:-1])) == 1
    return set_value(text, row[:-1] if is_last else row, None)
