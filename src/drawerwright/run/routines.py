"""Fence plans by rule: the usual routines, and positions that the user names."""

from __future__ import annotations

from collections.abc import Sequence

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import joined, phrase
from drawerwright.joints import law
from drawerwright.joints.setting import ROUNDING
from drawerwright.run.fence_joints import FenceJoint, FenceSplit
from drawerwright.run.fence_plans import FencePlan, FenceRoutine, FenceWishes, no_free_split

NECKS_TOLD_APART: Mm = 0.05
"""Of given positions the pair with the thicker neck is taken, if it is thicker by this; else the truer one."""


def routine_plan(routine: FenceRoutine, joints: Sequence[FenceJoint], tolerance: Mm) -> FencePlan:
    """The plan that a routine gives.

    Args:
        routine: `ONE`, `TOOTH` or `TWO`; the others are no rule.
        joints: what each kind of corner asks for.
        tolerance: how far a lip may be off, either way (mm), for settings to be shared.

    Raises:
        InvalidValueError: the routine shares out the cut, and a corner's split is not free.
    """
    if routine is FenceRoutine.ONE:
        settings = shared_settings([law.one_setting(joint.wanted_sum) for joint in joints], tolerance / 2)
        return FencePlan.of(routine, joints, zip(settings, settings, strict=True))
    if not all(joint.is_split_free for joint in joints):
        raise no_free_split(routine)
    if routine is FenceRoutine.TOOTH:
        wanted = [law.tooth_only_setting(joint.step) for joint in joints]
    elif routine is FenceRoutine.TWO:
        flush = [law.fence_sum(0.0, joint.upright_thickness, joint.step) for joint in joints]
        wanted = [law.one_setting(total) for total in flush]
    else:
        raise ValueError(f"{routine!s} is not a rule")
    uprights = shared_settings(wanted, tolerance / 2)
    flats = shared_settings(
        [law.other_setting(joint.wanted_sum, u) for joint, u in zip(joints, uprights, strict=True)],
        tolerance / 2,
    )
    return FencePlan.of(routine, joints, zip(flats, uprights, strict=True))


def forced_plan(joints: Sequence[FenceJoint], wishes: FenceWishes) -> FencePlan:
    """The plan that a job's wishes force.

    Raises:
        InvalidValueError: it breaks a limit that another plan keeps, does not suit the cutter, or leaves a corner
            unserved. A corner that no plan can cut is no fault of this one.
    """
    if wishes.plan is FenceRoutine.GIVEN:
        return given_plan(joints, wishes.positions, wishes.flushness)
    plan = routine_plan(wishes.plan, joints, wishes.flushness)
    broken = dict.fromkeys(
        split.broken_limit for split in plan.splits if split.joint.can_be_cut and split.broken_limit
    )
    if broken:
        raise InvalidValueError(
            phrase(
                "with the fence plan {plan}, {broken_limits}: use {fewest}, which stays within "
                "what cutter and stock allow",
                plan=str(wishes.plan),
                broken_limits=joined(broken, "; "),
                fewest=str(FenceRoutine.FEWEST),
            )
        )
    return plan


def each_its_own(joints: Sequence[FenceJoint]) -> FencePlan:
    """What always works: each corner by itself, as near to one setting as its limits allow."""
    pairs = []
    for joint in joints:
        upright = law.one_setting(joint.wanted_sum)
        if joint.is_split_free:
            upright = min(upright, joint.most_upright)
        pairs.append((law.other_setting(joint.wanted_sum, upright), upright))
    return FencePlan.of(FenceRoutine.FEWEST, joints, pairs)


def given_plan(joints: Sequence[FenceJoint], positions: Sequence[Mm], tolerance: Mm) -> FencePlan:
    """Every corner with two of the given positions (or one of them twice), those that leave the thickest neck.

    Args:
        joints: what each kind of corner asks for.
        positions: fence settings to choose from (mm).
        tolerance: how far a lip may be off, either way (mm).

    Raises:
        InvalidValueError: a corner that no two of the positions serve within the tolerance and its limits.
    """
    splits = [_split_of(joint, positions, tolerance) for joint in joints]
    return FencePlan.of(FenceRoutine.GIVEN, joints, [(split.flat, split.upright) for split in splits])


def _split_of(joint: FenceJoint, positions: Sequence[Mm], tolerance: Mm) -> FenceSplit:
    splits = [
        FenceSplit(joint, flat, upright)
        for flat in positions
        for upright in positions
        if joint.is_split_free or flat == upright
    ]
    fitting = [split for split in splits if abs(split.lip_error) <= tolerance + ROUNDING]
    allowed = [split for split in fitting if not (joint.can_be_cut and split.broken_limit)]
    if allowed:
        return min(allowed, key=lambda s: (round(-s.neck / NECKS_TOLD_APART), abs(s.lip_error)))
    if fitting:
        best = max(fitting, key=lambda split: split.neck)
        raise InvalidValueError(
            phrase("{broken_limit}: add a position within that limit", broken_limit=best.broken_limit)
        )
    nearest = min(splits, key=lambda split: abs(split.lip_error))
    raise InvalidValueError(
        phrase(
            "no two positions add up to the {wanted} that the {corner} needs, within the "
            "flushness of {flushness}; the nearest are {flat} and {upright}: add a position, "
            "or change one of them by {change}",
            wanted=millimetres(joint.wanted_sum),
            corner=joint.key,
            flushness=millimetres(tolerance),
            flat=millimetres(nearest.flat),
            upright=millimetres(nearest.upright),
            change=millimetres(abs(nearest.lip_error)),
        )
    )


def shared_settings(wanted: Sequence[Mm], tolerance: Mm) -> list[Mm]:
    """For each wanted setting one within the tolerance (mm), as few different ones as can be."""
    order = sorted(range(len(wanted)), key=lambda index: wanted[index])
    settings = [0.0] * len(wanted)
    while order:
        reach = wanted[order[0]] + 2 * tolerance + ROUNDING
        cluster = [index for index in order if wanted[index] <= reach]
        middle = (wanted[cluster[0]] + wanted[cluster[-1]]) / 2
        for index in cluster:
            settings[index] = middle
        order = order[len(cluster) :]
    return settings
