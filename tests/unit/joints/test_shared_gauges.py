"""What is known of one cutter since another has taught something of the gauge: against plain linear algebra."""

from __future__ import annotations

import numpy as np
import pytest

from drawerwright.basics.uncertain import Estimate, Origin
from drawerwright.joints.shared_gauges import carried_over


@pytest.mark.parametrize("correlation", [-0.9, -0.4, 0.6])
def test_a_reading_of_the_gauge_alone_moves_what_is_tied_to_it(correlation: float) -> None:
    """The gauge is read by itself, to 0.03 mm: the textbook update of two normal quantities, one of them measured."""
    mean, sd, read, noise = np.array([5.6, 0.05]), np.array([0.04, 0.05]), 0.09, 0.03
    covariance = np.array([[1, correlation], [correlation, 1]]) * np.outer(sd, sd)
    seen = np.array([0.0, 1.0])
    gain = covariance @ seen / (seen @ covariance @ seen + noise**2)
    after = mean + gain * (read - mean[1])
    left = covariance - np.outer(gain, seen @ covariance)
    measure, tie = carried_over(
        Estimate(5.6, 0.04, Origin.LEARNT),
        correlation,
        Estimate(0.05, 0.05),
        Estimate(after[1], np.sqrt(left[1, 1])),
    )
    assert (measure.value, measure.uncertainty) == pytest.approx((after[0], np.sqrt(left[0, 0])))
    assert tie == pytest.approx(left[0, 1] / np.sqrt(left[0, 0] * left[1, 1]))
    assert measure.origin is Origin.LEARNT


@pytest.mark.parametrize(
    ("correlation", "measure", "gauge"), [(0.0, 0.04, 0.05), (-0.7, 0.0, 0.05), (-0.7, 0.04, 0.0)]
)
def test_what_is_tied_to_nothing_stays(correlation: float, measure: float, gauge: float) -> None:
    known = Estimate(5.6, measure)
    assert carried_over(known, correlation, Estimate(0.0, gauge), Estimate(0.1, 0.01)) == (known, correlation)
