"""Propagation and simulation against the guides' own examples."""

import math

import pytest

from drawerwright.basics.uncertain import Cause, Estimate, propagate


def test_end_gauge_of_jcgm_100_annex_h1():
    """JCGM 100:2008, H.1: u_c = 31.71 nm before rounding; contributions 25, 9.7, 2.89 and 16.6 nm."""
    causes = [
        Cause.normal("l_S", Estimate(50_000_623, 25)),
        Cause.normal("d", Estimate(215, 9.7)),
        Cause.rectangular("delta_alpha", -1e-6, 1e-6),
        Cause.normal("theta", Estimate(-0.1, 0.41)),
        Cause.rectangular("alpha_S", 9.5e-6, 13.5e-6),
        Cause.rectangular("delta_theta", -0.05, 0.05),
    ]

    def length(at):
        heat = at["delta_alpha"] * at["theta"] + at["alpha_S"] * at["delta_theta"]
        return at["l_S"] + at["d"] - at["l_S"] * heat

    result = propagate(length, causes)
    assert result.value == pytest.approx(50_000_838, abs=1)
    assert result.uncertainty == pytest.approx(31.71, abs=0.05)
    parts = {part.cause: abs(part.uncertainty) for part in result.contributions}
    assert parts["delta_alpha"] == pytest.approx(2.89, abs=0.03)
    assert parts["delta_theta"] == pytest.approx(16.6, abs=0.05)


def test_one_cause_entering_twice_counts_twice():
    fence = [Cause.normal("fence", Estimate(9.0, 0.1))]
    assert propagate(lambda at: at["fence"] + at["fence"], fence).uncertainty == pytest.approx(0.2, rel=1e-6)
    two = [Cause.normal(name, Estimate(9.0, 0.1)) for name in ("a", "b")]
    assert propagate(lambda at: at["a"] + at["b"], two).uncertainty == pytest.approx(
        0.1 * math.sqrt(2), rel=1e-6
    )
