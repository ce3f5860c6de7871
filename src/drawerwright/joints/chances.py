"""The odds of one corner from what is known of its misfit and of its lip."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from statistics import NormalDist
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import Mm
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.readings import FitRange
from drawerwright.joints.setting import CornerSetting

Values: TypeAlias = NDArray[np.float64]

ARITHMETIC: Mm = 1e-9
"""What lies outside a limit by less is rounding."""
FARTHEST = 8.0
"""Standard deviations beyond which nothing is counted: about 1e-15."""
SLICES = 2000
"""Slices of a misfit over which the odds of a lip are summed."""


@dataclass(frozen=True, slots=True)
class Odds:
    """Probabilities for one joint, or for all joints of a group together.

    closes: every corner goes home. fits: and has the wanted play. flush: every lip, as it seats, is right within the
    flushness. both: fits and flush.
    """

    closes: float
    fits: float
    flush: float
    both: float


def corner_chances(
    setting: CornerSetting, fit: FitRange, misfit: Estimate, fence_lip: Estimate, covariance: float = 0.0
) -> Odds:
    """The odds of one corner whose misfit and lip are normal.

    Args:
        setting: the corner that is wanted: its cutter and its lip.
        fit: what counts as right.
        misfit: what is known of it (mm).
        fence_lip: what is known of the lip that the fences make (mm); what stands proud is taken off it here.
        covariance: of the two (mm²).
    """
    mating, wanted = setting.cutter.mating, setting.corner.lip
    low, high = fit.misfits(mating)
    home = 0.0 if mating.has_play else math.inf
    known = _Known(setting, fence_lip, misfit, covariance)
    least, most = mating.lips(wanted, fit.flushness)
    right = (least - ARITHMETIC, most + ARITHMETIC)
    return Odds(
        closes=misfit.chance(-math.inf, home + ARITHMETIC),
        fits=misfit.chance(low - ARITHMETIC, high + ARITHMETIC),
        flush=sum(known.chance(*piece, *right) for piece in ((-math.inf, 0.0), (0.0, math.inf))),
        both=known.chance(low - ARITHMETIC, high + ARITHMETIC, *right),
    )


@dataclass(frozen=True, slots=True)
class _Known:
    """A misfit, and the lip of the corner as it seats given that misfit."""

    setting: CornerSetting
    fence_lip: Estimate
    misfit: Estimate
    covariance: float

    def chance(self, least: Mm, most: Mm, low: Mm, high: Mm) -> float:
        """Probability that the misfit lies above `least` and not above `most`, and the seated lip from low to high."""
        middle, spread = self.misfit.value, self.misfit.uncertainty
        if not spread:
            inside = least < middle <= most
            return float(self._lips(np.array([middle]), low, high)[0]) if inside else 0.0
        least, most = max(least, middle - FARTHEST * spread), min(most, middle + FARTHEST * spread)
        if least >= most:
            return 0.0
        edges = np.linspace(least, most, SLICES + 1)
        shares = np.diff(normal_below((edges - middle) / spread))
        return float(shares @ self._lips((edges[1:] + edges[:-1]) / 2, low, high))

    def _lips(self, misfits: Values, low: Mm, high: Mm) -> Values:
        """For each misfit the probability that the lip is right."""
        cutter, variance = self.setting.cutter, self.misfit.uncertainty**2
        rate = self.covariance / variance if variance else 0.0
        left = math.sqrt(max(self.fence_lip.uncertainty**2 - rate * self.covariance, 0.0))
        lips = self.fence_lip.value + rate * (misfits - self.misfit.value)
        middle, step = cutter.mid_depth.value, cutter.step.value
        heights: Any = self.setting.tight_bit_height + misfits
        lips = lips - cutter.mating.stands_proud(heights, middle, step, cutter.slope_angle)
        return chance_within(lips, left, low, high)


def chance_within(middle: Values, scatter: Mm, low: Mm, high: Mm) -> Values:
    """Probability that a normal quantity lies in a range, for many middles at once."""
    if not scatter:
        return ((middle >= low) & (middle <= high)).astype(np.float64)
    return normal_below((high - middle) / scatter) - normal_below((low - middle) / scatter)


def normal_below(values: Values) -> Values:
    """The normal distribution function, close enough to interpolate within 1e-6."""
    steps, below = _normal_table()
    found: Values = np.interp(values, steps, below, 0.0, 1.0)
    return found


@cache
def _normal_table() -> tuple[Values, Values]:
    steps = np.linspace(-6.0, 6.0, 2401)
    return steps, np.array([NormalDist().cdf(step) for step in steps])
