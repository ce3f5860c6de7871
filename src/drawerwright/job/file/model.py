"""The job file as users write it: every entry with its type, limits, default and description.

The field names are the file's vocabulary; `drawerwright.job.file.building` turns a checked file into the values
that the rooms below work with. What is given without `±` has the usual uncertainty (`drawerwright.basics.usual`), and
so has what is left out, None here where it is itself an uncertainty; `± 0` and `0` say exact.
A default stands here and nowhere else, or in the value type below that is made without a file as well: then it is
read from there. Machines, stock and fronts are in `shop_model`, `stock_model` and `fronts_model`.
`editor_schema` and `docs/write_tables.py` tell editors and docs the same.
"""

from __future__ import annotations

from typing import Annotated, Literal, TypeAlias

from pydantic import ConfigDict, Field

from drawerwright.basics import usual
from drawerwright.basics.lengths import LengthStyle, PaperName, Unit
from drawerwright.drawers.bottom import USUAL_GROOVE_HEIGHT, BottomStyle
from drawerwright.drawers.duty import Contents, Use
from drawerwright.job.file.climate_model import ClimateEntry, SagEntry
from drawerwright.job.file.entry_types import (
    Clearance,
    CutterKind,
    CutterMeasure,
    CutterSlope,
    Entries,
    Id,
    Length,
    Load,
    PlainJointChoice,
    PositiveLength,
    Told,
    TurningSpeed,
    Usual,
)
from drawerwright.job.file.file_units import FileUnit
from drawerwright.job.file.formats import FileFormat
from drawerwright.job.file.fronts_model import FrontsEntry, SideHeights
from drawerwright.job.file.hangers_model import BankHangersEntry, HangersEntry
from drawerwright.job.file.learnt_model import LearntEntry, LearntJointEntry
from drawerwright.job.file.openings_model import AnyOpening, DividedEntry
from drawerwright.job.file.papers_model import LabelsEntry, PricesEntry
from drawerwright.job.file.runner_model import BankRunner, RunnerEntry
from drawerwright.job.file.shop_model import MachineEntry, RatesEntry
from drawerwright.job.file.single_drawers_model import SingleDrawerEntry
from drawerwright.job.file.stock_model import StockEntry
from drawerwright.job.search_time import USUAL_SECONDS
from drawerwright.joints.corner_key import USUAL_ORIENTATION, Orientation
from drawerwright.joints.cutter import UNNAMED
from drawerwright.joints.readings import FitRange
from drawerwright.joints.registry import USUAL
from drawerwright.run.fence_plans import FLUSH, FenceRoutine
from drawerwright.sheets.problem import LATER_AIMS, LaterAim, SheetPreferences
from drawerwright.sheets.sheet_stock import USUAL_LEAST_OFFCUT
from drawerwright.wood.moisture import USUAL_CLIMATE

_FIT = FitRange()
_STYLE = LengthStyle()
_PREFERENCES = SheetPreferences()
MOST_POINTS = 2000
"""Of a measured profile: ten times what a patient reader of gauges takes, and more than any drawing needs."""
MOST_BANKS = 40
"""Equal banks of one row: more than any wall holds."""
MOST_BOXES = 500
"""Equal boxes of one row: more than one shop cuts at a time; each is planned and drawn by itself."""


class CutterMeasures(Entries):
    """A cutter: two measures, or its measured profile, and what is marked on it."""

    id: Id | None = None
    """Its first name, if it has been renamed since; ties its corners and their test cuts to it."""
    kind: CutterKind = USUAL
    """The joint it makes."""
    mid_depth: CutterMeasure | None = None
    """From the cutter's top to its middle; needed unless there is a profile."""
    step: CutterMeasure | None = None
    """Its total inset; needed unless there is a profile."""
    profile: str | None = Field(default=None, min_length=1, max_length=500)
    """A measured profile: a file beside the job file."""
    points: tuple[tuple[Length, Length], ...] | None = Field(default=None, max_length=MOST_POINTS)
    """A measured profile: depth below the top and inset from the largest radius, from the top down."""
    profile_uncertainty: Annotated[Clearance | None, Usual(usual.PROFILE_INSET)] = None
    """Standard uncertainty of each inset of the profile."""
    slope: Annotated[CutterSlope | None, Usual(usual.UNKNOWN_SLOPE)] = None
    """Slope of the slanted part, run over rise."""
    diameter: PositiveLength | None = None
    """Cutting diameter."""
    cutting_height: PositiveLength | None = None
    """Height of the cutting edge."""
    max_speed: TurningSpeed | None = None
    """Top speed marked on it."""


