"""The use case `try`: one corner at settings that somebody tries, beside the recommended ones."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from drawerwright.basics import usual
from drawerwright.basics.findings import Finding
from drawerwright.basics.lengths import LengthStyle, Mm, Unit
from drawerwright.basics.phrases import phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.job import Job, JobCutter
from drawerwright.job.planning.corners import JobCorner, corners_of
from drawerwright.joints.bit_heights import BitHeights
from drawerwright.joints.corner_findings import setting_findings
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.fit import Fit, seat_setting
from drawerwright.joints.joint import expected_readings
from drawerwright.joints.readings import FitRange, Reading, misfit
from drawerwright.joints.registry import USUAL
from drawerwright.joints.setting import CornerGeometry, CornerSetting, FenceRule, is_one_setting
from drawerwright.joints.setting_words import play_words
from drawerwright.joints.table import RouterTable, usual_gauge_step
from drawerwright.joints.targets import Target, card_targets
from drawerwright.joints.wanted import Wanted

SETTINGS = ("bit_height", "fence_flat", "fence_upright")
"""What is set for one corner; the names that a `CornerSetting` has for it."""
SLIDER_REACH: Mm = 1.0
"""How far a slider goes to either side of the recommended setting."""


@dataclass(frozen=True, slots=True)
class CornerMeasures:
    """What decides the settings of a corner: the kind of its cutter, and measures of cutter and wood (mm, degrees)."""

    kind: str = USUAL
    mid_depth: Mm = 6.0
    step: Mm = 4.0
    slope: float = usual.UNKNOWN_SLOPE.value
    flat: Mm = 15.0
    upright: Mm = 15.0
    lip: Mm = 0.0

    @classmethod
    def of(cls, cutter: Cutter, corner: CornerGeometry) -> CornerMeasures:
        """Those of a known cutter and corner."""
        return cls(
            cutter.kind,
            cutter.mid_depth.value,
            cutter.step.value,
            cutter.slope_angle,
            corner.flat_thickness,
            corner.upright_thickness,
            corner.lip,
        )

    @property
    def geometry(self) -> CornerGeometry:
        return CornerGeometry(self.flat, self.upright, self.lip)


FIRST_MEASURES = CornerMeasures()
"""Round figures to begin with, until the bench's own are there."""


