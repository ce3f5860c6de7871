"""Pictures of the pieces of test cuts, kept with the cut whose readings came from them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

from drawerwright.basics.phrases import phrase
from drawerwright.store.database import Database, now
from drawerwright.store.records import KeptPicture, UnknownRecordError

DAYS_UNSENT = 2
"""A picture whose readings nobody sent is forgotten after so long."""


class PictureTable:
    """All pictures of a data file."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def add(self, job_id: int, name: str, content: bytes) -> int:
        """Keep a picture (JPEG) for a cut that is not sent yet; its number."""
        old = datetime.now(UTC) - timedelta(days=DAYS_UNSENT)
        with self._database.writing() as connection:
            connection.execute(
                "DELETE FROM picture WHERE entry_id IS NULL AND added_at < ?",
                (old.isoformat(timespec="milliseconds"),),
            )
            number = connection.execute(
                "INSERT INTO picture (job_id, name, content, added_at) VALUES (?, ?, ?, ?)",
                (job_id, name, content, now()),
            ).lastrowid
            assert number is not None
            return number

    def attach(self, job_id: int, numbers: Iterable[int], entry_id: int) -> None:
        """Let pictures of a job that belong to no cut yet belong to this one."""
        with self._database.writing() as connection:
            connection.executemany(
                "UPDATE picture SET entry_id = ? WHERE id = ? AND job_id = ? AND entry_id IS NULL",
                [(entry_id, number, job_id) for number in numbers],
            )

    def of_job(self, job_id: int) -> tuple[KeptPicture, ...]:
        """The pictures of all cuts of a job, without their contents."""
        with self._database.reading() as connection:
            rows = connection.execute(
                "SELECT id, entry_id, name FROM picture WHERE job_id = ? AND entry_id IS NOT NULL ORDER BY id",
                (job_id,),
            ).fetchall()
        return tuple(KeptPicture(*row) for row in rows)

    def content(self, job_id: int, number: int) -> bytes:
        """One picture.

        Raises:
            UnknownRecordError: the job has none of this number.
        """
        with self._database.reading() as connection:
            row = connection.execute(
                "SELECT content FROM picture WHERE id = ? AND job_id = ?", (number, job_id)
            ).fetchone()
        if row is None:
            raise UnknownRecordError(
                phrase("there is no picture {number}: it may have been removed", number=number)
            )
        return bytes(row[0])

    def remove(self, job_id: int, number: int) -> None:
        """Take a picture away for good; the readings stay."""
        with self._database.writing() as connection:
            connection.execute("DELETE FROM picture WHERE id = ? AND job_id = ?", (number, job_id))
