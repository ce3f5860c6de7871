"""Drawers with other joints than they have: which there are, the job with them, and what each drawer then bears."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache

from drawerwright.basics.phrases import joined
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.duty import Use
from drawerwright.job.job import Job
from drawerwright.job.planning.draft import JobDraft
from drawerwright.job.planning.joint_outcome import DrawerBears, JointChoice
from drawerwright.joints.corner_key import Orientation
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.holding import Bond, PullOff
from drawerwright.joints.joint import MadeCorner, joint_named, joint_of
from drawerwright.joints.plain_joint import ChosenJoint, plain_joints
from drawerwright.strength.assembled_corners import EndStrength, end_strengths
from drawerwright.strength.bounds import Bounds
from drawerwright.strength.drawer_load import DrawerLoad
from drawerwright.strength.weak_corners import USUAL_USE, bears_repeatedly, stop_energy


def use_of(box: DrawerBox) -> Use:
    """How a drawer is used: daily where nobody has said."""
    return box.duty.use or USUAL_USE


def joint_choices(job: Job, boxes: Sequence[DrawerBox]) -> tuple[JointChoice, ...]:
    """What the batch has first, then the job's other cutters, then joints without one."""
    cutters = [used.cutter for used in job.cutters if used.cutter.mating.makes_corners]
    every: list[Cutter | ChosenJoint] = [
        boxes[0].made_by,
        *cutters,
        *(ChosenJoint(joint) for joint in plain_joints()),
    ]
    found: list[JointChoice] = []
    for made_by in every:
        choice = _choice(made_by, is_only=len(cutters) == 1)
        if (choice.joint, choice.cutter) not in [(each.joint, each.cutter) for each in found]:
            found.append(choice)
    return tuple(found)


def _choice(made_by: Cutter | ChosenJoint, *, is_only: bool) -> JointChoice:
    """A joint with its words; its cutter is named where the job has others."""
    if isinstance(made_by, Cutter):
        words = joint_of(made_by).words
        named = words if is_only else joined((words, made_by.name), ", ")
        return JointChoice("", made_by.name, named, made_by)
    return JointChoice(made_by.joint.name, "", made_by.joint.words, made_by)


def with_joints(job: Job, made_by: Mapping[str, Cutter | ChosenJoint]) -> Job:
    """The job with other joints for some of its drawers, by their names."""

    def changed(box: DrawerBox) -> DrawerBox:
        return replace(box, made_by=made_by.get(box.name, box.made_by))

    banks = tuple(replace(bank, boxes=tuple(map(changed, bank.boxes))) for bank in job.banks)
    return replace(job, banks=banks, boxes=tuple(map(changed, job.boxes)))


def drawer_bears(drawer: AssembledDrawer, draft: JobDraft) -> DrawerBears:
    """What the weaker end of a drawer bears."""
    ends = end_strengths(drawer, draft.made)
    if not ends:
        return DrawerBears(drawer.box.name)
    shares = [share for end in ends if (share := _share(DrawerLoad(drawer), end)) is not None]
    forces = [end.pull_off for end in ends if end.pull_off is not None]
    weaker = min(ends, key=lambda end: end.end.pull_off.middle)
    return DrawerBears(
        drawer.box.name,
        min(shares, default=None),
        weaker.end.pull_off.middle,
        Bounds.least(forces) if len(forces) == len(ends) else None,
        weaker.weakest.where,
        any(_is_end_glued(end) for end in ends),
    )


def _is_end_glued(end: EndStrength) -> bool:
    pull = PullOff.ALONG_UPRIGHT if end.key.orientation is Orientation.FRONTS_FLAT else PullOff.ALONG_FLAT
    return end.corner.unglued is None and _glues_end_grain_alone(end.made, pull)


@lru_cache
def _glues_end_grain_alone(made: MadeCorner, pull: PullOff) -> bool:
    """Known, since hundreds of drawers share a few corners."""
    return all(face.bond is Bond.END for face in joint_named(made.kind).holding(made, pull).faces)


def _share(load: DrawerLoad, end: EndStrength) -> float | None:
    """How many times its stop an end bears; None where the load is not known."""
    contents = load.contents
    if not contents:
        return None
    return bears_repeatedly(end).middle / stop_energy(contents, use_of(load.drawer.box))
