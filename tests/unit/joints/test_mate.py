"""Does a cutter mate with itself, and where is its middle?"""

import numpy as np
import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.corner import Cuts
from drawerwright.joints.fit import seat
from drawerwright.joints.mate import Mate, Verdict, _Line, find_middle
from drawerwright.joints.profile import Profile, drawer_lock_profile, lock_mitre_profile


@pytest.mark.parametrize("slope", [30, 45, 80, 90])
def test_an_ideal_profile_gives_its_measures_back(slope):
    mate = find_middle(drawer_lock_profile(5.13, 3.2, slope).points)
    assert mate.mid_depth.value == pytest.approx(5.13, abs=1e-6)
    assert mate.step.value == pytest.approx(3.2, abs=1e-5)
    assert mate.residual.value == pytest.approx(0, abs=1e-5)
    assert mate.verdict is Verdict.MATES
    assert mate.has_hook


def test_a_point_symmetric_profile_of_many_pieces_is_found_exactly():
    rng = np.random.default_rng(2)
    u, rise = np.sort(rng.uniform(0, 3, 5)), np.sort(rng.uniform(0, 1.5, 5))
    below = [(6 + float(a), 1.6 + float(b)) for a, b in zip(u, rise, strict=True)] + [(9.2, 3.2), (18, 3.2)]
    above = [(0.0, 0.0)] + [(12 - z, 3.2 - c) for z, c in reversed(below[:-1])]
    mate = find_middle([*above, (6.0, 1.6), *below])
    assert mate.mid_depth.value == pytest.approx(6, abs=1e-6)
    assert mate.step.value == pytest.approx(3.2, abs=1e-6)


def test_lock_mitre_and_edge_to_edge_use_the_depths_that_go_through_the_stock():
    mate = find_middle(lock_mitre_profile(11, 18).points, thickness=15)
    assert mate.mid_depth.value == pytest.approx(11, abs=1e-4)
    assert mate.step.value == pytest.approx(18, abs=1e-4)
    assert mate.bit_height(15) == pytest.approx(18.5, abs=1e-4)  # h = m + t / 2
    assert mate.has_hook


def test_a_cutter_that_cannot_mate_is_said_so_with_the_place():
    profile = Profile(((0.0, 0.0), (3.0, 0.0), (5.0, 1.0), (7.0, 3.0), (12.0, 3.5), (20.0, 3.5)))
    mate = find_middle(profile.points)
    assert mate.verdict is Verdict.FAILS
    assert mate.residual.value > 0.3
    assert f"at depth {mate.gapes_at:.2f} mm while depth {mate.touches_at:.2f} mm touches" in mate.text
    # Seating knows nothing of middles. At the best height the first places touch half the widest gap early,
    # and that gap is there to be seen.
    fit = seat(Cuts(profile, 20, 15, mate.bit_height(), 9.0, 9.0), mate.step.value)
    assert fit.stands_proud <= mate.residual.value / 2 + 1e-6
    assert max(gap.width for gap in fit.pressed.gaps) > 0.2


def test_best_height_and_fence_sum_close_the_corner():
    profile = drawer_lock_profile(6.2, 3.4, 55)
    mate = find_middle(profile.points)
    wanted = mate.fence_sum(15.0, lip=1.0)
    fit = seat(Cuts(profile, 18, 15, mate.bit_height(), wanted / 2, wanted / 2), mate.step.value)
    assert fit.closes
    assert fit.play == pytest.approx(0, abs=1e-4)
    assert fit.lip == pytest.approx(1.0, abs=1e-4)


def test_forty_noisy_points_give_middle_and_step_and_no_false_alarm():
    """The bars: m within 0.02 and d within 0.01 mm in 95 % of trials, at 0.02 mm (standard deviation).

    6 trials here; fewer than 3 hits would be expected once in 10,000 runs if the true rate were 95 %. What is
    possible at all is compared in tests/validation/test_mate_against_bound.py.
    """
    rng = np.random.default_rng(7)
    depths = np.linspace(0, 15, 40)
    hits = {"m": 0, "d": 0, "verdict": 0, "covered": 0}
    for _ in range(6):
        m, d, slope = rng.uniform(4.5, 6.5), rng.uniform(2.5, 4), rng.uniform(40, 75)
        edge = drawer_lock_profile(m, d, slope)
        points = [(float(z), edge.inset(float(z)) + rng.normal(0, 0.02)) for z in depths]
        mate = find_middle(points, uncertainty=0.02)
        hits["m"] += abs(mate.mid_depth.value - m) <= 0.02
        hits["d"] += abs(mate.step.value - d) <= 0.01
        hits["verdict"] += mate.verdict is not Verdict.FAILS
        hits["covered"] += abs(mate.step.value - d) <= 2 * mate.step.uncertainty
    assert min(hits.values()) >= 3, hits


def test_straight_edges_and_half_profiles_are_refused():
    with pytest.raises(InvalidValueError, match="straight edge"):
        find_middle([(0, 0), (5, 0.01), (10, 0)])
    with pytest.raises(InvalidValueError, match="at least three"):
        find_middle([(0, 0), (5, 1)])


