"""The router table: what it can take, and how far its gauges may be trusted."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics import usual
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import MM_PER_INCH, Mm, Unit, millimetres
from drawerwright.basics.measures import Measure, holds_measures, measure
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.basics.uncertain import Estimate

GAUGE_STEP: Mm = 0.05
"""From mark to mark of a gauge of which nothing is said (common practice, no source)."""
INCH_GAUGE_STEP: Mm = 0.002 * MM_PER_INCH
"""The same in a shop that reads inches (common practice, no source)."""
MARK: Mm = 1e-6
"""How exactly a mark is reckoned: what lies below is arithmetic."""


class Feed(StrEnum):
    """The way pieces go past the cutter, for who stands before the fence."""

    RIGHT_TO_LEFT = "right-to-left"
    LEFT_TO_RIGHT = "left-to-right"

    @property
    def words(self) -> Phrase:
        """The way in the reader's language."""
        return _FEED_WORDS[self]


_FEED_WORDS = {
    Feed.RIGHT_TO_LEFT: phrase("from right to left"),
    Feed.LEFT_TO_RIGHT: phrase("from left to right"),
}
USUAL_FEED = Feed.RIGHT_TO_LEFT
"""Against the rotation of a spindle that stands in a table and turns as routers do (common practice, no source)."""


def usual_gauge_step(unit: Unit) -> Mm:
    """The usual step of a gauge in a shop that shows lengths in this unit (mm)."""
    return GAUGE_STEP if unit == "mm" else INCH_GAUGE_STEP


@dataclass(frozen=True, slots=True)
class Settled:
    """What accepted test cuts have settled, beside the measures and offsets that they taught.

    height_shown, fences_shown: what the gauges have to show for the next cut (mm); no height where a block set it.
    height_correlation: between what is left in doubt of the cutter's mid depth and of the height gauge's offset. A test
        cut knows what both do together better than either. fence_correlation: the same for step and fence gauge.
    """

    height_shown: Mm | None = None
    fences_shown: tuple[Mm, ...] = ()
    height_correlation: float = 0.0
    fence_correlation: float = 0.0

    def __post_init__(self) -> None:
        for correlation in (self.height_correlation, self.fence_correlation):
            if not -1 <= correlation <= 1:
                raise InvalidValueError(
                    phrase("a correlation must lie between -1 and 1, not {value:g}", value=correlation)
                )


@holds_measures
class RouterTable:
    """Limits and gauges of a router table.

    tallest_upright: tallest piece that can be run standing on its end (mm), None when unknown.
    height_gauge, fence_gauge: what the gauge shows less what is true (mm), with its standard uncertainty; a
        plain number gets the usual one. Add it to the wanted value to get the reading to dial in.
    largest_fence_setting: as far as the cutter can stand out of the fence (mm): its opening, an insert ring or the
        guard ends there; None when unknown.
    repeatability: standard deviation with which a setting can be dialled in again (mm), None when nobody has said.
    speeds: spindle speeds that can be chosen (1/min), slowest first.
    height_gauge_step, fence_gauge_step: from mark to mark of the gauge (mm), or what its figures count by.
    settled: what accepted test cuts have settled; None before the first.
    feed: the way pieces go past the cutter.
    """

    tallest_upright: Mm | None = None
    height_gauge: Measure = measure(usual=usual.GAUGE, default=usual.UNKNOWN_GAUGE)
    fence_gauge: Measure = measure(usual=usual.GAUGE, default=usual.UNKNOWN_GAUGE)
    largest_fence_setting: Mm | None = None
    repeatability: Mm | None = None
    speeds: tuple[float, ...] = ()
    height_gauge_step: Mm = GAUGE_STEP
    fence_gauge_step: Mm = GAUGE_STEP
    settled: Settled | None = None
    feed: Feed = USUAL_FEED

    def __post_init__(self) -> None:
        for label, step in (
            (phrase("height gauge"), self.height_gauge_step),
            (phrase("fence scale"), self.fence_gauge_step),
        ):
            if not step > 0:
                raise InvalidValueError(
                    phrase(
                        "{gauge}: the marks must be more than 0 apart, not {step}",
                        gauge=label,
                        step=millimetres(step, "g"),
                    )
                )

    @property
    def dialling(self) -> Estimate:
        """How far a setting that is dialled in is off (mm)."""
        return Estimate.given(0.0, self.repeatability, usual=usual.REPEATABILITY)

    @property
    def height_correlation(self) -> float:
        """Between what is in doubt of the cutter's mid depth and of the height gauge's offset."""
        return self.settled.height_correlation if self.settled else 0.0

    @property
    def fence_correlation(self) -> float:
        """Between what is in doubt of the cutter's step and of the fence gauge's offset."""
        return self.settled.fence_correlation if self.settled else 0.0

    def height_reading(self, bit_height: Mm) -> Mm:
        """What the height gauge has to show for this bit height (mm)."""
        return bit_height + self.height_gauge.value

    def fence_reading(self, fence_setting: Mm) -> Mm:
        """What the fence scale has to show for this fence setting (mm)."""
        return fence_setting + self.fence_gauge.value

    def height_marks(self, bit_height: Mm) -> tuple[Mm, ...]:
        """The bit heights that the marks of the height gauge give next below and above one (mm); one where it lies
        on a mark, or within a step of what test cuts have settled.

        >>> RouterTable(height_gauge=Estimate(0.03)).height_marks(11.225)
        (11.22, 11.27)
        """
        shown = self.settled.height_shown if self.settled else None
        settled = () if shown is None else (shown,)
        return _around(bit_height, self.height_gauge.value, self.height_gauge_step, settled)

    def fence_marks(self, fence_setting: Mm) -> tuple[Mm, ...]:
        """The same for a fence setting (mm)."""
        settled = self.settled.fences_shown if self.settled else ()
        return _around(fence_setting, self.fence_gauge.value, self.fence_gauge_step, settled)

    def is_settled_fence(self, fence_setting: Mm) -> bool:
        """Whether test cuts have settled just this fence setting."""
        reading = self.fence_reading(fence_setting)
        return any(
            abs(shown - reading) < MARK for shown in (self.settled.fences_shown if self.settled else ())
        )


def _around(true: Mm, offset: Mm, step: Mm, settled: Sequence[Mm]) -> tuple[Mm, ...]:
    """True sizes at the marks below and above one; a mark is a multiple of the step on the gauge.

    What is settled within a step goes before them.
    """
    near = [shown - offset for shown in settled if abs(shown - offset - true) <= step + MARK]
    if near:
        nearest: Mm = min(near, key=lambda size: abs(size - true))
        return (round(nearest, 6),)
    marks = (true + offset) / step
    places = dict.fromkeys((math.floor(marks + MARK / step), math.ceil(marks - MARK / step)))
    return tuple(round(place * step - offset, 6) for place in places)
