"""What is done in the shop, as values. A step's text is written from them, and they alone are enough to do it.

Lengths in mm. On a sheet everything lies as drawn, the inside faces of its bands up; a band's front edge, where it is
marked, is the left or lower one. A part is named as in the parts list.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase
from drawerwright.drawers.bottom import BottomStyle
from drawerwright.drawers.groove_levels import GrooveLevels
from drawerwright.drawers.hangers import HungRails
from drawerwright.drawers.parts import PartEnd, Role
from drawerwright.drawers.runner_cuts import Hole, Notch
from drawerwright.drawers.scoop import Scoop
from drawerwright.joints.corner_key import CornerKey
from drawerwright.joints.joint import joint_named
from drawerwright.joints.readings import Reading
from drawerwright.joints.setting import CornerSetting
from drawerwright.joints.table import USUAL_FEED, Feed
from drawerwright.run.marks import BandMark, LooseMark, PartName
from drawerwright.run.setups import Edges
from drawerwright.run.speeds import SpeedAdvice
from drawerwright.sheets.patterns import Cut
from drawerwright.sheets.sheet_stock import SheetSize


@dataclass(frozen=True, slots=True)
class MeasureKerf:
    """Make lengthwise cuts in a strip of scrap: by how much (mm) all its pieces together must have become narrower."""

    cuts: int
    lost: Mm


@dataclass(frozen=True, slots=True)
class CheckSheet:
    """What is left of a sheet once its edges are trimmed must be square, and at least so long and wide (mm)."""

    stock: str
    number: int
    length: Mm
    width: Mm


@dataclass(frozen=True, slots=True)
class FetchSheet:
    """Fetch a sheet or offcut from the rack: `number` counts this stock's sheets from 1. `stack` are the numbers of the
    sheets that lie on each other from then on, its own among them."""

    stock: str
    number: int
    size: SheetSize
    stack: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class SetSaw:
    """Set fence or stop to `length` (mm) from the blade; a crosscut runs across the sheet's length."""

    length: Mm
    is_crosscut: bool


@dataclass(frozen=True, slots=True)
class CutSheet:
    """Saw what has come of one sheet, at the saw as it is set: its numbered cuts in their order.

    What comes free for good is marked as it lies there. Trims need no setting.
    """

    stock: str
    number: int
    """Of this stock's sheets, from 1."""
    cuts: tuple[Cut, ...]
    trims: tuple[int, ...]
    """Numbers of those cuts that trim a band which lies in a wider column."""
    bands: tuple[BandMark, ...]
    loose: tuple[LooseMark, ...]
    stack: tuple[int, ...]
    """As when it was fetched: all sheets of a stack are cut at once."""


@dataclass(frozen=True, slots=True)
class ChangeCutter:
    """Put a cutter into the router, in the place of the one that it `takes_out` (None: the first of the job).

    `diameter` (mm) and `advice` on its speed are None where they are not known.
    """

    cutter: str
    takes_out: str | None
    diameter: Mm | None
    advice: SpeedAdvice | None


@dataclass(frozen=True, slots=True)
class SetRouter:
    """Set bit height and fence, true and as the gauges show it."""

    bit_height: Mm
    fence: Mm
    height_reading: Mm
    fence_reading: Mm
    keeps_height: bool
    corner: CornerSetting
    """One of those that are cut here; all have the one cutter and the one height."""
    feed: Feed = USUAL_FEED


@dataclass(frozen=True, slots=True)
class CutTrialPieces:
    """Cut two scraps and measure them; `is_whole` when both pieces of a corner are cut here and can be tried."""

    readings: tuple[Reading, ...]
    is_whole: bool
    scraps: tuple[Phrase, ...] = ()
    """Of which stock they are, and which to keep."""


@dataclass(frozen=True, slots=True)
class Rout:
    """Rout bands that are alike at the router as it is set, held by their `role` as their joint asks for.

    `needs_backing` where a band has no sacrificial strip at one of its ends, or at none: a scrap behind it takes the
    tear-out.
    """

    role: Role
    edges: Edges
    bands: tuple[BandMark, ...]
    needs_backing: bool
    joint: str
    times: int
    """How often an edge goes past the cutter."""


@dataclass(frozen=True, slots=True)
class CutBandEdges:
    """Cut the edges of bands for a joint without a self-mating cutter; else as `Rout`.

    `figures` (mm) and `words` say what is cut.
    """

    role: Role
    edges: Edges
    bands: tuple[BandMark, ...]
    needs_backing: bool
    joint: str
    figures: tuple[Mm, ...]
    words: Phrase

    @property
    def times(self) -> int:
        """How often an edge goes past the cutter."""
        return joint_named(self.joint).passes

    @property
    def passes(self) -> int:
        """How often bands go past the cutter."""
        return len(self.bands) * self.edges.how_many * self.times

    @property
    def metres(self) -> float:
        """Metres of edge that go past it."""
        times = self.edges.how_many * self.times
        return sum(band.placed.width for band in self.bands) * times / 1000


@dataclass(frozen=True, slots=True)
class RipCut:
    """One numbered cut of a sheet: what it frees from a band (None: a sacrificial strip), and what is left of the band
    when this was its last cut (`leaves`, None also where only waste is left or more cuts come)."""

    band: BandMark
    number: int
    frees: PartName | None
    leaves: PartName | None = None


