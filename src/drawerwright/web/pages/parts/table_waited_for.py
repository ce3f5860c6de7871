"""A job that was begun for a table, and has been given none yet."""

from __future__ import annotations

from drawerwright.basics.phrases import phrase, plain
from drawerwright.store.records import JobRecord

BEGUN_FOR_TABLE = phrase("begun for a table")
"""What its first revision says was done."""


def waits_for_table(job: JobRecord) -> bool:
    """Whether nothing has been done to a job since it was begun for a table."""
    return job.revision.number == 1 and plain(job.revision.note) == plain(BEGUN_FOR_TABLE)
