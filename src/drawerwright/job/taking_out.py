"""Taking a stock or a sheet of runners out of a job: where it is in use, something takes its place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.editing import set_value
from drawerwright.job.file.entry_paths import EntryPath, members_at, rows_at, value_at
from drawerwright.job.file.reading import entries_of
from drawerwright.job.file.runner_entries import RUNNERS, with_own_runner
from drawerwright.job.renaming import stock_places

OWN_FIGURES = ""
"""Instead of a sheet of runners: its figures, in every bank that names it."""


@dataclass(frozen=True, slots=True)
class InUse:
    """What names a stock or a sheet of runners: places, rows by their names, and what else could stand there."""

    places: tuple[EntryPath, ...]
    rows: tuple[str, ...]
    others: tuple[str, ...]


def in_use(data: Any, path: EntryPath) -> InUse:
    """What names the stock or the sheet of runners at a path of these entries; nothing where no row does."""
    section, name = str(path[0]), str(path[1])
    if section == RUNNERS:
        places: Sequence[EntryPath] = [
            ("banks", number, "runner")
            for number, bank in enumerate(rows_at(data, ("banks",)))
            if value_at(bank, ("runner",)) == name
        ]
    else:
        places = [tuple(place) for place in stock_places(data, name)]
    rows = dict.fromkeys(str(value_at(data, (*place[:2], "name")) or place[1]) for place in places)
    others = tuple(str(other) for other in members_at(data, (section,)) if other != name)
    return InUse(tuple(places), tuple(rows), others)


def taken_out(text: str, path: EntryPath, instead: str | None = None) -> str:
    """A job file's text without the stock or the sheet of runners at a path.

    Args:
        text: of the job file.
        path: of what goes.
        instead: what stands wherever it is named; for runners `OWN_FIGURES` gives each bank the figures itself.

    Raises:
        InvalidValueError: it is in use and nothing, or nothing that there is, takes its place.
    """
    data = entries_of(text)
    used = in_use(data, path)
    is_own = path[0] == RUNNERS and instead == OWN_FIGURES
    if used.places and not is_own and instead not in used.others:
        raise InvalidValueError(
            phrase(
                "{name} is used by {rows}: say what takes its place, or add another first",
                name=str(path[1]),
                rows=", ".join(used.rows),
            )
        )
    for place in used.places:
        text = with_own_runner(text, place) if is_own else set_value(text, place, instead)
    return set_value(text, path, None)
