"""What can be read on two test pieces and on the corner they make.

Each reading is a function of one corner as it was really cut: a `CornerSetting` that holds the true bit height,
fence settings, thicknesses and cutter. The same functions give the readings to expect (with the wanted setting),
their tolerance, and the rows by which a test cut is evaluated (`drawerwright.joints.learning`).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum

from drawerwright.basics.declared import checked
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.joints import law
from drawerwright.joints.mating import Mating
from drawerwright.joints.setting import CornerSetting

LEAST_READING: Mm = 0.01
"""Less wood than this cannot be measured."""


class ReadingKind(StrEnum):
    """What is read. Lengths in mm."""

    ROOF = "roof"
    DEEPEST_CUT = "deepest_cut"
    SHALLOW_CUT = "shallow_cut"
    NECK = "neck"
    HEAD = "head"
    TIP_TO_SLOPE = "tip_to_slope"
    CUT_AT_TABLE = "cut_at_table"
    TIP_AT_TABLE = "tip_at_table"
    PLAY = "play"
    SHOULDER_GAP = "shoulder_gap"
    STANDS_PROUD = "stands_proud"
    LIP = "lip"
    TIP_STEP = "tip_step"
    TURN_OVER = "turn_over"
    OVERLAP = "overlap"
    CUT_HEIGHT = "cut_height"
    TOP_TO_SLOPE = "top_to_slope"
    CUT_STEP = "cut_step"


@dataclass(frozen=True, slots=True)
class ReadingRule:
    """How a kind of reading is taken, and what it equals. Which of them a joint has, its kind says
    (`drawerwright.joints.joint`).

    `is_seen_when_positive` marks what can only be seen on one side of the right setting: `value` is then the
    signed quantity, of which the wood shows the positive part.
    """

    kind: ReadingKind
    piece: str
    what: str
    value: Callable[[CornerSetting], Mm]
    is_seen_when_positive: bool = False


@dataclass(frozen=True, slots=True)
class Reading:
    """A reading to expect: on which piece, what, how much (mm)."""

    piece: str
    what: str
    value: Mm
    kind: ReadingKind


@checked
@dataclass(frozen=True, slots=True)
class FitRange:
    """What counts as a fit: the play (mm) that a drawer-lock corner may have, and how far faces that should be
    flush may stand off (mm, either way)."""

    least_play: Mm = 0.0
    most_play: Mm = 0.15
    flushness: Mm = 0.1

    def __post_init__(self) -> None:
        if not 0 <= self.least_play < self.most_play:
            raise InvalidValueError(
                phrase(
                    "the play that counts as a fit must run from 0 or more to something larger, not from "
                    "{least_play} to {most_play}",
                    least_play=millimetres(self.least_play, "g", with_unit=False),
                    most_play=millimetres(self.most_play, "g"),
                )
            )
        if self.flushness <= 0:
            raise InvalidValueError(
                phrase(
                    "the flushness must be more than 0, not {flushness}",
                    flushness=millimetres(self.flushness, "g"),
                )
            )

    def misfits(self, mating: Mating) -> tuple[Mm, Mm]:
        """Lowest and highest `misfit` that fits."""
        return mating.fitting(self.least_play, self.most_play, self.flushness)

    def best_misfit(self, mating: Mating) -> Mm:
        """The misfit to aim at: errors of setting are as likely one way as the other, so the middle has the
        best odds whatever their size."""
        low, high = self.misfits(mating)
        return (low + high) / 2


def misfit(setting: CornerSetting) -> Mm:
    """How far a corner is from closing exactly (mm): negative is too low, positive too high (`Mating.misfit`)."""
    cutter = setting.cutter
    return cutter.mating.misfit(setting.bit_height, cutter.mid_depth.value, setting.corner.flat_thickness)


def height_for_misfit(setting: CornerSetting, wanted: Mm) -> Mm:
    """The bit height at which this cutter and flat piece have a misfit (mm)."""
    right = setting.cutter.bit_height(setting.corner.flat_thickness)
    per_mm = misfit(replace(setting, bit_height=right + 1)) - misfit(replace(setting, bit_height=right))
    return right + wanted / per_mm


def _signed_proud(setting: CornerSetting) -> Mm:
    """`stands_proud` without its limits: below zero the wood shows play instead, above the step nothing more."""
    return misfit(setting) * law.run_over_rise(setting.cutter.slope_angle)


def _at_table(setting: CornerSetting) -> Mm:
    return setting.cutter.profile().inset(setting.bit_height)


RULES: dict[ReadingKind, ReadingRule] = {
    rule.kind: rule
    for rule in (
        ReadingRule(ReadingKind.ROOF, phrase("flat"), phrase("roof, left over the cut"), lambda s: s.roof),
        ReadingRule(
            ReadingKind.DEEPEST_CUT,
            phrase("flat"),
            phrase("deepest cut from the end"),
            lambda s: s.fence_flat,
        ),
        ReadingRule(
            ReadingKind.SHALLOW_CUT,
            phrase("flat"),
            phrase("shallow cut from the end"),
            lambda s: law.other_setting(s.fence_flat, s.cutter.step.value),
        ),
        ReadingRule(ReadingKind.NECK, phrase("upright"), phrase("neck, thinnest part"), lambda s: s.neck),
        ReadingRule(
            ReadingKind.HEAD, phrase("upright"), phrase("head, thickness at the tip"), lambda s: s.head
        ),
        ReadingRule(
            ReadingKind.TIP_TO_SLOPE,
            phrase("upright"),
            phrase("tip to the middle of the slope"),
            lambda s: s.bit_height - s.cutter.mid_depth.value,
        ),
        ReadingRule(
            ReadingKind.CUT_AT_TABLE,
            phrase("flat"),
            phrase("cut at table level, from the end"),
            lambda s: law.cut(s.fence_flat, _at_table(s)),
        ),
        ReadingRule(
            ReadingKind.TIP_AT_TABLE,
            phrase("upright"),
            phrase("tip, left at table level"),
            lambda s: law.neck(s.corner.upright_thickness, s.fence_upright) + _at_table(s),
        ),
        ReadingRule(
            ReadingKind.PLAY,
            phrase("corner"),
            phrase("play along the upright piece"),
            lambda s: -misfit(s),
            True,
        ),
        ReadingRule(
            ReadingKind.SHOULDER_GAP,
            phrase("corner"),
            phrase("gap at the shoulder when pulled"),
            lambda s: -misfit(s),
            True,
        ),
        ReadingRule(
            ReadingKind.STANDS_PROUD,
            phrase("corner"),
            phrase("upright stands proud of its seat"),
            _signed_proud,
            True,
        ),
        ReadingRule(
            ReadingKind.LIP,
            phrase("corner"),
            phrase("lip: flat piece's end beyond the upright"),
            lambda s: s.seated_lip,
        ),
        ReadingRule(
            ReadingKind.TIP_STEP,
            phrase("corner"),
            phrase("tip beyond the flat piece's outer face"),
            lambda s: misfit(s),
        ),
        ReadingRule(
            ReadingKind.TURN_OVER,
            phrase("two scraps"),
            phrase("how far one stands above the other, both cut flat, one turned over and slid in"),
            lambda s: law.tip_step(s.bit_height, s.cutter.mid_depth.value, s.corner.flat_thickness),
        ),
        ReadingRule(
            ReadingKind.OVERLAP,
            phrase("two scraps"),
            phrase("how much shorter than end to end, both cut flat, one turned over and slid in"),
            lambda s: law.overlap(s.fence_flat, s.fence_flat, s.cutter.step.value) - s.stands_proud,
        ),
        ReadingRule(
            ReadingKind.CUT_HEIGHT,
            phrase("section"),
            phrase("height of the cut"),
            lambda s: s.bit_height,
        ),
        ReadingRule(
            ReadingKind.TOP_TO_SLOPE,
            phrase("section"),
            phrase("top of the cut to the middle of the slope"),
            lambda s: s.cutter.mid_depth.value,
        ),
        ReadingRule(
            ReadingKind.CUT_STEP,
            phrase("section"),
            phrase("step of the cut"),
            lambda s: s.cutter.step.value,
        ),
    )
}
"""Every reading. Two scraps cut flat, one of them turned over, make a joint edge to edge. Where the cutter goes through
them the turned one stands above the other by twice the error of centring (`turn_over`), which a fingertip feels; with
any cutter they are shorter together than end to end by twice the fence setting less the step (`overlap`)."""

CARD_KINDS = (
    ReadingKind.ROOF,
    ReadingKind.DEEPEST_CUT,
    ReadingKind.SHALLOW_CUT,
    ReadingKind.NECK,
    ReadingKind.HEAD,
    ReadingKind.TIP_TO_SLOPE,
    ReadingKind.CUT_AT_TABLE,
    ReadingKind.TIP_AT_TABLE,
)
"""What calipers read on the loose test pieces."""

SECTION_KINDS = (
    ReadingKind.CUT_HEIGHT,
    ReadingKind.TOP_TO_SLOPE,
    ReadingKind.CUT_STEP,
    ReadingKind.TIP_TO_SLOPE,
)
"""What the picture of a section tells of every self-mating joint; calipers read most of it only roundabout."""

STEPS_BETWEEN_FACES = (ReadingKind.TURN_OVER, ReadingKind.TIP_STEP)
"""What is felt with a fingertip where a wrong height shows as a step, either way."""