@dataclass(frozen=True, slots=True)
class Rip:
    """All cuts at one setting of the saw's fence. Along the fence runs the end of the band at which it is drawn to
    begin: the left or lower one."""

    fence: Mm
    cuts: tuple[RipCut, ...]


@dataclass(frozen=True, slots=True)
class TakeWhole:
    """Bands that are no wider than their only part: nothing to rip."""

    bands: tuple[BandMark, ...]


@dataclass(frozen=True, slots=True)
class GroovePass:
    """A part over the groove cutter: inside face down, lower edge along the fence on the right. `first` is the end that
    goes in first; None where either may."""

    part: PartName
    first: PartEnd | None


@dataclass(frozen=True, slots=True)
class CutGrooves:
    """All grooves at one setting: near side above the lower edge, width, depth. `levels` are those of its fronts
    that are grooved at another height than the sides of their drawers."""

    height: Mm
    width: Mm
    depth: Mm
    passes: tuple[GroovePass, ...]
    levels: tuple[GrooveLevels, ...] = ()


@dataclass(frozen=True, slots=True)
class CheckBottoms:
    """Bottoms of one size, as they left the saw."""

    parts: tuple[PartName, ...]
    length: Mm
    width: Mm


@dataclass(frozen=True, slots=True)
class TrimParts:
    """Trim parts that were cut larger to their size (mm), once a drawer is dry-fitted."""

    parts: tuple[PartName, ...]
    length: Mm
    width: Mm
    oversize: Mm


@dataclass(frozen=True, slots=True)
class BandEdges:
    """Glue on edging: all round, or on the upper edge alone. `length` (mm) is what it takes; `is_handed` when there are
    left and right sides among the parts whose upper edges are not the same."""

    parts: tuple[PartName, ...]
    is_all_round: bool
    thickness: Mm
    length: Mm
    is_handed: bool


@dataclass(frozen=True, slots=True)
class Bore:
    """A hole through a front: from its left edge and above its lower edge, as it hangs and seen from outside.

    `front_width` is that of the front as it hangs, which tells how it does.
    """

    part: PartName
    front_width: Mm
    from_left: Mm
    above_lower: Mm
    diameter: Mm


@dataclass(frozen=True, slots=True)
class NotchBacks:
    """Cut notches in the lower edge of backs that are alike: where each begins and ends from the left end as seen from
    behind, and how high it is above the lower edge."""

    parts: tuple[PartName, ...]
    notches: tuple[Notch, ...]


@dataclass(frozen=True, slots=True)
class BoreBacks:
    """Bore holes for the runners' hooks into the outer faces of backs that are alike, places as in `NotchBacks`."""

    parts: tuple[PartName, ...]
    holes: tuple[Hole, ...]


@dataclass(frozen=True, slots=True)
class CutScoops:
    """Cut a scoop into the middle of the upper edge of fronts that get the same."""

    parts: tuple[PartName, ...]
    scoop: Scoop


@dataclass(frozen=True, slots=True)
class MakeJoints:
    """What corners need at the bench: what is said of it, and the drawers whose corners they are. Where it `is_setting`
    the machine is set for them, and tried on scraps."""

    lines: tuple[Phrase, ...]
    drawers: tuple[str, ...]
    corners: tuple[CornerKey, ...] = ()
    is_setting: bool = False


@dataclass(frozen=True, slots=True)
class GlueUp:
    """Glue up drawers that have one kind of joint, and bottoms of these styles.

    `slots`: the room that the screws of slid bottoms need, before and behind them (mm); None where holes do.
    """

    drawers: tuple[str, ...]
    bottoms: frozenset[BottomStyle]
    joint: str
    slots: tuple[Mm, Mm] | None = None


@dataclass(frozen=True, slots=True)
class FitRunner:
    """A runner's line above the lower edge of the opening, and of the carcase that this is a part of."""

    drawer: str
    height: Mm
    above_carcase: Mm


@dataclass(frozen=True, slots=True)
class ScrewOnFronts:
    """Fasten applied fronts that sit alike on their boxes: how far each stands beyond the outer faces of the left and
    the right side, below their lower edges and above their upper ones (mm)."""

    parts: tuple[PartName, ...]
    left: Mm
    right: Mm
    below: Mm
    above: Mm


@dataclass(frozen=True, slots=True)
class FixFalseFront:
    """Fasten a front without a drawer in its opening: where its lower left corner is from that of the opening (mm)."""

    part: PartName
    x: Mm
    z: Mm


@dataclass(frozen=True, slots=True)
class HangRails:
    """Fix two rails for folders in drawers that get the same."""

    drawers: tuple[str, ...]
    rails: HungRails


Work: TypeAlias = (
    MeasureKerf
    | FetchSheet
    | CheckSheet
    | SetSaw
    | CutSheet
    | ChangeCutter
    | SetRouter
    | CutTrialPieces
    | Rout
    | CutBandEdges
    | Rip
    | TakeWhole
    | CutGrooves
    | CheckBottoms
    | TrimParts
    | BandEdges
    | Bore
    | NotchBacks
    | BoreBacks
    | CutScoops
    | MakeJoints
    | GlueUp
    | FitRunner
    | ScrewOnFronts
    | FixFalseFront
    | HangRails
)
"""One thing to do."""
