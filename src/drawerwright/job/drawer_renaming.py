"""Drawers that are called otherwise after a change of a job file: what names them follows.

A drawer of a bank is called by the bank's letter, which hangs on the banks before it; one of `boxes` by its row's name
and number. Trays name the drawer that they lie in, and days name banks, boxes and drawers.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping
from typing import Any

from drawerwright.job.file.drawer_names import bank_marks, drawers_of_row, numbered_boxes
from drawerwright.job.file.editing import set_value
from drawerwright.job.file.entry_paths import EntryPath, rows_at, value_at
from drawerwright.job.file.likes import with_likes
from drawerwright.job.file.reading import entries_of

SECTIONS = ("banks", "boxes")
Names = dict[Hashable, str]


def with_drawers_followed(before: str, after: str, removed: EntryPath | None = None) -> str:
    """The text `after` a change, in which every name of a drawer, a bank or a box follows what it was given for.

    Args:
        before: the text as it was.
        after: the text as it is now, its rows in the same order.
        removed: the row that was taken out, where one was. What names it stays, so that a fault tells; but where
            another is called so now, it goes.
    """
    data = entries_of(after)
    was, now = (with_likes(each) for each in (entries_of(before), data))
    drawers, groups = (
        _followed(_called(was, removed, group=g), _called(now, None, group=g)) for g in (False, True)
    )
    for path, name in _named(data):
        known = {**drawers, **groups} if path[0] == "days" else drawers
        if known.get(name, name) != name:
            after = set_value(after, path, known[name])
    return after


def _followed(was: Names, now: Names) -> Mapping[str, str | None]:
    """What everything is called now by what it was called; None where it is gone and its name is another's."""
    taken = set(now.values())
    found: dict[str, str | None] = {}
    for key, name in was.items():
        called = now.get(key)
        if called is not None or name in taken:
            found.setdefault(name, called)
    return found


def _called(data: Any, removed: EntryPath | None, *, group: bool) -> Names:
    """What every drawer is called, or every row and every copy of one, by its place; `removed` has none among the
    others."""
    found: Names = {}
    for section in SECTIONS:
        place = 0
        for number, row in enumerate(rows_at(data, (section,))):
            key: Hashable = place
            if removed == (section, number):
                key = "removed"
            else:
                place += 1
            names = _of_row(section, number, row, data) if group else drawers_of_row(section, number, data)
            copies = len(bank_marks(data, number)) if section == "banks" and not group else 1
            each = len(names) // copies
            found |= {
                (section, key, copy, n): name
                for copy in range(copies)
                for n, name in enumerate(names[copy * each : (copy + 1) * each])
            }
    return found


def _of_row(section: str, number: int, row: Any, data: Any) -> tuple[str, ...]:
    name = str(value_at(row, ("name",)))
    return (name, *numbered_boxes(name, len(bank_marks(data, number)))) if section == "banks" else (name,)


def _named(data: Any) -> Iterator[tuple[EntryPath, str]]:
    """Where trays and days name a drawer, from the last to the first, so that what goes leaves the others' places."""
    for number, row in enumerate(rows_at(data, ("boxes",))):
        inside = value_at(row, ("inside",))
        if isinstance(inside, str):
            yield ("boxes", number, "inside"), inside
    days = value_at(data, ("days",))
    for number, names in enumerate(days if isinstance(days, list) else ()):
        for place, name in reversed(list(enumerate(names if isinstance(names, list) else ()))):
            if isinstance(name, str):
                yield ("days", number, place), name