class CutterEntry(CutterMeasures):
    """The only cutter of a job."""

    name: str = UNNAMED
    """Its name."""


class BottomEntry(Entries):
    style: BottomStyle = BottomStyle.CAPTURED
    """`captured` in a groove all round, `slid` in under the back, or `fixed` from below without a groove."""
    stock: str
    """Stock of the bottom."""
    groove_depth: PositiveLength = 6.0
    """Depth of the groove."""
    groove_height: Annotated[PositiveLength | None, Usual(USUAL_GROOVE_HEIGHT)] = None
    """From the sides' lower edges to the groove. A front that reaches below them has its groove higher above
    its own edge by as much. Left out, it is as high as the runner needs, if that is more.
    """
    groove_play: Clearance = 0.2
    """How much wider the groove is than the bottom is thick."""
    clearance: Clearance = 1.5
    """How much smaller the bottom is than its space, in all, each way."""
    oversize: Clearance = 0.0
    """How much longer and wider it is cut, to be trimmed after the dry fit."""


class BandingEntry(Entries):
    thickness: PositiveLength
    """Thickness of the banding; cut sizes are finished sizes less the banding."""
    applied_front: bool = True
    """Whether applied fronts are banded all round."""
    box_top: bool = False
    """Whether the upper edges of the box are banded."""


class MaterialsEntry(Entries):
    """Stock of the box: `all`, and what differs from it."""

    all: str | None = None
    """Stock of all pieces except those named here."""
    front: str | None = None
    """Stock of the front."""
    sides: str | None = None
    """Stock of the sides."""
    back: str | None = None
    """Stock of the back."""


class BankEntry(Entries):
    name: str = Field(min_length=1, max_length=80)
    """Its name."""
    like: str | None = None
    """Another bank by its name; whatever you leave out here is the same as there."""
    count: int = Field(default=1, ge=1, le=MOST_BANKS)
    """Number of equal banks; in a divided carcase they close one column after the other."""
    opening: AnyOpening
    """The opening: a carcase of its own, or one of those of a divided carcase."""
    fronts: FrontsEntry
    """What closes the opening."""
    drawer: bool = True
    """`false`: there is no drawer behind any of the fronts; `fronts.false_fronts` says it of single ones."""
    runner: BankRunner = RunnerEntry()
    """The name of a sheet in `runners`, or the figures themselves; those left out follow from the kind."""
    box: MaterialsEntry
    """Stock of the boxes."""
    cutter: str | None = None
    """The cutter for its corners, if the job has several."""
    joint: PlainJointChoice | None = None
    """Instead of a cutter: the joint of its corners, alone or with its measures, `{kind: finger, finger: 9.5}`."""
    side_height: SideHeights | None = None
    """Height of the sides, or of each drawer's from the top down; by default, and where a list says `rest`, as the
    front allows.
    """
    bottom: BottomEntry | None = None
    """Bottoms of the boxes."""
    banding: BandingEntry | None = None
    """Edge banding."""
    orientation: Orientation = USUAL_ORIENTATION
    """Which pieces lie flat on the router table; `fronts-flat` is usual."""
    load: Load | None = None
    """What lies in each drawer."""
    contents: Contents | None = None
    """Instead of `load`: what fills each drawer."""
    use: Use | None = None
    """How the drawers are used; by default as the job says."""
    climate: str | None = None
    """The climate that they stand in; by default as the job says."""
    single_drawers: tuple[SingleDrawerEntry, ...] = Field(default=(), max_length=60)
    """Drawers that carry something other than the rest, or have another joint."""
    hangers: BankHangersEntry | None = None
    """Rails that folders hang on."""


class OuterEntry(Entries):
    width: PositiveLength | None = None
    """Over the sides; needed, except for a tray that fills its drawer."""
    depth: PositiveLength | None = None
    """Over front and back; needed, except for a tray that fills its drawer."""
    height: PositiveLength
    """Of the sides."""


