"""What is in doubt before a cut: every physical cause once, and the corner's figures as functions of them.

One physical cause is one variable. Everything that is cut at one setting shares the cutter's measures, the
gauges' offsets and the errors of dialling in; pieces cut at one fence position share the error of that position,
so a corner with one setting for both pieces has it twice. Only how thick the wood is at the very place of a joint
belongs to that joint alone.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from drawerwright.basics import usual
from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.basics.uncertain import Cause, Estimate, Origin, Propagated, propagate
from drawerwright.joints import law
from drawerwright.joints.cutter import STEEPEST, Cutter
from drawerwright.joints.readings import FitRange
from drawerwright.joints.setting import CornerSetting
from drawerwright.joints.table import RouterTable

MID_DEPTH, STEP, SLOPE = "mid depth", "step", "slope"
HEIGHT_GAUGE, FENCE_GAUGE, CALIPERS = "height gauge", "fence gauge", "calipers"
FLAT_PLACE, UPRIGHT_PLACE = "flat piece at this place", "upright piece at this place"


@dataclass(frozen=True, slots=True)
class Board:
    """What is known of a stock's thickness.

    mean: of the sheet that is cut, with its standard uncertainty (mm), the calipers' own error left out.
    scatter: how far single places stand off that mean (standard deviation, mm), and whether that is assumed.
    by_calipers: whether the shop's calipers measured it, so that their error belongs to it.
    """

    name: str
    mean: Estimate
    scatter: Mm = 0.0
    by_calipers: bool = True
    scatter_is_assumed: bool = False

    @property
    def key(self) -> str:
        """Name of the cause that is its mean."""
        return f"thickness of {self.name}"


@dataclass(frozen=True, slots=True)
class CutCorner:
    """A corner as it is going to be cut: the setting that is wanted, and the stock of its two pieces."""

    setting: CornerSetting
    flat: Board
    upright: Board

    @property
    def height_key(self) -> str:
        """Name of the cause that is the error of dialling in the bit height."""
        return f"height dialled to {self.setting.bit_height:.4f}"

    @property
    def fence_keys(self) -> tuple[str, str]:
        """The same for the fence, flat and upright piece. Positions that no fence tells apart are one."""
        fences = (self.setting.fence_flat, self.setting.fence_upright)
        flat, upright = (f"fence dialled to {fence:.4f}" for fence in fences)
        return flat, upright


@dataclass(frozen=True, slots=True)
class Doubt:
    """A cause of doubt in the words of the shop, what makes it smaller, and whether nobody has stated it."""

    cause: Cause
    what: str
    remedy: str
    is_assumed: bool = False

    @classmethod
    def of(cls, name: str, known: Estimate, what: str, remedy: str) -> Doubt:
        """A cause that is known by value and standard uncertainty."""
        return cls(Cause.normal(name, known), what, remedy, known.is_assumed)


@dataclass(frozen=True, slots=True)
class FirstCut:
    """What all corners of a batch share: cutter, machine, calipers, and what counts as a fit.

    calipers: standard uncertainty of the zero of the shop's calipers (mm), None when nobody has said.
    """

    cutter: Cutter
    table: RouterTable
    fit: FitRange = field(default_factory=FitRange)
    calipers: Mm | None = None

    @property
    def has_play(self) -> bool:
        """Whether there is play to choose, so that a bit too high keeps a corner open."""
        return self.cutter.mating.has_play

    def shared_doubts(self, corners: Iterable[CutCorner]) -> tuple[Doubt, ...]:
        """Every cause that corners cut together have in common, each once."""
        corners = tuple(corners)
        heights = dict.fromkeys(corner.height_key for corner in corners)
        fences = dict.fromkeys(key for corner in corners for key in corner.fence_keys)
        boards = dict.fromkeys(board for corner in corners for board in (corner.flat, corner.upright))
        return (
            *self._measures(),
            *(self._dialled(key, phrase("dialling in the bit height")) for key in heights),
            *(self._dialled(key, phrase("dialling in the fence")) for key in fences),
            *(
                Doubt.of(
                    board.key,
                    board.mean,
                    phrase("the thickness of {stock}", stock=board.name),
                    phrase("measure {stock} at several places of each sheet", stock=board.name),
                )
                for board in boards
            ),
        )

    def _measures(self) -> tuple[Doubt, ...]:
        cutter, table = self.cutter, self.table
        return (
            Doubt.of(
                MID_DEPTH,
                cutter.mid_depth,
                phrase("the cutter's mid depth"),
                phrase("measure the mid depth again, or make a test cut"),
            ),
            Doubt.of(
                STEP,
                cutter.step,
                phrase("the cutter's step"),
                phrase("measure the step again, or make a test cut"),
            ),
            Doubt.of(
                SLOPE,
                cutter.slope,
                phrase("the cutter's slope"),
                phrase("measure the slope on a test piece"),
            ),
            Doubt.of(
                HEIGHT_GAUGE,
                apart(table.height_gauge, table.height_correlation),
                phrase("the height gauge's offset"),
                phrase("check the height gauge against a block of known height"),
            ),
            Doubt.of(
                FENCE_GAUGE,
                apart(table.fence_gauge, table.fence_correlation),
                phrase("the fence scale's offset"),
                phrase("check the fence scale against the deepest cut of a test piece"),
            ),
            Doubt.of(
                CALIPERS,
                Estimate.given(0.0, self.calipers, usual=usual.CALIPERS_ZERO),
                phrase("the calipers' zero"),
                phrase("check the calipers on something of known thickness"),
            ),
        )

    def _dialled(self, key: str, what: str) -> Doubt:
        return Doubt.of(
            key,
            self.table.dialling,
            what,
            phrase("approach each setting from the same side, lock it, and read the gauge again"),
        )

    @staticmethod
    def own_doubts(corner: CutCorner) -> tuple[Doubt, ...]:
        """The causes that belong to one joint alone."""
        return tuple(
            Doubt.of(
                key,
                Estimate(0.0, board.scatter, Origin.ASSUMED if board.scatter_is_assumed else Origin.STATED),
                phrase("how {stock} varies within the sheet", stock=board.name),
                phrase("cut the pieces of a corner from the same part of the sheet"),
            )
            for key, board in ((FLAT_PLACE, corner.flat), (UPRIGHT_PLACE, corner.upright))
        )

    def doubts(self, corner: CutCorner) -> tuple[Doubt, ...]:
        """Every cause of doubt about one corner."""
        return (*self.shared_doubts([corner]), *self.own_doubts(corner))

    def propagated(self, corner: CutCorner, figure: str) -> Propagated:
        """One of a corner's `figures` by first-order propagation."""
        causes = [doubt.cause for doubt in self.doubts(corner)]
        return propagate(lambda at: self.figures(corner, at)[figure], causes)

    def figures(self, corner: CutCorner, at: Mapping[str, Any]) -> dict[str, Any]:
        """What a corner becomes when the causes have these values, numbers or arrays (mm).

        `misfit`, the `gap` that it leaves (play; seen at roof and shoulder when pulled), how far the upright
        `stands_proud`, the `fence_lip` that the fences make, and the `lip` of the corner as it seats: less where it
        stands proud. Without the causes of its own places the corner is one of the mean sheet.
        """
        setting, cutter, table = corner.setting, self.cutter, self.table
        mid_depth, step = at[MID_DEPTH], at[STEP]
        height_gauge = at[HEIGHT_GAUGE] + follows(
            table.height_gauge, cutter.mid_depth, table.height_correlation, mid_depth
        )
        fence_gauge = at[FENCE_GAUGE] + follows(table.fence_gauge, cutter.step, table.fence_correlation, step)
        height = table.height_reading(setting.bit_height) - height_gauge + at[corner.height_key]
        fence_flat, fence_upright = (
            table.fence_reading(fence) - fence_gauge + at[key]
            for fence, key in zip((setting.fence_flat, setting.fence_upright), corner.fence_keys, strict=True)
        )
        flat, upright = (
            at[board.key] + at.get(place, 0.0) - (at[CALIPERS] if board.by_calipers else 0.0)
            for place, board in ((FLAT_PLACE, corner.flat), (UPRIGHT_PLACE, corner.upright))
        )
        slope = np.minimum(at[SLOPE], STEEPEST) if cutter.slope.uncertainty else at[SLOPE]
        mating = cutter.mating
        proud = mating.stands_proud(height, mid_depth, step, slope)
        fence_lip = law.lip(fence_flat, fence_upright, mating.span(upright, step), step)
        return {
            "misfit": mating.misfit(height, mid_depth, flat),
            "gap": mating.play(height, mid_depth),
            "stands_proud": proud,
            "fence_lip": fence_lip,
            "lip": fence_lip - proud,
        }


def apart(known: Estimate, correlation: float) -> Estimate:
    """What is in doubt of one thing apart from what follows from another that it is correlated with."""
    return replace(known, uncertainty=known.uncertainty * math.sqrt(1 - correlation**2))


def follows(known: Estimate, other: Estimate, correlation: float, at: Any) -> Any:
    """By how much one thing moves on when another that it is correlated with is `at` a value (mm)."""
    if not correlation or not other.uncertainty:
        return 0.0
    return correlation * known.uncertainty / other.uncertainty * (at - other.value)
