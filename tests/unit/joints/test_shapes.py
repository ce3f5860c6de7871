"""Point-symmetric shapes and what they leave over, in figures worked out by hand. What is believed of an uneven edge
after a reading is Gaussian conditioning (C. E. Rasmussen, C. K. I. Williams, Gaussian Processes for Machine Learning,
2006, eq. 2.23 and 2.24; from memory)."""

from __future__ import annotations

import math

import numpy as np
import pytest

from drawerwright.joints.chain import Ends
from drawerwright.joints.shapes import (
    EvenPart,
    Readings,
    _chains,
    _polished,
    _score,
    _single_slope,
    even_part,
    fit_shape,
)

DEPTHS = np.arange(2.0, 8.001, 0.2)
"""31 readings about a middle at 5."""
TOOTH = np.clip(2.0 * (DEPTHS - 4.0), 0.0, 4.0)
"""Nothing down to 4, then a slope of 4 over 2, then 4."""
U = 0.01


def one_reading(size: float, half: float = 3.0) -> EvenPart:
    """At the middle, so many standard uncertainties off."""
    return even_part(np.array([0.0]), np.array([size * U]), U, half, places=4, draws=4000)


@pytest.mark.parametrize(
    ("size", "prior"),
    [
        # A prior of s uncertainties has the log likelihood -e² / 2 (1 + s²) - ln(1 + s²) / 2, and 3 less than none.
        # With s = 2.5 it beats none from e² = 2 × (3 + ln(7.25) / 2) / (1 - 1 / 7.25) on: e = 3.04.
        (3.0, 0.0),
        (3.1, 2.5),
        (-3.1, 2.5),
        (7.0, 6.0),  # 6: -0.66 - 1.81, 2.5: -3.38 - 0.99, 15: -0.11 - 2.71
        (20.0, 15.0),
        (60.0, 40.0),
    ],
)
def test_what_is_believed_after_one_reading(size: float, prior: float) -> None:
    """It is drawn to the reading by s² / (1 + s²), and less away from it by the kernel's bell, a third of 3 wide. Where
    nothing speaks for itself, what is not seen may still be as large as the uncertainty: half of its variance stays."""
    found = one_reading(size)
    assert found.away.tolist() == [0.0, 1.0, 2.0, 3.0]
    share = prior**2 / (1 + prior**2)
    expected = [size * U * share * math.exp(-(away**2) / 2) for away in found.away]
    assert found.mean.tolist() == pytest.approx(expected, abs=1e-12)
    at_most = max(prior, 1.0) ** 2
    left = math.sqrt(at_most / (1 + at_most)) * U
    assert found.draws[:, 0].std() == pytest.approx(left, rel=0.06)
    far = math.sqrt(at_most / 2 - at_most * at_most * math.exp(-9) / (1 + at_most)) * U
    assert found.draws[:, 3].std() == pytest.approx(far, rel=0.06)  # of what is far away only half is even
    assert np.abs(found.draws.mean(axis=0) - found.mean).max() < 0.1 * max(prior, 1.0) * U


def test_what_is_turned_about_the_middle_is_no_even_part() -> None:
    """A bump on one side and a dent on the other are odd; two bumps are even."""
    away = np.linspace(-3.0, 3.0, 61)
    bump = 0.3 * np.exp(-(((away - 1.5) / 0.4) ** 2) / 2)
    odd, even = bump - bump[::-1], bump + bump[::-1]
    assert np.abs(even_part(away, odd, U, 3.0).mean).max() < 0.01
    found = even_part(away, even, U, 3.0)
    assert found.mean == pytest.approx(np.interp(found.away, away, even), abs=0.012)


@pytest.mark.parametrize(
    ("given", "expected"),
    [((2.0, 0, 5, 31), 2 + 5 * math.log(31)), ((0.5, 3, 1, 10), 3.5 + math.log(10))],
)
def test_a_score_counts_misfit_what_is_left_out_and_pieces(
    given: tuple[float, int, int, int], expected: float
) -> None:
    """Schwarz's criterion: the logarithm of the count for each parameter (G. Schwarz, 1978)."""
    assert _score(*given) == pytest.approx(expected)


def test_which_readings_take_part() -> None:
    readings = Readings(DEPTHS, TOOTH, U, half=1.01)
    assert readings.part(5.0).sum() == 11
    assert readings.part(2.0).sum() == 6
    assert Readings(DEPTHS, TOOTH, U).part(5.0).all()
    assert readings.piece == pytest.approx(1.2 * 0.2)  # readings stand 0.2 apart
    assert Readings(DEPTHS / 100, TOOTH, U).piece == 0.02  # no piece is narrower


