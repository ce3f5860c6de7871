"""The days of a job file: which of its drawers are made on which."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from drawerwright.basics.phrases import phrase
from drawerwright.job.file.drawer_names import bank_marks, drawers_named, drawers_of_row, numbered_boxes
from drawerwright.job.file.entry_paths import rows_at, value_at
from drawerwright.job.file.reading import Builder


def listed_days(builder: Builder, days: Sequence[Sequence[str]], data: Any) -> tuple[tuple[str, ...], ...]:
    """The drawers of each day, from the names of banks, boxes and drawers.

    Args:
        builder: takes the faults; whether it has some already is asked, since names may then be missing.
        days: the names on each.
        data: all entries of the file, faulty or not.
    """
    drawers, named = _named(data)
    is_faulty = bool(builder.told) or not builder.document.is_whole
    listed: list[tuple[str, ...]] = []
    seen: set[str] = set()
    for number, names in enumerate(days):
        today: list[str] = []
        for place, name in enumerate(names):
            if name in named:
                if seen.intersection(named[name]):
                    builder.fault(("days", number, place), phrase("already has a day: {name}", name=name))
                else:
                    today += named[name]
                    seen.update(named[name])
            elif not (is_faulty and _may_be_meant(name, data)):
                builder.fault(
                    ("days", number, place),
                    phrase(
                        "is no bank, box or drawer of this job: choose from {known}", known=", ".join(named)
                    ),
                )
        if not names:
            builder.fault(("days", number), phrase("has no drawers: take the day out"))
        listed.append(tuple(today))
    missing = [name for name in drawers if name not in seen]
    if listed and missing and not builder.told and not is_faulty:
        builder.fault(("days",), phrase("leave out {names}: give each one a day", names=", ".join(missing)))
    return tuple(listed)


def _named(data: Any) -> tuple[list[str], dict[str, list[str]]]:
    """Every drawer, and the drawers that each name stands for."""
    rows = {section: rows_at(data, (section,)) for section in ("banks", "boxes")}
    drawers = [*drawers_named(data, "banks"), *drawers_named(data, "boxes")]
    named = {name: [name] for name in drawers}
    for place, entry in enumerate(rows["banks"]):
        own, marks = drawers_of_row("banks", place, data), bank_marks(data, place)
        name, each = str(value_at(entry, ("name",))), len(own) // len(marks)
        for copy, bank in enumerate(numbered_boxes(name, len(marks))):
            named[bank] = [*named.get(bank, ()), *own[copy * each : (copy + 1) * each]]
        if len(marks) > 1:
            named[name] = [*named.get(name, ()), *own]
    for place, entry in enumerate(rows["boxes"]):
        named[str(value_at(entry, ("name",)))] = list(drawers_of_row("boxes", place, data))
    return drawers, named


def _may_be_meant(name: str, data: Any) -> bool:
    """Whether a drawer of an entry that is faulty in its number may be called so."""
    banks, boxes = rows_at(data, ("banks",)), rows_at(data, ("boxes",))
    stems = {mark for place in range(len(banks)) for mark in bank_marks(data, place)}
    stems |= {str(value_at(entry, ("name",))) for entry in (*banks, *boxes)}
    return name.rstrip("0123456789").rstrip() in stems
