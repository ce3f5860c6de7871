"""How far a job has come in the shop: steps ticked off, and notes written at the machine."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from drawerwright.store.database import Database, now


@dataclass(frozen=True, slots=True)
class Progress:
    """Ticked steps with the moment of the tick, and notes by step. `version` grows with each change.

    made: what was made in a ticked step, as whoever ticked it told; nothing of a step that makes none.
    """

    version: int
    ticked: Mapping[str, str]
    notes: Mapping[str, str]
    made: Mapping[str, str] = field(default_factory=dict)


class ProgressTable:
    """Progress of every job of a data file. Steps are named by keys that the order of work gives them."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def load(self, job_id: int) -> Progress:
        """Progress of one job; a job never begun has none ticked and version 0."""
        with self._database.reading() as connection:
            return _load(connection, job_id)

    def tick(self, job_id: int, step: str, *, is_done: bool, made: str = "") -> Progress:
        """Tick a step off with what was made in it, or take the tick back. Doing so twice is the same as once."""
        return self.tick_all(job_id, (step,), is_done=is_done, made={step: made})

    def tick_all(
        self, job_id: int, steps: Iterable[str], *, is_done: bool, made: Mapping[str, str] | None = None
    ) -> Progress:
        """The same for several steps at once."""
        told = made or {}
        with self._database.writing() as connection:
            if is_done:
                connection.executemany(
                    "INSERT INTO ticked_step (job_id, step, ticked_at, made) VALUES (?, ?, ?, ?)"
                    " ON CONFLICT DO NOTHING",
                    [(job_id, step, now(), told.get(step, "")) for step in steps],
                )
            else:
                connection.executemany(
                    "DELETE FROM ticked_step WHERE job_id = ? AND step = ?",
                    [(job_id, step) for step in steps],
                )
            return _changed(connection, job_id)

    def write_note(self, job_id: int, step: str, text: str) -> Progress:
        """Set the note of a step; an empty text takes it away."""
        with self._database.writing() as connection:
            if text:
                connection.execute(
                    "INSERT INTO step_note (job_id, step, text) VALUES (?, ?, ?)"
                    " ON CONFLICT (job_id, step) DO UPDATE SET text = excluded.text",
                    (job_id, step, text),
                )
            else:
                connection.execute("DELETE FROM step_note WHERE job_id = ? AND step = ?", (job_id, step))
            return _changed(connection, job_id)


def _load(connection: sqlite3.Connection, job_id: int) -> Progress:
    version = connection.execute(
        "SELECT version FROM progress_version WHERE job_id = ?", (job_id,)
    ).fetchone()
    ticked = connection.execute(
        "SELECT step, ticked_at, made FROM ticked_step WHERE job_id = ?", (job_id,)
    ).fetchall()
    notes = connection.execute("SELECT step, text FROM step_note WHERE job_id = ?", (job_id,))
    return Progress(
        version=0 if version is None else int(version[0]),
        ticked={step: ticked_at for step, ticked_at, _made in ticked},
        notes=dict(notes),
        made={step: made for step, _ticked_at, made in ticked if made},
    )


def _changed(connection: sqlite3.Connection, job_id: int) -> Progress:
    connection.execute(
        "INSERT INTO progress_version (job_id, version) VALUES (?, 1)"
        " ON CONFLICT (job_id) DO UPDATE SET version = version + 1",
        (job_id,),
    )
    return _load(connection, job_id)
