"""Data files that are closed when their test ends."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from drawerwright.store import Database

OpenDatabase = Callable[[Path], Database]


@pytest.fixture
def open_database() -> Iterator[OpenDatabase]:
    """Opens a data file in a folder."""
    opened: list[Database] = []

    def open_one(folder: Path) -> Database:
        opened.append(Database(folder))
        return opened[-1]

    yield open_one
    for database in opened:
        database.close()
