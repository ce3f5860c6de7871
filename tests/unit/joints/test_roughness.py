"""The chain of the fewest pieces behind readings that scatter."""

import numpy as np
import pytest

from drawerwright.joints.roughness import _each_is_read, without_scatter

LINE = np.array([(0, 0), (3.4, 0), (4.1, 0.9), (6.3, 1.6), (7.7, 3.1), (15, 3.1)])


def read(count, noise, seed=0, line=LINE):
    depths = np.linspace(0, line[-1, 0], count)
    scatter = np.random.default_rng(seed).normal(0, noise, count)
    return list(zip(depths.tolist(), (np.interp(depths, *line.T) + scatter).tolist(), strict=True))


@pytest.mark.parametrize(("count", "noise"), [(80, 0.02), (200, 0.03), (300, 0.005)])
def test_it_has_the_corners_of_the_line_that_was_read(count, noise):
    found = without_scatter(read(count, noise), noise)
    assert len(found.points) == len(LINE)
    assert np.array(found.points) == pytest.approx(LINE, abs=0.15)
    # Between its corners, where many readings say the same, it is truer than one of them.
    depths = np.linspace(0, 15, 500)
    off = np.interp(depths, *np.array(found.points).T) - np.interp(depths, *LINE.T)
    assert np.sqrt(np.mean(off**2)) < noise / 2
    assert 0 < found.uncertainty <= noise


@pytest.mark.parametrize(
    "points", [[tuple(point) for point in LINE.tolist()], [(0, 0), (5, 0), (5, 2), (9, 2)]]
)
def test_corners_drawn_without_scatter_stay_where_they_are(points):
    found = without_scatter(points, 0.02)
    assert np.array(found.points) == pytest.approx(np.array(points), abs=1e-6)


def test_a_straight_edge_stays_straight():
    line = np.array([(0, 0), (12, 1.2)])
    ends = without_scatter(read(60, 0.02, line=line), 0.02).points
    assert len(ends) == 2
    assert np.array(ends) == pytest.approx(line, abs=0.02)


def test_a_curve_is_followed_within_the_scatter():
    depths = np.linspace(0, 14, 120)
    curve = 1.6 + 1.6 * np.sin(np.clip((depths - 6) / 2, -1, 1) * np.pi / 2)
    points = list(zip(depths, curve + np.random.default_rng(1).normal(0, 0.02, 120), strict=True))
    found = np.array(without_scatter(points, 0.02).points)
    assert len(found) < 20
    assert np.abs(np.interp(depths, *found.T) - curve).max() < 0.06


@pytest.mark.parametrize(
    ("depths", "knots", "is_read"),
    [
        ([0, 1, 2, 3], [0, 1, 2, 3], True),
        ([0, 1.5, 4, 5], [0, 1, 2, 3], False),  # the one reading between 1 and 2 cannot serve both knots
        ([0, 1.5, 2.5, 5], [0, 1, 2, 3], True),
        ([0, 2.5, 2.7, 5], [0, 1, 2, 3], False),  # none lies below 2
        ([0, 1.5, 2.5], [0, 1, 2, 3], False),  # the last reading is the last knot's
        ([0, 3], [0, 1, 3], False),
        ([0, 0.5, 3], [0, 1, 3], True),
    ],
)
def test_every_knot_needs_a_reading_of_its_own(depths, knots, is_read):
    """Schoenberg and Whitney's condition (from memory): the readings lie one each within the pieces of the knots."""
    assert _each_is_read(np.array(depths, float), np.array(knots, float)) is is_read
