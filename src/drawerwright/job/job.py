"""A job: everything that a woodworker has written down, checked and in millimetres."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace

from drawerwright.basics import usual
from drawerwright.basics.findings import Finding
from drawerwright.basics.lengths import Degrees, LengthStyle, Mm
from drawerwright.basics.uncertain import Estimate
from drawerwright.drawers.bank import Bank
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.front_panels import FalseFront
from drawerwright.drawers.opening import Carcase
from drawerwright.drawings.label_grids import LabelGrid
from drawerwright.joints.bit_heights import BY_LAW, BitHeights
from drawerwright.joints.corner_key import CornerKey, KeyedCorner
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.doubts import FirstCut
from drawerwright.joints.plain_cuts import LearntJoint, learnt_off
from drawerwright.joints.readings import FitRange
from drawerwright.joints.table import RouterTable
from drawerwright.run.fence_plans import FenceWishes
from drawerwright.run.prices import NO_PRICES, PackPrices
from drawerwright.run.times import Rates
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.problem import SheetPreferences
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import LeastOffcut, SheetSize
from drawerwright.strength.sag_limit import USUAL_SAG, SagLimit
from drawerwright.wood.stock import Stock


@dataclass(frozen=True, slots=True)
class FrontMatch:
    """Fronts whose figure runs through: those of every bank with the same group, from the top down, or across from bank
    to bank."""

    group: str
    is_across: bool = False


@dataclass(frozen=True, slots=True)
class BankOfBoxes:
    """A bank with the boxes behind its fronts, top drawer first; `row` is that of its entry in the job file."""

    bank: Bank
    boxes: tuple[DrawerBox, ...]
    match: FrontMatch | None = None
    row: int = 0
    false_fronts: tuple[FalseFront, ...] = ()

    def only(self, names: Collection[str]) -> BankOfBoxes | None:
        """The same with these of its drawers and false fronts alone; None where it has none of them."""
        boxes = tuple(box for box in self.boxes if box.name in names)
        fronts = tuple(front for front in self.false_fronts if front.name in names)
        return replace(self, boxes=boxes, false_fronts=fronts) if boxes or fronts else None

    @property
    def fibre(self) -> Degrees | None:
        """Direction of the grain of its fronts, which are of one stock; None where that has none."""
        fibres = [box.fibre for box in self.boxes] + [front.panel.fibre for front in self.false_fronts]
        return fibres[0] if fibres else 0.0


@dataclass(frozen=True, slots=True)
class JobCutter:
    """A cutter of a job, and how the job uses it.

    place: where it stands in the job file. heights: the rule for the bit height of its corners; its table knows what
    accepted test cuts with this cutter have settled. fences: how its fence positions are chosen. has_stale_lessons:
    test cuts with it were accepted, and it or the gauges changed since.
    """

    cutter: Cutter
    place: tuple[str, ...]
    heights: BitHeights
    fences: FenceWishes = field(default_factory=FenceWishes)
    has_stale_lessons: bool = False

    @property
    def name(self) -> str:
        return self.cutter.name

    @property
    def key(self) -> str:
        """What its corners are known by."""
        return self.cutter.key

    @property
    def table(self) -> RouterTable:
        """The router table while this cutter is in it."""
        return self.heights.table

    def place_of(self, entry: str) -> tuple[str, ...]:
        """Where an entry stands in the job file that a job with one cutter has for itself, and another for each."""
        return (*self.place, entry) if len(self.place) > 1 else (entry,)


@dataclass(frozen=True, slots=True)
class Job:
    """One job, ready to be planned.

    `cutters` go in the order in which they are put in. `table` is the router table without what test cuts settled.
    `calipers`: the standard uncertainty of their zero (mm), None when nobody has said.
    `doubts`: what is in doubt about the file that it was read from.
    `days`: the drawers of each day, where the job is split; every drawer on one of them.
    `sag_limit`: how far bottoms may sag. `prices`: of what is bought in packs. `labels`: the sheet of labels that is
    printed on, where the job says. `learnt_joints`: what accepted test cuts have taught of joints without a cutter.
    """

    name: str
    style: LengthStyle
    cutters: tuple[JobCutter, ...]
    table: RouterTable
    saw: Saw
    band_rules: BandRules
    stock: dict[str, Stock]
    sheet_sizes: dict[str, tuple[SheetSize, ...]]
    banks: tuple[BankOfBoxes, ...]
    boxes: tuple[DrawerBox, ...]
    fit_range: FitRange
    calipers: Mm | None
    preferences: SheetPreferences
    least_offcut: LeastOffcut
    sheets_time_limit: float
    days: tuple[tuple[str, ...], ...]
    rates: Rates
    doubts: tuple[Finding, ...] = ()
    sag_limit: SagLimit = USUAL_SAG
    prices: PackPrices = NO_PRICES
    labels: LabelGrid | None = None
    learnt_joints: tuple[LearntJoint, ...] = ()

    def learnt_off(self, corner: CornerKey) -> Mapping[str, Estimate]:
        """How much more than planned is to be set for a corner that no cutter makes, by accepted test cuts (mm)."""
        return learnt_off(self.learnt_joints, corner)

    @property
    def calipers_zero(self) -> Estimate:
        """How far the calipers are off, whatever they measure (mm)."""
        return Estimate.given(0.0, self.calipers, usual=usual.CALIPERS_ZERO)

    @property
    def carcases(self) -> tuple[tuple[Carcase, tuple[Bank, ...]], ...]:
        """Every carcase that is divided, with the banks in it."""
        found: dict[str, tuple[Carcase, list[Bank]]] = {}
        for each in self.banks:
            carcase = each.bank.opening.carcase
            if carcase is not None:
                found.setdefault(carcase.name, (carcase, []))[1].append(each.bank)
        return tuple((carcase, tuple(banks)) for carcase, banks in found.values())

    @property
    def fibres(self) -> dict[str, Degrees | None]:
        """Direction of the grain of each bank's fronts, by its mark."""
        return {each.bank.mark: each.fibre for each in self.banks}

    def front_heights(self, row: int) -> list[Mm]:
        """How high every front of the bank in a row of the job file is, from the top; none where there is no bank."""
        banks = (each.bank for each in self.banks if each.row == row)
        return [place.height for bank in banks for place in bank.front_places()]

    @property
    def all_boxes(self) -> tuple[DrawerBox, ...]:
        """Every drawer of the job, banks first."""
        return tuple(box for bank in self.banks for box in bank.boxes) + self.boxes

    @property
    def false_fronts(self) -> tuple[FalseFront, ...]:
        """Every front without a drawer behind it, in the steps in which the job is cut."""
        step = self.style.size_step
        return tuple(replace(front, step=step) for bank in self.banks for front in bank.false_fronts)

    def only(self, drawers: Collection[str]) -> Job:
        """The same job with only these of its drawers."""
        banks = tuple(bank for each in self.banks if (bank := each.only(drawers)) is not None)
        return replace(self, banks=banks, boxes=tuple(box for box in self.boxes if box.name in drawers))

    def cutter_of(self, key: str) -> JobCutter:
        """The cutter that is known by this key.

        Raises:
            KeyError: the job has none.
        """
        return {cutter.key: cutter for cutter in self.cutters}[key]

    def heights_of(self, box: DrawerBox) -> BitHeights:
        """The rule for the bit heights of a drawer's corners; the law's where no cutter makes them."""
        keys = [corner.cutter.key for corner in box.routed_corners]
        return self.cutter_of(keys[0]).heights if keys else BY_LAW

    def drawers_of(self, cutter: JobCutter) -> tuple[str, ...]:
        """The drawers whose corners a cutter makes."""
        return tuple(
            box.name
            for box in self.all_boxes
            if any(corner.cutter.key == cutter.key for corner in box.routed_corners)
        )

    @property
    def cutters_in_use(self) -> tuple[JobCutter, ...]:
        """Those that a drawer of the job is cut with."""
        used = {corner.cutter.key for box in self.all_boxes for corner in box.routed_corners}
        return tuple(cutter for cutter in self.cutters if cutter.key in used)

    def corners_of(self, cutter: JobCutter) -> tuple[KeyedCorner, ...]:
        """The different corners that a cutter makes."""
        return tuple(
            dict.fromkeys(
                corner
                for box in self.all_boxes
                for corner in box.routed_corners
                if corner.cutter.key == cutter.key
            )
        )

    def first_cut(self, cutter: JobCutter) -> FirstCut:
        """What everything that is cut with one of its cutters shares."""
        return FirstCut(cutter.cutter, cutter.table, self.fit_range, self.calipers)
