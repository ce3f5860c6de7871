"""What the shop has beside its jobs: cutters, machines, stock, and the trial cuts made with a cutter.

Each is a text in the same form as in a job file, so that it moves between shelf and job without loss.
"""

from __future__ import annotations

import sqlite3

from drawerwright.basics.phrases import phrase
from drawerwright.store.database import now
from drawerwright.store.kept import KeptTable
from drawerwright.store.records import ShelfEntry, ShelfKind, StaleEntryError, UnknownEntryError

_COLUMNS = "id, kind, name, text, version, saved_at"


class Shelf(KeptTable[ShelfEntry]):
    """All cutters, machines, stock and trial cuts of a data file."""

    table = "shelf"

    def list(self, kind: ShelfKind) -> tuple[ShelfEntry, ...]:
        """Entries of one kind in the order in which they came."""
        with self._database.reading() as connection:
            rows = connection.execute(
                f"SELECT {_COLUMNS} FROM shelf WHERE kind = ? AND deleted_at IS NULL ORDER BY id", (kind,)
            ).fetchall()
        return tuple(_entry(row) for row in rows)

    def add(self, kind: ShelfKind, name: str, text: str) -> ShelfEntry:
        """Put something on the shelf."""
        with self._database.writing() as connection:
            entry_id = connection.execute(
                "INSERT INTO shelf (kind, name, text, saved_at) VALUES (?, ?, ?, ?)",
                (kind, name, text, now()),
            ).lastrowid
            assert entry_id is not None
            return self._load(connection, entry_id)

    def save(self, entry_id: int, text: str, *, name: str, base: int) -> ShelfEntry:
        """Save a text that was made from version `base`.

        Raises:
            UnknownEntryError: there is no such entry.
            StaleEntryError: the entry is not at `base` any more; nothing was written.
        """
        with self._database.writing() as connection:
            entry = self._load(connection, entry_id)
            if (entry.text, entry.name) == (text, name):
                return entry
            if entry.version != base:
                raise StaleEntryError(text, entry)
            connection.execute(
                "UPDATE shelf SET text = ?, name = ?, version = version + 1, saved_at = ? WHERE id = ?",
                (text, name, now(), entry_id),
            )
            return self._load(connection, entry_id)

    def _load(self, connection: sqlite3.Connection, entry_id: int) -> ShelfEntry:
        row = connection.execute(
            f"SELECT {_COLUMNS} FROM shelf WHERE id = ? AND deleted_at IS NULL", (entry_id,)
        ).fetchone()
        if row is None:
            raise UnknownEntryError(
                phrase(
                    "there is no entry {entry_id} on the shelf: it may have been deleted", entry_id=entry_id
                )
            )
        return _entry(row)


def _entry(row: sqlite3.Row) -> ShelfEntry:
    return ShelfEntry(row[0], ShelfKind(row[1]), *row[2:])
