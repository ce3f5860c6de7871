"""The order of work as a list to tick off: what each step is known by, and what must be settled before it."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from zlib import crc32

from drawerwright.basics.phrases import plain
from drawerwright.job.planning.corners import PlainJobCorner
from drawerwright.job.planning.draft import Corner
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.job.planning.stops import setup_stops, sheet_stops
from drawerwright.run.marks import PartName
from drawerwright.run.setups import SetUp
from drawerwright.run.steps import Step
from drawerwright.run.steps_of_part import part_mark, steps_of_part
from drawerwright.run.work import CutTrialPieces, MakeJoints, MeasureKerf, Rout

BOTH = 2
"""Pieces of a corner."""


def step_keys(plan: JobPlan, day: int | None = None) -> list[str]:
    """A key for each step of a plan that stays the same while its title does, whatever comes before it.

    `day`: of a job that is split, whose days have steps of the same titles.
    """
    seen: Counter[str] = Counter()
    keys = []
    for step in plan.run.steps:
        name = f"{step.machine}: {step.title}" if day is None else f"{day} · {step.machine}: {step.title}"
        seen[name] += 1
        keys.append(name if seen[name] == 1 else f"{name} ({seen[name]})")
    return keys


_TICK = re.compile(r"#[0-9a-f]{8} (?:(?P<day>\d+) · )?")


def tick_names(plan: JobPlan, ticked: Collection[str], day: int | None = None) -> list[str]:
    """The name under which each step of a plan is ticked: its key, after a mark of what is done.

    The same title over other wood is another step. A tick of an earlier version has no mark; it counts by its title.
    """
    return [
        key if key in ticked or mark is None else f"#{mark} {key}"
        for key, mark in zip(step_keys(plan, day), map(_mark, plan.run.steps), strict=True)
    ]


def ticks_left_over(
    plan: JobPlan, ticked: Collection[str], day: int | None = None, days: int = 0
) -> list[str]:
    """Ticks of steps that are not in the plan any more: of this day, or of one of the `days` that is no more."""
    names = set(tick_names(plan, ticked, day))
    return sorted(
        tick
        for tick in ticked
        if tick not in names and (found := _TICK.match(tick)) and _is_here(found["day"], day, days)
    )


def _is_here(of_day: str | None, day: int | None, days: int) -> bool:
    return day is None or of_day is None or int(of_day) == day or int(of_day) > days


def _mark(step: Step) -> str | None:
    """What tells a step from one of the same title; None where no wood of the job is worked on.

    At the router a setting may be learnt anew and is still the same step: what is cut there tells.
    """
    if all(isinstance(work, MeasureKerf) for work in step.work):
        return None
    content: object = step.work
    if step.setup is not None:
        routs = [work for work in step.work if isinstance(work, Rout)]
        content = [
            (rout.role, rout.edges, [(band.number, band.parts) for band in rout.bands]) for rout in routs
        ]
        if not routs:
            return None
    return f"{crc32(repr(content).encode()):08x}"


@dataclass(frozen=True, slots=True)
class AskedPart:
    """What the code on a label asks for: the part by its name (None: the plan has it no more), the place of its next
    step, and whether all its steps are ticked."""

    label: str | None
    place: int | None = None
    is_done: bool = False


def asked_part(plan: JobPlan, mark: str, is_ticked: Sequence[bool]) -> AskedPart:
    """Where the part with this mark goes next: to its first step without a tick, or its last."""
    part = next((part for part in plan.parts if part_mark(PartName.of(part)) == mark), None)
    if part is None:
        return AskedPart(None)
    places = steps_of_part(plan.run.steps, PartName.of(part))
    left = [place for place in places if not is_ticked[place]]
    if not places:
        return AskedPart(part.label)
    return AskedPart(part.label, left[0] if left else places[-1], not left)


def steps_that_set_up(plan: JobPlan) -> set[int]:
    """The places in the list, from 0, of the steps at which the router table is set up anew."""
    first: dict[int, int] = {}
    for place, step in enumerate(plan.run.steps):
        if step.setup is not None:
            first.setdefault(step.setup, place)
    return set(first.values())


def cautions_mark(plan: JobPlan) -> str:
    """A mark of the cautions of a plan and of the machine that they are about.

    It stays the same while gauges are learnt and drawers change; with another machine or cutter it is another one.
    """
    table = plan.job.table
    machine = (table.tallest_upright, table.largest_fence_setting, table.repeatability, table.speeds)
    return f"{crc32(repr((*map(plain, plan.cautions), machine)).encode()):08x}"


def corners_to_test(plan: JobPlan, step: Step) -> tuple[Corner, ...]:
    """The corners whose test cut a step is: those that its set-up cuts both pieces of, or else one piece."""
    setup = setup_of(plan, step)
    if setup is None or not any(isinstance(work, CutTrialPieces) for work in step.work):
        return ()
    here = [corner for corner in plan.corners if corner.key in setup.corners]
    whole = [corner for corner in here if len(setup.roles(setup.corners[corner.key])) == BOTH]
    return tuple(whole or here)


def plain_corners_to_test(plan: JobPlan, step: Step) -> tuple[PlainJobCorner, ...]:
    """The corners without a cutter for which a step sets the machine."""
    keys = {
        key for work in step.work if isinstance(work, MakeJoints) and work.is_setting for key in work.corners
    }
    return tuple(corner for corner in plan.draft.tested_plain_corners if corner.key in keys)


def setup_of(plan: JobPlan, step: Step) -> SetUp | None:
    """The set-up of the router that a step needs; None where it needs none."""
    return next((setup for setup in plan.run.setups if setup.number == step.setup), None)


def step_stops(plan: JobPlan, step: Step) -> tuple[str, ...]:
    """What must be settled before a step that cuts; see `stops.stop_lines`."""
    setup = setup_of(plan, step)
    if setup is not None:
        return setup_stops(plan, setup)
    if step.sawing is not None and step.sawing.sheets:
        return sheet_stops(plan, [(plan.stocks[place], number) for place, number in step.sawing.sheets])
    return ()
