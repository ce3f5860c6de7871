"""What is left out of a faulty file, so that the rest can be built and every fault comes at once."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from drawerwright.job.file.entry_paths import EntryPath, value_at


@dataclass(frozen=True, slots=True)
class PartingRules:
    """What a faulty entry takes with it.

    rows: sections whose rows are built without a faulty entry, `plain` ones the same with their entries; of every other
        section a row goes as a whole, or all of it where it has none.
    named: sections of entries by name, each of which goes as a whole.
    apart: entries on which no size depends.
    """

    rows: frozenset[str] = frozenset()
    plain: frozenset[str] = frozenset()
    named: frozenset[str] = frozenset()
    apart: frozenset[str] = frozenset()

    def lost(self, location: EntryPath, data: Any) -> EntryPath:
        """What is left out on account of the entry at `location`."""
        section = location[:1]
        if len(location) < 2:
            return section
        is_row = isinstance(value_at(data, section), list)
        if section[0] in self.plain and not is_row:
            return _before_a_row(location, 1)
        if section[0] in self.named and not is_row:
            return _before_a_row(location, 2) if self.apart.intersection(location[2:]) else location[:2]
        if not is_row:
            return section
        return _before_a_row(location, 2) if section[0] in self.rows else location[:2]

    def around(self, location: EntryPath, data: Any, gone: Collection[EntryPath]) -> EntryPath:
        """What is left out as well where the entry at `location` is found faulty once `gone` is left out: what it is
        missed in."""
        is_missed = value_at(data, location) is None or location in gone
        wider = location[:-1] if is_missed and len(location) > 1 else location
        return self.lost(wider, data) if len(wider) > 2 else wider

    def may_come_of_lack(
        self, location: EntryPath, gone: Collection[EntryPath], *, is_reckoned: bool
    ) -> bool:
        """Whether a fault may only be there since something was left out: it is what holds that, or was reckoned
        without it."""
        if not is_reckoned:
            return any(left_out[: len(location)] == location for left_out in gone)
        return any(
            len(left_out) > 2 and left_out[:2] == location[:2] and not self.apart.intersection(left_out[2:])
            for left_out in gone
        )


BY_SECTIONS = PartingRules()
"""Of a file whose sections are small: each goes as a whole."""


def _before_a_row(location: EntryPath, begin: int) -> EntryPath:
    """The entry, or what holds the list that it stands in below `begin` steps."""
    for place, step in enumerate(location):
        if place >= begin and isinstance(step, int):
            return location[:place]
    return location
