"""Another joint for rows of a job file: one word in each."""

from __future__ import annotations

from collections.abc import Collection

from drawerwright.job.file.drawer_names import drawers_of_row
from drawerwright.job.file.editing import set_value
from drawerwright.job.file.entry_paths import rows_at, value_at
from drawerwright.job.file.reading import entries_of

ROWS = ("banks", "boxes")


def take_joint(text: str, drawers: Collection[str], joint: str, cutter: str = "") -> str:
    """A job file's text with another joint for the rows of these drawers.

    Args:
        text: of the job file.
        drawers: whose rows are meant, by their names.
        joint: that no self-mating cutter makes; empty for a cutter's.
        cutter: which one, where the file has several.

    Raises:
        FaultyInputError: the text cannot be read.
    """
    data = entries_of(text)
    for section in ROWS:
        for place, entry in enumerate(rows_at(data, (section,))):
            names = drawers_of_row(section, place, data)
            if not names or not set(names) <= set(drawers):
                continue
            path = (section, place)
            if value_at(entry, ("joint",)) is not None or joint:
                text = set_value(text, (*path, "joint"), joint or None)
            has_several = value_at(data, ("cutters",)) is not None
            if value_at(entry, ("cutter",)) is not None or (cutter and has_several):
                text = set_value(
                    text, (*path, "cutter"), (cutter or None) if has_several and not joint else None
                )
    return text
