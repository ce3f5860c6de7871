"""The use case `import`: drawers from a table into a job, seen before they are taken over, every fault at once."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from drawerwright.basics.errors import Fault, FaultyInputError
from drawerwright.basics.phrases import phrase, plain, plural
from drawerwright.job.file.building import read_job
from drawerwright.job.file.editing import get_value, set_value
from drawerwright.job.file.entry_paths import members_at
from drawerwright.job.file.file_units import in_unit, unit_of
from drawerwright.job.file.given_tables import GivenSheet
from drawerwright.job.file.job_entries import shown_style
from drawerwright.job.file.model import JobFile
from drawerwright.job.file.reading import entries_of
from drawerwright.job.file.table_cells import place_of_field
from drawerwright.job.file.table_columns import MatchedTable, matched_table
from drawerwright.job.file.table_drawers import (
    DRAWER_FIELDS,
    ENTRY_FIELDS,
    PIECES,
    TableDrawers,
    drawers_of_table,
)
from drawerwright.run.marks import numbers_in_row

_BOX = re.compile(r"boxes\[(\d+)\](?:\.(.*))?")


@dataclass(frozen=True, slots=True)
class TableChoice:
    """How a table is to be read, where it does not say so itself.

    columns: field by letter, heading or place (from 0) of a column; an empty field leaves the column out. sheet: of a
    workbook. unit: of bare numbers in columns whose heads name none; that of the job by default. stock: where the table
    names none.
    """

    columns: Mapping[str | int, str] = field(default_factory=dict)
    sheet: str | None = None
    unit: Literal["mm", "in"] | None = None
    stock: str = ""
    stock_asked: str = ""
    """Where it is said, for messages: an option, a field."""


@dataclass(frozen=True, slots=True)
class DrawersToTake:
    """What a table would bring: its drawers, the job's text with them, and everything that stands against it."""

    drawers: TableDrawers
    text: str
    faults: tuple[Fault, ...]

    @property
    def count(self) -> int:
        """How many drawers they are."""
        return sum(box.get("count", 1) for box in self.drawers.boxes)

    @property
    def bottomless(self) -> str:
        """That drawers will have no bottom, which a table leaves out without a word; empty where each has one."""
        rows = zip(self.drawers.rows, self.drawers.boxes, strict=True)
        lines = [row.line for row, box in rows if "bottom" not in box and "bottom_stock" not in row.faults]
        if not lines:
            return ""
        if not self.drawers.table.has("bottom_stock"):
            return phrase("no bottoms: no column names their stock")
        words = {"lines": numbers_in_row(lines)}
        return plural(
            "no bottom in line {lines}: no cell names its stock",
            "no bottoms in lines {lines}: no cell names their stock",
            len(lines),
            **words,
        )

    def taken(self) -> str:
        """The job's text with the drawers.

        Raises:
            FaultyInputError: something stands against it.
        """
        if self.faults:
            raise FaultyInputError(self.faults)
        return self.text


def shop_of_job(text: str, title: str) -> str:
    """A job file with the cutters, machines and stock of another and no drawers yet, to which a table brings them."""
    for section in ("banks", "boxes", "openings", "days"):
        text = set_value(text, (section,), None)
    return set_value(text, ("job",), title)


def drawers_to_take(
    text: str,
    sheets: Sequence[GivenSheet],
    choice: TableChoice,
    *,
    table: str | None = None,
    file: str | None = None,
) -> DrawersToTake:
    """What a table would bring to a job.

    Args:
        text: of the job file.
        sheets: of the table's file.
        choice: how they are read.
        table: the table's name, for messages.
        file: the job file's path, for what lies beside it.

    Raises:
        InvalidValueError: no row of the table is a head, or a choice names what there is not.
    """
    data = entries_of(text)
    unit = choice.unit or unit_of(data)
    found = drawers_of_table(
        matched_table(sheets, DRAWER_FIELDS, chosen=choice.columns, sheet=choice.sheet),
        unit,
        stock=choice.stock,
        stock_asked=choice.stock_asked,
        known_stocks=tuple(members_at(data, ("stock",))),
        has_cutters="cutters" in data if isinstance(data, dict) else False,
        file=table,
    )
    before = get_value(text, ("boxes",)) or []
    new = in_unit(list(found.boxes), JobFile, ("boxes",), unit_of(data))
    with_them = set_value(text, ("boxes",), [*before, *new])
    faults = [*found.faults, *_job_faults(text, with_them, found, len(before), file, table)]
    faults.sort(key=lambda fault: fault.line or 0)
    reader = shown_style(text)
    told = (replace(fault, shown_for=reader) for fault in _told_together(faults))
    return DrawersToTake(found, with_them, tuple(told))


def _told_together(faults: Iterable[Fault]) -> Iterator[Fault]:
    """What is wrong alike in several rows as one fault, where the first of them stands, which names all lines."""
    alike: dict[tuple[str, str], list[Fault]] = {}
    for fault in faults:
        alike.setdefault((fault.field, plain(fault.message)), []).append(fault)
    for first, *others in alike.values():
        lines = [fault.line for fault in (first, *others) if fault.line is not None]
        if others and lines:
            words = phrase("{message} (lines {lines})", message=first.message, lines=numbers_in_row(lines))
            yield replace(first, message=words)
        else:
            yield first


def _job_faults(
    text: str, with_them: str, found: TableDrawers, before: int, file: str | None, table: str | None
) -> list[Fault]:
    """What is wrong with the drawers as boxes of the job, told by line and column of the table; what was wrong with the
    job before is its own matter."""
    own = {(fault.field, str(fault.message)) for fault in _faults(text, file)}
    told = []
    for fault in _faults(with_them, file):
        place = _BOX.fullmatch(fault.field)
        if place is None:
            if (fault.field, str(fault.message)) not in own:
                told.append(Fault(fault.field, fault.message, None, file))
            continue
        number = int(place[1]) - 1 - before
        if not 0 <= number < len(found.rows):
            continue
        row, name = found.rows[number], _field_of(place[2] or "")
        is_said = (
            name in row.faults
            or (name in PIECES and "stock" in row.faults)
            or (name and not found.table.has(name) and name not in _OFTEN_LEFT_OUT)
        )
        if is_said:
            continue
        row.faults[name or "drawer"] = str(fault.message)
        told.append(Fault(_place(found.table, name, fault.field), fault.message, row.line, table))
    return told


_OFTEN_LEFT_OUT = ("stock", *PIECES, "bottom", "bottom_stock", "cutter", "joint")
"""Fields that a choice or a default may fill: a fault of theirs is told though no column holds them."""


def _place(table: MatchedTable, name: str, entry: str) -> str:
    return place_of_field(table, name) if name else entry.partition(".")[2]


def _faults(text: str, file: str | None) -> tuple[Fault, ...]:
    try:
        read_job(text, file)
    except FaultyInputError as error:
        return error.found
    return ()


def _field_of(entry: str) -> str:
    """The field of a table that an entry of a box comes from; empty where none does."""
    steps = tuple(step.partition("[")[0] for step in entry.split(".")) if entry else ()
    for end in range(len(steps), 0, -1):
        if steps[:end] in ENTRY_FIELDS:
            return ENTRY_FIELDS[steps[:end]]
    return ""
