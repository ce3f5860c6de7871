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

    def add(
        self, job_id: int, name: str, content: bytes, piece: str = "", source: bytes | None = None
    ) -> int:
        """Keep a picture (JPEG) for a cut that is not sent yet, and the file that it was made of; its number."""
        old = datetime.now(UTC) - timedelta(days=DAYS_UNSENT)
        with self._database.writing() as connection:
            connection.execute(
                "DELETE FROM picture WHERE entry_id IS NULL AND added_at < ?",
                (old.isoformat(timespec="milliseconds"),),
            )
            number = connection.execute(
                "INSERT INTO picture (job_id, name, content, piece, source, added_at) VALUES (?, ?, ?, ?, ?, ?)",
                (job_id, name, content, piece, source, now()),
            ).lastrowid
            assert number is not None
            return number

    def attach(self, job_id: int, numbers: Iterable[int], entry_id: int) -> None:
        """Let pictures of a job that belong to no cut yet belong to this one; their files are forgotten."""
        with self._database.writing() as connection:
            connection.executemany(
                "UPDATE picture SET entry_id = ?, source = NULL WHERE id = ? AND job_id = ? AND entry_id IS NULL",
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

    def sources(self, job_id: int, numbers: Iterable[int]) -> dict[str, tuple[str, bytes]]:
        """Name and content of the files of pictures that belong to no cut yet, by the piece that they show."""
        found = {}
        with self._database.reading() as connection:
            for number in numbers:
                row = connection.execute(
                    "SELECT piece, name, source FROM picture WHERE id = ? AND job_id = ? AND source IS NOT NULL",
                    (number, job_id),
                ).fetchone()
                if row is not None:
                    found[str(row[0])] = (str(row[1]), bytes(row[2]))
        return found

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
