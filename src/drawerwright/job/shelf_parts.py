"""The use cases `put` and `take`: a cutter, the machines, a stock of a job beside the shop's own on its shelf."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.basics.typed_lengths import parse_length
from drawerwright.job.file.cutter_entries import call_cutter
from drawerwright.job.file.cutter_places import OWN_ENTRIES, SEVERAL, cutter_places
from drawerwright.job.file.editing import set_value
from drawerwright.job.file.entry_paths import EntryPath, rows_at, value_at
from drawerwright.job.file.job_entries import job_entries, set_in_mm
from drawerwright.job.file.reading import entries_of
from drawerwright.job.file.usual_entries import usual_entry
from drawerwright.job.renaming import with_own_id
from drawerwright.store import Shelf
from drawerwright.store.records import ShelfEntry, ShelfKind

ENTRY = "entry"
"""Under which name a shelf text holds its values. Bare lengths on the shelf are mm, whatever job they came from."""
MACHINE = ("machine",)
RACK = ("sheets", "offcuts")
"""Rows of a stock that say how much of it is there: the rack's, which a job takes over, and never overwrites."""


@dataclass(frozen=True, slots=True)
class ShelfPart:
    """A part of a job file that the shelf can hold: where it stands, what it is there, and its name there."""

    path: EntryPath
    kind: ShelfKind
    name: str

    def own(self, shelf: Shelf) -> ShelfEntry | None:
        """What the shelf has under its name."""
        return next((entry for entry in shelf.list(self.kind) if entry.name == self.name), None)

    def others(self, shelf: Shelf, data: Any) -> tuple[ShelfEntry, ...]:
        """What else on the shelf could take its place; a stock's and a runner's is its name."""
        if self.kind in (ShelfKind.STOCK, ShelfKind.RUNNERS):
            return ()
        is_cutter = self.kind is ShelfKind.CUTTER
        taken = {place.name for place in cutter_places(data)} if is_cutter else {self.name}
        return tuple(entry for entry in shelf.list(self.kind) if entry.name not in taken)

    def in_common(self, part: Any) -> Any:
        """What the part, or a shelf entry that is to become it, has in common with other jobs.

        That is not its id, nor how this job uses it; one that stands under its name has no entry for that.
        """
        own = {*OWN_ENTRIES, "name"} if self.path[0] == SEVERAL else set(OWN_ENTRIES)
        return (
            {key: value for key, value in part.items() if key not in own} if isinstance(part, dict) else part
        )

    def brought_by(self, entry: ShelfEntry) -> Any:
        """What a shelf entry brings to the job."""
        return self.in_common(entries_of(entry.text).get(ENTRY))

    def shelf_text(self, data: Any) -> str:
        """The text of the shelf entry that the part of these entries of a job file becomes."""
        part = self.in_common(value_at(data, self.path) or {})
        return set_value("", (ENTRY,), {"name": self.name, **part} if self.path[0] == SEVERAL else part)

    def differences(self, data: Any, entry: ShelfEntry) -> Iterator[tuple[EntryPath, Any, Any]]:
        """Path of each value that differs between shelf and job, with the job's and the shelf's; what is on the rack is
        no value of either."""
        own, shelf = (
            dict(_leaves(self._uncounted(part), self.path, by_row=True))
            for part in (self.in_common(value_at(data, self.path)), self.brought_by(entry))
        )
        for path in {**own, **shelf}:
            if own.get(path) != shelf.get(path):
                yield path, own.get(path), shelf.get(path)

    def _uncounted(self, part: Any) -> Any:
        """A part without what is on the rack."""
        if self.kind is not ShelfKind.STOCK or not isinstance(part, dict):
            return part
        sheets = [_without(row, "on_hand") for row in rows_at(part, ("sheets",))]
        return {**_without(part, *RACK), **({"sheets": sheets} if sheets else {})}

    def with_rack_of(self, text: str, entry: ShelfEntry) -> str:
        """A shelf text with the rack as `entry` has it: its offcuts, how many there are of each of its sheets, and the
        sheets that it counts and the text does not have."""
        if self.kind is not ShelfKind.STOCK:
            return text
        before, after = (entries_of(each).get(ENTRY) for each in (entry.text, text))
        known = {_size(row): row for row in rows_at(before, ("sheets",))}
        counted = {size: row for size, row in known.items() if value_at(row, ("on_hand",)) is not None}
        sheets = []
        for row in rows_at(after, ("sheets",)):
            size = _size(row)
            there = counted.pop(size, None)
            if size in known:
                row = _without(row, "on_hand") | ({} if there is None else {"on_hand": there["on_hand"]})
            sheets.append(row)
        text = set_value(text, (ENTRY, "sheets"), [*sheets, *counted.values()] or None)
        return set_value(text, (ENTRY, "offcuts"), list(rows_at(before, ("offcuts",))) or None)