class BoxEntry(Entries):
    """Plain boxes with outer sizes."""

    name: str = Field(min_length=1, max_length=80)
    """Its name."""
    count: int = Field(default=1, ge=1, le=MOST_BOXES)
    """Number of equal boxes."""
    outer: OuterEntry
    """Outer size."""
    inside: str | None = None
    """The drawer in which it lies as a tray, by its name; a width or depth left out fills that drawer."""
    tray_clearance: Clearance = 2.0
    """How much smaller than the inside of that drawer it then is, in all, each way."""
    lip: Clearance = 0.0
    """How far the front stands beyond each side."""
    lip_right: Clearance | None = None
    """The same beyond the right side, if it differs there."""
    front_height: PositiveLength | None = None
    """Height of the front, its lower edge level with that of the sides; by default as the sides."""
    box: MaterialsEntry
    """Stock of the box."""
    cutter: str | None = None
    """The cutter for its corners, if the job has several."""
    joint: PlainJointChoice | None = None
    """Instead of a cutter: the joint of its corners, alone or with its measures, `{kind: finger, finger: 9.5}`."""
    bottom: BottomEntry | None = None
    """Its bottom."""
    banding: BandingEntry | None = None
    """Edge banding."""
    orientation: Orientation = USUAL_ORIENTATION
    """Which pieces lie flat on the router table; `fronts-flat` is usual."""
    load: Load | None = None
    """What lies in each drawer."""
    contents: Contents | None = None
    """Instead of `load`: what fills each drawer."""
    use: Use | None = None
    """How the drawers are used; by default as the job says."""
    climate: str | None = None
    """The climate that they stand in; by default as the job says."""
    hangers: HangersEntry | None = None
    """Rails that folders hang on."""


FencePlanName: TypeAlias = Literal["fewest", "one", "tooth", "two-position"]


class FenceChoiceEntry(Entries):
    """How to choose fence positions."""

    plan: Annotated[FencePlanName | None, Usual(FenceRoutine.FEWEST)] = None
    """`fewest` positions; `one` for each corner; `tooth`: only the tooth cuts the upright; `two-position`:
    fronts moved out by their lip. A forced plan that breaks a limit is a fault.
    """
    positions: tuple[PositiveLength, ...] = Field(default=(), max_length=40)
    """The only fence settings to use, for instance `[9.05, 16.55]`."""


class FencesEntry(FenceChoiceEntry):
    """The same, and how far a face may stand off flush for one position to serve two."""

    flushness: Clearance = FLUSH
    """How far a face may be off flush for one position to serve two."""


class FitEntry(Entries):
    """The range of play that counts as a fit, and how far faces that should be flush may stand off."""

    least_play: Clearance = _FIT.least_play
    """Least play that counts as a fit."""
    most_play: Clearance = _FIT.most_play
    """Most play that counts as a fit."""
    flushness: Clearance = _FIT.flushness
    """How far faces that should be flush may be off, either way; the lip counts as the corner seats, less if
    it stands proud.
    """


class LeastOffcutEntry(Entries):
    """The smallest offcut worth keeping: its longer side, and its shorter one."""

    length: Annotated[PositiveLength | None, Usual(USUAL_LEAST_OFFCUT)] = None
    """Its longer side (common practice, no source)."""
    width: Annotated[PositiveLength | None, Usual(USUAL_LEAST_OFFCUT)] = None
    """Its shorter side (common practice, no source)."""


class SheetsEntry(Entries):
    time_limit: Annotated[float, Field(gt=0, le=600), Told("number", unit="s")] = USUAL_SECONDS
    """Time limit of the sheet search."""
    later_aims: tuple[LaterAim, ...] = LATER_AIMS
    """How equal-cost plans are ranked, most important first; leave out what does not matter."""
    trim_bands: bool = _PREFERENCES.trim_bands
    """Whether a shorter band may be crosscut together with longer ones and then trimmed: one cut more for each, often
    fewer sheets.
    """
    least_offcut: LeastOffcutEntry = LeastOffcutEntry()
    """The smallest offcut worth keeping. Anything smaller is waste: drawn blank, without size, and not
    carried over to the next day.
    """


