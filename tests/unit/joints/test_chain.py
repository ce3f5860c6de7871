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


FLAT = np.array([6.0, 3.2, 0.5, 2.0, 1.0])
"""Middle 6, step 3.2, knots 0.5 and 2 from the middle, the first one 1.0 above it; the last is half the step, 1.6."""
OPEN = np.array([6.0, 3.0, 1.0, 2.0, 1.0, 1.4, 0.1])
"""Knots 1 and 2 from the middle and 1.0 and 1.4 above it; from there on 0.1 for each mm."""


def odd(middle, level, distances, heights):
    """A line through the middle that reads the same turned over."""
    u = DEPTHS - middle
    return level + np.sign(u) * np.interp(np.abs(u), [0, *distances], [0, *heights])


def test_ends_of_a_chain_by_hand():
    """A level end stays at half the step, an open one goes on; a lifted chain lies as much higher everywhere."""
    flat = odd(6.0, 1.6, [0.5, 2.0, 99.0], [1.0, 1.6, 1.6])
    assert Chain(2, Ends.FLAT, 0.1).insets(DEPTHS, FLAT) == pytest.approx(flat)
    assert Chain(2, Ends.LIFTED, 0.1).insets(DEPTHS, np.array([*FLAT, 0.2])) == pytest.approx(flat + 0.2)
    opened = odd(6.0, 1.5, [1.0, 2.0, 102.0], [1.0, 1.4, 11.4])
    assert Chain(2, Ends.OPEN, 0.1).insets(DEPTHS, OPEN) == pytest.approx(opened)
    many = Chain(2, Ends.OPEN, 0.1).insets(DEPTHS, np.array([OPEN, [7.0, *OPEN[1:]]]))
    assert many[1] == pytest.approx(odd(7.0, 1.5, [1.0, 2.0, 102.0], [1.0, 1.4, 11.4]))


@pytest.mark.parametrize(
    ("ends", "truth"),
    [(Ends.FLAT, FLAT), (Ends.LIFTED, np.array([*FLAT, 0.2])), (Ends.OPEN, OPEN)],
)
def test_exact_readings_begin_at_their_own_chain(ends, truth):
    """Linear least squares through points that lie on the chain gives its levels; knots are given."""
    chain = Chain(2, ends, 0.1)
    dense = np.linspace(0, 15, 301)
    begun = chain.begin(dense, chain.insets(dense, truth), 6.0, truth[2:4])
    assert begun == pytest.approx(truth, abs=0.02)
    best, squares = least_squares(chain, dense, chain.insets(dense, truth), begun)
    assert best == pytest.approx(truth, abs=1e-6)
    assert squares == pytest.approx(0.0, abs=1e-10)


def test_any_angle_of_the_innermost_piece_is_as_likely():
    """For an angle that is even, the height h over a width w has the density h / (w² + h²), up to a constant."""
    likely = np.exp(Chain(2, Ends.FLAT, 0.1).steepness(FLAT))
    assert likely == pytest.approx(1.0 / (0.5**2 + 1.0**2))
    assert np.exp(Chain(1, Ends.FLAT, 0.1).steepness(np.array([6.0, 3.2, 2.0]))) == pytest.approx(
        1.6 / (2.0**2 + 1.6**2)
    )
    backwards = np.array([6.0, 3.2, 0.5, 2.0, -1.0])
    assert np.exp(Chain(2, Ends.FLAT, 0.1).steepness(backwards)) == pytest.approx(0.8)
    curve = Curve().steepness(np.array([6.0, 3.2, 3.4, 0.2]))  # as steep in the middle as a rise of 3.4 / 1.7
    assert np.exp(curve) == pytest.approx(1.6 / (2.0**2 + 1.6**2))


@pytest.mark.parametrize(
    ("x", "is_proper"),
    [
        ([6.0, 3.2, 0.5, 2.0, 1.0], True),
        ([6.0, 0.0, 0.5, 2.0, 1.0], False),
        ([6.0, 3.2, 0.011, 2.0, 1.0], True),  # half of the smallest knot, 0.02
        ([6.0, 3.2, 0.009, 2.0, 1.0], False),
        ([6.0, 3.2, 0.5, 0.81, 1.0], True),  # no piece narrower than 0.3 but the innermost
        ([6.0, 3.2, 0.5, 0.79, 1.0], False),
        ([6.0, 3.2, 0.5, 0.4, 1.0], False),
    ],
)
def test_knots_follow_each_other_outwards(x, is_proper):
    assert Chain(2, Ends.FLAT, 0.3).is_proper(np.array(x)) == is_proper
    assert list(Chain(2, Ends.FLAT, 0.3).is_proper(np.array([x, FLAT]))) == [is_proper, True]


@pytest.mark.parametrize(
    ("x", "is_proper"),
    [
        ([6.0, 3.2, 2.0, 0.375], True),
        ([6.0, 3.2, 2.0, -0.99], True),
        ([6.0, 3.2, 2.0, -1.01], False),
        ([6.0, 3.2, 0.021, 0.0], True),
        ([6.0, 3.2, 0.019, 0.0], False),
        ([6.0, -0.1, 2.0, 0.0], False),
    ],
)
def test_what_a_curve_may_be(x, is_proper):
    assert Curve().is_proper(np.array(x)) == is_proper


def test_a_curve_by_hand():
    """Half of its reach away: 1 + 0.5 (1.7 - 0.9 / 4 + 0.2 / 16) = 1.74375 of half the step."""
    x = np.array([6.0, 3.2, 2.0, 0.2])
    assert Curve().insets(np.array([4.0, 5.0, 6.0, 7.0, 8.0, 9.0]), x) == pytest.approx(
        [0.0, 1.6 * (2 - 1.74375), 1.6, 1.6 * 1.74375, 3.2, 3.2]
    )
    assert Curve.begin(6.0, 3.2, 1.5) == pytest.approx([6.0, 3.2, 2.1, 0.07])


def test_corners_lie_between_top_and_bottom():
    chain = Chain(1, Ends.FLAT, 0.1)
    x = np.array([6.0, 3.2, 2.0])
    assert [z for z, _ in chain.corners(x, 0.0, 15.0)] == [0.0, 4.0, 8.0, 15.0]
    assert [z for z, _ in chain.corners(x, 5.0, 7.5)] == [5.0, 7.5]
    assert chain.corners(x, 5.0, 7.5) == (pytest.approx((5.0, 0.8)), pytest.approx((7.5, 2.8)))
    inside = Curve().corners(np.array([6.0, 3.2, 2.0, 0.0]), 5.0, 7.0)
    assert (inside[0][0], inside[-1][0]) == (5.0, 7.0)