def _without(entries: Any, *names: str) -> dict[str, Any]:
    return (
        {key: value for key, value in entries.items() if key not in names}
        if isinstance(entries, dict)
        else {}
    )


def row_sides(row: Any) -> tuple[Mm, Mm] | None:
    """Length and width (mm) of a sheet or offcut in a stock's entries; None where they cannot be read."""
    try:
        return parse_length(value_at(row, ("length",))), parse_length(value_at(row, ("width",)))
    except InvalidValueError:
        return None


def _size(row: Any) -> tuple[Mm, ...]:
    """The sides of a sheet to a tenth of a millimetre; none where they cannot be read."""
    return tuple(round(side, 1) for side in row_sides(row) or ())


def shelf_part(data: Any, path: EntryPath) -> ShelfPart:
    """The part that stands at a path of a job file's entries.

    Raises:
        InvalidValueError: the path names no part that the shelf can hold.
    """
    place = next((place for place in cutter_places(data) if place.path == path), None)
    if place is not None:
        return ShelfPart(path, ShelfKind.CUTTER, place.name)
    if path == MACHINE:
        name = value_at(data, (*MACHINE, "name")) or usual_entry(*MACHINE, "name")
        return ShelfPart(path, ShelfKind.MACHINE, str(name))
    if len(path) == 2 and path[0] == "stock":
        return ShelfPart(path, ShelfKind.STOCK, str(path[1]))
    if len(path) == 2 and path[0] == "runners":
        return ShelfPart(path, ShelfKind.RUNNERS, str(path[1]))
    raise InvalidValueError(phrase("This part of a job cannot go on the shelf."))


def put_on_shelf(shelf: Shelf, data: Any, path: EntryPath) -> None:
    """Put the part at `path` on the shelf, in place of what stands there under its name; the rack stays as it is.

    Raises:
        InvalidValueError: the shelf cannot hold it.
    """
    part = shelf_part(data, path)
    text, entry = part.shelf_text(data), part.own(shelf)
    if entry is None:
        shelf.add(part.kind, part.name, text)
    else:
        shelf.save(entry.id, part.with_rack_of(text, entry), name=part.name, base=entry.version)


def teach_shelf(shelf: Shelf, text: str, learnt: Iterable[tuple[Sequence[str | int], str]]) -> None:
    """Write what test cuts of a job taught into the shop's own cutter and machines.

    What the shelf does not have yet goes there as the job has it; of the rest only these values change.

    Args:
        shelf: the shop's.
        text: the job's text, with what was learnt in it.
        learnt: where in a job file, and what.
    """
    data = job_entries(text)
    for path, value in learnt:
        depth = 2 if path[0] == SEVERAL else 1
        part = shelf_part(data, tuple(path[:depth]))
        entry = part.own(shelf)
        if entry is None:
            shelf.add(part.kind, part.name, part.shelf_text(data))
        else:
            taught = set_value(entry.text, (ENTRY, *path[depth:]), value)
            shelf.save(entry.id, taught, name=part.name, base=entry.version)


def taken_over(text: str, path: EntryPath, entry: ShelfEntry) -> str:
    """A job file's text with a shelf entry in place of the part at `path`, value by value, so that comments stay.

    Raises:
        InvalidValueError: the path names no part that the shelf can hold.
    """
    data = job_entries(text)
    part, now = shelf_part(data, path), value_at(data, path)
    own, shelf = (dict(_leaves(values, ())) for values in (part.in_common(now), part.brought_by(entry)))
    if entry.name != part.name:  # another thing, and so are its corners
        for gone in OWN_ENTRIES:
            if value_at(now, (gone,)) is not None:
                text = set_value(text, (*path, gone), None)
    for key in {**own, **shelf}:
        if own.get(key) != shelf.get(key):
            text = set_in_mm(text, (*path, *key), shelf.get(key))
    if part.kind is ShelfKind.STOCK:
        return with_own_id(text, part.name)
    return call_cutter(text, part.name, entry.name) if path[0] == SEVERAL else text


def _leaves(node: Any, path: EntryPath, *, by_row: bool = False) -> Iterator[tuple[EntryPath, Any]]:
    """Every value with its path; a list is one value, but for the rows of a table where they are asked for."""
    if isinstance(node, dict):
        for key, value in node.items():
            yield from _leaves(value, (*path, key), by_row=by_row)
    elif by_row and isinstance(node, list) and any(isinstance(row, dict) for row in node):
        for number, row in enumerate(node):
            yield from _leaves(row, (*path, number), by_row=True)
    elif node is not None:
        yield path, node
