"""What the shop has beside its jobs: cutters, machines, stock, and the trial cuts made with a cutter.

Each is a text in the same form as in a job file, so that it moves between shelf and job without loss.
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics.errors import DrawerwrightError
from drawerwright.basics.phrases import phrase
from drawerwright.store.database import Database, now


class ShelfKind(StrEnum):
    """What stands on the shelf."""

    CUTTER = "cutter"
    MACHINE = "machine"
    STOCK = "stock"
    TRIAL_CUT = "trial-cut"


@dataclass(frozen=True, slots=True)
class ShelfEntry:
    """One thing on the shelf; `version` grows with each save, `parent_id` is the cutter of a trial cut."""

    id: int
    kind: ShelfKind
    name: str
    text: str
    version: int
    parent_id: int | None
    saved_at: str


class UnknownEntryError(DrawerwrightError, KeyError):
    """There is no such entry, or it has been deleted."""

    def __str__(self) -> str:
        return str(self.args[0])


class StaleEntryError(DrawerwrightError, RuntimeError):
    """Somebody else saved the entry in between; `theirs` is what stands there now."""

    def __init__(self, mine: str, theirs: ShelfEntry) -> None:
        self.mine = mine
        self.theirs = theirs
        super().__init__(
            phrase("{name!r} was changed in between: look at both texts and choose", name=theirs.name)
        )


_COLUMNS = "id, kind, name, text, version, parent_id, saved_at"


class Shelf:
    """All cutters, machines, stock and trial cuts of a data file."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def list(self, kind: ShelfKind, parent_id: int | None = None) -> tuple[ShelfEntry, ...]:
        """Entries of one kind in the order in which they came; with `parent_id` those of one cutter."""
        with self._database.reading() as connection:
            rows = connection.execute(
                f"SELECT {_COLUMNS} FROM shelf WHERE kind = ? AND deleted_at IS NULL"
                " AND (? IS NULL OR parent_id = ?) ORDER BY id",
                (kind, parent_id, parent_id),
            ).fetchall()
        return tuple(_entry(row) for row in rows)

    def add(self, kind: ShelfKind, name: str, text: str, parent_id: int | None = None) -> ShelfEntry:
        """Put something on the shelf."""
        with self._database.writing() as connection:
            entry_id = connection.execute(
                "INSERT INTO shelf (kind, name, text, parent_id, saved_at) VALUES (?, ?, ?, ?, ?)",
                (kind, name, text, parent_id, now()),
            ).lastrowid
            assert entry_id is not None
            return _load(connection, entry_id)

    def load(self, entry_id: int) -> ShelfEntry:
        """One entry.

        Raises:
            UnknownEntryError: there is none, or it is deleted.
        """
        with self._database.reading() as connection:
            return _load(connection, entry_id)

    def save(self, entry_id: int, text: str, *, name: str, base: int) -> ShelfEntry:
        """Save a text that was made from version `base`.

        Raises:
            UnknownEntryError: there is no such entry.
            StaleEntryError: the entry is not at `base` any more; nothing was written.
        """
        with self._database.writing() as connection:
            entry = _load(connection, entry_id)
            if (entry.text, entry.name) == (text, name):
                return entry
            if entry.version != base:
                raise StaleEntryError(text, entry)
            connection.execute(
                "UPDATE shelf SET text = ?, name = ?, version = version + 1, saved_at = ? WHERE id = ?",
                (text, name, now(), entry_id),
            )
            return _load(connection, entry_id)

    def delete(self, entry_id: int) -> None:
        """Take an entry off the shelf; `restore` puts it back.

        Raises:
            UnknownEntryError: there is no such entry.
        """
        with self._database.writing() as connection:
            _load(connection, entry_id)
            connection.execute("UPDATE shelf SET deleted_at = ? WHERE id = ?", (now(), entry_id))

    def restore(self, entry_id: int) -> ShelfEntry:
        """Put a deleted entry back.

        Raises:
            UnknownEntryError: there never was such an entry.
        """
        with self._database.writing() as connection:
            connection.execute("UPDATE shelf SET deleted_at = NULL WHERE id = ?", (entry_id,))
            return _load(connection, entry_id)


def _entry(row: sqlite3.Row) -> ShelfEntry:
    return ShelfEntry(row[0], ShelfKind(row[1]), *row[2:])


def _load(connection: sqlite3.Connection, entry_id: int) -> ShelfEntry:
    row = connection.execute(
        f"SELECT {_COLUMNS} FROM shelf WHERE id = ? AND deleted_at IS NULL", (entry_id,)
    ).fetchone()
    if row is None:
        raise UnknownEntryError(
            phrase("there is no entry {entry_id} on the shelf: it may have been deleted", entry_id=entry_id)
        )
    return _entry(row)
