"""The work that corners need which no self-mating cutter makes, and what it takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.joints.corner_key import PlainKeyedCorner
from drawerwright.joints.joint import BenchPlace, BenchWork
from drawerwright.joints.plain_cuts import LearntJoint, learnt_off
from drawerwright.joints.plain_joint import plain_joint
from drawerwright.run.times import Rates


def bench_works(
    drawers: Iterable[AssembledDrawer], learnt: Sequence[LearntJoint]
) -> Iterator[tuple[str, PlainKeyedCorner, BenchWork]]:
    """Every work of every corner, with the name of its drawer and the corner; set as accepted test cuts have taught."""
    for drawer in drawers:
        for corner, height in drawer.plain_corners:
            made = corner.made
            off = {name: known.value for name, known in learnt_off(learnt, corner.key).items()}
            for work in plain_joint(made.kind).bench_work(made, BenchPlace(height, off)):
                yield drawer.box.name, corner, work


def work_minutes(work: BenchWork, rates: Rates, *, is_first: bool) -> float:
    """What a work takes for one corner of a drawer; a setting only where it `is_first` needed, and nothing
    of what is counted by bands."""
    if work.is_setting:
        return rates.router_setting + rates.test_cut if is_first else 0.0
    if work.on_bands:
        return 0.0
    cut = work.passes * rates.router_pass + work.metres / rates.feed_m_per_min
    return work.minutes + cut
