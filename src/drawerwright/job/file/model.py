"""The job file as users write it: every entry with its type and default.

The field names are the file's vocabulary; `drawerwright.job.file.building` turns a checked file into the values
that the rooms below work with. What is given without `±` has the usual uncertainty (`drawerwright.basics.usual`), and
so has what is left out, None here where it is itself an uncertainty; `± 0` and `0` say exact.
`JobFile.model_json_schema()` is the schema for editors.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import ConfigDict, Field

from drawerwright.basics import usual
from drawerwright.drawers.bank import FrontStyle
from drawerwright.drawers.bottom import BottomStyle
from drawerwright.drawers.runners import RunnerKind
from drawerwright.job.file.cutter_places import UNNAMED
from drawerwright.job.file.entry_types import (
    Clearance,
    CutterKind,
    CutterMeasure,
    CutterSlope,
    Entries,
    GaugeOffset,
    Length,
    MeanThickness,
    PlainJointName,
    PositiveLength,
)
from drawerwright.joints.corner_key import Orientation
from drawerwright.joints.registry import USUAL
from drawerwright.run.fence_plans import FLUSH
from drawerwright.run.times import Rates
from drawerwright.sheets.problem import LATER_AIMS, LaterAim
from drawerwright.wood.stock import Grain
from drawerwright.wood.thickness import Panel

MOST_POINTS = 2000
"""Of a measured profile: ten times what a patient reader of gauges takes, and more than any drawing needs."""
_STANDARD_RATES = Rates()
Id = Annotated[str, Field(min_length=1, max_length=80)]


class CutterMeasures(Entries):
    """A cutter: two measures, or its measured profile, and what is marked on it."""

    id: Id | None = None
    """What it was first called, where it was renamed since: its corners and their test cuts stay with it."""
    kind: CutterKind = USUAL
    mid_depth: CutterMeasure | None = None
    step: CutterMeasure | None = None
    profile: str | None = Field(default=None, min_length=1, max_length=500)
    """A file beside the job file."""
    points: tuple[tuple[Length, Length], ...] | None = Field(default=None, max_length=MOST_POINTS)
    """Depth below the top and inset."""
    profile_uncertainty: Clearance | None = None
    """Standard uncertainty of each inset of the profile."""
    slope: CutterSlope | None = None
    diameter: PositiveLength | None = None
    cutting_height: PositiveLength | None = None
    max_speed: float | None = Field(default=None, gt=0)


class CutterEntry(CutterMeasures):
    """The only cutter of a job."""

    name: str = UNNAMED


class SawEntry(Entries):
    kerf: Clearance = 3.0
    trim: Clearance = 0.0


class RouterTableEntry(Entries):
    tallest_upright: PositiveLength | None = None
    longest_band: PositiveLength | None = None
    shortest_piece: Clearance = 150.0
    height_gauge_offset: GaugeOffset = usual.UNKNOWN_GAUGE
    fence_gauge_offset: GaugeOffset = usual.UNKNOWN_GAUGE
    largest_fence_setting: PositiveLength | None = None
    repeatability: Clearance | None = None
    height_gauge_step: PositiveLength | None = None
    fence_gauge_step: PositiveLength | None = None
    """From mark to mark."""
    speeds: tuple[float, ...] = ()


class SacrificialEntry(Entries):
    width: Clearance = 0.0
    ends: Literal[1, 2] = 2


class MachineEntry(Entries):
    """`calipers` is the standard uncertainty of their zero."""

    name: str = "machine"
    saw: SawEntry = SawEntry()
    router_table: RouterTableEntry = RouterTableEntry()
    sacrificial_strip: SacrificialEntry = SacrificialEntry()
    calipers: Clearance | None = None


class SheetEntry(Entries):
    """A size of sheet, or an offcut on the rack."""

    length: PositiveLength
    width: PositiveLength
    price: float | None = Field(default=None, ge=0)
    on_hand: int | None = Field(default=None, ge=0)
    label: str | None = None


class StockEntry(Entries):
    id: Id | None = None
    """What it was first called, where it was renamed since: its corners and their test cuts stay with it."""
    panel: Panel = Panel.OTHER
    nominal: PositiveLength
    measured: tuple[tuple[PositiveLength, ...] | PositiveLength, ...] = ()
    mean: MeanThickness | None = None
    """Instead of `measured`, where only the mean is known."""
    scatter: Clearance | None = None
    """Within a sheet; goes before what `measured` shows."""
    grain: Grain = Grain.LENGTH
    sheets: tuple[SheetEntry, ...] = Field(min_length=1)
    offcuts: tuple[SheetEntry, ...] = ()


class ArithmeticTerms(Entries):
    count: int = Field(ge=1, le=60)
    step: Length | None = None
    smallest: PositiveLength | None = None


class GeometricTerms(Entries):
    count: int = Field(ge=1, le=60)
    ratio: float | None = Field(default=None, gt=0)
    smallest: PositiveLength | None = None


class HeightsEntry(Entries):
    """Exactly one of the four rules."""

    given: tuple[Length | Literal["rest"], ...] | None = Field(default=None, min_length=1, max_length=60)
    equal: int | None = Field(default=None, ge=1, le=60)
    arithmetic: ArithmeticTerms | None = None
    geometric: GeometricTerms | None = None


class OverlayEntry(Entries):
    sides: Length | None = None
    top: Length | None = None
    bottom: Length | None = None


class PullEntry(Entries):
    spacing: Clearance = 0.0
    below_top: PositiveLength | None = None
    hole: PositiveLength = 5.0


class OpeningEntry(Entries):
    width: PositiveLength
    height: PositiveLength
    depth: PositiveLength


class FrontsEntry(Entries):
    style: FrontStyle
    heights: HeightsEntry
    reveal: Clearance = 3.0
    overlay: OverlayEntry = OverlayEntry()
    stock: str | None = None
    """Of applied fronts; other fronts are part of the box."""
    grain_upright: bool = False
    match: bool = False
    pull: PullEntry | None = None


class RunnerEntry(Entries):
    """A kind, and the clearances that differ from its standing table."""

    kind: RunnerKind = RunnerKind.NONE
    side: Clearance | None = None
    top: Clearance | None = None
    bottom: Clearance | None = None
    back: Clearance | None = None
    line: Clearance | None = None
    length: PositiveLength | None = None
    inside_deduction: Clearance | None = None
    bottom_recess: Clearance | None = None
    thickest_side: PositiveLength | None = None


class BottomEntry(Entries):
    style: BottomStyle = BottomStyle.CAPTURED
    stock: str
    groove_depth: PositiveLength = 6.0
    groove_height: PositiveLength = 10.0
    groove_play: Clearance = 0.2
    clearance: Clearance = 1.5


class BandingEntry(Entries):
    thickness: PositiveLength
    applied_front: bool = True
    box_top: bool = False


class MaterialsEntry(Entries):
    """Stock of the box: `all`, and what differs from it."""

    all: str | None = None
    front: str | None = None
    sides: str | None = None
    back: str | None = None


class BankEntry(Entries):
    name: str = Field(min_length=1, max_length=80)
    opening: OpeningEntry
    fronts: FrontsEntry
    runner: RunnerEntry = RunnerEntry()
    box: MaterialsEntry
    cutter: str | None = None
    """What its corners are cut with, where the job has several."""
    joint: PlainJointName | None = None
    """Instead of a cutter: the joint of its corners, where none cuts them."""
    side_height: PositiveLength | None = None
    bottom: BottomEntry | None = None
    banding: BandingEntry | None = None
    orientation: Orientation = Orientation.FRONTS_FLAT


class OuterEntry(Entries):
    width: PositiveLength
    depth: PositiveLength
    height: PositiveLength


class BoxEntry(Entries):
    """Plain boxes with outer sizes."""

    name: str = Field(min_length=1, max_length=80)
    count: int = Field(default=1, ge=1, le=500)
    outer: OuterEntry
    lip: Clearance = 0.0
    front_height: PositiveLength | None = None
    box: MaterialsEntry
    cutter: str | None = None
    joint: PlainJointName | None = None
    bottom: BottomEntry | None = None
    banding: BandingEntry | None = None
    orientation: Orientation = Orientation.FRONTS_FLAT


class FenceChoiceEntry(Entries):
    """How fence positions are chosen."""

    plan: Literal["fewest", "one", "tooth", "two-position"] | None = None
    positions: tuple[PositiveLength, ...] = Field(default=(), max_length=40)


class FencesEntry(FenceChoiceEntry):
    """The same, and how far a face may stand off flush for one position to serve two."""

    flushness: Clearance = FLUSH


class FitEntry(Entries):
    """The range of play that counts as a fit, and how far faces that should be flush may stand off."""

    least_play: Clearance = 0.0
    most_play: Clearance = 0.15
    flushness: Clearance = 0.1


class LeastOffcutEntry(Entries):
    """The smallest offcut worth keeping: its longer side, and its shorter one."""

    length: PositiveLength | None = None
    width: PositiveLength | None = None


class SheetsEntry(Entries):
    time_limit: float = Field(default=10.0, gt=0, le=600)
    later_aims: tuple[LaterAim, ...] = LATER_AIMS
    least_offcut: LeastOffcutEntry = LeastOffcutEntry()


class ShownEntry(Entries):
    unit: Literal["mm", "in", "in/64"] = "mm"
    decimal: Literal[".", ","] = "."


class RatesEntry(Entries):
    """Minutes (feed and banding in metres a minute); see `drawerwright.run.times.Rates`."""

    sheet: float = Field(default=_STANDARD_RATES.sheet, ge=0)
    saw_cut: float = Field(default=_STANDARD_RATES.saw_cut, ge=0)
    saw_setting: float = Field(default=_STANDARD_RATES.saw_setting, ge=0)
    router_setting: float = Field(default=_STANDARD_RATES.router_setting, ge=0)
    cutter_change: float = Field(default=_STANDARD_RATES.cutter_change, ge=0)
    test_cut: float = Field(default=_STANDARD_RATES.test_cut, ge=0)
    router_pass: float = Field(default=_STANDARD_RATES.router_pass, ge=0)
    feed_m_per_min: float = Field(default=_STANDARD_RATES.feed_m_per_min, gt=0)
    groove_pass: float = Field(default=_STANDARD_RATES.groove_pass, ge=0)
    pull_hole: float = Field(default=_STANDARD_RATES.pull_hole, ge=0)
    glue_up: float = Field(default=_STANDARD_RATES.glue_up, ge=0)
    applied_front: float = Field(default=_STANDARD_RATES.applied_front, ge=0)
    banding_m_per_min: float = Field(default=_STANDARD_RATES.banding_m_per_min, gt=0)


class TaughtEntry(Entries):
    """The values of cutter and gauges that test cuts have taught."""

    mid_depth: Length
    step: Length
    height_gauge_offset: Length
    fence_gauge_offset: Length


class LearntEntry(Entries):
    """What accepted test cuts have settled; in force as long as cutter and gauges are as they were `taught`."""

    taught: TaughtEntry
    height_shown: PositiveLength | None = None
    """What the gauges have to show for the next cut."""
    fences_shown: tuple[Length, ...] = Field(default=(), max_length=40)
    height_correlation: float = Field(default=0.0, ge=-1, le=1)
    """Between what is left in doubt of mid depth and height gauge."""
    fence_correlation: float = Field(default=0.0, ge=-1, le=1)
    """Between what is left in doubt of step and fence scale."""


class NamedCutterEntry(CutterMeasures):
    """One of several cutters. What it says of bit heights and fences goes before what the job says of all."""

    bit_heights: tuple[PositiveLength, ...] = Field(default=(), max_length=40)
    fences: FenceChoiceEntry = FenceChoiceEntry()
    learnt: LearntEntry | None = None


class JobFile(Entries):
    """One job: the cutter or several, the machine, the stock, and the drawers to make."""

    model_config = ConfigDict(
        json_schema_extra={"oneOf": [{"required": ["cutter"]}, {"required": ["cutters"]}]}
    )

    format: Literal[1]
    job: str = Field(min_length=1, max_length=120)
    shown: ShownEntry = ShownEntry()
    cutter: CutterEntry | None = None
    cutters: dict[str, NamedCutterEntry] = Field(default_factory=dict, min_length=1)
    """Several by name, in the order in which they are used; instead of `cutter`."""
    machine: MachineEntry = MachineEntry()
    stock: dict[str, StockEntry] = Field(min_length=1)
    bit_heights: tuple[PositiveLength, ...] = Field(default=(), max_length=40)
    """The only ones to use; each corner takes the nearest to the recommended one."""
    fences: FencesEntry = FencesEntry()
    fit: FitEntry = FitEntry()
    learnt: LearntEntry | None = None
    sheets: SheetsEntry = SheetsEntry()
    rates: RatesEntry = RatesEntry()
    banks: tuple[BankEntry, ...] = ()
    boxes: tuple[BoxEntry, ...] = ()
    days: tuple[tuple[str, ...], ...] = ()


class PartialJobFile(JobFile):
    """What is left of a faulty file: checked as well, so that all faults come at once."""

    format: Literal[1] = 1
    job: str = "job"
    stock: dict[str, StockEntry] = Field(default_factory=dict)
