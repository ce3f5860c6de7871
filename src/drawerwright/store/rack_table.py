"""What jobs plan to take from the shop's rack, and what finished runs took and left there.

The sheets and offcuts themselves stand on the shelf, with their stock; here is who wants them, and the record of each
finished run, by which it can be undone.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import asdict

from drawerwright.store.database import Database, now
from drawerwright.store.records import Claim, FinishedRun, RackPiece


class RackTable:
    """Claims and finished runs of a data file."""

    def __init__(self, database: Database) -> None:
        self._database = database

    @contextmanager
    def together(self) -> Iterator[None]:
        """What is written in the block, here and on the shelf, stands or falls together."""
        with self._database.writing():
            yield

    def claim(self, job_id: int, pieces: Iterable[RackPiece], day: int | None = None) -> None:
        """Remember what a job plans to take, instead of what it planned before; of a job that is split, on one day."""
        rows = sorted((piece.stock, piece.label, piece.count) for piece in pieces)
        where, values = (
            ("job_id = ?", (job_id,)) if day is None else ("job_id = ? AND day = ?", (job_id, day))
        )
        with self._database.reading() as connection:
            found = connection.execute(
                f"SELECT stock, label, count, day FROM rack_claim WHERE {where}", values
            )
            known = sorted(tuple(row) for row in found.fetchall())
        if known == [(*row, day or 0) for row in rows]:
            return
        with self._database.writing() as connection:
            connection.execute(f"DELETE FROM rack_claim WHERE {where}", values)
            connection.executemany(
                "INSERT INTO rack_claim (job_id, stock, label, count, day) VALUES (?, ?, ?, ?, ?)",
                [(job_id, *row, day or 0) for row in rows],
            )

    def others(self, job_id: int) -> tuple[Claim, ...]:
        """What all other jobs plan to take that are not deleted."""
        with self._database.reading() as connection:
            rows = connection.execute(
                "SELECT job.id, job.title, stock, label, sum(count) FROM rack_claim"
                " JOIN job ON job.id = rack_claim.job_id"
                " WHERE job.id <> ? AND deleted_at IS NULL GROUP BY job.id, stock, label ORDER BY job.id, stock, label",
                (job_id,),
            ).fetchall()
        return tuple(Claim(*row) for row in rows)

    def next_number(self) -> int:
        """The number of the next offcut that comes to the rack; none is given twice."""
        with self._database.reading() as connection:
            row = connection.execute("SELECT coalesce(sum(pieces), 0) FROM finished_run").fetchone()
        return int(row[0]) + 1

    def book(
        self, job_id: int, day: int | None, took: Iterable[RackPiece], left: Iterable[RackPiece]
    ) -> FinishedRun:
        """Record a finished run; the job plans to take no more from the rack."""
        took, left = tuple(took), tuple(left)
        with self._database.writing() as connection:
            run_id = connection.execute(
                "INSERT INTO finished_run (job_id, day, took, remains, pieces, booked_at) VALUES (?, ?, ?, ?, ?, ?)",
                (job_id, day, _text(took), _text(left), len(left), now()),
            ).lastrowid
            connection.execute(
                "DELETE FROM rack_claim WHERE job_id = ? AND day IN (0, ?)", (job_id, day or 0)
            )
            assert run_id is not None
            return _run(connection.execute(f"{_SELECT} WHERE id = ?", (run_id,)).fetchone())

    def undo(self, run_id: int) -> None:
        """Take the record of a finished run back."""
        with self._database.writing() as connection:
            connection.execute("UPDATE finished_run SET undone_at = ? WHERE id = ?", (now(), run_id))

    def runs(self, job_id: int) -> tuple[FinishedRun, ...]:
        """The finished runs of a job that were not taken back, in their order."""
        with self._database.reading() as connection:
            rows = connection.execute(
                f"{_SELECT} WHERE job_id = ? AND undone_at IS NULL ORDER BY id", (job_id,)
            ).fetchall()
        return tuple(map(_run, rows))

    def booked_labels(self) -> frozenset[str]:
        """Labels of all offcuts that finished runs took or left, those included that were taken back."""
        with self._database.reading() as connection:
            rows = connection.execute("SELECT took, remains FROM finished_run").fetchall()
        return frozenset(
            piece.label for row in rows for text in row for piece in _pieces(text) if piece.is_offcut
        )

    def taker(self, stock: str, label: str, job_id: int) -> tuple[str, str] | None:
        """Title of the other job whose finished run took an offcut last, and when; None where none did."""
        with self._database.reading() as connection:
            rows = connection.execute(
                "SELECT job.title, took, booked_at FROM finished_run JOIN job ON job.id = finished_run.job_id"
                " WHERE undone_at IS NULL AND job.id <> ? ORDER BY finished_run.id DESC",
                (job_id,),
            ).fetchall()
        for title, took, booked_at in rows:
            if any(each.is_offcut and (each.stock, each.label) == (stock, label) for each in _pieces(took)):
                return title, booked_at
        return None


_SELECT = "SELECT id, job_id, day, took, remains, booked_at FROM finished_run"


def _text(pieces: Iterable[RackPiece]) -> str:
    return json.dumps([asdict(piece) for piece in pieces], ensure_ascii=False)


def _pieces(text: str) -> tuple[RackPiece, ...]:
    return tuple(RackPiece(**piece) for piece in json.loads(text))


def _run(row: sqlite3.Row) -> FinishedRun:
    return FinishedRun(row[0], row[1], row[2], _pieces(row[3]), _pieces(row[4]), row[5])
