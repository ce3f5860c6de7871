"""Which fence settings a job's corners get, and what the other ways to choose them would cost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from drawerwright.basics.lengths import Mm
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.judgement import least_neck
from drawerwright.joints.setting import CornerGeometry
from drawerwright.run.fences import FenceComparison, FenceJoint, FencePlan, FenceRoutine, plan_fences
from drawerwright.run.setups import FencePair


@dataclass(frozen=True, slots=True)
class FenceChoice:
    """The fence settings of every corner, the plan they come from, and the plans beside it."""

    pairs: dict[CornerGeometry, FencePair]
    chosen: FencePlan | None = None
    compared: tuple[FencePlan, ...] = ()


def choose_fences(
    corners: Sequence[CornerGeometry], cutter: Cutter, *, plan: str, flushness: Mm
) -> FenceChoice:
    """Fence settings of all corners of a job.

    Args:
        corners: the different corners.
        cutter: the one cutter that cuts them.
        plan: a `FenceRoutine` by name.
        flushness: how far a face may stand off flush (mm) for one position to serve two.

    Raises:
        InvalidValueError: the routine does not suit the cutter.
    """
    if not corners:
        return FenceChoice({})
    joints = tuple(
        FenceJoint.of(str(number), cutter, corner, least_neck=least_neck(corner.upright_thickness))
        for number, corner in enumerate(corners)
    )
    comparison = _planned(joints, flushness)
    chosen = comparison.plan(FenceRoutine(plan))
    pairs = {
        corner: FencePair(split.flat, split.upright)
        for corner, split in zip(corners, chosen.splits, strict=True)
    }
    return FenceChoice(pairs, chosen, comparison.plans)


@lru_cache(maxsize=64)
def _planned(joints: tuple[FenceJoint, ...], flushness: Mm) -> FenceComparison:
    """Kept, because a job is drafted anew at every keystroke and its corners seldom change."""
    return plan_fences(joints, flushness)
