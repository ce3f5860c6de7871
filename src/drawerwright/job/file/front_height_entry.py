"""One front of a bank set by its height; the rest follows."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import MM_PER_INCH, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.editing import get_value, set_value
from drawerwright.job.file.entry_paths import EntryPath
from drawerwright.job.file.file_units import FileUnit, in_unit
from drawerwright.job.file.job_entries import job_unit
from drawerwright.job.file.model import JobFile

REST = "rest"
KEPT_TO: dict[FileUnit, Mm] = {"mm": 0.1, "in": MM_PER_INCH / 1000}
"""To what a height is kept as it was: finer than a front is cut, and round in the unit of the file."""


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
    heights = list(given) if isinstance(given, list) else kept_heights(now, job_unit(text))
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


def kept_heights(now: Sequence[Mm], unit: FileUnit) -> list[Any]:
    """How high fronts are (mm), as a file of this unit says it one by one."""
    step = KEPT_TO[unit]
    kept = [round(round(height / step) * step, 6) for height in now]
    entries: list[Any] = in_unit(kept, JobFile, ("banks", 0, "fronts", "heights", "given"), unit)
    return [int(each) if isinstance(each, float) and each.is_integer() else each for each in entries]
