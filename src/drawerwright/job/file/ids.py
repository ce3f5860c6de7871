"""Ids in a job file: what corners and test cuts know a stock or a cutter by, whatever it is called now."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol

from drawerwright.basics.phrases import phrase
from drawerwright.job.file.reading import Builder


class HasId(Protocol):
    """An entry that may say what it was first called."""

    @property
    def id(self) -> str | None: ...


def check_ids(builder: Builder, section: str, entries: Mapping[str, HasId]) -> None:
    """Two stocks, or two cutters, with one id would have their corners, and the test cuts of those, in common."""
    first: dict[str, str] = {}
    for name, entry in entries.items():
        given = {"id": entry.id or name, "other": first.setdefault(entry.id or name, name)}
        if given["other"] == name:
            continue
        location = (section, name) if entry.id is None else (section, name, "id")
        builder.fault(
            location,
            phrase("{id!r} is already the id of stock {other!r}: give this stock another 'id'", **given)
            if section == "stock"
            else phrase(
                "{id!r} is already the id of cutter {other!r}: give this cutter another 'id'", **given
            ),
        )
