"""The work that corners need which no self-mating cutter makes, and what it takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from drawerwright.basics.phrases import Phrase
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.box import JOINTS_AT_AN_END
from drawerwright.joints.joint import BenchWork
from drawerwright.joints.plain_joint import plain_joint
from drawerwright.run.times import Rates
from drawerwright.run.work import MakeJoints


def bench_works(drawers: Iterable[AssembledDrawer]) -> Iterator[tuple[str, BenchWork]]:
    """Every work of every corner, with the name of its drawer."""
    for drawer in drawers:
        for corner, height in drawer.plain_corners:
            made = corner.made
            for work in plain_joint(made.kind).bench_work(made, height):
                yield drawer.box.name, work


def work_minutes(work: BenchWork, rates: Rates, *, is_first: bool) -> float:
    """What a work takes for the corners at one end of a drawer; a setting only where it `is_first` needed."""
    if work.is_setting:
        return rates.router_setting + rates.test_cut if is_first else 0.0
    cut = work.passes * rates.router_pass + work.metres / rates.feed_m_per_min
    return JOINTS_AT_AN_END * (work.minutes + cut)


@dataclass(frozen=True, slots=True)
class JointStep:
    """One step of the bench for corners that no cutter makes."""

    title: Phrase
    machine: Phrase
    works: tuple[MakeJoints, ...]
    minutes: float


def joint_steps(drawers: Iterable[AssembledDrawer], rates: Rates) -> Iterator[JointStep]:
    """What corners need that no cutter makes, each kind of work once, whatever the drawers that need it."""
    named: dict[tuple[Phrase, Phrase, bool, tuple[Phrase, ...]], list[str]] = {}
    minutes: dict[tuple[Phrase, Phrase], float] = {}
    for drawer, work in bench_works(drawers):
        said, step = (work.title, work.machine, work.is_setting, work.lines), (work.title, work.machine)
        takes = work_minutes(work, rates, is_first=said not in named)
        named.setdefault(said, []).append(drawer)
        minutes[step] = minutes.get(step, 0.0) + takes
    for title, machine in minutes:
        works = tuple(
            MakeJoints(lines, tuple(dict.fromkeys(names)), is_setting)
            for (*step, is_setting, lines), names in named.items()
            if step == [title, machine]
        )
        yield JointStep(title, machine, works, minutes[title, machine])
