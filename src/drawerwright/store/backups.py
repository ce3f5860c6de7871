"""A copy of the whole data file in one file, and back again; both while the app is running."""

from __future__ import annotations

import os
import shutil
import sqlite3
import tempfile
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from drawerwright.basics.errors import InvalidValueError
from drawerwright.store.database import BUSY_SECONDS, FILE_NAME, Database
from drawerwright.store.records import StoreError
from drawerwright.store.trouble import SHUT, in_words

SQLITE = b"SQLite format 3\0"
"""How every data file and backup begins."""


def back_up(folder: Path, file: Path) -> int:
    """Copy the data in `folder` into `file`, as it stands at one moment. What `file` was before is replaced.

    Returns:
        The number of jobs in it, deleted ones too.

    Raises:
        InvalidValueError: there is no data in `folder`.
        StoreError: the data cannot be read.
        OSError: `file` cannot be written; what it was before is untouched.
    """
    source = folder / FILE_NAME
    if not source.is_file():
        raise InvalidValueError(f"there is no data in {folder}: name its folder with --data")
    if not file.parent.is_dir():
        raise InvalidValueError(f"there is no folder {file.parent} for the backup: make it first")
    handle, neighbour = tempfile.mkstemp(
        prefix=f".{file.name}.", dir=file.parent
    )  # its owner's alone, as the data
    os.close(handle)
    try:
        with in_words(source), _reading(source) as data, closing(_open(Path(neighbour))) as copy:
            data.backup(copy)
            copy.execute("PRAGMA journal_mode = DELETE")  # one file, without others beside it
        count = jobs_in(Path(neighbour))
        Path(neighbour).replace(file)
    except BaseException:
        Path(neighbour).unlink(missing_ok=True)
        raise
    return count


def restore(folder: Path, file: Path) -> tuple[int, Path | None]:
    """Put a backup in the place of the data in `folder`, whose own data is kept beside it first.

    Returns:
        The number of jobs in the backup, and the copy of the data that was there before, if any was.

    Raises:
        InvalidValueError: `file` is no backup of this program's, or of a newer one.
        StoreError: `file` is damaged, or another program is writing the data.
        OSError: the folder cannot be written.
    """
    if not file.is_file():
        raise InvalidValueError(f"{file}: there is no such file")
    with file.open("rb") as opened:
        if opened.read(len(SQLITE)) != SQLITE:
            raise InvalidValueError(f"{file} is no backup: give a file that 'drawerwright backup' made")
    try:
        count = jobs_in(file)
    except StoreError as error:
        raise InvalidValueError(f"{file} is damaged ({error.__cause__}): use another backup") from error
    kept = None
    if (folder / FILE_NAME).exists():
        kept = folder / f"before-restore-{time.strftime('%Y-%m-%d-%H%M%S')}.sqlite3"
        back_up(folder, kept)
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    target = folder / FILE_NAME
    target.touch(mode=0o600)
    with in_words(target), closing(_open(file)) as backup, closing(_open(target)) as data:
        backup.backup(data)
    return count, kept


def _open(path: Path) -> sqlite3.Connection:
    return sqlite3.connect(path, timeout=BUSY_SECONDS)


@contextmanager
def _reading(source: Path) -> Iterator[sqlite3.Connection]:
    """The data, also where its folder cannot be written, as on a disk that is about to fail: SQLite wants to lay its
    notes beside it, so a copy is read then, with what was saved last and still lies in a file of its own."""
    with closing(_open(source)) as data:
        if _is_readable(data):
            yield data
            return
    with tempfile.TemporaryDirectory() as name:
        for file in (source, source.with_name(f"{source.name}-wal")):
            if file.exists():
                shutil.copyfile(file, Path(name) / file.name)
        with closing(_open(Path(name) / source.name)) as data:
            yield data


def _is_readable(data: sqlite3.Connection) -> bool:
    try:
        data.execute("PRAGMA schema_version")
    except sqlite3.OperationalError as error:
        if error.sqlite_errorcode & 0xFF not in SHUT:
            raise
        return False
    return True


def _is_sound(words: str) -> bool:
    """Whether a line of the check tells of no damage.

    SQLite before 3.41 sees NULL in sound tables without row numbers whose key is not made of their first columns; a
    claim on the rack cannot hold NULL.
    """
    return words == "ok" or words.startswith("NULL value in rack_claim.")


def jobs_in(file: Path) -> int:
    """How many jobs a backup holds, which is looked through from end to end.

    Raises:
        InvalidValueError: it is no data file of this program's.
        StoreError: it is damaged.
    """
    with in_words(file), closing(_open(file)) as data:
        if not Database.check_own(data, file):
            raise InvalidValueError(f"{file} is empty, so it is no backup: use another one")
        damage = (words for (words,) in data.execute("PRAGMA integrity_check") if not _is_sound(words))
        if (first := next(damage, None)) is not None:
            raise InvalidValueError(f"{file} is damaged ({first}): use another backup")
        return int(data.execute("SELECT count(*) FROM job").fetchone()[0])
