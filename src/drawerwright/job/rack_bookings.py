"""The use case `the rack`: what a plan takes and leaves, who else wants it, and a finished run booked or taken back.

The rack is what the shop's shelf says of each stock: sheets on hand and offcuts. A finished run takes what it used from
there and brings what it left; the next job takes the stock over from the shelf.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, kept_length
from drawerwright.basics.phrases import Phrase, joined, phrase, plain
from drawerwright.job.file.editing import set_value
from drawerwright.job.file.entry_paths import rows_at, value_at
from drawerwright.job.file.job_entries import job_entries
from drawerwright.job.file.reading import entries_of
from drawerwright.job.job import Job
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.job.rack_stock import OnRack, on_rack, usual_label
from drawerwright.job.shelf_parts import ENTRY, put_on_shelf, row_sides
from drawerwright.sheets.sheet_stock import SheetSize
from drawerwright.store import Shelf
from drawerwright.store.rack_table import RackTable
from drawerwright.store.records import FinishedRun, RackPiece, ShelfEntry, ShelfKind
from drawerwright.wood.stock import Grain, Stock

MARK = "R"
"""Before the number of an offcut that a finished run left, or that was brought to the rack by hand."""
NUMBERED = re.compile(rf"{MARK}\d+")
SAME: Mm = 0.05
"""Sizes of sheets that differ by less are one: in inches they are kept to hundredths of that."""


@dataclass(frozen=True, slots=True)
class RackChange:
    """What a plan uses, and what it leaves for the rack; offcuts that are left have no label yet."""

    took: tuple[RackPiece, ...]
    left: tuple[RackPiece, ...]


def rack_change(plan: JobPlan) -> RackChange:
    """The sheets and offcuts that a plan uses, counted or not, and the offcuts worth keeping that it leaves."""
    took: list[RackPiece] = []
    left: list[RackPiece] = []
    for stock in plan.stocks:
        used: Counter[SheetSize] = Counter(layout.size for layout in stock.sheets.layouts)
        took += pieces_taken(stock.blanks.stock, used)
        for layout in stock.sheets.layouts:
            left += [
                offcut_left(stock.blanks.stock, offcut.length, offcut.width) for offcut in layout.kept_offcuts
            ]
    return RackChange(tuple(took), tuple(left))


def pieces_taken(stock: Stock, used: Mapping[SheetSize, int]) -> list[RackPiece]:
    """So many sheets of each size as pieces of the rack."""
    return [
        RackPiece(
            stock.name,
            plain(size.label),
            *_as_written(stock, size.length, size.width),
            count,
            size.is_offcut,
        )
        for size, count in used.items()
    ]


def counted(change: RackChange, shelf: Shelf, job: Job) -> RackChange:
    """What a change takes from the rack and brings there: no sheets that nobody counts. That is for the shelf to say;
    for the job, where the shelf does not have the stock yet."""
    took = [
        piece
        for piece in change.took
        if piece.is_offcut
        or (_limit(job, piece) if _entry(shelf, piece.stock) is None else _on_hand(shelf, piece)) is not None
    ]
    return replace(change, took=tuple(took))


def offcut_left(stock: Stock, along: Mm, across: Mm) -> RackPiece:
    """An offcut that comes to the rack, without a label yet."""
    size = _as_written(stock, kept_length(along), kept_length(across))
    return RackPiece(stock.name, "", *size, 1, True)


def _as_written(stock: Stock, along: Mm, across: Mm) -> tuple[Mm, Mm]:
    """A size as the job file has it: there a sheet whose grain runs across it is as long as it is sold."""
    return (across, along) if stock.grain is Grain.WIDTH else (along, across)


def rack_doubts(
    rack: RackTable, shelf: Shelf, job_id: int, plan: JobPlan, day: int | None = None
) -> tuple[Phrase, ...]:
    """What a plan wants that another job wants too, or that is no longer there. What it wants is remembered, so that
    the other job says so as well."""
    took = rack_change(plan).took
    if any(run.day == day for run in rack.runs(job_id)):
        return ()  # it is cut
    rack.claim(job_id, took, day)
    others = rack.others(job_id)
    doubts = []
    for piece in took:
        there = _on_hand(shelf, piece)
        wanted = [claim for claim in others if (claim.stock, claim.label) == (piece.stock, piece.label)]
        taker = _taker(rack, shelf, job_id, piece)
        if taker is not None:
            doubts.append(
                phrase(
                    "{stock}: offcut {label} is no longer on the rack; {job} used it. Copy the stock from "
                    "the shelf and plan again.",
                    stock=piece.stock,
                    label=piece.label,
                    job=taker,
                )
            )
            continue
        limit = there if there is not None else _limit(plan.job, piece)
        if wanted and limit is not None and piece.count + sum(claim.count for claim in wanted) > limit:
            jobs = ", ".join(dict.fromkeys(claim.title for claim in wanted))
            doubts.append(_wanted_twice(piece, jobs, limit))
    return tuple(doubts)


def _taker(rack: RackTable, shelf: Shelf, job_id: int, piece: RackPiece) -> str | None:
    """Title of the other job that used an offcut, so that it is no longer on the rack."""
    if not piece.is_offcut or _on_hand(shelf, piece):
        return None
    taken = rack.taker(piece.stock, piece.label, job_id)
    return None if taken is None else taken[0]


def _wanted_twice(piece: RackPiece, jobs: str, there: int) -> Phrase:
    words = {"stock": piece.stock, "label": piece.label, "jobs": jobs, "there": there}
    if piece.is_offcut:
        return phrase("{stock}: offcut {label} is planned in {jobs} too; only one of you gets it.", **words)
    return phrase(
        "{stock}: {label} is planned in {jobs} too; {there} on hand are not enough for all of it.", **words
    )


def _limit(job: Job, piece: RackPiece) -> int | None:
    """How many the job itself says that there are; None where it does not count them."""
    sizes = (size for size in job.sheet_sizes.get(piece.stock, ()) if plain(size.label) == piece.label)
    return next((size.on_hand for size in sizes), None)


def _on_hand(shelf: Shelf, piece: RackPiece) -> int | None:
    """How many of a piece the shelf has; None where it does not know the stock or counts no such sheets."""
    entry = _entry(shelf, piece.stock)
    if entry is None:
        return None
    section = "offcuts" if piece.is_offcut else "sheets"
    rows = rows_at(entries_of(entry.text), (ENTRY, section))
    same = [row for row in rows if _is_same(row, piece)]
    if piece.is_offcut:
        return sum(_count_of(row) or 0 for row in same)
    return _count_of(same[0], usual=None) if same else None


def book_run(
    rack: RackTable, shelf: Shelf, job_id: int, text: str, plan: JobPlan, day: int | None = None
) -> FinishedRun:
    """Book a finished run: what it used leaves the rack, what it left comes there with a label each.

    Raises:
        InvalidValueError: it is booked already, or another job's run used what this one is planned from.
    """
    return book_change(rack, shelf, job_id, text, counted(rack_change(plan), shelf, plan.job), day)


def book_change(
    rack: RackTable, shelf: Shelf, job_id: int, text: str, change: RackChange, day: int | None = None
) -> FinishedRun:
    """The same of what a run took and left, as `counted`.

    Raises:
        InvalidValueError: it is booked already.
    """
    with rack.together():
        if any(run.day == day for run in rack.runs(job_id)):
            raise InvalidValueError(phrase("This run is booked already; undo that first."))
        _stand_on_shelf(shelf, text, [*change.took, *change.left])
        for piece in change.took:
            if (taker := _taker(rack, shelf, job_id, piece)) is not None:
                words = {"stock": piece.stock, "label": piece.label, "job": taker}
                raise InvalidValueError(
                    phrase(
                        "{stock}: this plan cuts offcut {label}, which {job} used. Plan anew from what is on the rack; "
                        "or, if it was this job that cut it, take back the run of {job} first.",
                        **words,
                    )
                )
        took = [
            replace(piece, count=min(piece.count, there))
            for piece in change.took
            if (there := _on_hand(shelf, piece))
        ]
        left = list(_numbered(change.left, rack, shelf))
        _move(shelf, _signed(took, -1) + _signed(left, 1))
        return rack.book(job_id, day, took, left)


def undo_run(rack: RackTable, shelf: Shelf, run: FinishedRun) -> None:
    """Take a booking back: what it took is on the rack again, what it left is gone from there.

    Raises:
        InvalidValueError: another run has used what this one left.
    """
    with rack.together():
        for piece in run.left:
            if not _on_hand(shelf, piece):
                words = {"stock": piece.stock, "label": piece.label}
                taker = _taker(rack, shelf, run.job_id, piece)
                raise InvalidValueError(
                    phrase(
                        "{stock}: somebody took offcut {label}, which this run left, off the rack.", **words
                    )
                    if taker is None
                    else phrase(
                        "{stock}: {job} used offcut {label}, which this run left: take back the run of {job} first.",
                        job=taker,
                        **words,
                    )
                )
        _move(shelf, _signed(run.took, 1) + _signed(run.left, -1))
        rack.undo(run.id)


def take_piece(rack: RackTable, shelf: Shelf, stock: str, label: str) -> RackPiece:
    """Take one sheet or offcut off the rack without a plan.

    Raises:
        InvalidValueError: there is none called so.
    """
    with rack.together():
        there = [
            piece
            for piece in on_rack(shelf, rack)
            if (piece.stock, piece.label) == (stock, label) and piece.count != 0
        ]
        if not there:
            known = joined([_called(piece) for piece in on_rack(shelf, rack)], "; ")
            raise InvalidValueError(
                phrase(
                    "the rack has no {label!r} of {stock!r}: it has {known}",
                    label=label,
                    stock=stock,
                    known=known,
                )
                if known
                else phrase("the rack is empty")
            )
        found = RackPiece(stock, label, there[0].length, there[0].width, 1, there[0].is_offcut)
        _move(shelf, _signed([found], -1))
        return found


def _called(piece: OnRack) -> str:
    """A piece with its stock, which a label that is made of the size names already."""
    return piece.label if piece.label.startswith(piece.stock) else f"{piece.stock} {piece.label}"


def put_piece(rack: RackTable, shelf: Shelf, stock: str, length: Mm, width: Mm) -> RackPiece:
    """Bring an offcut of this size (mm) to the rack without a plan; it gets a number as one that a run left.

    Raises:
        InvalidValueError: the shelf has no such stock.
    """
    with rack.together():
        known = [entry.name for entry in shelf.list(ShelfKind.STOCK)]
        if stock not in known:
            words = joined(known, ", ") if known else phrase("none")
            raise InvalidValueError(
                phrase("the rack has no stock {name!r}: it has {known}", name=stock, known=words)
            )
        (piece,) = _numbered([RackPiece(stock, "", length, width, 1, True)], rack, shelf)
        _move(shelf, [piece])
        return piece


def _numbered(pieces: Iterable[RackPiece], rack: RackTable, shelf: Shelf) -> Iterator[RackPiece]:
    """Offcuts that come to the rack, each with a number that no other has there or in a run that may be undone."""
    labels = rack.booked_labels() | {piece.label for piece in on_rack(shelf, rack)}
    known = (int(label.removeprefix(MARK)) for label in labels if NUMBERED.fullmatch(label))
    first = max(rack.next_number(), 1 + max(known, default=0))
    return (replace(piece, label=f"{MARK}{number}") for number, piece in enumerate(pieces, start=first))


def _signed(pieces: Iterable[RackPiece], sign: int) -> list[RackPiece]:
    return [replace(piece, count=sign * piece.count) for piece in pieces]


def _stand_on_shelf(shelf: Shelf, text: str, pieces: Iterable[RackPiece]) -> None:
    """A stock that the shelf does not have yet goes there as the job has it."""
    for name in dict.fromkeys(piece.stock for piece in pieces):
        if _entry(shelf, name) is None:
            put_on_shelf(shelf, job_entries(text), ("stock", name))


def _move(shelf: Shelf, pieces: Sequence[RackPiece]) -> None:
    """Bring to the shelf's stock what has a count above 0, take away what has one below."""
    for name in dict.fromkeys(piece.stock for piece in pieces):
        entry = _entry(shelf, name)
        if entry is None:  # somebody took the stock off the shelf since
            raise InvalidValueError(phrase("The shelf has no stock {name} any more.", name=name))
        changed = entry.text
        for piece in pieces:
            if piece.stock == name:
                changed = _moved(changed, piece)
        shelf.save(entry.id, changed, name=entry.name, base=entry.version)


