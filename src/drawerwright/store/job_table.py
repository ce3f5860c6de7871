"""Jobs: each is the text of its job file, and every save of it a revision.

A job points at one of its revisions, its head. Undo moves the head to the revision it was made from, redo
to the newest one made from it; nothing is ever overwritten::

        1 ── 2 ── 3           saved, saved, saved
             └─── 4 ── 5      undo, saved, saved: 3 is still there, but redo from 2 leads to 4
"""

from __future__ import annotations

import sqlite3

from drawerwright.basics.phrases import phrase
from drawerwright.store.database import now
from drawerwright.store.kept import KeptTable
from drawerwright.store.notes import kept_note, read_note
from drawerwright.store.records import ConflictError, JobRecord, JobSummary, Revision, UnknownJobError

_COLUMNS = "number, text, note, note_values, saved_at, parent"


class JobTable(KeptTable[JobRecord]):
    """All jobs of a data file, each at its head."""

    table = "job"

    def list(self) -> tuple[JobSummary, ...]:
        """Every job that is not deleted, last saved first."""
        with self._database.reading() as connection:
            rows = connection.execute(
                "SELECT job.id, job.title, job.head, revision.saved_at FROM job JOIN revision"
                " ON revision.job_id = job.id AND revision.number = job.head"
                " WHERE deleted_at IS NULL ORDER BY revision.saved_at DESC, job.id DESC"
            ).fetchall()
        return tuple(JobSummary(*row) for row in rows)

    def add(self, title: str, text: str, note: str = "") -> JobRecord:
        """A new job with its first revision."""
        with self._database.writing() as connection:
            job_id = connection.execute("INSERT INTO job (title, head) VALUES (?, 1)", (title,)).lastrowid
            assert job_id is not None
            _add_revision(connection, job_id, Revision(1, text, note, now(), None))
            return self._load(connection, job_id)

    def revisions(self, job_id: int) -> tuple[Revision, ...]:
        """Every revision of a job, newest first.

        Raises:
            UnknownJobError: there is no such job.
        """
        with self._database.reading() as connection:
            self._load(connection, job_id)
            rows = connection.execute(
                f"SELECT {_COLUMNS} FROM revision WHERE job_id = ? ORDER BY number DESC", (job_id,)
            ).fetchall()
        return tuple(_as_revision(row) for row in rows)

    def revision(self, job_id: int, number: int) -> Revision:
        """One revision of a job.

        Raises:
            UnknownJobError: there is no such job or revision.
        """
        with self._database.reading() as connection:
            self._load(connection, job_id)
            return _revision(connection, job_id, number)

    def lineage(self, job_id: int) -> tuple[Revision, ...]:
        """The head and what it was made from, newest first.

        Raises:
            UnknownJobError: there is no such job.
        """
        by_number = {revision.number: revision for revision in self.revisions(job_id)}
        step: Revision | None = self.load(job_id).revision
        line = []
        while step is not None:
            line.append(step)
            step = by_number.get(step.parent) if step.parent is not None else None
        return tuple(line)

    def save(self, job_id: int, text: str, *, title: str, base: int, note: str = "") -> JobRecord:
        """Save a text that was made from revision `base`. A text equal to the head's makes no revision.

        Raises:
            UnknownJobError: there is no such job.
            ConflictError: the head is not `base` any more; nothing was written.
        """
        with self._database.writing() as connection:
            job = self._load(connection, job_id)
            if job.revision.text == text:
                return job
            if job.revision.number != base:
                raise ConflictError(text, job.revision)
            number = 1 + int(
                connection.execute("SELECT max(number) FROM revision WHERE job_id = ?", (job_id,)).fetchone()[
                    0
                ]
            )
            _add_revision(connection, job_id, Revision(number, text, note, now(), base))
            connection.execute("UPDATE job SET head = ?, title = ? WHERE id = ?", (number, title, job_id))
            return self._load(connection, job_id)

    def undo(self, job_id: int) -> JobRecord:
        """Go back to the revision that the head was made from; at the first one nothing happens.

        Raises:
            UnknownJobError: there is no such job.
        """
        with self._database.writing() as connection:
            return self._move(connection, job_id, self._load(connection, job_id).revision.parent)

    def redo(self, job_id: int) -> JobRecord:
        """Go on to the newest revision made from the head; where there is none nothing happens.

        Raises:
            UnknownJobError: there is no such job.
        """
        with self._database.writing() as connection:
            head = self._load(connection, job_id).revision.number
            return self._move(connection, job_id, _newest_child(connection, job_id, head))

    def set_title(self, job_id: int, title: str) -> None:
        """Remember the title that a job's text gives itself; undo and redo need it afresh."""
        with self._database.writing() as connection:
            connection.execute("UPDATE job SET title = ? WHERE id = ?", (title, job_id))

    def _load(self, connection: sqlite3.Connection, job_id: int) -> JobRecord:
        row = connection.execute(
            "SELECT title, head FROM job WHERE id = ? AND deleted_at IS NULL", (job_id,)
        ).fetchone()
        if row is None:
            raise UnknownJobError(phrase("there is no job {job_id}: it may have been deleted", job_id=job_id))
        head = _revision(connection, job_id, row["head"])
        return JobRecord(
            id=job_id,
            title=row["title"],
            revision=head,
            can_undo=head.parent is not None,
            can_redo=_newest_child(connection, job_id, head.number) is not None,
        )

    def _move(self, connection: sqlite3.Connection, job_id: int, number: int | None) -> JobRecord:
        if number is not None:
            connection.execute("UPDATE job SET head = ? WHERE id = ?", (number, job_id))
        return self._load(connection, job_id)


def _add_revision(connection: sqlite3.Connection, job_id: int, revision: Revision) -> None:
    connection.execute(
        f"INSERT INTO revision (job_id, {_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?)",
        (
            job_id,
            revision.number,
            revision.text,
            *kept_note(revision.note),
            revision.saved_at,
            revision.parent,
        ),
    )


def _revision(connection: sqlite3.Connection, job_id: int, number: int) -> Revision:
    row = connection.execute(
        f"SELECT {_COLUMNS} FROM revision WHERE job_id = ? AND number = ?", (job_id, number)
    ).fetchone()
    if row is None:
        raise UnknownJobError(phrase("job {job_id} has no revision {number}", job_id=job_id, number=number))
    return _as_revision(row)


def _as_revision(row: sqlite3.Row) -> Revision:
    note = read_note(row["note"], row["note_values"])
    return Revision(row["number"], row["text"], note, row["saved_at"], row["parent"])


def _newest_child(connection: sqlite3.Connection, job_id: int, number: int) -> int | None:
    row = connection.execute(
        "SELECT max(number) FROM revision WHERE job_id = ? AND parent = ?", (job_id, number)
    ).fetchone()
    return None if row[0] is None else int(row[0])
