"""Where an entry stands after others have put rows into a list or taken some out.

A page names a row of a list by its number in the revision that it was drawn from. Before something is written
there, the number is followed to where that very row stands now, so that nobody's typing ends in another row.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from drawerwright.job.file.entry_paths import EntryPath, value_at

NAMED_PARTS: tuple[EntryPath, ...] = (("stock",), ("cutters",), ("runners",))
"""Sections whose members have names of their own and are taken out whole."""


def place_now(path: EntryPath, before: Any, now: Any) -> EntryPath | None:
    """The path under which an entry of `before` stands in `now`.

    None where the row, the stock or the cutter that it belongs to is gone, or where nothing tells which row it is now.
    A row that `before` does not have yet keeps its number.
    """
    place: EntryPath = ()
    for depth, step in enumerate(path):
        part, part_now = value_at(before, path[:depth]), value_at(now, place)
        found: str | int | None = step
        if isinstance(step, int) and isinstance(part, list) and step < len(part):
            found = _row_now(step, part, part_now if isinstance(part_now, list) else [])
        elif path[:depth] in NAMED_PARTS and value_at(part, (step,)) is not None:
            found = step if value_at(part_now, (step,)) is not None else None
        if found is None:
            return None
        place = (*place, found)
    return place


def _row_now(number: int, rows: Sequence[Any], rows_now: Sequence[Any]) -> int | None:
    """The number that a row has now: by its name or by all that it says, where no other row has the same, else by
    what stands around it."""
    names, names_now = ([value_at(row, ("name",)) for row in some] for some in (rows, rows_now))
    for known, known_now in ((names, names_now), (rows, rows_now)):
        own = known[number]
        if own is not None and known.count(own) == known_now.count(own) == 1:
            return known_now.index(own)
    first = _alike(rows, rows_now)
    if number < first:
        return number
    last = _alike(rows[first:][::-1], rows_now[first:][::-1])
    if number >= len(rows) - last:
        return number + len(rows_now) - len(rows)
    between, between_now = rows[first : len(rows) - last], rows_now[first : len(rows_now) - last]
    is_changed_in_place = len(between) == len(between_now)
    if not is_changed_in_place or rows[number] in between_now or rows_now[number] in between:
        return None
    return number


def _alike(rows: Sequence[Any], others: Sequence[Any]) -> int:
    """How many rows from the first on are the same."""
    pairs = enumerate(zip(rows, others, strict=False))
    return next((number for number, (row, other) in pairs if row != other), min(len(rows), len(others)))
