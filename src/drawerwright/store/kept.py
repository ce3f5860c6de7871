"""What is kept until somebody takes it away, and can then be brought back: jobs, and what stands on the shelf."""

from __future__ import annotations

import sqlite3
from abc import ABC, abstractmethod
from typing import ClassVar, Generic, TypeVar

from drawerwright.store.database import Database, now

Record = TypeVar("Record")


class KeptTable(ABC, Generic[Record]):
    """A table of records with a text. A deleted one stays in the file, marked with the moment, to be restored."""

    table: ClassVar[str]

    def __init__(self, database: Database) -> None:
        self._database = database

    @abstractmethod
    def _load(self, connection: sqlite3.Connection, record_id: int) -> Record:
        """The record as it stands; UnknownRecordError where there is none, or it is deleted."""

    def load(self, record_id: int) -> Record:
        """One record.

        Raises:
            UnknownRecordError: there is none, or it is deleted.
        """
        with self._database.reading() as connection:
            return self._load(connection, record_id)

    def delete(self, record_id: int) -> None:
        """Take it away; `restore` brings it back with all that belongs to it.

        Raises:
            UnknownRecordError: there is none.
        """
        with self._database.writing() as connection:
            self._load(connection, record_id)
            self._mark(connection, record_id, now())

    def restore(self, record_id: int) -> Record:
        """Bring a deleted one back.

        Raises:
            UnknownRecordError: there never was one.
        """
        with self._database.writing() as connection:
            self._mark(connection, record_id, None)
            return self._load(connection, record_id)

    def _mark(self, connection: sqlite3.Connection, record_id: int, deleted_at: str | None) -> None:
        connection.execute(f"UPDATE {self.table} SET deleted_at = ? WHERE id = ?", (deleted_at, record_id))
