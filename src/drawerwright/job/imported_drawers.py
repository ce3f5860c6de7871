"""The use case `import`: drawers from a table into a job, seen before they are taken over, every fault at once."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from drawerwright.basics.errors import Fault, FaultyInputError
from drawerwright.basics.findings import Finding, FindingGroup, grouped
from drawerwright.basics.phrases import joined, phrase, plain, plural
from drawerwright.job.file.building import read_job
from drawerwright.job.file.editing import get_value, set_value
from drawerwright.job.file.entry_paths import members_at, rows_at
from drawerwright.job.file.file_units import UNITS, in_unit, unit_of
from drawerwright.job.file.given_tables import GivenSheet
from drawerwright.job.file.job_entries import shown_style
from drawerwright.job.file.model import JobFile
from drawerwright.job.file.reading import entries_of
from drawerwright.job.file.table_box_entries import PIECES
from drawerwright.job.file.table_cells import ReadRow, place_of_field
from drawerwright.job.file.table_columns import MatchedTable, matched_table
from drawerwright.job.file.table_drawers import (
    DRAWER_FIELDS,
    ENTRY_FIELDS,
    TableDrawers,
    drawers_of_table,
)
from drawerwright.job.file.unit_doubts import doubt_of_a_table
from drawerwright.job.job import Job
from drawerwright.job.planning.shown_job import shown_job
from drawerwright.run.marks import numbers_in_row

_ROW = re.compile(r"(banks|boxes)\[(\d+)\](?:\.(.*))?")
_OF_ONE_FRONT = re.compile(r"(?:heights\.given|single_drawers|side_height|false_fronts)\[(\d+)\]")


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
    unit_asked: str = ""
    """Where stock and unit are said, for messages: an option, a field."""


@dataclass(frozen=True, slots=True)
class DrawersToTake:
    """What a table would bring: its drawers, the job's text with them, and everything that stands against it.

    The job can be read with drawers that it could not be cut with: `stops` says what would have to be settled first.
    """

    drawers: TableDrawers
    text: str
    faults: tuple[Fault, ...]
    stops: tuple[FindingGroup, ...] = ()

    @property
    def count(self) -> int:
        """How many drawers they are."""
        return self.drawers.count

    @property
    def bottomless(self) -> str:
        """That drawers will have no bottom, which a table leaves out without a word; empty where each has one."""
        rows = zip(self.drawers.box_rows, self.drawers.boxes, strict=True)
        lines = [row.line for row, box in rows if "bottom" not in box and "bottom_stock" not in row.faults]
        for bank in self.drawers.banks:
            is_said = any("bottom_stock" in row.faults for row in bank.fronts)
            if "bottom" not in bank.entry and bank.drawer_count and not is_said:
                lines += sorted({row.line for row in bank.fronts if not row.values.get("false_front")})
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
        known_runners=tuple(members_at(data, ("runners",))),
        has_cutters="cutters" in data if isinstance(data, dict) else False,
        file=table,
    )
    doubt = doubt_of_a_table(unit, choice.unit_asked)
    taken = _Taken(text, data, found, file, table, doubt)
    faults = [*found.faults, *taken.faults]
    faults.sort(key=lambda fault: fault.line or 0)
    reader = shown_style(text)
    told = (replace(fault, shown_for=reader) for fault in _told_together(faults))
    return DrawersToTake(
        taken.drawers, taken.text, tuple(told), () if faults else _new_stops(text, taken.text, doubt)
    )


def _new_stops(before: str, after: str, doubt: Finding) -> tuple[FindingGroup, ...]:
    """What stops a job with the drawers of a table that did not stop it without them; a slip of the unit in all of the
    file is a doubt about the table's."""
    known = shown_job(before).findings
    told = {str(finding) for finding in known}
    is_new = all(finding.entry != doubt.entry for finding in known)
    return grouped(
        doubt if is_new and each.entry == doubt.entry else each
        for each in shown_job(after).findings
        if each.stops and str(each) not in told
    )


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


