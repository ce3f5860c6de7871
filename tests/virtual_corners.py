"""What a drawer-lock corner of a job does when it is cut, from the statement in docs/law.md written down a second time.

A corner at bit height h, of a cutter with mid depth m, step d and slope a, has the play 2 m - h, or stands proud by
(h - 2 m) tan a; its fence settings leave the lip F_flat + F_upright - t - d. Nothing of the package reckons here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from random import Random

from drawerwright.basics.uncertain import Estimate
from drawerwright.job.planning.draft import Corner, JobDraft
from drawerwright.joints.correction import correct, cut_at
from drawerwright.joints.fit import seat_setting
from drawerwright.joints.readings import ReadingKind
from drawerwright.joints.setting import CornerSetting
from drawerwright.joints.trial_cut import TakenReading, TrialCut
from drawerwright.joints.wanted import Wanted

EXACT = 0.002
"""Lengths (mm) that agree: the seat is found on levels of the two faces."""
CALIPERS = 0.01
"""Standard uncertainty of the readings here (mm), which are what is true."""
SLIPS = 2.0
"""How many standard uncertainties cutter and gauges are off, at most."""


@dataclass(frozen=True, slots=True)
class Truth:
    """What a cutter and a machine really are (mm and degrees)."""

    mid_depth: float
    step: float
    slope: float
    height_offset: float
    fence_offset: float
    flat: float
    upright: float

    def play(self, height: float) -> float:
        """Below zero the corner stands proud."""
        return 2 * self.mid_depth - height

    def proud(self, height: float) -> float:
        lift = max(-self.play(height), 0.0)
        return min(lift * math.tan(math.radians(self.slope)), self.step)

    def lip(self, height: float, flat_fence: float, upright_fence: float) -> float:
        return flat_fence + upright_fence - self.upright - self.step - self.proud(height)

    def read(self, height: float, fence: float) -> tuple[TakenReading, ...]:
        """What calipers tell of a corner and its loose pieces."""
        play, proud = max(self.play(height), 0.0), self.proud(height)
        seen = (ReadingKind.STANDS_PROUD, proud) if proud else (ReadingKind.PLAY, play)
        lengths = (
            seen,
            (ReadingKind.ROOF, self.flat - height),
            (ReadingKind.DEEPEST_CUT, fence),
            (ReadingKind.SHALLOW_CUT, fence - self.step),
        )
        return tuple(TakenReading(kind, length, CALIPERS) for kind, length in lengths if length >= 0)


def disagreements(draft: JobDraft, random: Random) -> Iterator[tuple[str, str]]:
    """What does not agree at the corners of a job, and where.

    Setting and seat with the statement; and with a cutter and gauges that are off, whether the cut after one that was
    read fits.
    """
    for corner in draft.corners:
        if not corner.setting.cutter.mating.has_play:
            continue
        for what, by in (*_as_stated(corner.setting), *_mended(draft, corner, random)):
            yield what, f"{corner.name}: {by:.3f}"


def _as_stated(setting: CornerSetting) -> Iterator[tuple[str, float]]:
    """Setting and seat of a corner whose cutter is what it is said to be."""
    cutter, corner = setting.cutter, setting.corner
    truth = Truth(
        cutter.mid_depth.value,
        cutter.step.value,
        cutter.slope_angle,
        0,
        0,
        corner.flat_thickness,
        corner.upright_thickness,
    )
    fit = seat_setting(setting)
    height = setting.bit_height
    play, proud = max(truth.play(height), 0.0), truth.proud(height)
    lip = truth.lip(height, setting.fence_flat, setting.fence_upright)
    for what, told, is_so in (
        ("play of the setting", setting.play or 0.0, play),
        ("play of the seat", fit.play, play),
        ("setting stands proud", setting.stands_proud, proud),
        ("seat stands proud", fit.stands_proud, proud),
        ("lip of the setting", setting.seated_lip, lip),
        ("lip of the seat", fit.lip, lip),
        ("roof of the setting", setting.roof, truth.flat - height),
        ("neck of the setting", setting.neck, truth.upright - setting.fence_upright),
    ):
        if abs(told - is_so) > EXACT:
            yield what, told - is_so


def _mended(draft: JobDraft, corner: Corner, random: Random) -> Iterator[tuple[str, float]]:
    """Cut with an offset, read, correct, cut: the corner fits."""
    setting = corner.setting
    cutter, table = setting.cutter, draft.job.cutter_of(corner.key.cutter).table
    flat, upright = (stock.thickness.mean for stock in (corner.keyed.flat, corner.keyed.upright))
    wanted = Wanted(flat, upright, setting.corner.lip, setting.fence_rule, draft.job.fit_range)
    truth = Truth(
        *(_slipped(random, estimate) for estimate in (cutter.mid_depth, cutter.step)),
        cutter.slope_angle,
        *(_slipped(random, estimate) for estimate in (table.height_gauge, table.fence_gauge, flat, upright)),
    )
    first = cut_at(setting, table, wanted)
    height = first.height_shown.value - truth.height_offset
    fence = first.fence_flat_shown - truth.fence_offset
    pieces = {
        "flat_thickness": Estimate(truth.flat, CALIPERS),
        "upright_thickness": Estimate(truth.upright, CALIPERS),
    }
    cut: TrialCut = replace(first, **pieces, readings=truth.read(height, fence))
    following = correct(cutter, table, [cut], wanted).next_cut
    if not following.leaves_height:
        height = following.height_shown - truth.height_offset
    play, most = truth.play(height), draft.job.fit_range.most_play
    if not -EXACT <= play <= most + EXACT:
        yield "the corrected corner does not fit", play


def _slipped(random: Random, estimate: Estimate) -> float:
    """What is true of something that is known so well."""
    return estimate.value + random.uniform(-SLIPS, SLIPS) * estimate.uncertainty
