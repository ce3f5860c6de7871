"""The order of work from the rack to the glued drawer, and what it takes."""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.run.marks import BandMark, mark_bands
from drawerwright.run.setups import SetUp
from drawerwright.run.steps import RunInput, Step, written_steps
from drawerwright.run.times import RoutingEffort, part_by_part, routing_effort


@dataclass(frozen=True, slots=True)
class Effort:
    """What the whole run takes, beside routing every part on its own."""

    saw_cuts: int
    saw_fence_settings: int
    router_setups: int
    by_bands: RoutingEffort
    by_parts: RoutingEffort
    minutes: float


@dataclass(frozen=True, slots=True)
class Run:
    """The order of work and what it takes."""

    setups: tuple[SetUp, ...]
    bands: tuple[BandMark, ...]
    """Every band with its number, sheet after sheet."""
    steps: tuple[Step, ...]
    effort: Effort


def plan_run(given: RunInput) -> Run:
    """The whole order of work, from the rack to the glued drawer."""
    bands = mark_bands(given.plans, given.blanks)
    steps = written_steps(given, bands)
    trips = sum(setup.trips for setup in given.setups)
    routed = sum(cut.routed_length for setup in given.setups for cut in setup.passes)
    depths = {
        (key, role): setup.fence
        for setup in given.setups
        for key, setting in setup.corners.items()
        for role in setup.roles(setting)
    }
    effort = Effort(
        saw_cuts=sum(plan.cuts_made for plan in given.plans),
        saw_fence_settings=sum(step.sawing is not None and step.sawing.setting is not None for step in steps),
        router_setups=len(given.setups),
        by_bands=routing_effort(trips, routed, given.rates),
        by_parts=part_by_part(given.parts, depths, given.rates),
        minutes=sum(step.minutes for step in steps),
    )
    return Run(given.setups, bands, steps, effort)
