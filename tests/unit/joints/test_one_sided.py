"""Moments of one-sided readings, against integrals over a fine grid and the closed forms of the truncated normal."""

from __future__ import annotations

import math
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.one_sided import FINEST, SHOWING, above_zero, moments_seen

CENTRES, SPREADS, NOISES = st.floats(-0.4, 0.4), st.floats(0.01, 0.2), st.floats(0.005, 0.05)


@given(CENTRES, SPREADS)
def test_the_part_above_zero_has_the_moments_of_its_integral(centre: float, spread: float) -> None:
    grid = np.linspace(centre - 9 * spread, centre + 9 * spread, 40_001)
    density = np.exp(-((grid - centre) ** 2) / (2 * spread**2))
    density /= density.sum()
    part = np.maximum(grid, 0.0)
    share, mean, scatter = above_zero(Estimate(centre, spread))
    assert share == pytest.approx(density[grid > 0].sum(), abs=2e-4)
    assert mean == pytest.approx(density @ part, abs=1e-5)
    straight = density @ part + share * (grid - centre)
    assert scatter == pytest.approx(math.sqrt(density @ (part - straight) ** 2), abs=1e-4)


@pytest.mark.parametrize(("value", "part"), [(0.2, (1.0, 0.2, 0.0)), (-0.2, (0.0, 0.0, 0.0))])
def test_what_is_known_exactly_has_no_scatter(value: float, part: tuple[float, float, float]) -> None:
    assert above_zero(Estimate(value)) == part


@given(CENTRES, SPREADS)
def test_seeing_something_for_certain_cuts_the_normal_at_zero(centre: float, spread: float) -> None:
    """Mean of a truncated normal: centre + spread * phi(a) / (1 - Phi(a)), a = -centre / spread (from memory)."""
    normal, a = NormalDist(), -centre / spread
    if 1 - normal.cdf(a) < 1e-6:
        return
    expected = centre + spread * normal.pdf(a) / (1 - normal.cdf(a))
    mean, variance = moments_seen(centre, spread**2, is_seen=True, measured=None, noise=1e-4)
    assert mean == pytest.approx(expected, abs=0.05 * spread + SHOWING)
    assert variance <= spread**2 * 1.001 + FINEST**2


@given(CENTRES, SPREADS, NOISES)
def test_seeing_pulls_up_and_seeing_nothing_pulls_down(centre: float, spread: float, noise: float) -> None:
    seen, _ = moments_seen(centre, spread**2, is_seen=True, measured=None, noise=noise)
    not_seen, _ = moments_seen(centre, spread**2, is_seen=False, measured=None, noise=noise)
    assert not_seen <= centre + 1e-6
    assert seen >= centre - 1e-6


@given(st.floats(0.15, 0.4), SPREADS, NOISES)
def test_what_is_measured_well_above_zero_counts_like_any_measurement(
    measured: float, spread: float, noise: float
) -> None:
    """Normal prior and normal reading: the mean weighted by both precisions (GUM, combination of estimates)."""
    centre = measured - 0.5 * spread
    mean, variance = moments_seen(centre, spread**2, is_seen=True, measured=measured, noise=noise)
    weights = 1 / spread**2, 1 / noise**2
    if measured < 4 * math.hypot(spread, noise):
        return
    assert mean == pytest.approx(
        (weights[0] * centre + weights[1] * measured) / sum(weights), abs=0.1 * noise
    )
    assert variance == pytest.approx(1 / sum(weights), rel=0.1)
