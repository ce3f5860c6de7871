"""What a reading says of a quantity that shows only on one side of the right setting: play, a gap, what stands proud.

"None seen" says that it is not above zero by more than can be seen, "seen" that it is above, and a measured length
is one of the part above zero. None of these is normal; here are the first two moments that stand for them.
"""

from __future__ import annotations

import math
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import Mm
from drawerwright.basics.uncertain import Estimate

Row: TypeAlias = NDArray[np.float64]

FINEST: Mm = 0.001
"""No reading is taken for better than this."""
SHOWING: Mm = 0.002
"""How sharply a quantity that can be measured at all is known to be above zero."""


def above_zero(known: Estimate) -> tuple[float, float, float]:
    """The part above zero of a normally distributed quantity (mm): how often there is one, its mean, its scatter.

    The part is zero where the quantity is below. Its scatter is the standard deviation about the straight line
    through that mean with the first as its slope: what a straight line leaves over.
    """
    if known.uncertainty == 0:
        return float(known.value > 0), max(known.value, 0.0), 0.0
    at = known.value / known.uncertainty
    share = known.chance(0.0, math.inf)
    density = math.exp(-(at**2) / 2) / math.sqrt(2 * math.pi)
    mean = known.value * share + known.uncertainty * density
    square = (known.value**2 + known.uncertainty**2) * share + known.value * known.uncertainty * density
    left = square - mean**2 - (share * known.uncertainty) ** 2
    return share, mean, math.sqrt(max(left, 0.0))


def moments_seen(
    centre: Mm, variance: float, *, is_seen: bool, measured: Mm | None, noise: Mm
) -> tuple[Mm, float]:
    """Mean (mm) and variance (mm²) of a quantity that shows only above zero, once somebody looked.

    Args:
        centre, variance: what is known of it otherwise, as a normal distribution.
        is_seen: whether there was anything to see.
        measured: how much it was, where it was measured.
        noise: standard uncertainty of the measurement, or how much could be there unseen (mm).
    """
    reach = 8 * math.sqrt(variance)
    low, high = centre - reach, centre + reach
    if measured is not None:
        low, high = min(low, measured - 8 * noise), max(high, measured + 8 * noise)
    grid = np.linspace(low, high, 401)
    logs = -((grid - centre) ** 2) / (2 * variance)
    if measured is not None:
        logs = logs - (grid - measured) ** 2 / (2 * noise**2) + _log_normal_cdf(grid / SHOWING)
    elif is_seen:
        logs = logs + _log_normal_cdf(grid / noise) + _log_normal_cdf(grid / SHOWING)
    else:
        logs = logs + _log_normal_cdf(-np.maximum(grid, 0.0) / noise) + np.where(grid > 0, 0.0, math.log(2))
    weights = np.exp(logs - logs.max())
    weights /= weights.sum()
    mean = float(weights @ grid)
    return mean, max(float(weights @ (grid - mean) ** 2), FINEST**2 / 100)


def _log_normal_cdf(values: Row) -> Row:
    """Logarithm of the normal distribution function, good far into its lower tail."""
    # Below -30 the leading term of the tail's series: Phi(x) ~ exp(-x^2 / 2) / (|x| sqrt(2 pi)).
    body = np.array([math.erfc(-v / math.sqrt(2)) / 2 for v in np.maximum(values, -30.0)])
    tail = -(values**2) / 2 - np.log(np.maximum(np.abs(values), 1.0) * math.sqrt(2 * math.pi))
    return np.where(values > -30, np.log(body), tail)
