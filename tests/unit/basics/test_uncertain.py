"""Values with their doubt: what is drawn has the distribution it says, and shared causes count as shared."""

from __future__ import annotations

import math
from statistics import NormalDist

import numpy as np
import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.uncertain import (
    PIECE,
    Cause,
    Drawn,
    Estimate,
    draw_causes,
    propagate,
    simulate,
    simulate_all,
)

TRIES = 400_000
SCATTER = 4 / math.sqrt(TRIES)
"""Four standard deviations of a mean, for a quantity of standard deviation 1."""


def alone(at):
    return at["x"]


@pytest.mark.parametrize(
    ("cause", "deviation", "quantile_90"),
    [
        # Quantiles in closed form: the normal one by the standard library, a + 0.9 (b - a) for the
        # rectangular, sin(pi (0.9 - 1/2)) for the arcsine, 1.638 from tables of Student's t with 3 degrees.
        (Cause.normal("x", Estimate(0.0, 2.0)), 2.0, 2 * NormalDist().inv_cdf(0.9)),
        (Cause.rectangular("x", -3.0, 3.0), math.sqrt(3), 2.4),
        (Cause.arcsine("x", -1.0, 1.0), 1 / math.sqrt(2), math.sin(0.4 * math.pi)),
        (Cause.student("x", 0.0, 1.0, 3), None, 1.6377),
        # A curvilinear trapezoid (JCGM 101:2008, 6.4.3.3): variance (half width)^2 / 3 + d^2 / 9.
        (Cause.rectangular("x", -1.0, 1.0, 0.5), math.sqrt(1 / 3 + 0.25 / 9), None),
    ],
)
def test_draws_have_the_distribution_they_say(
    cause: Cause, deviation: float | None, quantile_90: float | None
) -> None:
    drawn = simulate(alone, [cause], TRIES)
    assert len(drawn.values) == TRIES
    if deviation is not None:
        assert drawn.mean == pytest.approx(0.0, abs=SCATTER * deviation)
        assert drawn.uncertainty == pytest.approx(deviation, rel=0.01)
        assert cause.uncertainty == pytest.approx(deviation)
    if quantile_90 is not None:
        assert drawn.quantile(0.9) == pytest.approx(quantile_90, rel=0.02)


def test_the_same_question_gives_the_same_answer_and_another_seed_another() -> None:
    causes = [Cause.normal("x", Estimate(5.0, 0.1))]
    first, again = (simulate(alone, causes, 1000) for _ in range(2))
    assert (first.values == again.values).all()
    assert simulate(alone, causes, 1000, seed=1).mean != first.mean


def test_one_cause_entering_twice_counts_twice() -> None:
    fence = [Cause.normal("fence", Estimate(9.0, 0.1))]
    two = [Cause.normal(name, Estimate(9.0, 0.1)) for name in ("first", "second")]
    for causes, model, expected in (
        (fence, lambda at: at["fence"] + at["fence"], 0.2),
        (two, lambda at: at["first"] + at["second"], 0.1 * math.sqrt(2)),
    ):
        assert propagate(model, causes).uncertainty == pytest.approx(expected, rel=1e-6)
        assert simulate(model, causes, TRIES).uncertainty == pytest.approx(expected, rel=0.01)


def test_a_cause_without_doubt_stays_a_number_and_contributes_nothing() -> None:
    causes = [Cause.normal("exact", Estimate(3.0)), Cause.normal("x", Estimate(1.0, 0.5))]
    ((drawn, size),) = draw_causes(causes, 10)
    assert size == len(drawn["x"]) == 10
    assert drawn["exact"] == 3.0
    result = propagate(lambda at: at["exact"] * at["x"], causes)
    assert [part.cause for part in result.contributions] == ["x"]
    assert result.share("x") == 1.0
    assert result.share("exact") == 0.0


def test_results_that_share_a_cause_share_its_draws() -> None:
    shared = Cause.normal("x", Estimate(1.0, 0.5))
    other = Cause.normal("y", Estimate(0.0, 0.5))
    ((both, _),), ((alone_drawn, _),) = draw_causes([other, shared], 100), draw_causes([shared], 100)
    assert (alone_drawn["x"] == both["x"]).all()
    assert abs(np.corrcoef(both["x"], both["y"])[0, 1]) < 0.4
    assert [size for _, size in draw_causes([shared], 2 * PIECE + 1)] == [PIECE, PIECE, 1]
    drawn = simulate_all(lambda at: {"x": at["x"], "sum": at["x"] + at["y"]}, [shared, other], PIECE + 7)
    assert len(drawn["x"].values) == PIECE + 7
    left = drawn["sum"].values - drawn["x"].values
    assert np.corrcoef(left, drawn["x"].values)[0, 1] == pytest.approx(0.0, abs=4 / math.sqrt(PIECE))
    assert left.std() == pytest.approx(0.5, rel=0.02)


def test_a_model_that_does_not_depend_on_its_causes_gives_its_value_every_time() -> None:
    drawn = simulate(lambda _at: 2.5, [Cause.normal("x", Estimate(0.0, 1.0))], 7)
    assert drawn.values.tolist() == [2.5] * 7
    assert drawn.chance(2.5, 2.5) == 1.0


def test_chances_and_intervals_of_draws() -> None:
    drawn = Drawn(np.array([4.0, 1.0, 2.0, 3.0, 10.0]))
    assert drawn.chance(1.0, 3.0) == pytest.approx(0.6)
    assert drawn.quantiles((0.0, 0.5, 1.0)) == (1.0, 3.0, 10.0)


def test_contributions_come_largest_first() -> None:
    causes = [Cause.normal("small", Estimate(0.0, 0.1)), Cause.normal("large", Estimate(0.0, 1.0))]
    result = propagate(lambda at: 2 * at["small"] - at["large"], causes)
    assert [part.cause for part in result.contributions] == ["large", "small"]
    assert [part.sensitivity for part in result.contributions] == pytest.approx([-1.0, 2.0])


def test_naming_a_cause_twice_is_refused() -> None:
    with pytest.raises(InvalidValueError, match="fence is given more than once"):
        simulate(alone, [Cause.normal("fence", Estimate(1.0, 0.1))] * 2, 10)


@pytest.mark.parametrize(("value", "uncertainty"), [(math.nan, 0.1), (1.0, -0.1), (1.0, math.inf)])
def test_an_estimate_must_be_finite(value: float, uncertainty: float) -> None:
    with pytest.raises(InvalidValueError):
        Estimate(value, uncertainty)
