"""A test cut as it was made and read: two pieces, what the gauges showed, and what was measured or seen."""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics import usual
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.measures import Measure, holds_measures, measure
from drawerwright.basics.phrases import phrase
from drawerwright.joints.readings import RULES, ReadingKind
from drawerwright.joints.setting import is_one_setting


@dataclass(frozen=True, slots=True)
class TakenReading:
    """A reading that was taken on a test cut.

    `value` in mm, or None for what was seen but not measured; 0 (or less) of something that shows only when it
    is there means that none was seen. `uncertainty` is a standard uncertainty (mm): of the measurement, or how
    much of it could be there unseen.
    """

    kind: ReadingKind
    value: Mm | None
    uncertainty: Mm = usual.CALIPER_READING

    def __post_init__(self) -> None:
        if not self.uncertainty >= 0:
            raise InvalidValueError(
                phrase(
                    "a reading's uncertainty must be 0 or more, not {uncertainty}",
                    uncertainty=millimetres(self.uncertainty, "g"),
                )
            )
        if self.value is None and not RULES[self.kind].is_seen_when_positive:
            raise InvalidValueError(
                phrase("{what} must be measured: give its length", what=RULES[self.kind].what)
            )

    @property
    def is_measured(self) -> bool:
        """Whether it is a length, rather than something seen or not seen."""
        if not RULES[self.kind].is_seen_when_positive:
            return True
        return self.value is not None and self.value > 0

    @property
    def is_seen(self) -> bool:
        """Whether there was anything to see."""
        return self.value is None or self.value > 0


@holds_measures
class TrialCut:
    """Two test pieces: what the gauges showed, how thick the pieces are, and what was read (mm).

    `height_shown` is the height gauge's reading, or with `by_block` the thickness of a block planed to the bit
    height and laid beside the bit; then its uncertainty belongs to this block alone.
    """

    height_shown: Measure = measure(usual=lambda cut: usual.CALIPER_READING if cut.by_block else 0.0)
    fence_flat_shown: Mm
    fence_upright_shown: Mm
    flat_thickness: Measure = measure(usual=usual.CALIPER_READING)
    upright_thickness: Measure = measure(usual=usual.CALIPER_READING)
    readings: tuple[TakenReading, ...] = ()
    by_block: bool = False

    @property
    def has_one_fence_setting(self) -> bool:
        """Whether both pieces were cut without moving the fence between them."""
        return is_one_setting(self.fence_flat_shown, self.fence_upright_shown)
