"""One corner: its settings, and how it seats at any other."""

from __future__ import annotations

from dataclasses import dataclass, field
from os import PathLike
from pathlib import Path
from typing import Literal

from drawerwright.basics.declared import checked
from drawerwright.basics.findings import Finding
from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.fitting import FittedCorner, fit_corner, fit_text
from drawerwright.job.one_corner import SettledCorner, settle_corner, settled_text
from drawerwright.job.pictures.corner_pictures import drawn_corner, drawn_seating
from drawerwright.job.pictures.drawing import Drawing
from drawerwright.joints.corner import Gap
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.readings import FitRange
from drawerwright.joints.setting import FenceRule
from drawerwright.joints.table import RouterTable
from drawerwright.joints.wanted import Wanted


@dataclass(frozen=True, slots=True)
class CornerSettings:
    """What to dial in for a corner, and what comes of it. Lengths in mm, odds from 0 to 1.

    Printed it tells the settings as `drawerwright settings` does; a notebook draws the corner in section.
    """

    cutter: Cutter
    wanted: Wanted
    settled: SettledCorner = field(repr=False)

    @property
    def bit_height(self) -> Mm:
        """Top of the cutter above the table: the height with the best odds of the wanted play."""
        return self.settled.recommended.bit_height

    @property
    def tight_bit_height(self) -> Mm:
        """The height of the law (docs/law.md), at which a drawer-lock corner has no play."""
        return self.settled.tight.bit_height

    @property
    def fence_flat(self) -> Mm:
        """Fence setting for the flat piece: how far the cutter stands out of the fence."""
        return self.settled.recommended.fence_flat

    @property
    def fence_upright(self) -> Mm:
        """The same for the upright piece."""
        return self.settled.recommended.fence_upright

    @property
    def height_shown(self) -> Mm:
        """What the height gauge has to show."""
        return self.settled.table.height_reading(self.bit_height)

    @property
    def fence_flat_shown(self) -> Mm:
        """What the fence scale has to show for the flat piece."""
        return self.settled.table.fence_reading(self.fence_flat)

    @property
    def fence_upright_shown(self) -> Mm:
        """What the fence scale has to show for the upright piece."""
        return self.settled.table.fence_reading(self.fence_upright)

    @property
    def play(self) -> Mm | None:
        """How far the upright can move along its length; None for a lock-mitre."""
        return self.settled.recommended.play

    @property
    def lip(self) -> Mm:
        """How far the flat piece's end stands beyond the upright's outer face."""
        return self.settled.recommended.lip

    @property
    def neck(self) -> Mm:
        """Thinnest part of the upright piece."""
        return self.settled.recommended.neck

    @property
    def roof(self) -> Mm:
        """What is left of the flat piece over the cut."""
        return self.settled.recommended.roof

    @property
    def upright_length(self) -> Mm | None:
        """Length of the upright piece between two such corners, or the width of a panel's boards; None where no outer
        size was given."""
        return self.settled.size

    @property
    def odds(self) -> float | None:
        """Probability that the first cut fits, by what is in doubt; None where everything is exact."""
        odds = self.settled.odds
        return odds.odds.both if odds.is_judged else None

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What is doubtful about the corner."""
        return self.settled.findings

    @property
    def drawing(self) -> Drawing:
        """The corner in section, with its dimensions."""
        return drawn_corner(self.settled.recommended)

    def __str__(self) -> str:
        return settled_text(self.settled, LengthStyle())

    def _repr_svg_(self) -> str:
        return self.drawing.svg


@checked
def corner(
    cutter: Cutter,
    flat: Estimate | float,
    upright: Estimate | float,
    *,
    lip: Mm = 0.0,
    fence: Literal["one", "tooth"] | Mm = "one",
    table: RouterTable | None = None,
    fit: FitRange | None = None,
    outer: Mm | None = None,
    other_flat: Mm | None = None,
    boards: int = 2,
) -> CornerSettings:
    """Settings of one corner.

    The law that they follow is explained, with its source, in docs/law.md.

    Args:
        cutter: its measures; a plain number gets the usual uncertainty.
        flat: measured thickness of the piece that lies flat on the table (mm).
        upright: measured thickness of the piece that stands on its end (mm).
        lip: how far the flat piece's end stands beyond the upright's outer face (mm).
        fence: `"one"` fence setting for both pieces, `"tooth"` for only the tooth in the upright piece, or the fence
            setting of the upright piece (mm).
        table: gauges of the router table, and how well a setting comes back.
        fit: how much play counts as a fit, and how far the lip may be off.
        outer: finished size over both flat pieces (mm), for the length of the upright piece between them; of boards
            joined edge to edge (a cutter of kind "edge"), the width of the panel.
        other_flat: thickness of the flat piece at the far end (mm), where it differs.
        boards: how many boards make the panel.

    Raises:
        DrawerwrightError: a measure cannot be meant; the text says which, and what to change.
    """
    rule = FenceRule(fence) if isinstance(fence, str) else fence
    wanted = Wanted(flat, upright, lip, rule, fit or FitRange())
    settled = settle_corner(cutter, wanted, table, outer=outer, other_flat=other_flat, boards=boards)
    return CornerSettings(cutter, wanted, settled)


@dataclass(frozen=True, slots=True)
class SeatedCorner:
    """What the wood does at a setting. Lengths in mm.

    Printed it tells what `drawerwright fit` does; a notebook draws the corner pressed home and pulled, each gap with
    its width.
    """

    fitted: FittedCorner = field(repr=False)

    @property
    def closes(self) -> bool:
        """Whether the upright goes home."""
        return self.fitted.fit.closes

    @property
    def stands_proud(self) -> Mm:
        """How far the upright stays out of its seat."""
        return self.fitted.fit.stands_proud

    @property
    def play(self) -> Mm:
        """How far the seated upright can still move along its length."""
        return self.fitted.fit.play

    @property
    def lip(self) -> Mm:
        """How far the flat piece's end stands beyond the upright's outer face, as the corner seats."""
        return self.fitted.fit.lip

    @property
    def is_held(self) -> bool:
        """Whether a hook keeps the upright from being pulled out along its length."""
        return self.fitted.fit.is_held

    @property
    def gaps(self) -> tuple[Gap, ...]:
        """The gaps that show when it is pressed home: `place`, `width` (mm), `area` (mm²), `outline`."""
        return self.fitted.fit.pressed.gaps

    @property
    def gaps_when_pulled(self) -> tuple[Gap, ...]:
        """The same when it is pulled."""
        return self.fitted.fit.pulled.gaps

    @property
    def touches_at(self) -> tuple[str, ...]:
        """Where the pieces touch when pressed home."""
        return self.fitted.fit.touches_at

    @property
    def drawing(self) -> Drawing:
        """The corner as it seats, pressed home and pulled."""
        return drawn_seating(self.fitted.fit)

    def __str__(self) -> str:
        return fit_text(self.fitted, LengthStyle())

    def _repr_svg_(self) -> str:
        return self.drawing.svg


@checked
def fit(
    cutter: Cutter | str | PathLike[str],
    flat: Estimate | Mm,
    upright: Estimate | Mm,
    *,
    bit_height: Mm,
    fence_flat: Mm,
    fence_upright: Mm,
    profile_uncertainty: Mm | None = None,
) -> SeatedCorner:
    """How a corner seats at any height and fence settings: true sizes, whatever the gauges show.

    Nothing of an ideal joint is assumed: the cut faces are slid together until they touch (docs/joints.md).

    Args:
        cutter: its measures, or the path of a measured profile (CSV or DXF, docs/joints.md).
        flat: thickness of the flat piece (mm).
        upright: thickness of the upright piece (mm).
        bit_height: top of the cutter above the table (mm).
        fence_flat: fence setting of the flat piece (mm).
        fence_upright: fence setting of the upright piece (mm).
        profile_uncertainty: standard uncertainty of each inset of a measured profile (mm); 0 for exact, the usual one
            where nothing is said.

    Raises:
        DrawerwrightError: the profile cannot be read, a thickness is none, or the cutter does not reach the wood.
    """
    measured = cutter if isinstance(cutter, Cutter) else Path(cutter)
    thicknesses = float(flat), float(upright)
    settings = bit_height, fence_flat, fence_upright
    return SeatedCorner(
        fit_corner(measured, *thicknesses, *settings, profile_uncertainty=profile_uncertainty)
    )
