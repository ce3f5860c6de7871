"""The edge that corners are seated with, from readings that scatter."""

import numpy as np
import pytest

from drawerwright.joints.corner import Cuts
from drawerwright.joints.edge import plain_edge, seated_edge
from drawerwright.joints.fit import seat
from drawerwright.joints.mate import find_middle

NOISE = 0.02
UNEVEN = np.array([(0, 0), (4.2, 0), (5.5, 1.9), (7.3, 3.0), (16, 3.0)])
"""Its slope is in two pieces that are not each other's mirror."""


def read(line, seed=2, count=70, lowered=0.0):
    depths = np.linspace(0, line[-1, 0], count)
    scatter = np.random.default_rng(seed).normal(0, NOISE, count)
    insets = np.interp(depths, *line.T) + scatter - lowered
    return tuple(zip(depths.tolist(), insets.tolist(), strict=True))


def edge_of(points, through=None):
    mate = find_middle(points, uncertainty=NOISE, thickness=through)
    return seated_edge(points, mate, NOISE, through)


def test_scatter_about_the_tooth_lifts_nothing():
    """The gauge was set to zero on the tooth; the lowest of twenty readings there lies 0.04 mm below."""
    profile, _ = plain_edge(read(UNEVEN), NOISE)
    assert profile.points[0][1] == pytest.approx(0, abs=0.02)
    assert profile.inset(12) == pytest.approx(3.0, abs=0.015)


@pytest.mark.parametrize("lowered", [0.3, 17.5])
def test_readings_counted_from_another_line_are_counted_from_the_largest_radius(lowered):
    profile, _ = plain_edge(read(UNEVEN, lowered=lowered), NOISE)
    assert min(inset for _, inset in profile.points) == 0
    assert profile.inset(12) == pytest.approx(3.0, abs=0.04)


def test_points_taken_as_exact_are_the_edge():
    points = read(UNEVEN)
    profile, give = plain_edge(points, 0.0)
    assert len(profile.points) == len(points)
    assert give < 0.001


def test_a_small_hook_holds_although_the_readings_scatter():
    """A lock that turns back by 0.3 mm, fifteen times the scatter."""
    lock = np.array([(0, 18), (8.4, 9.6), (8.7, 9.9), (11.3, 8.1), (11.6, 8.4), (20, 0), (24, 0)])
    edge = edge_of(read(lock, count=160), through=15.0)
    assert 0.0004 < edge.give < 0.1
    height = edge.mid_depth + 15 / 2
    fit = seat(Cuts(edge.profile, 15, 15, height, 16.5, 16.5), edge.seated_step, give=edge.give)
    assert fit.is_held
    assert fit.closes


def test_the_first_places_touch_at_the_seat_of_an_uneven_edge():
    """At the best height it closes, and gapes elsewhere by what the edge is uneven."""
    edge = edge_of(read(UNEVEN))
    height = 2 * edge.mid_depth
    fit = seat(Cuts(edge.profile, 18, 15, height, 9.0, 9.0), edge.seated_step, give=edge.give)
    assert fit.closes
    assert edge.residual > 0.2
    assert max(gap.width for gap in fit.pressed.gaps) > 0.1
