"""The cutter as the woodworker knows it: two measures, and what is written on its shank."""

from __future__ import annotations

import math
from dataclasses import KW_ONLY, dataclass
from functools import lru_cache

from drawerwright.basics import usual
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Degrees, Mm, millimetres
from drawerwright.basics.measures import Measure, holds_measures, measure
from drawerwright.basics.phrases import phrase
from drawerwright.joints.mating import Mating, mating
from drawerwright.joints.profile import GIVE, Profile
from drawerwright.joints.registry import USUAL

UNNAMED = phrase("cutter")
"""What a cutter is called that has no name: each reader has a word for it."""
STEEPEST: Degrees = 89.5
"""A slope counts as no steeper, be it measured, drawn at random or stated with a doubt. On a slope of this angle
0.01 mm of misfit stands proud by more than 1 mm: to the hand it is a ledge, and the tangent stays finite."""


@dataclass(frozen=True, slots=True)
class MeasuredEdge:
    """A cutter's profile as it was measured, and the mid depth and step that it was found to have (mm).

    `residual` is the widest gap that it leaves at the best setting: half of it is how much sooner than at the step
    its first places touch. `give` is in what the depths of two seats may differ that are equally deep, as far as the
    readings tell.
    """

    profile: Profile
    mid_depth: Mm
    step: Mm
    residual: Mm = 0.0
    give: Mm = GIVE

    @property
    def seated_step(self) -> Mm:
        """What a seat is counted from: its first places touch half of the residual sooner than at the step (mm)."""
        return self.step + self.residual / 2

    @property
    def slope_angle(self) -> Degrees:
        """Angle whose tangent is run / rise over the inner half of the step, about the middle."""
        line = self.profile.points
        quarters = [
            max((z for z, c in line if z <= self.mid_depth and c <= self.step / 4), default=0.0),
            min(
                (z for z, c in line if z >= self.mid_depth and c >= 3 * self.step / 4), default=self.mid_depth
            ),
        ]
        rise = quarters[1] - quarters[0]
        run = self.profile.inset(quarters[1]) - self.profile.inset(quarters[0])
        return STEEPEST if rise <= 0 else min(math.degrees(math.atan2(run, rise)), STEEPEST)

    def at(self, mid_depth: Mm, step: Mm) -> Profile:
        """The same edge with its middle and step where test cuts say that they are (mm)."""
        if mid_depth == self.mid_depth and step == self.step:
            return self.profile
        return _moved(self.profile, mid_depth - self.mid_depth, step / self.step)


@lru_cache(maxsize=64)
def _moved(profile: Profile, deeper: Mm, wider: float) -> Profile:
    return profile.moved(deeper, wider)


@holds_measures
class Cutter:
    """A self-mating cutter.

    `kind` is the name of the joint that it makes (`drawerwright.joints.registry`). `mid_depth` and `step` are defined
    in `drawerwright.joints.law`; `slope` is the angle whose tangent is run over rise of the slanted part (degrees).
    Each is an `Estimate`, or a plain number, which gets the usual doubt (`drawerwright.basics.usual`). `diameter`,
    `cutting_height` and `max_speed` (1/min) are what the maker states; None where the user does not know them. `id` is
    what it was first called, where it was renamed since.
    """

    kind: str = USUAL
    _: KW_ONLY
    mid_depth: Measure = measure(usual=usual.CUTTER_MEASURE)
    step: Measure = measure(usual=usual.CUTTER_MEASURE)
    slope: Measure = measure(usual=usual.SLOPE, default=usual.UNKNOWN_SLOPE)
    name: str = UNNAMED
    diameter: Mm | None = None
    cutting_height: Mm | None = None
    max_speed: float | None = None
    edge: MeasuredEdge | None = None
    id: str = ""

    def __post_init__(self) -> None:
        mating(self.kind)
        for label, value in ((phrase("mid depth"), self.mid_depth.value), (phrase("step"), self.step.value)):
            if value <= 0:
                raise InvalidValueError(
                    phrase(
                        "the cutter's {label} must be more than 0, not {value}",
                        label=label,
                        value=millimetres(value, "g"),
                    )
                )
        if not 0 < self.slope.value < 90:
            raise InvalidValueError(
                phrase(
                    "the cutter's slope must lie between 0 and 90 degrees, not {value:g}",
                    value=self.slope.value,
                )
            )

    @property
    def mating(self) -> Mating:
        """How the pieces that it cuts close on each other."""
        return mating(self.kind)

    @property
    def key(self) -> str:
        """What tells it from other cutters of a job, whatever it is called."""
        return self.id or self.name

    @property
    def slope_angle(self) -> Degrees:
        """Angle whose tangent is run / rise."""
        return self.slope.value

    @property
    def seated_step(self) -> Mm:
        """What a seat is counted from: the step, and what the first places of an uneven edge touch sooner (mm)."""
        return self.step.value + (0.0 if self.edge is None else self.edge.residual / 2)

    @property
    def give(self) -> Mm:
        """In what the depths of two seats may differ that are equally deep (mm)."""
        return GIVE if self.edge is None else self.edge.give

    def bit_height(self, flat_thickness: Mm) -> Mm:
        """Bit height at which this cutter's corner closes in stock of this thickness (mm)."""
        return self.mating.bit_height(self.mid_depth.value, flat_thickness)

    def engagement(self, bit_height: Mm) -> Mm:
        """How far the upright piece reaches into the flat piece, pressed home, when cut at a height (mm)."""
        return self.mating.engagement(bit_height, self.mid_depth.value)

    def profile(self) -> Profile:
        """The profile as it was measured, or else the one that the two measures and the slope describe: ideal,
        point-symmetric about its middle.

        Raises:
            InvalidValueError: the three do not fit together (a drawer-lock slope that starts above the top).
        """
        if self.edge is not None:
            return self.edge.at(self.mid_depth.value, self.step.value)
        return self.mating.profile(
            self.mid_depth.value, self.step.value, self.slope.value, self.cutting_height
        )
