"""Routines by rule, positions by name, and the order in which positions are visited."""

import itertools
import random

import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.run.fence_joints import FenceJoint
from drawerwright.run.fence_plans import FenceRoutine, FenceWishes
from drawerwright.run.routines import forced_plan, given_plan
from drawerwright.run.visits import order_of_visits


def joint(key, wanted, upright=15.0, **limits):
    return FenceJoint(key, wanted, upright, 3.2, **limits)


def test_of_given_positions_each_corner_gets_the_two_that_leave_the_thickest_neck():
    plan = given_plan([joint("flush", 18.2), joint("lipped", 24.2)], [3.2, 9.1, 15.0, 21.0], 0.05)
    assert [(split.flat, split.upright) for split in plan.splits] == [(15.0, 3.2), (21.0, 3.2)]
    assert plan.positions[:2] == (3.2, 15.0)


def test_given_positions_must_serve_every_corner_and_keep_its_limits():
    with pytest.raises(InvalidValueError, match=r"nearest are 9.00 mm and 9.00 mm.*by 0.20 mm"):
        given_plan([joint("flush corner", 18.2)], [9.0], 0.05)
    with pytest.raises(InvalidValueError, match=r"more than the 12.00 mm that the cutter can stand out"):
        given_plan([joint("flush corner", 18.2, largest_setting=12.0)], [3.2, 15.0], 0.05)


def test_a_routine_may_be_forced_only_where_it_keeps_the_limits():
    joints = [joint("flush corner", 18.2, least_neck=8.0)]
    assert forced_plan(joints, FenceWishes(FenceRoutine.TOOTH)).moves == 2
    with pytest.raises(InvalidValueError, match=r"leaves a neck of 5.90 mm at the flush corner"):
        forced_plan(joints, FenceWishes(FenceRoutine.ONE))


@pytest.mark.parametrize("seed", range(20))
def test_the_first_corner_is_whole_as_early_as_any_order_makes_it(seed):
    rng = random.Random(seed)
    corners = [(rng.randrange(5) / 2, rng.randrange(5) / 2) for _ in range(rng.randrange(1, 6))]
    order = order_of_visits(corners)
    assert sorted(order) == sorted({place for corner in corners for place in corner})

    def whole_after(places):
        return next(n for n in range(1, len(places) + 1) if any(set(c) <= set(places[:n]) for c in corners))

    assert whole_after(order) == min(whole_after(other) for other in itertools.permutations(order))
