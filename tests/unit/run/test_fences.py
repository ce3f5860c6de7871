"""Fewest fence positions: the law's own example, limits kept, brute force and HiGHS as second opinions."""

import itertools
import random
from dataclasses import replace

import highspy
import pytest
from fence_brute_force import can_be_served
from hypothesis import given, settings
from hypothesis import strategies as st

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.setting import CornerGeometry
from drawerwright.run.fence_joints import FenceJoint
from drawerwright.run.fence_plans import FenceRoutine
from drawerwright.run.fence_search import NECK_WORTH
from drawerwright.run.fences import plan_fences


def joint(key, wanted, upright=15.0, step=3.2, **limits):
    return FenceJoint(key, wanted, upright, step, **limits)


def test_lipped_front_and_flush_back_need_two_positions_the_lip_apart():
    """joint-law.md, section 2: back p + p, front (p + o) + p with p = (t + d) / 2."""
    choice = plan_fences([joint("front", 1.6 + 14.7 + 3.2, 14.7), joint("back", 14.7 + 3.2, 14.7)])
    plan = choice.fewest
    assert plan.positions == pytest.approx((8.95, 10.55), abs=1e-4)
    assert (plan.split("front").flat, plan.split("front").upright) == pytest.approx((10.55, 8.95), abs=1e-4)
    assert (plan.split("back").flat, plan.split("back").upright) == pytest.approx((8.95, 8.95), abs=1e-4)
    assert plan.is_proven
    three, one = choice.plan(FenceRoutine.TOOTH), choice.plan(FenceRoutine.ONE)
    assert three.positions == pytest.approx((3.2, 14.7, 16.3), abs=1e-6)
    assert three.thinnest_neck == pytest.approx(14.7 - 3.2)
    assert one.moves == 2
    assert three.moves == 3
    assert one.thinnest_neck < plan.thinnest_neck < three.thinnest_neck


def test_three_equally_spaced_sums_are_served_by_two_positions():
    plan = plan_fences([joint("a", 18.0), joint("b", 20.0), joint("c", 22.0)], 0.01).fewest
    assert plan.moves == 2
    assert plan.is_proven


def test_sums_within_the_tolerance_share_one_position():
    plan = plan_fences([joint("a", 18.0), joint("b", 18.09)], 0.05).fewest
    assert plan.moves == 1
    assert all(abs(split.lip_error) <= 0.05 for split in plan.splits)
    assert plan_fences([joint("a", 18.0), joint("b", 18.12)], 0.05).fewest.moves == 2


def test_neck_limit_costs_a_position_where_it_must():
    free = plan_fences([joint("a", 18.2)]).fewest
    limited = plan_fences([joint("a", 18.2, least_neck=8.0)]).fewest
    assert free.moves == 1
    assert limited.moves == 2
    assert limited.splits[0].neck >= 8.0 - 1e-6


def test_a_limit_that_nothing_can_keep_ends_at_the_tooth_alone():
    plan = plan_fences([joint("a", 18.2, least_neck=13.0)]).fewest
    assert plan.splits[0].upright == pytest.approx(3.2, abs=1e-4)
    assert plan.splits[0].neck == pytest.approx(11.8, abs=1e-4)


def test_lock_mitres_keep_one_setting_for_both_pieces():
    cutter = Cutter("lock-mitre", mid_depth=Estimate(11), step=Estimate(18))
    corners = {
        "thin": CornerGeometry(12, 12),
        "thick": CornerGeometry(15, 15),
        "mid": CornerGeometry(13.5, 13.5),
    }
    joints = [FenceJoint.of(key, cutter, corner) for key, corner in corners.items()]
    choice = plan_fences(joints, 0.01)
    assert choice.fewest.moves == 3
    assert all(split.flat == split.upright for split in choice.fewest.splits)
    assert choice.tooth is None
    with pytest.raises(InvalidValueError, match="this joint does not"):
        choice.plan(FenceRoutine.TOOTH)


def test_out_of_time_gives_the_best_so_far_with_a_bound_below():
    rng = random.Random(4)
    joints = [joint(str(i), rng.uniform(16, 26), rng.uniform(12, 19)) for i in range(24)]
    plan = plan_fences(joints, 0.02, time_limit=0.3).fewest
    assert 1 <= plan.lower_bound <= plan.moves <= 24
    assert all(abs(split.lip_error) <= 0.02 + 1e-4 for split in plan.splits)
    assert {s for split in plan.splits for s in (split.flat, split.upright)} == set(plan.positions)


def test_joints_without_a_key_of_their_own_are_refused():
    with pytest.raises(InvalidValueError, match="one key"):
        plan_fences([joint("a", 18), joint("a", 19)])
    with pytest.raises(InvalidValueError, match="no corner"):
        plan_fences([])


