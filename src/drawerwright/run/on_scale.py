"""A fence plan on the marks of the user's fence scale: rounded once, before anything is derived from it."""

from __future__ import annotations

import math
from dataclasses import replace

from drawerwright.basics.lengths import Mm
from drawerwright.joints.fence_marks import Position, SharedSum, truest
from drawerwright.joints.table import RouterTable
from drawerwright.run.fence_plans import FencePlan, FenceRoutine


def on_scale(plan: FencePlan, table: RouterTable) -> FencePlan:
    """The plan with each position on a mark, limits kept and lips as true as marks allow.

    Positions that a job names are what somebody dials in already: they stay.
    """
    if plan.routine is FenceRoutine.GIVEN:
        return plan
    place = {position: number for number, position in enumerate(plan.positions)}
    limits: dict[Mm, tuple[Mm, Mm]] = dict.fromkeys(plan.positions, (0.0, math.inf))
    for split in plan.splits:
        joint = split.joint
        for position, most in ((split.flat, joint.most_flat), (split.upright, joint.most_upright)):
            least, before = limits[position]
            limits[position] = max(least, joint.least_setting), min(before, most)
    settings = truest(
        [Position.on_scale(position, table, *limits[position]) for position in plan.positions],
        [SharedSum(place[split.flat], place[split.upright], split.joint.wanted_sum) for split in plan.splits],
    )
    pairs = [(settings[place[split.flat]], settings[place[split.upright]]) for split in plan.splits]
    marked = FencePlan.of(plan.routine, [split.joint for split in plan.splits], pairs)
    return replace(plan, positions=marked.positions, splits=marked.splits)
