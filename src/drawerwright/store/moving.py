"""Steps of a migration that need to understand what is kept: the rows here, what they mean from above.

The store keeps texts and does not read them. Whoever opens the data file hands in how a text is moved.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias


@dataclass(frozen=True, slots=True)
class SavedText:
    """A text as it was saved once; moments are compared as they are written (UTC, ISO 8601)."""

    text: str
    saved_at: str


History: TypeAlias = Callable[[int], Sequence[SavedText]]
"""Every revision of a job by its id, deleted jobs' as well, oldest first; none for a job that never was."""
MoveCut: TypeAlias = Callable[[SavedText, History], str]
"""What becomes of the text of a kept test cut."""


def move_cuts(connection: sqlite3.Connection, move: MoveCut) -> None:
    """Put every kept test cut through `move`, those that are taken out as well; undo may bring them back."""
    rows = connection.execute("SELECT id, text, saved_at FROM shelf WHERE kind = 'trial-cut'").fetchall()

    def history(job_id: int) -> Sequence[SavedText]:
        found = connection.execute(
            "SELECT text, saved_at FROM revision WHERE job_id = ? ORDER BY number", (job_id,)
        )
        return [SavedText(*row) for row in found.fetchall()]

    for row in rows:
        moved = move(SavedText(row["text"], row["saved_at"]), history)
        if moved != row["text"]:
            connection.execute(
                "UPDATE shelf SET text = ?, version = version + 1 WHERE id = ?", (moved, row["id"])
            )
