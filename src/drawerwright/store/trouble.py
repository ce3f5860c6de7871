"""What may be wrong with the data file, in words: which file it is, and what to do."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.store.records import StoreError

BUSY = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
FULL = (sqlite3.SQLITE_FULL,)
SHUT = (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_AUTH)
UNREADABLE = (sqlite3.SQLITE_IOERR,)
DAMAGED = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)


def busy(path: Path) -> StoreError:
    """Another program, or another change, has held the file for too long."""
    text = phrase(
        "{file} is in use by another program, so nothing was saved. Try again; if it stays so, close that program.",
        file=str(path),
    )
    return StoreError(text, is_busy=True)


def _words(code: int, file: str, reason: str) -> Phrase | None:
    """What SQLite's result code says; None for what is a mistake in this program."""
    if code in FULL:
        return phrase(
            "The disk is full, so nothing was saved in {file}. Make room on it, then save again.", file=file
        )
    if code in SHUT:
        return phrase(
            "{file} cannot be written ({reason}). Make sure that you may write to this file and its folder.",
            file=file,
            reason=reason,
        )
    if code in UNREADABLE:
        return phrase(
            "{file} cannot be read from or written to the disk ({reason}). Check the disk and the "
            "space left on it.",
            file=file,
            reason=reason,
        )
    if code in DAMAGED:
        return phrase(
            "{file} is damaged ({reason}). Stop Drawerwright, move the file to a safe place, and put a backup back "
            "with: drawerwright restore FILE",
            file=file,
            reason=reason,
        )
    return None


@contextmanager
def in_words(path: Path) -> Iterator[None]:
    """What SQLite says inside of the disk and of the file is said in words.

    Raises:
        StoreError: instead of an error of SQLite's that is nobody's mistake in this program.
    """
    try:
        yield
    except sqlite3.Error as error:
        code = getattr(error, "sqlite_errorcode", 0) & 0xFF  # what is beyond says more than is needed
        if code in BUSY:
            raise busy(path) from None
        words = _words(code, str(path), str(error))
        if words is None:
            raise
        raise StoreError(words) from None