TOOTH = ((0.0, 0.0), (3.0, 0.0), (7.0, 4.0), (20.0, 4.0))
"""A slope of 4 by 4 about its middle at 5."""


def line(thickness=None):
    depths, insets = np.array(TOOTH).T
    return _Line(depths, insets, thickness)


@pytest.mark.parametrize(
    ("total", "thickness", "shared", "spans"),
    [
        (10, None, (0, 10), 4),
        (6, None, (0, 6), 3),
        (30, None, (10, 20), 0),
        (10, 6, (2, 8), 4),
        (10, 3, (3.5, 6.5), 3),
        (4, 6, (0, 4), 1),
        (38, 6, (18, 20), 0),
    ],
)
def test_which_depths_take_part_and_what_they_span(total, thickness, shared, spans):
    """Down to twice the middle, or half the stock to either side of it; never beyond the readings."""
    assert line(thickness).shared(total) == pytest.approx(shared)
    assert line(thickness).spans(total) == pytest.approx(spans, abs=2e-3)


def test_both_sides_of_a_middle_add_up_to_the_step():
    sums, places = line().sums(10)
    assert sums == pytest.approx(4)
    assert sorted(set(places.tolist())) == pytest.approx([0, 3, 7, 10])
    assert line().spread(10) == pytest.approx(0)
    # About 5.5 the slope meets the level by 1 too soon at either end: sums of 4 + 0 outside, 2 × 2.5 = 5 inside.
    assert line().spread(11) == pytest.approx(1.0)


def test_a_joint_takes_nine_tenths_of_its_stock_and_enough_of_the_step():
    assert line().covers(6.5, 3.49)
    assert not line().covers(6.5, 3.51)
    assert line(4.4).covers(4, 0.5)  # 4 of 4.4, more than 3.96
    assert not line(4.5).covers(4, 0.5)  # less than 4.05
    assert line(4.4).covers(36, 0.0)  # from 16 to 20, where the readings end
    assert not line(4.5).covers(36, 0.0)


@pytest.mark.parametrize(
    ("residual", "limit", "verdict"),
    [
        (Estimate(0.15), 0.15, Verdict.MATES),
        (Estimate(0.151), 0.15, Verdict.FAILS),
        (Estimate(0.34, 0.1), 0.15, Verdict.WITHIN_READINGS),  # 1.96 times 0.1 less is 0.144
        (Estimate(0.36, 0.1), 0.15, Verdict.FAILS),
    ],
)
def test_a_gap_mates_up_to_its_limit_as_far_as_the_readings_tell(residual, limit, verdict):
    mate = Mate(Estimate(5.0), Estimate(4.0), residual, 0.0, 0.0, 1.0, limit)
    assert mate.verdict is verdict
    assert (
        Mate(Estimate(5.0), Estimate(4.0), residual, 0.0, 0.0, 1.0).limit == 0.15
    )  # the room that glue fills


@pytest.mark.parametrize(
    ("hook", "uncertainty", "holds"),
    [(0.19, 0, False), (0.21, 0, True), (0.39, 0.2, False), (0.41, 0.2, True)],
)
def test_a_hook_is_a_rise_that_holds_and_is_surely_there(hook, uncertainty, holds):
    assert Mate(Estimate(5.0), Estimate(4.0), Estimate(0, uncertainty), 0.0, 0.0, hook).has_hook is holds


def test_a_middle_must_use_four_fifths_of_the_step():
    """A long straight tooth above the slope mates with itself perfectly, and joins nothing."""
    mate = find_middle([(0.0, 0.0), (8.0, 0.0), (10.0, 1.0), (11.0, 4.0), (30.0, 4.3)])
    assert mate.mid_depth.value > 9.5
    assert mate.hook == pytest.approx(4.3)


@pytest.mark.parametrize("size", [0.1, 0.2])
def test_uncertain_readings_find_the_gap_that_exact_ones_have(size):
    """A bulge of one sign on either side of the middle: what lies opposite adds up, so the gap is twice it."""
    depths = np.linspace(0.0, 14.0, 141)
    bulge = sum(np.exp(-(((depths - place) / 0.5) ** 2) / 2) for place in (2.0, 8.0))
    points = list(
        zip(depths.tolist(), (np.interp(depths, *np.array(TOOTH).T) + size * bulge).tolist(), strict=True)
    )
    exact, read = find_middle(points), find_middle(points, uncertainty=0.01)
    assert read.mid_depth.value == pytest.approx(exact.mid_depth.value, abs=0.03)
    assert exact.residual.value == pytest.approx(2 * size, rel=0.1)
    assert read.residual.value == pytest.approx(exact.residual.value, rel=0.15)
    assert abs(read.touches_at - 5.0) == pytest.approx(3.0, abs=0.3)
    assert read.verdict is Verdict.FAILS
    assert read.smoothed is None
    assert read.residual.uncertainty < 0.03


def test_insets_count_from_the_largest_radius_wherever_they_were_measured_from():
    mate = find_middle([(z, c + 0.7) for z, c in TOOTH])
    assert (mate.mid_depth.value, mate.step.value) == pytest.approx((5.0, 4.0), abs=1e-5)
