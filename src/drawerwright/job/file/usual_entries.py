"""What entries of a job file are taken for where they are not there, and what some of them may be chosen from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict

from drawerwright.basics.lengths import Mm
from drawerwright.drawers.runners import STANDARD_RUNNERS, RunnerKind
from drawerwright.joints.joint import SelfMating, corner_joints, self_mating
from drawerwright.joints.registry import USUAL
from drawerwright.joints.table import GAUGE_STEP
from drawerwright.run.times import Rates
from drawerwright.sheets.sheet_stock import USUAL_LEAST_OFFCUT

GAUGE_MARKS: Mm = GAUGE_STEP
"""From mark to mark of a gauge of which nothing is said."""
LEAST_OFFCUT: Mm = USUAL_LEAST_OFFCUT
"""From this size on, both ways, an offcut is kept."""


def cutter_kinds() -> tuple[SelfMating, ...]:
    """The kinds of cutters that make corners of drawers, each by itself."""
    return corner_joints()


def usual_cutter_kind() -> SelfMating:
    """Of what kind a cutter is taken to be."""
    return self_mating(USUAL)


def usual_clearances(kind: object) -> Mapping[str, Mm | None]:
    """The clearances and sizes of runners of a kind, by the names of their entries (mm); of none for an unknown one."""
    known = next((one for one in RunnerKind if one == kind), RunnerKind.NONE)
    return {name: value for name, value in asdict(STANDARD_RUNNERS[known]).items() if name != "kind"}


def usual_rates() -> Mapping[str, float]:
    """What the estimate of the work reckons with, by the names of their entries."""
    return asdict(Rates())