class _Taken:
    """The drawers of a table in the job: its text with them, and what is wrong with them as banks and boxes of it, told
    by line and column of the table. What was wrong with the job before is its own matter."""

    def __init__(
        self, text: str, data: Any, found: TableDrawers, file: str | None, table: str | None, doubt: Finding
    ) -> None:
        self._doubt = doubt
        self._before, self._data, self._file, self._table = text, data, file, table
        self._rows_before = {name: len(rows_at(data, (name,))) for name in ("banks", "boxes")}
        self.drawers = found
        self.text = self._with(found)
        job, faults = _read(self.text, file)
        wrong: tuple[Fault, ...] = ()
        if job is not None:
            wrong, faults = self._held_against(job)
        self.faults = (*wrong, *self._told(faults))

    def _with(self, found: TableDrawers) -> str:
        text, unit = self._before, unit_of(self._data)
        new: dict[str, list[Any]] = {
            "banks": [bank.entry for bank in found.banks],
            "boxes": list(found.boxes),
        }
        for section, entries in new.items():
            if entries:
                before = get_value(text, (section,)) or []
                text = set_value(text, (section,), [*before, *in_unit(entries, JobFile, (section,), unit)])
        return text

    def _held_against(self, job: Job) -> tuple[tuple[Fault, ...], tuple[Fault, ...]]:
        """What the rows of banks say of their boxes, beside what the openings make of them. Sides that a row wants
        otherwise are stated, which may be at fault itself."""
        first = self._rows_before["banks"]
        made = {bank.row - first: bank for bank in job.banks if bank.row >= first}
        pairs = [(bank, made[place]) for place, bank in enumerate(self.drawers.banks)]
        wrong = [
            fault
            for bank, own in pairs
            for fault in bank.contradictions(own, self.drawers.table, self._table)
        ]
        stated = tuple(bank.with_side_heights(own) or bank for bank, own in pairs)
        if stated == self.drawers.banks:
            return tuple(wrong), ()
        self.drawers = replace(self.drawers, banks=stated)
        self.text = self._with(self.drawers)
        return tuple(wrong), _read(self.text, self._file)[1]

    def _told(self, faults: Iterable[Fault]) -> Iterator[Fault]:
        own = {(fault.field, str(fault.message)) for fault in _read(self._before, self._file)[1]}
        for fault in faults:
            place = _ROW.fullmatch(fault.field)
            if place is None:
                if fault.field == UNITS and UNITS not in {field for field, _message in own}:
                    yield Fault(UNITS, joined([self._doubt.text, self._doubt.remedy], " "), None, self._table)
                elif (fault.field, str(fault.message)) not in own:
                    yield Fault(fault.field, fault.message, None, self._file)
                continue
            section, entry = place[1], place[3] or ""
            number = int(place[2]) - 1 - self._rows_before[section]
            row = self._row_of(section, number, entry)
            if row is None:
                continue
            name = _field_of(section, entry)
            if self._is_said(section, name, row):
                continue
            message = self._in_a_table(section, number, name, entry, fault.message)
            row.faults[name or "drawer"] = message
            yield Fault(_place(self.drawers.table, name, fault.field), message, row.line, self._table)

    def _in_a_table(self, section: str, number: int, name: str, entry: str, message: str) -> str:
        """What is wrong, with what a reader of the table looks for: which rows are meant, what may stand there."""
        if name == "bottom_stock" and plain(message) == "is missing":
            known = ", ".join(members_at(self._data, ("stock",)))
            return phrase(
                "is empty: name one of {known}, or leave the columns of the bottom empty", known=known
            )
        lines = self.drawers.banks[number].lines if section == "banks" else ()
        if entry == "fronts.heights" and len(lines) > 1:
            return phrase("{message} (lines {lines})", message=message, lines=numbers_in_row(lines))
        return message

    def _row_of(self, section: str, number: int, entry: str) -> ReadRow | None:
        if section == "boxes":
            return self.drawers.box_rows[number] if 0 <= number < len(self.drawers.box_rows) else None
        if not 0 <= number < len(self.drawers.banks):
            return None
        bank = self.drawers.banks[number]
        front = _OF_ONE_FRONT.search(entry)
        if front is None:
            return bank.fronts[0]
        place = int(front[1]) - 1
        if front[0].startswith("single_drawers"):
            place = bank.entry["single_drawers"][place]["number"] - 1
        return bank.row_of(place)

    def _is_said(self, section: str, name: str, row: ReadRow) -> bool:
        """Whether something is wrong with the cell already, or the whole column is missing."""
        if name in row.faults or (name in PIECES and "stock" in row.faults):
            return True
        has_column = self.drawers.table.has(name)
        return bool(section == "boxes" and name and not has_column and name not in _OFTEN_LEFT_OUT)


_OFTEN_LEFT_OUT = ("stock", *PIECES, "bottom", "bottom_stock", "cutter", "joint")
"""Fields that a choice or a default may fill: a fault of theirs is told though no column holds them."""


def _place(table: MatchedTable, name: str, entry: str) -> str:
    return place_of_field(table, name) if name else entry.partition(".")[2]


def _read(text: str, file: str | None) -> tuple[Job | None, tuple[Fault, ...]]:
    """The job of a text; None where it is faulty, and its faults."""
    try:
        return read_job(text, file), ()
    except FaultyInputError as error:
        return None, error.found


def _field_of(section: str, entry: str) -> str:
    """The field of a table that an entry of a box or a bank comes from; empty where none does."""
    known = ENTRY_FIELDS[section]
    steps = tuple(step.partition("[")[0] for step in entry.split(".")) if entry else ()
    for end in range(len(steps), 0, -1):
        if steps[:end] in known:
            return known[steps[:end]]
    return ""
