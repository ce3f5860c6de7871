"""One front of a bank set by its height; the rest follows."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.editing import get_value, set_value
from drawerwright.job.file.entry_paths import EntryPath
from drawerwright.job.file.file_units import in_unit
from drawerwright.job.file.job_entries import job_unit
from drawerwright.job.file.model import JobFile

REST = "rest"
KEPT_DIGITS = 1
"""Decimals of a height (mm) that is kept as it was: finer than a front is cut."""


def with_front_height(text: str, bank: int, front: int, height: Any, now: Sequence[Mm]) -> str:
    """The text with one front as high as somebody typed, the others as they are, and what is left over in one of them:
    in that which is `rest` already, else in the lowest of the others.

    Args:
        text: of the job file.
        bank, front: their numbers from 0, the front counted from the top.
        height: as it is to stand in the file.
        now: how high every front of the bank is (mm).

    Raises:
        InvalidValueError: the bank has no such front, or no other to take the rest.
    """
    path: EntryPath = ("banks", bank, "fronts", "heights")
    entry = get_value(text, path)
    given = entry.get("given") if isinstance(entry, dict) else None
    kept = in_unit([_kept(each) for each in now], JobFile, (*path, "given"), job_unit(text))
    heights = list(given) if isinstance(given, list) else kept
    if not 0 <= front < len(heights):
        raise InvalidValueError(phrase("this bank has no front {number}", number=front + 1))
    if len(heights) == 1:
        raise InvalidValueError(
            phrase("the only front of a bank fills its opening: change the opening or the overlay")
        )
    heights[front] = height
    if REST not in heights:
        follows = max(place for place in range(len(heights)) if place != front)
        heights[follows] = REST
    for other in entry if isinstance(entry, dict) else ():
        if other != "given":
            text = set_value(text, (*path, other), None)
    return set_value(text, (*path, "given"), heights)


def _kept(height: Mm) -> float | int:
    kept = round(height, KEPT_DIGITS)
    return int(kept) if kept == int(kept) else kept