def test_rough_knots_are_those_of_the_edge() -> None:
    """A slope from 4 to 6 has its knots 1 from the middle. Nothing is left over: its score is 2 + 3 pieces times the
    logarithm of 31, and what took no part is added."""
    first, second, *_ = _chains(Readings(DEPTHS, TOOTH, U), 5.0)
    assert second[0] == pytest.approx(8 * math.log(31), abs=1e-6)
    assert first == (pytest.approx(5 * math.log(31), abs=1e-6), (1.0,))
    half = _chains(Readings(DEPTHS, TOOTH, U, half=2.01), 5.0)
    assert half[0] == (pytest.approx(10 + 5 * math.log(31), abs=1e-6), (1.0,))
    assert [len(knots) for _score, knots in half] == list(range(1, len(half) + 1))
    assert all(list(knots) == sorted(knots) for _score, knots in half)
    assert _chains(Readings(DEPTHS, TOOTH, U, half=0.41), 5.0)
    assert _chains(Readings(DEPTHS, TOOTH, U, half=0.39), 5.0) == []  # three readings


def test_a_rough_slope_begins_at_a_given_middle_or_a_little_beyond() -> None:
    """Half a rise of 1 is nearest to 3 / 1.2217^5 = 1.10 and 0.90 on the grid of 24 between 0.03 and 3."""
    readings = Readings(DEPTHS, TOOTH, U)
    for middles in ([4.0, 5.0], [4.95]):
        found = _single_slope(readings, middles)
        assert found is not None
        assert found[0] == pytest.approx(5.0)
        assert found[1] == pytest.approx(1.0, abs=0.11)
        assert found[2] == pytest.approx(4.0, abs=0.05)
    assert _single_slope(readings, []) is None
    assert _single_slope(Readings(DEPTHS, TOOTH, U, half=2.0), [5.0]) is None


@pytest.mark.parametrize("ends", list(Ends))
@pytest.mark.parametrize("knots", [(1.0,), (0.5, 1.0)])
def test_what_a_fitted_chain_scores(ends: Ends, knots: tuple[float, ...]) -> None:
    """Exact readings leave nothing: its parameters count, one more for each knot beyond the first, and 8 more where it
    has no level tooth at the largest radius."""
    found = _polished(Readings(DEPTHS, TOOTH, U), 5.0, knots, ends)
    assert found is not None
    pieces = len(found.x) + len(knots) - 1
    unusual = 0.0 if ends is Ends.FLAT else 8.0
    assert found.score == pytest.approx(pieces * math.log(31) + unusual, abs=0.05)
    half = _polished(Readings(DEPTHS, TOOTH, U, half=2.01), 5.0, knots, ends)
    assert half is not None
    assert half.score == pytest.approx(10 + pieces * math.log(31) + unusual, abs=0.05)  # ten take no part


@pytest.mark.parametrize("middle", [4.9, 5.0, 5.1])
def test_exact_readings_give_middle_and_step_back(middle: float) -> None:
    shape = fit_shape(Readings(DEPTHS, TOOTH, U), [middle])
    assert shape is not None
    assert (shape.mid_depth, shape.step) == pytest.approx((5.0, 4.0), abs=2e-3)
    assert np.abs(shape.left_over).max() < 2e-3
    assert shape.misfit < 0.1
    assert shape.holds
    assert (shape.corners[0][0], shape.corners[-1][0]) == pytest.approx((2.0, 8.0))
    assert shape.freedom == len(DEPTHS) - 3  # one slope between level ends: middle, step and knot


def test_how_well_a_shape_is_known_follows_from_the_readings_that_bear_on_it() -> None:
    """Of 31 readings 11 lie on the slope of 2: the middle is known to about u / (2 √11); ten on either side of it are
    level: the step to about u √(1/10 + 1/10)."""
    source = np.random.default_rng(5)
    for _ in range(3):
        shape = fit_shape(Readings(DEPTHS, TOOTH + U * source.standard_normal(31), U), [5.0])
        assert shape is not None
        spread = np.sqrt(np.diag(shape.covariance))
        assert spread == pytest.approx([U / (2 * math.sqrt(11)), U * math.sqrt(0.2)], rel=0.5)
        assert (abs(shape.mid_depth - 5.0), abs(shape.step - 4.0)) < tuple(4 * spread)


def test_a_shape_without_a_reading_on_its_slope_may_lie_anywhere_between() -> None:
    """A ledge between readings at 4.8 and 5.2: its middle is uniform over 0.4, of which the variance is 0.4² / 12."""
    depths = np.array([2.0, 2.8, 3.6, 4.4, 4.8, 5.2, 5.6, 6.4, 7.2, 8.0])
    insets = np.where(depths < 5.0, 0.0, 4.0)
    shape = fit_shape(Readings(depths, insets, U), [5.0])
    assert shape is not None
    assert shape.step == pytest.approx(4.0, abs=0.02)
    assert abs(shape.mid_depth - 5.0) < 0.2
    assert shape.covariance[0, 0] >= 0.4**2 / 12 * 0.99
