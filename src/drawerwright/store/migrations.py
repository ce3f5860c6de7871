"""The shape of the database, step by step.

Each entry takes the file from the version before it to its own; a released entry is never edited, a change
is a new entry. SQLite's `user_version` says how far a file has come.
"""

from __future__ import annotations

from enum import StrEnum


class Move(StrEnum):
    """A step that needs to understand what is kept (`drawerwright.store.moving`)."""

    CUTS_TO_KEYS = "test cuts to the keys of their corners"


MIGRATIONS: tuple[tuple[str | Move, ...], ...] = (
    (
        """
        CREATE TABLE job (
            id INTEGER PRIMARY KEY,
            title TEXT NOT NULL,
            head INTEGER NOT NULL,
            deleted_at TEXT
        )
        """,
        # A revision is never changed or removed; `parent` makes undo and redo a walk, not an edit.
        """
        CREATE TABLE revision (
            job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
            number INTEGER NOT NULL,
            parent INTEGER,
            text TEXT NOT NULL,
            note TEXT NOT NULL,
            saved_at TEXT NOT NULL,
            PRIMARY KEY (job_id, number)
        ) WITHOUT ROWID
        """,
        "CREATE INDEX revision_parent ON revision (job_id, parent)",
        """
        CREATE TABLE shelf (
            id INTEGER PRIMARY KEY,
            kind TEXT NOT NULL,
            name TEXT NOT NULL,
            text TEXT NOT NULL,
            version INTEGER NOT NULL DEFAULT 1,
            parent_id INTEGER REFERENCES shelf (id) ON DELETE CASCADE,
            saved_at TEXT NOT NULL,
            deleted_at TEXT
        )
        """,
        """
        CREATE TABLE ticked_step (
            job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
            step TEXT NOT NULL,
            ticked_at TEXT NOT NULL,
            PRIMARY KEY (job_id, step)
        ) WITHOUT ROWID
        """,
        """
        CREATE TABLE step_note (
            job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
            step TEXT NOT NULL,
            text TEXT NOT NULL,
            PRIMARY KEY (job_id, step)
        ) WITHOUT ROWID
        """,
        """
        CREATE TABLE progress_version (
            job_id INTEGER PRIMARY KEY REFERENCES job (id) ON DELETE CASCADE,
            version INTEGER NOT NULL
        )
        """,
        """
        CREATE TABLE device (
            id INTEGER PRIMARY KEY,
            name TEXT NOT NULL,
            token_hash TEXT NOT NULL UNIQUE,
            paired_at TEXT NOT NULL,
            seen_at TEXT NOT NULL
        )
        """,
    ),
    (
        # The values of a note's template; a note without them is somebody's own words.
        "ALTER TABLE revision ADD COLUMN note_values TEXT",
        # What earlier versions wrote without any value was a template already.
        """
        UPDATE revision SET note_values = '{"values": {}}' WHERE note IN (
            'from the example', 'guided start', 'imported', 'job file', 'pasted cells', 'learnt from test cuts',
            'settings of a corner', 'settings by the law', 'cutter by its profile', 'cutter without its profile'
        )
        """,
    ),
    # A job without a name of its own has none; what it is called then is each reader's language's.
    ("UPDATE job SET title = '' WHERE title = 'Job without a name'",),
    # A test cut belongs to a corner by its key; before, by a name that two corners could have.
    (Move.CUTS_TO_KEYS,),
    # What a job goes back to is recommended, which is no longer what the law gives.
    ("UPDATE revision SET note = 'recommended settings' WHERE note = 'settings by the law'",),
    # A paired device works jobs and ticks steps; what takes things away, it may once the desk lets it.
    ("ALTER TABLE device ADD COLUMN may_manage INTEGER NOT NULL DEFAULT 0",),
    # The parts that a step made, with their sizes: the plan may change after them.
    ("ALTER TABLE ticked_step ADD COLUMN made TEXT NOT NULL DEFAULT ''",),
    (
        # What a job that is not cut yet plans to take from the rack: two jobs that want one piece are told.
        """
        CREATE TABLE rack_claim (
            job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
            stock TEXT NOT NULL,
            label TEXT NOT NULL,
            count INTEGER NOT NULL,
            day INTEGER NOT NULL,
            PRIMARY KEY (job_id, day, stock, label)
        ) WITHOUT ROWID
        """,
        # `took` and `remains` are lists of pieces as JSON; `pieces` of them came to the rack and have numbers.
        """
        CREATE TABLE finished_run (
            id INTEGER PRIMARY KEY,
            job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
            day INTEGER,
            took TEXT NOT NULL,
            remains TEXT NOT NULL,
            pieces INTEGER NOT NULL,
            booked_at TEXT NOT NULL,
            undone_at TEXT
        )
        """,
    ),
    (
        # Of a test cut's piece; without a cut as long as its readings stand in a form that nobody has sent.
        """
        CREATE TABLE picture (
            id INTEGER PRIMARY KEY,
            job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
            entry_id INTEGER REFERENCES shelf (id) ON DELETE CASCADE,
            name TEXT NOT NULL,
            content BLOB NOT NULL,
            added_at TEXT NOT NULL
        )
        """,
    ),
    (
        # The file as it came, until the readings are sent: so that it can be read again with changes by hand.
        "ALTER TABLE picture ADD COLUMN piece TEXT NOT NULL DEFAULT ''",
        "ALTER TABLE picture ADD COLUMN source BLOB",
    ),
)
