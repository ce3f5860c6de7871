"""What a job file says of a stock, and of the sheets and offcuts that it comes in."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from drawerwright.basics import usual
from drawerwright.job.file.climate_model import Moisture
from drawerwright.job.file.entry_types import (
    Clearance,
    Entries,
    Id,
    MeanThickness,
    PositiveLength,
    Price,
    SpeciesName,
    Told,
    Usual,
)
from drawerwright.wood.movement import USUAL_SAWN, Sawn
from drawerwright.wood.stock import USUAL_GRAIN, Grain
from drawerwright.wood.thickness import Panel

ONE_OFFCUT = 1
"""So many of an offcut are there, where nothing is said."""
LONGEST_SHEET = 20_000
"""mm: no panel on sale is longer (common practice, no source). The search for cuts grows with the square of it."""
_READINGS = "list of lengths, or a list of them for each sheet"


class SheetEntry(Entries):
    """A size of sheet."""

    length: PositiveLength = Field(le=LONGEST_SHEET)
    """Length of the sheet."""
    width: PositiveLength = Field(le=LONGEST_SHEET)
    """Width of the sheet."""
    price: Price | None = None
    """Price of one sheet, in any currency. If a size has none, sheets are counted instead."""
    on_hand: int | None = Field(default=None, ge=0)
    """How many are on hand; by default as many as you like."""
    label: str | None = None
    """Its name; by default its stock and size."""


class OffcutEntry(SheetEntry):
    """A piece on the rack."""

    on_hand: Annotated[int | None, Usual(ONE_OFFCUT)] = Field(default=None, ge=0)
    """How many of this size are on hand."""


class StockEntry(Entries):
    id: Id | None = None
    """Its first name, if it has been renamed since; ties its corners and their test cuts to it."""
    panel: Panel = Panel.OTHER
    """Kind of panel; some have published limits of thickness. Those of `us-plywood` are of structural plywood in inch
    sizes and do not hold for `hardwood-plywood`, which has none.
    """
    nominal: PositiveLength
    """Thickness as sold."""
    measured: Annotated[tuple[tuple[PositiveLength, ...] | PositiveLength, ...], Told(_READINGS)] = ()
    """Measured thicknesses, or a list of them for each sheet: one sheet's readings show its scatter, several
    sheets show how they differ.
    """
    mean: MeanThickness | None = None
    """Instead of `measured`, if you only know the mean: `14.62 ± 0.03`."""
    scatter: Annotated[Clearance | None, Usual(usual.SCATTER)] = None
    """Standard deviation of single places of a sheet about its mean; overrides what `measured` shows."""
    grain: Grain = USUAL_GRAIN
    """Which way the grain runs on the sheet."""
    species: SpeciesName | None = None
    """Species of solid wood, by any of its names (docs/wood.md lists them)."""
    cut: Sawn = USUAL_SAWN
    """How boards of solid wood lie in the log: `tangential` is flat-sawn, `radial` quarter-sawn."""
    moisture: Moisture | None = None
    """What a moisture meter reads; by default half-way between the ends of the drawers' climate."""
    sheets: tuple[SheetEntry, ...] = Field(min_length=1)
    """Sizes to buy."""
    offcuts: tuple[OffcutEntry, ...] = ()
    """Offcuts on the rack, used before you buy a sheet."""
