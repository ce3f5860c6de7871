"""What a job file says of a stock, and of the sheets and offcuts that it comes in."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from drawerwright.basics import usual
from drawerwright.job.file.entry_types import (
    Clearance,
    Entries,
    Id,
    MeanThickness,
    PositiveLength,
    Told,
    Usual,
)
from drawerwright.wood.stock import Grain
from drawerwright.wood.thickness import Panel

ONE_OFFCUT = 1
"""So many of an offcut are there, where nothing is said."""
_READINGS = "list of lengths, or a list of them for each sheet"


class SheetEntry(Entries):
    """A size of sheet."""

    length: PositiveLength
    """Length of the sheet."""
    width: PositiveLength
    """Width of the sheet."""
    price: float | None = Field(default=None, ge=0)
    """Of one sheet, in any currency. Where a size has none, sheets are counted."""
    on_hand: int | None = Field(default=None, ge=0)
    """How many lie ready; as many as you like where nothing is said."""
    label: str | None = None
    """What it is called; its stock and size where nothing is said."""


class OffcutEntry(SheetEntry):
    """A piece on the rack."""

    on_hand: Annotated[int | None, Usual(ONE_OFFCUT)] = Field(default=None, ge=0)
    """How many of this size lie ready."""


class StockEntry(Entries):
    id: Id | None = None
    """What it was first called, where it was renamed since: its corners and their test cuts stay with it."""
    panel: Panel = Panel.OTHER
    """Kind of panel; some have published limits of thickness."""
    nominal: PositiveLength
    """Thickness as sold."""
    measured: Annotated[tuple[tuple[PositiveLength, ...] | PositiveLength, ...], Told(_READINGS)] = ()
    """Thickness as read, or a list for each sheet: places of one sheet show its scatter, sheets what they differ by."""
    mean: MeanThickness | None = None
    """Instead of `measured`, where only the mean is known: `14.62 ± 0.03`."""
    scatter: Annotated[Clearance | None, Usual(usual.SCATTER)] = None
    """Standard deviation of single places of a sheet about its mean; goes before what `measured` shows."""
    grain: Grain = Grain.LENGTH
    """Which way the grain runs on the sheet."""
    sheets: tuple[SheetEntry, ...] = Field(min_length=1)
    """Sizes to buy."""
    offcuts: tuple[OffcutEntry, ...] = ()
    """Offcuts on the rack; they are used up before a sheet is bought."""
