"""What the drawers of a job file are called, as far as its entries tell."""

from __future__ import annotations

import string
from typing import Any

from drawerwright.job.file.entry_paths import value_at
from drawerwright.job.file.fresh_entries import count_of
from drawerwright.job.file.model import MOST_BOXES


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


def drawers_of_row(section: str, place: int, entry: Any) -> tuple[str, ...]:
    """The drawers of a row of `banks` or `boxes`, as the job names them; a count beyond its limits is taken as one."""
    if section == "openings":
        return ()
    if section == "banks":
        count = count_of(value_at(entry, ("fronts", "heights")))
        return tuple(f"{bank_mark(place)}{number}" for number in range(1, count + 1))
    count = value_at(entry, ("count",))
    is_count = isinstance(count, int) and 1 <= count <= MOST_BOXES
    return numbered_boxes(str(value_at(entry, ("name",))), count if is_count else 1)
