"""A job: everything that a woodworker has written down, checked and in millimetres."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field, replace

from drawerwright.basics import usual
from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.uncertain import Estimate
from drawerwright.drawers.bank import Bank
from drawerwright.drawers.box import DrawerBox
from drawerwright.joints.bit_heights import BitHeights
from drawerwright.joints.corner_key import KeyedCorner
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.readings import FitRange
from drawerwright.joints.table import RouterTable
from drawerwright.run.fence_plans import FenceWishes
from drawerwright.run.times import Rates
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.problem import SheetPreferences
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import LeastOffcut, SheetSize
from drawerwright.wood.stock import Stock


@dataclass(frozen=True, slots=True)
class BankOfBoxes:
    """A bank with the boxes behind its fronts, top drawer first."""

    bank: Bank
    boxes: tuple[DrawerBox, ...]
    matches_fronts: bool = False


@dataclass(frozen=True, slots=True)
class Job:
    """One job, ready to be planned.

    `calipers`: the standard uncertainty of their zero (mm), None when nobody has said.
    `has_stale_lessons`: test cuts were accepted, and cutter or gauges changed since.
    `days`: the drawers of each day, where the job is split; every drawer on one of them.
    """

    name: str
    style: LengthStyle
    cutter: Cutter
    table: RouterTable
    saw: Saw
    band_rules: BandRules
    stock: dict[str, Stock]
    sheet_sizes: dict[str, tuple[SheetSize, ...]]
    banks: tuple[BankOfBoxes, ...]
    boxes: tuple[DrawerBox, ...]
    kept_heights: tuple[Mm, ...] = ()
    has_stale_lessons: bool = False
    fences: FenceWishes = field(default_factory=FenceWishes)
    fit_range: FitRange = field(default_factory=FitRange)
    calipers: Mm | None = None
    preferences: SheetPreferences = field(default_factory=SheetPreferences)
    least_offcut: LeastOffcut = field(default_factory=LeastOffcut)
    sheets_time_limit: float = 10.0
    days: tuple[tuple[str, ...], ...] = ()
    rates: Rates = field(default_factory=Rates)

    @property
    def calipers_zero(self) -> Estimate:
        """How far the calipers are off, whatever they measure (mm)."""
        return Estimate.given(0.0, self.calipers, usual=usual.CALIPERS_ZERO)

    @property
    def heights(self) -> BitHeights:
        """The rule for the bit height of each corner."""
        return BitHeights(self.fit_range, self.table, self.kept_heights)

    @property
    def all_boxes(self) -> tuple[DrawerBox, ...]:
        """Every drawer of the job, banks first."""
        return tuple(box for bank in self.banks for box in bank.boxes) + self.boxes

    def only(self, drawers: Collection[str]) -> Job:
        """The same job with only these of its drawers."""
        banks = tuple(
            replace(bank, boxes=kept)
            for bank in self.banks
            if (kept := tuple(box for box in bank.boxes if box.name in drawers))
        )
        return replace(self, banks=banks, boxes=tuple(box for box in self.boxes if box.name in drawers))

    @property
    def corners(self) -> tuple[KeyedCorner, ...]:
        """The different corners of all drawers."""
        return tuple(
            dict.fromkeys(corner for box in self.all_boxes for corner in (box.front_corner, box.back_corner))
        )
