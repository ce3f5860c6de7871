"""The use case `rack --cut`: a plan that was cut by its papers, booked on the shop's rack by its `plan.json`."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.phrases import phrase, plain
from drawerwright.job.job import Job
from drawerwright.job.rack_bookings import RackChange, offcut_left, pieces_taken
from drawerwright.sheets.sheet_stock import SheetSize
from drawerwright.store import JobTable
from drawerwright.store.records import RackPiece


def change_of_plan_data(data: Mapping[str, Any], job: Job) -> RackChange:
    """What the plan in a `plan.json` takes from the rack and leaves there.

    Raises:
        InvalidValueError: the plan is not one of this job: it has other stock or sheets.
        KeyError, TypeError, ValueError: the data is no such plan.
    """
    stocks = {stock.name: stock for stock in job.stock.values()}
    took: list[RackPiece] = []
    left: list[RackPiece] = []
    for planned in data["sheets"]:
        name = str(planned["stock"])
        sizes = {plain(size.label): size for size in job.sheet_sizes.get(name, ())}
        used: Counter[SheetSize] = Counter()
        for layout in planned["layouts"]:
            size = sizes.get(str(layout["size"]))
            if name not in stocks or size is None:
                raise InvalidValueError(
                    phrase(
                        "the plan has sheet {label!r} of {stock!r}, which the job does not have: give the job "
                        "file that was planned",
                        label=layout["size"],
                        stock=name,
                    )
                )
            used[size] += 1
            left += [
                offcut_left(stocks[name], float(offcut["length"]), float(offcut["width"]))
                for offcut in layout["offcuts"]
                if offcut["kept"] is True
            ]
        if name in stocks:
            took += pieces_taken(stocks[name], used)
    return RackChange(tuple(took), tuple(left))


def job_in_shop(jobs: JobTable, title: str, text: str) -> int:
    """The number of a job among those of the app, last saved first; one that is not there goes in, so that its run can
    be seen and taken back there too."""
    known = next((job.id for job in jobs.list() if job.title == title), None)
    return jobs.add(title, text).id if known is None else known


def piece_line(piece: RackPiece, style: LengthStyle) -> str:
    """A piece as the command names it."""
    kind = "offcut" if piece.is_offcut else "sheet"
    size = f"{style.show(piece.length, with_unit=False)} × {style.show(piece.width)}"
    label = f" {piece.label}" if piece.label else ""
    return f"{piece.count} × {piece.stock} {kind}{label}: {size}"
