"""The entries of a job file as plain values, and where each stands: its path from the outside in."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, TypeAlias

EntryPath: TypeAlias = tuple[str | int, ...]
"""Names of entries, and places in lists (from 0)."""


def value_at(data: Any, path: Sequence[str | int]) -> Any:
    """The entry at a path of plain data, or None."""
    node = data
    for step in path:
        try:
            node = node[step]
        except (KeyError, IndexError, TypeError):
            return None
    return node


def rows_at(data: Any, path: Sequence[str | int]) -> list[Any]:
    """The rows of the list at a path; none where there is no list."""
    rows = value_at(data, path)
    return rows if isinstance(rows, list) else []


def members_at(data: Any, path: Sequence[str | int]) -> dict[str, Any]:
    """The named entries of the section at a path; none where there is no section."""
    members = value_at(data, path)
    return members if isinstance(members, dict) else {}
