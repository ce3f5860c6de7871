"""How the data file fares: looked at without changing, making or moving anything."""

from __future__ import annotations

import os
import shutil
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from drawerwright.basics.errors import InvalidValueError
from drawerwright.store.backups import jobs_in
from drawerwright.store.database import BUSY_SECONDS, FILE_NAME
from drawerwright.store.trouble import in_words


@dataclass(frozen=True, slots=True)
class DataHealth:
    """A data file that is whole and can be written."""

    path: Path
    jobs: int
    """Deleted ones too."""
    size: int
    """Bytes."""
    free: int
    """Bytes left on its disk."""
    others_may_read: bool
    """Whether its folder is open to other users of this computer."""


def data_health(folder: Path) -> DataHealth | None:
    """Read the data in `folder` from end to end; None where there is none yet.

    Raises:
        InvalidValueError: `folder` is a file; the data file is another program's, a newer version's, or damaged.
        StoreError: it cannot be read or written, or somebody else holds it.
        OSError: the folder cannot be looked into.
    """
    path = folder / FILE_NAME
    if folder.exists() and not folder.is_dir():
        raise InvalidValueError(f"{folder} is no folder: name the one that holds the data with --data")
    if not path.exists():
        return None
    jobs = jobs_in(path)
    with in_words(path), closing(sqlite3.connect(path, timeout=BUSY_SECONDS, isolation_level=None)) as data:
        data.execute("BEGIN IMMEDIATE")  # as a change begins
        data.execute("ROLLBACK")
    return DataHealth(
        path,
        jobs,
        size=path.stat().st_size,
        free=shutil.disk_usage(folder).free,
        others_may_read=os.name == "posix" and bool(folder.stat().st_mode & 0o077),
    )
