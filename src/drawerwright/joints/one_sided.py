"""What a reading says of a quantity that shows only on one side of the right setting: play, a gap, what stands proud.

"None seen" says that it is not above zero by more than can be seen, "seen" that it is above, and a measured length
is one of the part above zero. None of these is normal; here are the first two moments that stand for them.
"""

from __future__ import annotations

import math
from functools import cache
from itertools import pairwise
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
    grid, widths = _grid(centre, variance, measured, noise)
    logs = -((grid - centre) ** 2) / (2 * variance)
    if measured is not None:
        logs = logs - (grid - measured) ** 2 / (2 * noise**2) + _log_normal_cdf(grid / SHOWING)
    elif is_seen:
        logs = logs + _log_normal_cdf(grid / noise) + _log_normal_cdf(grid / SHOWING)
    else:
        logs = logs + _log_normal_cdf(-np.maximum(grid, 0.0) / noise) + np.where(grid > 0, 0.0, math.log(2))
    weights = np.exp(logs - logs.max()) * widths
    weights /= weights.sum()
    mean = float(weights @ grid)
    return mean, max(float(weights @ (grid - mean) ** 2), FINEST**2 / 100)


def _grid(centre: Mm, variance: float, measured: Mm | None, noise: Mm) -> tuple[Row, Row]:
    """Places over all that is possible, close together about zero where much happens, and the width of each."""
    spread, middle = math.sqrt(variance), centre
    if measured is not None:
        weights = 1 / variance, 1 / noise**2
        spread, middle = (
            1 / math.sqrt(sum(weights)),
            (centre * weights[0] + measured * weights[1]) / sum(weights),
        )
    low, high = middle - 8 * spread, middle + 8 * spread
    if measured is not None:
        high = max(high, 8 * SHOWING)
    grid, step = np.linspace(low, high, PLACES, retstep=True)
    if step < noise / 4 or not low < 0 < high:
        return grid, np.full(PLACES, step)
    edges = np.clip((low, -8 * noise, 8 * noise, high), low, high)
    pieces = [np.linspace(start, end, PLACES) for start, end in pairwise(edges) if end > start]
    widths = [np.gradient(piece) * np.r_[0.5, np.ones(PLACES - 2), 0.5] for piece in pieces]
    return np.concatenate(pieces), np.concatenate(widths)


PLACES = 401
"""Places of a grid, or of a piece of it."""
FURTHEST = 30.0
"""So far from its middle (standard deviations) the normal distribution function comes from a table."""


@cache
def _log_normal_table() -> tuple[Row, Row]:
    """The logarithm of the normal distribution function, close enough to interpolate within 1e-5."""
    steps = np.linspace(-FURTHEST, FURTHEST, 12_001)
    return steps, np.array([math.log(math.erfc(-step / math.sqrt(2)) / 2) for step in steps])


def _log_normal_cdf(values: Row) -> Row:
    """Logarithm of the normal distribution function, good far into its lower tail."""
    # Below the table the leading term of the tail's series: Phi(x) ~ exp(-x^2 / 2) / (|x| sqrt(2 pi)).
    tail = -(values**2) / 2 - np.log(np.maximum(np.abs(values), 1.0) * math.sqrt(2 * math.pi))
    logs: Row = np.where(values > -FURTHEST, np.interp(values, *_log_normal_table()), tail)
    return logs
