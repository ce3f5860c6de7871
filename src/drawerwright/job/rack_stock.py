"""The use case `rack`: what lies on the shop's rack, and a job file that takes its stock from there."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase, plain
from drawerwright.basics.told_lengths import SizeWords
from drawerwright.job.file.entry_paths import members_at, rows_at, value_at
from drawerwright.job.file.job_entries import job_entries
from drawerwright.job.file.reading import entries_of
from drawerwright.job.shelf_parts import ENTRY, row_sides, taken_over
from drawerwright.store import Database, JobTable, RackTable, Shelf, data_folder
from drawerwright.store.records import RackPiece, ShelfEntry, ShelfKind

NO_JOB = -1
"""Every job is another one than this: what all of them plan to take is asked for."""


@dataclass(frozen=True, slots=True)
class OnRack:
    """Sheets or offcuts of one size (mm) on the shop's rack: how many (None: nobody counts them), and the jobs that
    plan to take some."""

    stock: str
    label: str
    length: Mm
    width: Mm
    count: int | None
    is_offcut: bool
    wanted_by: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RackNews:
    """Sheets or an offcut of which the rack has another number than a job plans with (None: nobody counts them)."""

    piece: RackPiece
    in_job: int | None
    on_rack: int | None


@dataclass(frozen=True, slots=True)
class StockTaken:
    """A job's text with stock as the rack has it, and the names of the stocks that changed."""

    text: str
    changed: tuple[str, ...]


@contextmanager
def opened_rack(
    folder: Path | None, *, may_be_new: bool = False, is_kept: bool = True
) -> Iterator[tuple[Shelf, RackTable, JobTable]]:
    """Shelf, rack and jobs in a folder of data; None stands for the user's own. A new one is empty; it goes again
    unless it is kept.

    Raises:
        InvalidValueError: there is no data, and it may not be new.
    """
    place = folder or data_folder()
    if not place.is_dir() and not may_be_new:
        raise InvalidValueError(
            phrase("there is no data in {place}: the app makes it when it is started", place=str(place))
        )
    with ExitStack() as stack:
        if not place.is_dir() and not is_kept:
            place = Path(stack.enter_context(TemporaryDirectory()))
        database = stack.enter_context(closing(Database(place)))
        yield Shelf(database), RackTable(database), JobTable(database)


def on_rack(shelf: Shelf, rack: RackTable) -> tuple[OnRack, ...]:
    """Everything on the rack: stock by stock, sheets before offcuts, as the shelf has them."""
    wanted: dict[tuple[str, str], list[str]] = {}
    for claim in rack.others(NO_JOB):
        wanted.setdefault((claim.stock, claim.label), []).append(claim.title)
    found = []
    for entry in shelf.list(ShelfKind.STOCK):
        data = entries_of(entry.text)
        for section in ("sheets", "offcuts"):
            for row in rows_at(data, (ENTRY, section)):
                piece = _piece(entry.name, row, is_offcut=section == "offcuts")
                if piece is None:
                    continue
                jobs = tuple(wanted.get((piece.stock, piece.label), ()))
                count = value_at(row, ("on_hand",))
                if piece.is_offcut and count is None:
                    count = 1
                found.append(
                    OnRack(piece.stock, piece.label, piece.length, piece.width, count, piece.is_offcut, jobs)
                )
    return tuple(found)


def usual_label(stock: str, length: Mm, width: Mm) -> str:
    """What a sheet or offcut without a label of its own is called: its stock and size."""
    return plain(phrase("{name} {size}", name=stock, size=SizeWords(length, width)))


def _piece(stock: str, row: object, *, is_offcut: bool) -> RackPiece | None:
    """What a row of a stock's sheets or offcuts says; None where its sides cannot be read."""
    sides = row_sides(row)
    if sides is None:
        return None
    label = str(value_at(row, ("label",)) or usual_label(stock, *sides))
    return RackPiece(stock, label, *sides, is_offcut=is_offcut)


def rack_news(data: object, name: str, entry: ShelfEntry) -> tuple[RackNews, ...]:
    """What of a stock the rack has more or less of than a job says.

    Args:
        data: the entries of the job's file.
        name: of the stock.
        entry: what the shelf has under that name.
    """
    own, there = (
        _counted(name, part) for part in (value_at(data, ("stock", name)), entries_of(entry.text).get(ENTRY))
    )
    counts = {piece: (own.get(piece), there.get(piece)) for piece in {**own, **there}}
    return tuple(
        RackNews(piece, *both)
        for piece, both in counts.items()
        if both[0] != both[1] and not (both[0] is None and piece in own and piece not in there)
    )


def _counted(name: str, part: object) -> dict[RackPiece, int | None]:
    """How many there are of each sheet and offcut of a stock, as one says that has it."""
    found: dict[RackPiece, int | None] = {}
    for section in ("sheets", "offcuts"):
        for row in rows_at(part, (section,)):
            is_offcut = section == "offcuts"
            piece = _piece(name, row, is_offcut=is_offcut)
            if piece is None:  # the job's text has that fault elsewhere
                continue
            rounded = replace(piece, length=round(piece.length, 1), width=round(piece.width, 1))
            count = value_at(row, ("on_hand",))
            found[rounded] = count if isinstance(count, int) else 1 if is_offcut else None
    return found


def stock_from_rack(text: str, shelf: Shelf) -> StockTaken:
    """A job file's text whose stock is as the shop's shelf has it, sheets and offcuts on hand included; comments stay.

    Raises:
        InvalidValueError: the shelf has none of its stocks.
        FaultyInputError: the text cannot be read.
    """
    names = tuple(members_at(job_entries(text), ("stock",)))
    known = {entry.name: entry for entry in shelf.list(ShelfKind.STOCK)}
    if not known:
        raise InvalidValueError(phrase("the rack is empty"))
    if not known.keys() & set(names):
        raise InvalidValueError(
            phrase(
                "the rack has none of the job's stocks ({names}): it has {known}",
                names=", ".join(names),
                known=", ".join(known),
            )
        )
    changed = []
    for name in names:
        if name in known and (taken := taken_over(text, ("stock", name), known[name])) != text:
            text = taken
            changed.append(name)
    return StockTaken(text, tuple(changed))
