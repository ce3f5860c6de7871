"""Caliper targets with their tolerance, and what to change when a test cut is off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from drawerwright.basics.lengths import MM_PER_INCH, Mm
from drawerwright.joints.joint import expected_readings
from drawerwright.joints.readings import (
    RULES,
    FitRange,
    Reading,
    ReadingKind,
    height_for_misfit,
)
from drawerwright.joints.setting import CornerSetting

RATE_STEP: Mm = 0.001
"""Over this much of a setting the change of a reading is taken."""
REMEDY_OFFS: tuple[Mm, ...] = (-0.3, -0.2, -0.1, 0.0, 0.1, 0.2, 0.3)
INCH_REMEDY_OFFS: tuple[Mm, ...] = tuple(
    MM_PER_INCH * off for off in (-0.01, -0.005, -0.002, 0.0, 0.002, 0.005, 0.01)
)
"""How far a reading may be off in the table of remedies (mm), for readers of millimetres and of inches."""


@dataclass(frozen=True, slots=True)
class Target:
    """A caliper reading to expect, and the range in which the corner still fits if all else is right (mm)."""

    reading: Reading
    low: Mm
    high: Mm


@dataclass(frozen=True, slots=True)
class Remedy:
    """One row of the table of remedies (mm).

    For a height reading (roof; lock-mitre: none) that is `off` more than expected: change the bit height by
    `bit_height_change`; the corner has `play` or stands `proud`. For a deepest cut that is `off` more than
    expected: move the fence by `fence_change_by_cut` (negative: the cutter stands less far out of it).
    """

    off: Mm
    bit_height_change: Mm
    play: Mm
    proud: Mm
    fence_change_by_cut: Mm


class SettingToMove(StrEnum):
    """What is moved to put a reading right."""

    BIT_HEIGHT = "bit_height"
    FENCE_FLAT = "fence_flat"
    FENCE_UPRIGHT = "fence_upright"


@dataclass(frozen=True, slots=True)
class ReadingRemedy:
    """What to do when one reading is `off` more than expected (mm): move `cause` by `change`.

    `play` and `proud` are those of the corner as it is then, if all else is right.
    """

    off: Mm
    cause: SettingToMove
    change: Mm
    play: Mm
    proud: Mm


def reading_remedies(
    setting: CornerSetting, kind: ReadingKind, offs: Sequence[Mm] = REMEDY_OFFS
) -> tuple[ReadingRemedy, ...]:
    """What to change when a reading is off, row by row; blames the setting it depends on most."""
    value = RULES[kind].value
    rates = {
        cause: value(replace(setting, **{cause: getattr(setting, cause) + RATE_STEP})) - value(setting)
        for cause in SettingToMove
    }
    cause = max(reversed(SettingToMove), key=lambda one: round(abs(rates[one]), 9))
    rate = rates[cause] / RATE_STEP
    rows = []
    for off in offs:
        found = replace(setting, **{cause: getattr(setting, cause) + off / rate})
        play = found.play or 0.0
        rows.append(ReadingRemedy(off, cause, 0.0 - off / rate, play, found.stands_proud))
    return tuple(rows)


def card_targets(setting: CornerSetting, fit: FitRange | None = None) -> tuple[Target, ...]:
    """Caliper readings of the two test pieces, each with the range in which the corner still fits."""
    fit = fit or FitRange()
    corners = _corners_of_the_range(setting, fit)
    targets = []
    for reading in expected_readings(setting):
        values = [RULES[reading.kind].value(corner) for corner in corners]
        targets.append(Target(reading, min(values), max(values)))
    return tuple(targets)


def _corners_of_the_range(setting: CornerSetting, fit: FitRange) -> Sequence[CornerSetting]:
    """The setting itself, and with height or fence at either end of what still fits."""
    heights = [height_for_misfit(setting, end) for end in fit.misfits(setting.cutter.mating)]
    share = 2 if setting.has_one_fence else 1
    fences = [sign * fit.flushness / share for sign in (-1, 1)]
    return [
        setting,
        *(replace(setting, bit_height=height) for height in heights),
        *(replace(setting, fence_flat=setting.fence_flat + move) for move in fences),
        *(replace(setting, fence_upright=setting.fence_upright + move) for move in fences),
    ]


def remedy_table(setting: CornerSetting, offs: Sequence[Mm] = REMEDY_OFFS) -> tuple[Remedy, ...]:
    """What to change when a reading of the test cut is off, row by row."""
    rows = []
    for off in offs:
        found = replace(setting, bit_height=setting.bit_height - off)
        rows.append(
            Remedy(
                off=off,
                bit_height_change=off,
                play=found.play or 0.0,
                proud=found.stands_proud,
                fence_change_by_cut=0.0 - off,
            )
        )
    return tuple(rows)
