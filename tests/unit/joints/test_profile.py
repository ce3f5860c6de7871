"""Profiles: what they accept, and that flattened arcs stay on the arc."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawerwright.basics.errors import InvalidValueError
from drawerwright.joints.profile import (
    Profile,
    drawer_lock_profile,
    flatten_arc,
    lock_mitre_profile,
    without_ledges,
)


def test_drawer_lock_slope_has_the_given_run_and_rise():
    profile = drawer_lock_profile(mid_depth=6, step=4, slope=30)
    (_, top, bottom, _) = profile.points
    assert (bottom[1] - top[1]) / (bottom[0] - top[0]) == pytest.approx(math.tan(math.radians(30)))
    assert profile.inset(6) == pytest.approx(2)


@given(
    m=st.floats(4, 15),
    d=st.floats(1, 4),
    slope=st.floats(30, 89),
    u=st.floats(0, 3.9),
)
def test_drawer_lock_is_point_symmetric_about_its_middle(m, d, slope, u):
    profile = drawer_lock_profile(m, d, slope)
    assert profile.inset(m - u) + profile.inset(m + u) == pytest.approx(d, abs=1e-6)


@given(m=st.floats(6, 20), d=st.floats(5, 40), u=st.floats(0, 5.9))
def test_lock_mitre_is_point_symmetric_about_its_middle(m, d, u):
    profile = lock_mitre_profile(m, d)
    assert profile.inset(m - u) + profile.inset(m + u) == pytest.approx(d, abs=1e-6)


def test_lock_mitre_is_widest_at_the_table_and_falls_on_the_way():
    profile = lock_mitre_profile(11, 18)
    assert profile.inset(0) == pytest.approx(18)
    assert profile.inset(20) == pytest.approx(0)
    assert min(c for _, c in profile.points) == 0


def test_a_slope_that_starts_above_the_top_is_refused_with_its_rise():
    with pytest.raises(InvalidValueError, match=r"takes 13\.86 mm of depth"):
        drawer_lock_profile(mid_depth=5, step=8, slope=30)


@pytest.mark.parametrize(
    ("points", "words"),
    [
        (((0, 0),), "at least two points"),
        (((0, 0), (2, 1), (1, 3)), "point 3 lies at depth 1 mm, above point 2"),
        (((0, 1), (2, 2)), "smallest inset"),
        (((0, 5e-9), (2, 2)), "smallest inset"),
        (((-1, 0), (2, 2)), "none is below zero"),
        (((0, 0), (math.nan, 2)), "finite"),
    ],
)
def test_profiles_that_cannot_be_say_why(points, words):
    with pytest.raises(InvalidValueError, match=words):
        Profile(points)


def test_measured_from_the_table_up_is_turned_round_with_its_arc():
    down = Profile.measured([(0, 2.0), (4, 2.0), (6, 4.0), (9, 4.0)], bulges=[0, 0.3, 0, 0])
    up = Profile.measured([(9, 4.0), (6, 4.0), (4, 2.0), (0, 2.0)], bulges=[0, -0.3, 0, 0])
    assert len(down.points) > 10
    assert [list(p) for p in up.points] == [pytest.approx(p, abs=1e-9) for p in down.points]


@given(bulge=st.floats(0.05, 1.0), sign=st.sampled_from([1, -1]))
def test_flattened_arc_leaves_the_circle_by_no_more_than_the_tolerance(bulge, sign):
    start, end = (1.0, 2.0), (5.0, 3.5)
    points = [start, *flatten_arc(start, end, sign * bulge), end]
    chord = math.dist(start, end)
    radius = chord * (1 + bulge**2) / (4 * bulge)  # circle through a chord with sagitta bulge * chord / 2
    # Left of the chord for a right turn: a positive bulge puts the arc to the right of its chord.
    along = ((end[0] - start[0]) / chord, (end[1] - start[1]) / chord)
    left = (-along[1], along[0])
    offset = sign * (radius - bulge * chord / 2)
    centre = tuple((start[i] + end[i]) / 2 + left[i] * offset for i in (0, 1))
    for p, q in itertools.pairwise(points):
        middle = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
        assert math.dist(p, centre) == pytest.approx(radius, abs=1e-9)
        assert radius - math.dist(middle, centre) <= 0.0005 * 1.001  # mm; docs/joints.md


def test_inset_holds_above_the_first_and_below_the_last_point():
    profile = Profile(((0.5, 0.0), (3.0, 2.0)))
    assert profile.inset(0) == 0
    assert profile.inset(9) == 2


def test_between_keeps_both_sides_of_a_ledge():
    profile = Profile(((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (8.0, 3.0)))
    assert profile.between(2, 6) == ((2, 0), (4, 0), (4, 3), (6, 3))
    assert profile.between(4, 6) == ((4, 3), (6, 3))
    assert profile.between(2, 4) == ((2, 0), (4, 0))


def test_a_dense_profile_is_seated_with_the_points_that_bend_it():
    depths = np.linspace(0, 20, 600)
    curve = 1.6 + 1.6 * np.sin(np.clip((depths - 6) / 2, -1, 1) * np.pi / 2)
    dense = Profile.measured(list(zip(depths.tolist(), curve.tolist(), strict=True)))
    plain = dense.plain
    assert len(plain.points) < 120
    assert (
        max(abs(plain.inset(z) - dense.inset(z)) for z in np.linspace(0, 20, 997)) < 2.2 * 0.0002
    )  # mm; docs/joints.md
    assert min(inset for _, inset in plain.points) == 0


def test_corners_and_ledges_stay_where_they_are():
    for slope in (50, 90):
        profile = drawer_lock_profile(6, 3.2, slope)
        assert profile.plain.points == profile.points
    ledge_and_spike = Profile(((0, 0), (4, 0), (4, 2), (4, 1), (8, 1), (9, 1.0001), (10, 1)))
    assert ledge_and_spike.plain.points == ((0, 0), (4, 0), (4, 2), (4, 1), (10, 1))


def test_a_ledge_is_drawn_apart_by_less_than_any_answer_shows():
    apart = without_ledges(np.array([0.0, 6.0, 6.0, 9.0]))
    assert 0 < apart[2] - apart[1] < 2e-7
    assert apart[[0, 3]].tolist() == [0.0, 9.0]