def _moved(text: str, piece: RackPiece) -> str:
    """A shelf text with so many more or fewer of a piece; sheets that nobody counts stay uncounted."""
    section = "offcuts" if piece.is_offcut else "sheets"
    rows = [dict(row) for row in rows_at(entries_of(text), (ENTRY, section)) if isinstance(row, dict)]
    place = next((number for number, row in enumerate(rows) if _is_same(row, piece)), None)
    if piece.is_offcut:
        count = piece.count + (0 if place is None else _count_of(rows[place]) or 0)
        if place is not None:
            del rows[place]
        if count > 0:
            row: dict[str, Any] = {"length": piece.length, "width": piece.width, "label": piece.label}
            rows.insert(
                len(rows) if place is None else place, row | ({"on_hand": count} if count > 1 else {})
            )
    elif place is not None and (there := _count_of(rows[place], usual=None)) is not None:
        rows[place]["on_hand"] = max(there + piece.count, 0)
    else:
        return text
    return set_value(text, (ENTRY, section), rows or None)


def _is_same(row: Any, piece: RackPiece) -> bool:
    """Whether a row of the shelf is this size, under its own label or none."""
    wanted = piece.length, piece.width
    label = value_at(row, ("label",)) or usual_label(piece.stock, *wanted)
    sides = row_sides(row)
    return (
        label == piece.label
        and sides is not None
        and all(abs(side - other) < SAME for side, other in zip(sides, wanted, strict=True))
    )


def _count_of(row: Any, usual: int | None = 1) -> int | None:
    count = value_at(row, ("on_hand",))
    return count if isinstance(count, int) else usual


def _entry(shelf: Shelf, name: str) -> ShelfEntry | None:
    return next((entry for entry in shelf.list(ShelfKind.STOCK) if entry.name == name), None)
