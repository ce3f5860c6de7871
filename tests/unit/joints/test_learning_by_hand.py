"""What readings teach, piece by piece: one-sided readings by numerical integration, statements without trust."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

import pytest
from scipy.integrate import quad
from scipy.stats import norm

from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.one_sided import FINEST, SHOWING, moments_seen
from drawerwright.joints.statements import Statement, statements, without_trust
from drawerwright.joints.table import RouterTable


def integrated(
    likelihood: Callable[[float], float], centre: float, spread: float, reach: float = 0.0
) -> tuple[float, float]:
    """Mean and variance of a normal quantity given what was seen of it (scipy's adaptive quadrature)."""
    low, high = centre - 9 * spread, max(centre + 9 * spread, reach)
    turns = sorted(
        place
        for place in (0.0, SHOWING, -SHOWING, 8 * SHOWING, -8 * SHOWING, 0.05, 0.02, 0.1, 0.12)
        if low < place < high
    )

    def moment(power: int, about: float) -> float:
        def weighed(q: float) -> float:
            return float((q - about) ** power * norm.pdf(q, centre, spread) * likelihood(q))

        pieces = [low, *turns, high]
        return sum(quad(weighed, a, b, limit=200)[0] for a, b in pairwise(pieces))

    whole = moment(0, 0.0)
    mean = moment(1, 0.0) / whole
    return mean, moment(2, mean) / whole


CASES = [(0.1, 0.05), (0.0, 0.05), (-0.05, 0.05), (-0.02, 0.01), (0.3, 0.2)]


@pytest.mark.parametrize("noise", [0.005, 0.05])
@pytest.mark.parametrize(("centre", "spread"), CASES)
def test_something_was_seen(centre: float, spread: float, noise: float) -> None:
    """Seen it is the likelier the further it lies above zero, in terms of what could be there unseen."""
    found = moments_seen(centre, spread**2, is_seen=True, measured=None, noise=noise)
    mean, variance = integrated(lambda q: norm.cdf(q / noise) * norm.cdf(q / SHOWING), centre, spread)
    assert found == pytest.approx((mean, variance), rel=0.01, abs=2e-5)


@pytest.mark.parametrize("noise", [0.005, 0.05])
@pytest.mark.parametrize(("centre", "spread"), CASES)
def test_nothing_was_seen(centre: float, spread: float, noise: float) -> None:
    """Below zero there is surely nothing; above, it is overlooked the more rarely the more there is."""
    found = moments_seen(centre, spread**2, is_seen=False, measured=None, noise=noise)
    mean, variance = integrated(lambda q: 1.0 if q <= 0 else norm.cdf(-q / noise), centre, spread)
    assert found == pytest.approx((mean, variance), rel=0.01, abs=2e-5)


@pytest.mark.parametrize("measured", [0.02, 0.1])
@pytest.mark.parametrize("noise", [0.005, 0.05])
@pytest.mark.parametrize(("centre", "spread"), CASES[:4])
def test_so_much_was_measured(centre: float, spread: float, noise: float, measured: float) -> None:
    """A normal reading of what is surely above zero."""
    found = moments_seen(centre, spread**2, is_seen=True, measured=measured, noise=noise)
    mean, variance = integrated(
        lambda q: norm.pdf(q, measured, noise) * norm.cdf(q / SHOWING), centre, spread, measured + 9 * noise
    )
    assert found == pytest.approx((mean, variance), rel=0.01, abs=2e-5)


def test_nothing_is_known_better_than_a_tenth_of_the_finest() -> None:
    _, variance = moments_seen(0.1, 1e-12, is_seen=True, measured=0.1, noise=1e-6)
    assert math.sqrt(variance) == pytest.approx(FINEST / 10)


def test_a_statement_without_trust_may_be_half_a_millimetre_off() -> None:
    """Common practice, no source; one that is in more doubt stays so."""
    assert without_trust(Estimate(5.65, 0.02)).uncertainty == 0.5
    assert without_trust(Estimate(5.65, 0.8)).uncertainty == 0.8
    assert without_trust(Estimate(5.65, 0.02)).value == 5.65


def test_statements_are_those_of_cutter_and_gauges() -> None:
    cutter = Cutter(mid_depth=Estimate(5.65, 0.02), step=Estimate(3.45, 0.03), slope=45.0)
    table = RouterTable(height_gauge=Estimate(0.1, 0.04), fence_gauge=Estimate(-0.2, 0.05))
    assert {name: (one.value, one.uncertainty) for name, one in statements(cutter, table).items()} == {
        Statement.MID_DEPTH: (5.65, 0.02),
        Statement.STEP: (3.45, 0.03),
        Statement.HEIGHT_GAUGE: (0.1, 0.04),
        Statement.FENCE_GAUGE: (-0.2, 0.05),
    }
