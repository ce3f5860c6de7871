"""What the drawers of a job file are called, as far as its entries tell."""

from __future__ import annotations

import string
from typing import Any

from drawerwright.job.file.entry_paths import rows_at, value_at
from drawerwright.job.file.fresh_entries import count_of
from drawerwright.job.file.model import MOST_BANKS, MOST_BOXES


def bank_mark(index: int) -> str:
    """A, B ... Z, AA, AB ...: the letter of a bank, the first of a file being 0."""
    letters = string.ascii_uppercase
    mark = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, len(letters))
        mark = letters[rest] + mark
    return mark


def numbered_boxes(name: str, count: int) -> tuple[str, ...]:
    """What the boxes of one entry are called."""
    return tuple(f"{name} {number}" for number in range(1, count + 1)) if count > 1 else (name,)


def bank_marks(data: Any, place: int) -> tuple[str, ...]:
    """The letters of the banks of a row, one for each of its copies."""
    counts = [_count(row, MOST_BANKS) for row in rows_at(data, ("banks",))[: place + 1]]
    before = sum(counts[:-1])
    return tuple(bank_mark(before + copy) for copy in range(counts[-1]))


def drawers_of_row(section: str, place: int, data: Any) -> tuple[str, ...]:
    """The drawers of a row of `banks` or `boxes` of these entries, as the job names them; a count beyond its limits is
    taken as one."""
    if section == "openings":
        return ()
    entry = value_at(data, (section, place))
    if section == "banks":
        count = count_of(value_at(entry, ("fronts", "heights")))
        return tuple(f"{mark}{number}" for mark in bank_marks(data, place) for number in range(1, count + 1))
    return numbered_boxes(str(value_at(entry, ("name",))), _count(entry, MOST_BOXES))


def drawers_named(data: Any, section: str) -> tuple[str, ...]:
    """The drawers of all rows of `banks` or `boxes`."""
    return tuple(
        name
        for place in range(len(rows_at(data, (section,))))
        for name in drawers_of_row(section, place, data)
    )


def _count(entry: Any, most: int) -> int:
    count = value_at(entry, ("count",))
    return count if isinstance(count, int) and 1 <= count <= most else 1
