"""The one SQLite file: where it lies, how it is opened, and transactions."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

from drawerwright.basics.errors import InvalidValueError
from drawerwright.store.migrations import MIGRATIONS, Move
from drawerwright.store.moving import History, MoveCut, SavedText, move_cuts

FILE_NAME = "drawerwright.sqlite3"
BUSY_SECONDS = 5.0
"""How long a writer waits for another process that is writing the same file."""


def data_folder() -> Path:
    """The folder for this user's data on this system, as the system's conventions have it."""
    from platformdirs import user_data_path

    return user_data_path("drawerwright", appauthor=False)


def now() -> str:
    """The present moment in UTC, as it is written into the database (ISO 8601, milliseconds)."""
    return datetime.now(UTC).isoformat(timespec="milliseconds")


class Database:
    """An open data file. Safe to share between threads; several processes may have the same file open.

    A transaction that has returned is on the disk (WAL with full synchronisation): a killed process loses
    nothing that was reported as saved, and a half-written transaction is as if it had never begun.
    """

    def __init__(self, folder: Path, move_cut: MoveCut | None = None) -> None:
        """Open the data file in `folder`, make both if they are missing, and bring the file up to date.

        Args:
            folder: where the file lies.
            move_cut: how a test cut of an earlier version becomes one of a corner's key; without it such a file is
                not opened, so that no cut is taken for moved that is not.

        Raises:
            InvalidValueError: the folder cannot be made or written, or a newer Drawerwright wrote the file.
        """
        self.path = folder / FILE_NAME
        try:
            folder.mkdir(parents=True, exist_ok=True)
            self._connection = sqlite3.connect(
                self.path, timeout=BUSY_SECONDS, isolation_level=None, check_same_thread=False
            )
            self._connection.row_factory = sqlite3.Row
            self._connection.execute("PRAGMA journal_mode = WAL")
            self._connection.execute("PRAGMA synchronous = FULL")
            self._connection.execute("PRAGMA foreign_keys = ON")
        except (OSError, sqlite3.Error) as error:
            raise InvalidValueError(
                f"cannot use {folder} for the data: {error}; name another folder with --data"
            ) from None
        self._lock = threading.RLock()
        try:
            self._migrate(move_cut)
        except BaseException:
            self.close()
            raise

    def _cannot_move(self, _cut: SavedText, _history: History) -> str:
        raise InvalidValueError(
            f"{self.path} has test cuts of an earlier version: open it with the app once, which moves them"
        )

    def _migrate(self, move_cut: MoveCut | None) -> None:
        with self.writing() as connection:
            version = int(connection.execute("PRAGMA user_version").fetchone()[0])
            if version > len(MIGRATIONS):
                raise InvalidValueError(
                    f"{self.path} was written by a newer Drawerwright (data version {version}, this program "
                    f"knows {len(MIGRATIONS)}): install the newer version, or name another folder with --data"
                )
            for step in (step for steps in MIGRATIONS[version:] for step in steps):
                if isinstance(step, Move):
                    move_cuts(connection, move_cut or self._cannot_move)
                else:
                    connection.execute(step)
            connection.execute(f"PRAGMA user_version = {len(MIGRATIONS)}")

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """The connection, for statements that only read."""
        with self._lock:
            yield self._connection

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """One transaction: all of it is kept when the block ends well, none of it otherwise.

        Inside another one it is part of that: what the outer block writes through several tables stands or falls
        together.
        """
        with self._lock:
            if self._connection.in_transaction:
                yield self._connection
                return
            self._connection.execute("BEGIN IMMEDIATE")
            try:
                yield self._connection
            except BaseException:
                self._connection.execute("ROLLBACK")
                raise
            self._connection.execute("COMMIT")

    def close(self) -> None:
        """Close the file."""
        with self._lock:
            self._connection.close()