class ShownEntry(Entries):
    unit: Unit | None = None
    """Unit of lengths in the output of the command line and in the packet; by default as `units`."""
    decimal: Literal[".", ","] = _STYLE.decimal_sign
    """Decimal sign in that output."""

    step: PositiveLength | None = None
    """Sizes are cut and shown in steps of this; by default 0.1 mm, or 0.005 in if shown in inches. `1/16 in` with a saw
    that cannot be set finer.
    """
    paper: PaperName | None = None
    """Paper of the packet; by default `letter` if shown in inches, else `a4`."""

    def style(self, units: FileUnit) -> LengthStyle:
        """How lengths are written, in a file of these units."""
        return LengthStyle(self.unit or units, self.decimal, step=self.step, stated_paper=self.paper)


class NamedCutterEntry(CutterMeasures):
    """One of several cutters. What it says of bit heights and fences goes before what the job says of all."""

    bit_heights: tuple[PositiveLength, ...] = Field(default=(), max_length=40)
    """The only ones to use with it."""
    fences: FenceChoiceEntry = FenceChoiceEntry()
    """How its fence positions are chosen."""
    learnt: LearntEntry | None = None
    """What accepted test cuts with it have settled."""


class JobFile(Entries):
    """One job: the cutter, several, or none where no joint needs one; machine, stock, and the drawers to make."""

    model_config = ConfigDict(
        json_schema_extra={
            "not": {"required": ["cutter", "cutters"]},
            "anyOf": [
                {"required": [drawers], "properties": {drawers: {"minItems": 1}}}
                for drawers in ("banks", "boxes")
            ],
        }
    )

    format: FileFormat
    """Version of this description."""
    job: str = Field(min_length=1, max_length=120)
    """Name of the job."""
    units: FileUnit = "mm"
    """Unit of numbers that name none, here and in the trial files of the job."""
    shown: ShownEntry = ShownEntry()
    """How lengths are written."""
    cutter: CutterEntry | None = None
    """The only cutter."""
    cutters: dict[str, NamedCutterEntry] = Field(default_factory=dict, min_length=1)
    """Several cutters by name, in the order of use; instead of `cutter`."""
    machine: MachineEntry = MachineEntry()
    """The machines of the shop."""
    stock: dict[str, StockEntry] = Field(min_length=1)
    """Every stock by its name."""
    bit_heights: tuple[PositiveLength, ...] = Field(default=(), max_length=40)
    """The only bit heights to use; each corner takes the one nearest to the recommended height."""
    fences: FencesEntry = FencesEntry()
    """How to choose fence positions."""
    fit: FitEntry = FitEntry()
    """What counts as a fit."""
    learnt: LearntEntry | None = None
    """What accepted test cuts have settled; the app writes this."""
    learnt_joints: tuple[LearntJointEntry, ...] = ()
    """The same of joints without a cutter."""
    sheets: SheetsEntry = SheetsEntry()
    """How to plan sheets."""
    rates: RatesEntry = RatesEntry()
    """How long the work takes."""
    prices: PricesEntry = PricesEntry()
    """What screws, edging and glue cost."""
    labels: LabelsEntry = LabelsEntry()
    """The sheets of labels that you print on."""
    runners: dict[str, RunnerEntry] = Field(default_factory=dict)
    """Sheets of runners by name; banks name them."""
    climates: dict[str, ClimateEntry] = Field(default_factory=dict)
    """Climates of your own by name, next to the usual ones (docs/wood.md)."""
    climate: Annotated[str | None, Usual(USUAL_CLIMATE.name)] = None
    """The climate that the drawers will stand in."""
    use: Use | None = None
    """How the drawers are used."""
    sag: SagEntry = SagEntry()
    """How far bottoms may sag."""
    openings: tuple[DividedEntry, ...] = ()
    """Carcases that are divided or have a face frame."""
    banks: tuple[BankEntry, ...] = ()
    """Openings and everything that closes them."""
    boxes: tuple[BoxEntry, ...] = ()
    """Plain boxes with outer sizes."""
    days: tuple[tuple[str, ...], ...] = ()
    """The drawers of each day: banks, boxes or single drawers by name."""


class PartialJobFile(JobFile):
    """What is left of a faulty file: checked as well, so that all faults come at once."""

    format: FileFormat = 1
    job: str = "job"
    stock: dict[str, StockEntry] = Field(default_factory=dict)
