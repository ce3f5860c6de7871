"""Families of point-symmetric shapes, and how likely their measures are after some readings."""

import numpy as np
import pytest

from drawerwright.joints.chain import Chain, Curve, Ends, draw, least_squares

DEPTHS = np.linspace(0, 15, 40)


def test_a_chain_is_straight_between_its_knots_and_turned_about_its_middle():
    chain = Chain(2, Ends.FLAT, 0.1)
    x = np.array([6.0, 3.2, 0.5, 2.0, 1.0])
    wanted = np.interp(DEPTHS, [0, 4, 5.5, 6, 6.5, 8, 15], [0, 0, 0.6, 1.6, 2.6, 3.2, 3.2])
    assert chain.insets(DEPTHS, x) == pytest.approx(wanted)
    assert chain.insets(DEPTHS, np.array([x, x]))[1] == pytest.approx(wanted)
    assert chain.corners(x, 0.0, 15.0)[1:3] == (pytest.approx((4, 0)), pytest.approx((5.5, 0.6)))


def test_a_curve_with_a_bend_of_seven_hundredths_is_a_sine():
    curve = Curve()
    x = np.array([6.0, 3.2, 2.0, 0.0708])
    sine = 1.6 + 1.6 * np.sin(np.clip((DEPTHS - 6) / 2, -1, 1) * np.pi / 2)
    assert curve.insets(DEPTHS, x) == pytest.approx(sine, abs=0.001)
    corners = np.array(curve.corners(x, 0.0, 15.0))
    fine = np.linspace(0, 15, 3001)
    assert np.interp(fine, *corners.T) == pytest.approx(curve.insets(fine, x), abs=0.001)


@pytest.mark.parametrize("bend", [-0.9, 0.0, 0.37])
def test_a_proper_curve_never_turns_back(bend):
    curve = Curve()
    x = np.array([6.0, 3.2, 2.0, bend])
    assert curve.is_proper(x)
    assert np.all(np.diff(curve.insets(np.linspace(0, 15, 3001), x)) >= -1e-12)
    assert not curve.is_proper(np.array([6.0, 3.2, 2.0, 0.4]))


def test_what_is_drawn_lies_about_what_fits_best_and_the_seed_decides():
    """A slope of 45 degrees read 0.385 mm apart: its middle is known to s / (tan a sqrt(n)), n = 8 readings on it."""
    chain = Chain(1, Ends.FLAT, 0.1)
    truth = np.array([6.0, 3.2, 1.6])
    read = chain.insets(DEPTHS, truth) + np.random.default_rng(1).normal(0, 0.02, 40)
    best, _ = least_squares(chain, DEPTHS, read, np.array([5.9, 3.0, 1.5]))
    drawn = draw(chain, DEPTHS, read, 0.02, best, np.random.default_rng(2))
    again = draw(chain, DEPTHS, read, 0.02, best, np.random.default_rng(2))
    assert np.array_equal(drawn.measures, again.measures)
    assert drawn.measures.mean(axis=0) == pytest.approx(best[:2], abs=0.003)
    assert drawn.measures[:, 0].std() == pytest.approx(0.02 / np.sqrt(8), rel=0.2)
