"""What a sheet plan says: which piece lies where on which sheet, and how the saw gets there.

All lengths in mm. Coordinates count from the sheet's lower-left corner, x along the sheet's length and y
along its width:

    y ^  +--------------------------------------+
      |  |  band          | band    |           |
      |  |  turned=False: | ...     |  offcut   |
      |  |  x extent =    |         |           |
      |  |  part length   |         |           |
      |  +--------------------------------------+---> x
"""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics.lengths import Mm
from drawerwright.sheets.sheet_stock import SheetSize


@dataclass(frozen=True, slots=True)
class PlacedStrip:
    """One part in its band: `key` with its running number (from 1 within the plan), and where it is ripped.

    `offset` counts along the band's width from the band's lower (turned: left) edge to the strip's.
    """

    key: str
    number: int
    offset: Mm
    height: Mm


@dataclass(frozen=True, slots=True)
class PlacedBand:
    """A band on its sheet.

    `length` is the parts' length, between the two routed edges; `width` runs along the routed edges and
    includes the sacrificial strips and the kerfs between strips. Not turned, `length` lies along x.
    `sacrificial` are the stretches (offset, width) at the ends that take the tear-out.
    """

    family: str
    number: int
    x: Mm
    y: Mm
    length: Mm
    width: Mm
    turned: bool
    strips: tuple[PlacedStrip, ...]
    sacrificial: tuple[tuple[Mm, Mm], ...] = ()

    @property
    def x_extent(self) -> Mm:
        return self.width if self.turned else self.length

    @property
    def y_extent(self) -> Mm:
        return self.length if self.turned else self.width

    @property
    def routed_length(self) -> Mm:
        """Both edges at which its strips end are routed."""
        return 2 * self.width


@dataclass(frozen=True, slots=True)
class PlacedLoose:
    """A loose part on its sheet. Not turned, `length` lies along x."""

    key: str
    number: int
    x: Mm
    y: Mm
    length: Mm
    width: Mm
    turned: bool = False
    matched: str | None = None
    """Label of the matched set it belongs to."""

    @property
    def x_extent(self) -> Mm:
        return self.width if self.turned else self.length

    @property
    def y_extent(self) -> Mm:
        return self.length if self.turned else self.width


@dataclass(frozen=True, slots=True)
class Offcut:
    """A rectangle that is left over: `length` along x, `width` along y; `is_kept` where it is worth keeping."""

    x: Mm
    y: Mm
    length: Mm
    width: Mm
    is_kept: bool = True

    @property
    def area(self) -> float:
        """In mm²."""
        return self.length * self.width


@dataclass(frozen=True, slots=True)
class Cut:
    """One saw cut, as the rectangle that becomes dust (its short side is the kerf, less at a sheet's edge).

    `order` counts from 1 on each sheet in the order of the saw (`cut_list`), edge trims first (stage 0). Cuts of odd
    stages run one way, of even stages the other. `setting` is what lies between fence and blade. `ripping` marks the
    cuts that part the strips of a band after it has been routed.
    """

    order: int
    stage: int
    x0: Mm
    y0: Mm
    x1: Mm
    y1: Mm
    ripping: bool = False
    setting: Mm = 0.0

    @property
    def runs_along_x(self) -> bool:
        return self.x1 - self.x0 >= self.y1 - self.y0


@dataclass(frozen=True, slots=True)
class SheetLayout:
    """One sheet (or offcut on hand) and everything cut from it, in the order of the saw."""

    size: SheetSize
    bands: tuple[PlacedBand, ...]
    loose: tuple[PlacedLoose, ...]
    offcuts: tuple[Offcut, ...]
    cuts: tuple[Cut, ...]
    first_cuts_across: bool = True
    """True when the first cuts divide the sheet's length (they run along y)."""

    @property
    def kept_offcuts(self) -> tuple[Offcut, ...]:
        """What returns to the rack, the largest first."""
        return tuple(sorted((o for o in self.offcuts if o.is_kept), key=lambda offcut: -offcut.area))

    @property
    def band_trims(self) -> tuple[Cut, ...]:
        """Cuts that trim a band to its length where it lies in a wider column."""
        ends = {
            (band.y + band.y_extent, band.x, band.x + band.x_extent)
            if band.turned
            else (band.x + band.x_extent, band.y, band.y + band.y_extent)
            for band in self.bands
        }
        across = self.first_cuts_across
        return tuple(
            cut
            for cut in self.cuts
            if cut.stage > 2
            and not cut.ripping
            and ((cut.x0, cut.y0, cut.y1) if across else (cut.y0, cut.x0, cut.x1)) in ends
        )

    @property
    def parts_area(self) -> float:
        """Finished strips and loose parts, in mm²."""
        strips = sum(strip.height * band.length for band in self.bands for strip in band.strips)
        return strips + sum(part.length * part.width for part in self.loose)


@dataclass(frozen=True, slots=True)
class PlanFigures:
    """What a plan is judged by, in the order of judgement.

    `new_sheet_cost` is in the currency of the prices, and equals `new_sheets` where sizes have no price;
    `parts_from_offcuts` is an area in mm²; `routed_length` in mm; `fence_settings` counts how
    often fence or stop of the saw are set, trims aside; `largest_offcut` is the area in mm² of the largest single
    offcut that is kept.
    """

    new_sheet_cost: float
    new_sheets: int
    offcuts_used: int
    parts_from_offcuts: float
    routed_length: Mm
    bands: int
    fence_settings: int
    largest_offcut: float


@dataclass(frozen=True, slots=True)
class SheetCount:
    """A line of the shopping list: a number of sheets of one size and their total `cost` (None without price)."""

    size: SheetSize
    count: int
    cost: float | None
