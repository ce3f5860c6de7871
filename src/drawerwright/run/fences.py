r"""The fewest fence positions that serve every corner of a job, beside the usual routines.

A corner needs two settings of the fence that add up to its fence sum (`drawerwright.joints.law`), within what
may be seen of a lip that is a little off. Which two is free, so corners can share positions:

::

      lipped front  S = o + t + d  =  (p + o) + p       flat pieces at p + o, sides at p
      flush back    S =     t + d  =     p    + p       backs at p, sides at p

      positions:  p,  p + o        two set-ups of the fence instead of three
"""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import replace

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.joints.setting import SAME_SETTING
from drawerwright.run.fence_joints import FenceJoint
from drawerwright.run.fence_plans import FLUSH, FenceComparison, FencePlan, FenceRoutine
from drawerwright.run.fence_search import search_fences
from drawerwright.run.routines import each_its_own, routine_plan


def plan_fences(
    joints: Sequence[FenceJoint], tolerance: Mm = FLUSH, *, time_limit: float = 5.0
) -> FenceComparison:
    """Fence positions for all corners that one cutter cuts.

    Args:
        joints: what each kind of corner asks for; keys differ.
        tolerance: how far a lip may be off, either way (mm); less than a fence can be set counts as that.
        time_limit: seconds for the search; after it the best plan so far is returned with its lower bound.

    Raises:
        InvalidValueError: no joints, a key given twice, or a tolerance below zero.
    """
    if not joints:
        raise InvalidValueError(phrase("there are no corners to plan fence positions for"))
    if len({joint.key for joint in joints}) < len(joints):
        raise InvalidValueError(phrase("two corners have one key: name each of them once"))
    if tolerance < 0:
        raise InvalidValueError(
            phrase(
                "a flushness tolerance must be zero or more, not {tolerance}",
                tolerance=millimetres(tolerance, "g"),
            )
        )
    started = time.perf_counter()
    tolerance = max(tolerance, SAME_SETTING)
    one = routine_plan(FenceRoutine.ONE, joints, tolerance)
    tooth = two = None
    if all(joint.is_split_free for joint in joints):
        tooth = routine_plan(FenceRoutine.TOOTH, joints, tolerance)
        two = routine_plan(FenceRoutine.TWO, joints, tolerance)
    sound = [plan for plan in (one, tooth, two) if plan is not None and plan.is_as_near_as_can_be]
    fallback = min(sound, key=_worse, default=None) or each_its_own(joints)
    found = search_fences(joints, tolerance, time_limit, fallback)
    bound = found.lower_bound
    fewest = replace(
        found.plan,
        routine=FenceRoutine.FEWEST,
        lower_bound=bound,
        ties_open=found.ties_open,
        seconds=time.perf_counter() - started,
    )
    return FenceComparison(
        fewest,
        replace(one, lower_bound=bound),
        tooth and replace(tooth, lower_bound=bound),
        two and replace(two, lower_bound=bound),
    )


def _worse(plan: FencePlan) -> tuple[int, float]:
    neck = plan.thinnest_neck
    return plan.moves, 0.0 if neck is None else -neck
