"""What entries of a job file are taken for where they are not there, and what some of them may be chosen from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm
from drawerwright.drawers.duty import Contents, Use
from drawerwright.drawers.runners import STANDARD_RUNNERS, STANDING, RunnerKind
from drawerwright.job.file.described import usual_of
from drawerwright.job.file.model import JobFile
from drawerwright.joints.joint import SelfMating, corner_joints, self_mating
from drawerwright.joints.plain_joint import PlainJoint, plain_joints
from drawerwright.joints.registry import USUAL
from drawerwright.wood.moisture import CLIMATES
from drawerwright.wood.species import find_species


def usual_entry(*path: str) -> Any:
    """What the model takes for the entry at a path where it is not there, None for nothing.

    Raises:
        KeyError: there is no such entry; names and numbers of members are left out of a path.
    """
    return usual_of(JobFile, *path)


def cutter_kinds() -> tuple[SelfMating, ...]:
    """The kinds of cutters that make corners of drawers, each by itself."""
    return corner_joints()


def joints_without_cutter() -> tuple[PlainJoint, ...]:
    """The joints that a bank or box may name instead of a cutter."""
    return plain_joints()


def usual_cutter_kind() -> SelfMating:
    """Of what kind a cutter is taken to be."""
    return self_mating(USUAL)


def usual_clearances(kind: object) -> Mapping[str, Mm | None]:
    """The clearances and sizes of runners of a kind, by the names of their entries (mm); of none for an unknown one."""
    known = next((one for one in RunnerKind if one == kind), RunnerKind.NONE)
    return {name: getattr(STANDARD_RUNNERS[known], name) for name in STANDING}


def standing_climates() -> tuple[tuple[str, str], ...]:
    """The climates that need not be described, each with its words."""
    return tuple((name, climate.words) for name, climate in CLIMATES.items())


def contents_of_drawers() -> tuple[tuple[str, str], ...]:
    """What may fill a drawer, each with its words."""
    return tuple((str(each), each.words) for each in Contents)


def uses_of_drawers() -> tuple[tuple[str, str], ...]:
    """How drawers may be used, each with its words."""
    return tuple((str(each), each.words) for each in Use)


def species_taken(said: Any) -> str:
    """The species that is taken for what a file calls it; empty where that is not known, or is its very name."""
    if not said:
        return ""
    try:
        taken = find_species(str(said)).name
    except InvalidValueError:
        return ""
    return "" if taken == said else taken