def feasible_with(count, joints, tolerance):
    """Whether HiGHS finds `count` positions: one binary per joint and ordered pair of positions."""
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue(
        "threads", 1
    )  # HiGHS has one thread pool per process: as many as the planner asks for
    big = 100.0
    position = [solver.addVariable(0.0, 40.0) for _ in range(count)]
    for a, b in itertools.pairwise(position):
        solver.addConstr(a <= b)
    for item in joints:
        picks = []
        for f, u in itertools.product(range(count), repeat=2):
            pick = solver.addBinary()
            picks.append(pick)
            total = position[f] + position[u]
            solver.addConstr(total <= item.wanted_sum + tolerance + big * (1 - pick))
            solver.addConstr(total >= item.wanted_sum - tolerance - big * (1 - pick))
            solver.addConstr(position[u] <= item.most_upright + big * (1 - pick))
            solver.addConstr(position[u] >= item.step - big * (1 - pick))
            solver.addConstr(position[f] >= item.step - big * (1 - pick))
        solver.addConstr(sum(picks) == 1)
    solver.run()
    status = solver.getModelStatus()
    assert status in (highspy.HighsModelStatus.kOptimal, highspy.HighsModelStatus.kInfeasible)
    return status == highspy.HighsModelStatus.kOptimal


@pytest.mark.parametrize("seed", range(12))
def test_counts_are_the_ones_that_highs_finds(seed):
    rng = random.Random(seed)
    size = rng.choice([3, 4, 5])
    tolerance = rng.choice([0.02, 0.1, 0.4])
    joints = []
    for index in range(size):
        upright = rng.choice([12.0, 14.7, 17.8])
        lip = rng.choice([0.0, 0.0, 1.5, 3.0, rng.uniform(0, 6)])
        joints.append(joint(str(index), lip + upright + 3.2, upright, least_neck=rng.choice([0.0, 6.0, 8.0])))
    plan = plan_fences(joints, tolerance).fewest
    assert plan.is_proven
    assert feasible_with(plan.moves, joints, tolerance + 1e-6)
    if plan.moves > 1:
        assert not feasible_with(plan.moves - 1, joints, tolerance - 1e-6)
    for split in plan.splits:
        assert abs(split.lip_error) <= tolerance + 1e-4
        assert split.neck >= split.joint.least_neck - 1e-4
        assert min(split.flat, split.upright) >= 3.2 - 1e-4


def small_job(seed):
    """Three to five corners that often share sums, with limits that matter, and a tolerance."""
    rng = random.Random(seed)
    tolerance = rng.choice([0.02, 0.05, 0.2])
    joints = []
    for index in range(rng.choice([3, 4, 5])):
        upright = rng.choice([12.0, 14.7, 17.8])
        lip = rng.choice([0.0, 0.0, 1.5, 3.0, rng.uniform(0, 6)])
        limits = {
            "least_neck": rng.choice([0.0, 6.0, 8.0]),
            "largest_setting": rng.choice([17.5, 40.0]),
        }
        joints.append(joint(str(index), lip + upright + 3.2, upright, **limits))
    return joints, tolerance


@pytest.mark.parametrize("seed", range(16))
def test_no_place_for_the_fence_serves_a_job_with_fewer_or_leaves_thicker_necks(seed):
    joints, tolerance = small_job(seed)
    plan = plan_fences(joints, tolerance).fewest
    assert plan.is_proven
    assert not plan.ties_open
    for split in plan.splits:
        assert abs(split.lip_error) <= tolerance + 1e-4
        assert split.neck >= split.joint.least_neck - 1e-4
        assert max(split.flat, split.upright) <= split.joint.largest_setting + 1e-4
        assert min(split.flat, split.upright) >= 3.2 - 1e-4
    if plan.moves <= 3:
        assert can_be_served(joints, tolerance, plan.moves)
    for fewer in range(1, min(plan.moves, 4)):
        assert not can_be_served(joints, tolerance, fewer)
    if plan.moves <= 3:
        thicker = [
            replace(j, least_neck=max(j.least_neck, plan.thinnest_neck + NECK_WORTH + 0.02)) for j in joints
        ]
        assert not can_be_served(thicker, tolerance, plan.moves)
        truer = [replace(j, least_neck=max(j.least_neck, plan.thinnest_neck + NECK_WORTH)) for j in joints]
        if plan.lip_error > 0.01:
            assert not can_be_served(truer, plan.lip_error - 0.006, plan.moves)


def test_brute_force_knows_the_laws_own_example():
    pair = [joint("front", 1.6 + 14.7 + 3.2, 14.7), joint("back", 14.7 + 3.2, 14.7)]
    assert can_be_served(pair, 0.01, 2)
    assert not can_be_served(pair, 0.01, 1)
    assert can_be_served(pair, 0.8, 1)


corners = st.lists(
    st.tuples(st.floats(12, 19), st.one_of(st.just(0.0), st.floats(0, 8))), min_size=1, max_size=4
)


@settings(max_examples=20, deadline=None)
@given(corners, st.floats(0.01, 0.3))
def test_fewest_is_never_more_than_a_routine_that_keeps_the_limits(sizes, tolerance):
    joints = [joint(str(i), lip + t + 3.2, t, least_neck=t / 3) for i, (t, lip) in enumerate(sizes)]
    compared = plan_fences(joints, tolerance)
    assert compared.fewest.keeps_limits
    for plan in compared.plans:
        assert plan.lip_error <= tolerance + 1e-4
        assert compared.fewest.lower_bound <= compared.fewest.moves
        if plan.keeps_limits:
            assert compared.fewest.moves <= plan.moves
