"""Another joint for drawers of a job file: one word where they stand."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from drawerwright.job.file.cutter_places import SEVERAL
from drawerwright.job.file.drawer_names import bank_marks, drawers_of_row
from drawerwright.job.file.editing import set_value
from drawerwright.job.file.entry_paths import EntryPath, rows_at, value_at
from drawerwright.job.file.fresh_entries import count_of
from drawerwright.job.file.likes import with_likes
from drawerwright.job.file.reading import entries_of
from drawerwright.job.file.single_drawer_entries import (
    own_singles,
    with_single_drawer,
    without_single_drawer,
)
from drawerwright.job.file.single_drawers_model import SINGLE_DRAWERS

ROWS = ("banks", "boxes")


def take_joint(text: str, drawers: Collection[str], joint: str, cutter: str = "") -> str:
    """A job file's text with another joint for these drawers.

    It is written once for a row all of whose drawers are meant, else for each drawer of a bank; of a row of equal boxes
    no single one can be meant.

    Args:
        text: of the job file.
        drawers: which ones, by their names.
        joint: that no self-mating cutter makes; empty for a cutter's.
        cutter: which one, where no joint is named.

    Raises:
        FaultyInputError: the text cannot be read.
    """
    data = entries_of(text)
    for section in ROWS:
        for place in range(len(rows_at(data, (section,)))):
            names = drawers_of_row(section, place, with_likes(data))
            if names and set(names) <= set(drawers):
                text = _whole_row(text, data, (section, place), joint, cutter)
            elif section == "banks":
                text = _singles(text, place, drawers, joint, cutter)
    return text


def _whole_row(text: str, data: Any, path: EntryPath, joint: str, cutter: str) -> str:
    entry = value_at(data, path)
    if value_at(entry, ("joint",)) is not None or joint:
        text = set_value(text, (*path, "joint"), joint or None)
    has_several = value_at(data, (SEVERAL,)) is not None
    if value_at(entry, ("cutter",)) is not None or (cutter and has_several):
        text = set_value(text, (*path, "cutter"), (cutter or None) if has_several and not joint else None)
    own = rows_at(entry, (SINGLE_DRAWERS,))
    for place in reversed(range(len(own))):
        text = _without_joint(text, (*path, SINGLE_DRAWERS, place), own[place])
    return text


def _without_joint(text: str, row: EntryPath, own: Any) -> str:
    """The text once a single drawer has the joint of its bank; a row that says nothing more goes."""
    says = {name for name in own if name not in ("joint", "cutter")}
    if says == set(own):
        return text
    if says == {"number"}:
        return without_single_drawer(text, row)
    for name in set(own) - says:
        text = set_value(text, (*row, name), None)
    return text


def _singles(text: str, place: int, drawers: Collection[str], joint: str, cutter: str) -> str:
    """The same for some of a bank's drawers, by their numbers; each of its copies has to have them among those that are
    meant."""
    path = ("banks", place)
    data = with_likes(entries_of(text))
    bank, marks = value_at(data, path), bank_marks(data, place)
    own = rows_at(bank, (SINGLE_DRAWERS,))
    numbers = [value_at(each, ("number",)) for each in own]
    for number in range(1, count_of(value_at(bank, ("fronts", "heights"))) + 1):
        if not all(f"{mark}{number}" in drawers for mark in marks):
            continue
        text = own_singles(text, path)
        if number not in numbers:
            text = set_value(text, (*path, SINGLE_DRAWERS, len(numbers)), {"number": number})
            numbers.append(number)
        row = (*path, SINGLE_DRAWERS, numbers.index(number))
        name, value = ("joint", joint) if joint else ("cutter", cutter)
        text = with_single_drawer(text, (*row, name), value)
    return text