@dataclass(frozen=True)
class TriedCorner:
    """A corner at the settings that are tried, what comes of them, and what the calipers would say.

    `right` are the recommended settings; `wanted` is what counts as a fit.
    """

    right: CornerSetting
    setting: CornerSetting
    wanted: FitRange
    table: RouterTable = field(default_factory=RouterTable)

    @property
    def on_gauges(self) -> dict[str, Mm]:
        """What height gauge and fence scale show at the recommended settings (mm), by the names of `SETTINGS`."""
        shown = self.table.height_reading, self.table.fence_reading, self.table.fence_reading
        return {name: read(getattr(self.right, name)) for name, read in zip(SETTINGS, shown, strict=True)}

    @property
    def fitting(self) -> dict[str, tuple[Mm, Mm]]:
        """From where to where each setting fits while the others are the recommended ones (mm), by its name."""
        mating, right = self.right.cutter.mating, self.right
        low, high = self.wanted.misfits(mating)
        off = misfit(right)
        ranges = {"bit_height": (right.bit_height + low - off, right.bit_height + high - off)}
        least, most = mating.lips(right.corner.lip, self.wanted.flushness)
        for name in ("fence_flat", "fence_upright"):
            at = getattr(right, name)
            if math.isfinite(most - least):
                ranges[name] = at + least - right.lip, at + most - right.lip
        return ranges

    def off_words(self, style: LengthStyle) -> dict[str, str]:
        """How far each setting that is tried lies off the recommended one, in words, by its name."""
        return {name: style.say(self._off(name, style)) for name in SETTINGS}

    def _off(self, name: str, style: LengthStyle) -> str:
        tried, right = getattr(self.setting, name), getattr(self.right, name)
        if is_one_setting(tried, right):
            return phrase("as recommended")
        size = style.written(abs(tried - right), fine=True)
        return phrase("{size} above", size=size) if tried > right else phrase("{size} below", size=size)

    @cached_property
    def fit(self) -> Fit:
        """How the corner seats."""
        return seat_setting(self.setting)

    def play_words(self, style: LengthStyle, *, on_gauge: bool = False) -> str:
        """What the recommended bit height leaves, and where it would be tight, `on_gauge` as the gauge shows it."""
        return play_words(self.right, style, self.table if on_gauge else None)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What is doubtful about these settings."""
        return tuple(setting_findings(self.setting, ""))

    @property
    def readings(self) -> tuple[tuple[Reading, Target | None], ...]:
        """What the calipers read on two test pieces that are cut so, each beside the same reading at the recommended
        settings with the range in which the corner fits; none where there is no such wood or cut at those."""
        targets = {target.reading.kind: target for target in card_targets(self.right, self.wanted)}
        return tuple((reading, targets.get(reading.kind)) for reading in expected_readings(self.setting))


@dataclass(frozen=True, slots=True)
class CornerToTry:
    """A corner at its recommended settings, and the rule for bit heights that goes with it."""

    right: CornerSetting
    heights: BitHeights

    def at(self, given: Mapping[str, Mm]) -> TriedCorner:
        """The corner at the settings that are given (mm, by their names); the recommended ones where they are not."""
        tried = {name: given.get(name, getattr(self.right, name)) for name in SETTINGS}
        return TriedCorner(
            self.right, replace(self.right, **tried), self.heights.fit or FitRange(), self.heights.table
        )


def measures_of(setting: CornerSetting) -> CornerMeasures:
    """What decided a setting."""
    return CornerMeasures.of(setting.cutter, setting.corner)


def measures_in_job(corner: JobCorner) -> CornerMeasures:
    """What decides the settings of a corner of a job."""
    return CornerMeasures.of(corner.keyed.cutter, corner.keyed.geometry)


def corner_named(job: Job, token: str) -> JobCorner | None:
    """The corner of a job whose key has this token."""
    return next((corner for corner in corners_of(job) if corner.key.token == token), None)


def try_in_job(job: Job, corner: JobCorner, upright_fence: Mm | None = None) -> CornerToTry:
    """A corner of a job as it is known there, its doubts included.

    Args:
        job: whose corner.
        corner: the corner.
        upright_fence: fence setting of the upright piece (mm); None where both pieces have one setting.
    """
    keyed, heights = corner.keyed, job.cutter_of(corner.key.cutter).heights.unforced
    return CornerToTry(_recommended(keyed.cutter, keyed.geometry, _rule(upright_fence), heights), heights)


def try_measures(
    measures: CornerMeasures,
    upright_fence: Mm | None = None,
    *,
    unit: Unit = "mm",
    like: JobCutter | None = None,
) -> CornerToTry:
    """A corner by its measures alone, taken as exact.

    Args:
        measures: of cutter and wood.
        upright_fence: as in `try_in_job`.
        unit: of the gauges, where no job says how they are marked.
        like: a cutter of a job whose gauges, wanted play and measured edge hold, if there is one.

    Raises:
        InvalidValueError: no cutter has such measures.
    """
    step = usual_gauge_step(unit)
    table = RouterTable(height_gauge_step=step, fence_gauge_step=step)
    heights = BitHeights(FitRange(), table) if like is None else like.heights.unforced
    cutter = Cutter(
        measures.kind,
        mid_depth=Estimate(measures.mid_depth),
        step=Estimate(measures.step),
        slope=Estimate(measures.slope),
        edge=None if like is None else like.cutter.edge,
    )
    return CornerToTry(_recommended(cutter, measures.geometry, _rule(upright_fence), heights), heights)


def recommended_in_job(setting: CornerSetting, job: Job) -> CornerSetting:
    """What is recommended for a corner of a job that shares its fence sum as this setting does."""
    heights = job.cutter_of(setting.cutter.key).heights.unforced
    return _recommended(setting.cutter, setting.corner, setting.fence_rule, heights)


def own_settings_of(setting: CornerSetting, job: Job) -> dict[str, Mm]:
    """The settings of a job's corner that are not the recommended ones, by their names (mm)."""
    right = recommended_in_job(setting, job)
    return {
        name: getattr(setting, name)
        for name in SETTINGS
        if not is_one_setting(getattr(setting, name), getattr(right, name))
    }


def _rule(upright_fence: Mm | None) -> FenceRule | Mm:
    return FenceRule.ONE if upright_fence is None else upright_fence


def _recommended(
    cutter: Cutter, corner: CornerGeometry, rule: FenceRule | Mm, heights: BitHeights
) -> CornerSetting:
    flat, upright = Estimate(corner.flat_thickness), Estimate(corner.upright_thickness)
    wanted = Wanted(flat, upright, corner.lip, rule, heights.fit or FitRange())
    return wanted.recommended(cutter, heights.table)
