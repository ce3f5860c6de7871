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
from drawerwright.store.trouble import busy, in_words

FILE_NAME = "drawerwright.sqlite3"
BUSY_SECONDS = 2.0
"""How long a writer waits for another one, in this process or another."""
OWN_TABLES = {"job", "revision", "shelf", "device"}


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
            InvalidValueError: the folder cannot be made or written, or a newer Drawerwright, or another program, wrote
                the file.
            StoreError: the file is damaged, or another program holds it.
        """
        self.path = folder / FILE_NAME
        self._lock = threading.RLock()
        self._reading = threading.RLock()
        self._writer = threading.local()
        try:
            folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            self.path.touch(mode=0o600)  # what SQLite lays beside it has the same mode
        except OSError as error:
            way = "name another folder with --data"
            if self.path.exists():
                way += "; drawerwright backup still reads what is in this one, and restore puts it into the other"
            raise InvalidValueError(
                f"cannot use {folder} for the data ({error.strerror}: {error.filename}): {way}"
            ) from None
        with in_words(self.path):
            self._connection = self._open()
        try:
            with in_words(self.path):
                self._reader = self._connection
                self._reader = self._open()
                for connection in (self._connection, self._reader):
                    connection.execute("PRAGMA journal_mode = WAL")
                    connection.execute("PRAGMA synchronous = FULL")
                    connection.execute("PRAGMA foreign_keys = ON")
            self._migrate(move_cut)
        except BaseException:
            self.close()
            raise

    def _open(self) -> sqlite3.Connection:
        connection = sqlite3.connect(
            self.path, timeout=BUSY_SECONDS, isolation_level=None, check_same_thread=False
        )
        connection.row_factory = sqlite3.Row
        return connection

    def _cannot_move(self, _cut: SavedText, _history: History) -> str:
        raise InvalidValueError(
            f"{self.path} has test cuts of an earlier version: open it with the app once, which moves them"
        )

    @staticmethod
    def check_own(connection: sqlite3.Connection, path: Path) -> int:
        """The version of a data file, 0 for an empty one.

        Raises:
            InvalidValueError: another program wrote it, or a newer one of ours.
        """
        version = int(connection.execute("PRAGMA user_version").fetchone()[0])
        if version > len(MIGRATIONS):
            raise InvalidValueError(
                f"{path} was written by a newer Drawerwright (data version {version}, this program "
                f"knows {len(MIGRATIONS)}): install the newer version, or name another folder with --data"
            )
        tables = {row[0] for row in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
        if bool(tables) != bool(version) or (version and not tables >= OWN_TABLES):
            raise InvalidValueError(
                f"{path} is no data file of Drawerwright, but some other program's: name another folder "
                "with --data"
            )
        return version

    def _migrate(self, move_cut: MoveCut | None) -> None:
        with self.reading() as connection:
            if self.check_own(connection, self.path) == len(MIGRATIONS):
                return  # nothing is written, so nobody is waited for
        with self.writing() as connection:
            version = self.check_own(connection, self.path)
            for step in (step for steps in MIGRATIONS[version:] for step in steps):
                if isinstance(step, Move):
                    move_cuts(connection, move_cut or self._cannot_move)
                else:
                    connection.execute(step)
            connection.execute(f"PRAGMA user_version = {len(MIGRATIONS)}")

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """A connection for statements that only read; they see what was last saved, and wait for no writer.

        Raises:
            StoreError: the file cannot be read.
        """
        if getattr(self._writer, "is_here", False):  # what this thread writes, it reads as well
            yield self._connection
            return
        with self._reading, in_words(self.path):
            yield self._reader

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """One transaction: all of it is kept when the block ends well, none of it otherwise.

        Inside another one it is part of that: what the outer block writes through several tables stands or falls
        together.

        Raises:
            StoreError: the file cannot be written, or somebody else has been writing it for `BUSY_SECONDS`.
        """
        if getattr(self._writer, "is_here", False):
            yield self._connection
            return
        if not self._lock.acquire(timeout=BUSY_SECONDS):
            raise busy(self.path)
        try:
            with in_words(self.path):
                self._connection.execute("BEGIN IMMEDIATE")
                self._writer.is_here = True
                try:
                    yield self._connection
                except BaseException:
                    self._roll_back()
                    raise
                try:
                    self._connection.execute("COMMIT")
                except sqlite3.Error:
                    self._roll_back()
                    raise
        finally:
            self._writer.is_here = False
            self._lock.release()

    def _roll_back(self) -> None:
        if self._connection.in_transaction:  # a full disk has ended it already
            self._connection.execute("ROLLBACK")

    def close(self) -> None:
        """Close the file."""
        with self._lock, self._reading:
            self._reader.close()
            self._connection.close()
