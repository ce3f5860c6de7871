"""Which fence settings a job's corners get, and what the other ways to choose them would cost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from drawerwright.basics.lengths import Mm
from drawerwright.joints.corner_key import CornerKey, KeyedCorner
from drawerwright.joints.table import RouterTable
from drawerwright.run.fence_joints import FenceJoint, fence_joints
from drawerwright.run.fence_plans import FenceComparison, FencePlan, FenceRoutine, FenceWishes
from drawerwright.run.fences import plan_fences
from drawerwright.run.on_scale import on_scale
from drawerwright.run.routines import forced_plan
from drawerwright.run.setups import FencePair


@dataclass(frozen=True, slots=True)
class FenceChoice:
    """The fence settings of every corner, the plan they come from, and the plans beside it."""

    pairs: dict[CornerKey, FencePair]
    chosen: FencePlan | None = None
    compared: tuple[FencePlan, ...] = ()


def choose_fences(
    corners: Sequence[KeyedCorner],
    wishes: FenceWishes,
    table: RouterTable,
) -> FenceChoice:
    """Fence settings of all corners of a job that one cutter cuts.

    Args:
        corners: the different corners.
        wishes: how to choose.
        table: how far it lets the cutter stand out of the fence, and on whose scale the settings are dialled in.

    Raises:
        InvalidValueError: what is forced cannot be (see `forced_plan`).
    """
    if not corners:
        return FenceChoice({})
    by_corner = fence_joints(corners, table.largest_fence_setting)
    joints = tuple(dict.fromkeys(by_corner.values()))
    comparison = _planned(joints, wishes.flushness, table)
    compared, chosen = comparison.plans, comparison.fewest
    if wishes.plan is not FenceRoutine.FEWEST:
        chosen = comparison.bounded(on_scale(forced_plan(joints, wishes), table))
        compared = tuple(
            dict.fromkeys(chosen if plan.routine is wishes.plan else plan for plan in (*compared, chosen))
        )
    splits = {split.joint: FencePair(split.flat, split.upright) for split in chosen.splits}
    return FenceChoice({key: splits[joint] for key, joint in by_corner.items()}, chosen, compared)


@lru_cache(maxsize=64)
def _planned(joints: tuple[FenceJoint, ...], flushness: Mm, table: RouterTable) -> FenceComparison:
    """Kept, because a job is drafted anew at every keystroke and its corners seldom change."""
    return plan_fences(joints, flushness).each(lambda plan: on_scale(plan, table))
