"""The work that corners need which no self-mating cutter makes, and what it takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from drawerwright.basics.lengths import kept_length
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.box import CORNER_PIECES
from drawerwright.drawers.parts import PartKind
from drawerwright.joints.bench_place import BenchPlace, WorkedEnd
from drawerwright.joints.corner_key import Orientation, PlainKeyedCorner
from drawerwright.joints.joint import BenchWork
from drawerwright.joints.plain_cuts import LearntJoint, learnt_off
from drawerwright.joints.plain_joint import plain_joint
from drawerwright.run.times import Rates


def bench_places(
    drawer: AssembledDrawer, learnt: Sequence[LearntJoint] = ()
) -> Iterator[tuple[PlainKeyedCorner, BenchPlace]]:
    """The four corners of a drawer that no self-mating cutter makes, each with where it is."""
    for (corner, height), kind in zip(drawer.plain_corners, CORNER_PIECES, strict=False):
        lows = [kept_length(edge.low) for edge in drawer.corner_edges(kind)]
        sides_flat = corner.key.orientation is Orientation.SIDES_FLAT
        flat_low, upright_low = reversed(lows) if sides_flat else lows
        end = WorkedEnd.FRONT if kind is PartKind.FRONT else WorkedEnd.BACK
        off = {name: known.value for name, known in learnt_off(learnt, corner.key).items()}
        yield corner, BenchPlace(height, flat_low, upright_low, end, sides_flat, off)


def bench_works(
    drawers: Iterable[AssembledDrawer], learnt: Sequence[LearntJoint]
) -> Iterator[tuple[str, PlainKeyedCorner, BenchWork]]:
    """Every work of every corner, with the name of its drawer and the corner; set as accepted test cuts have taught.

    What is the same at front and back of a drawer is said of both.
    """
    for drawer in drawers:
        places = list(bench_places(drawer, learnt))
        at_both = [_works(corner, replace(place, end=WorkedEnd.BOTH)) for corner, place in places]
        alike = set.intersection(*map(set, at_both)) if at_both else set()
        for (corner, place), works in zip(places, at_both, strict=True):
            for work, of_this_end in zip(works, _works(corner, place), strict=True):
                yield drawer.box.name, corner, work if work in alike else of_this_end


def _works(corner: PlainKeyedCorner, place: BenchPlace) -> tuple[BenchWork, ...]:
    made = corner.made
    return plain_joint(made.kind).bench_work(made, place)


def work_minutes(work: BenchWork, rates: Rates, *, is_first: bool) -> float:
    """What a work takes for one corner of a drawer; a setting only where it `is_first` needed, and nothing
    of what is counted by bands."""
    if work.is_setting:
        return rates.router_setting + rates.test_cut if is_first else 0.0
    if work.on_bands:
        return 0.0
    cut = work.passes * rates.router_pass + work.metres / rates.feed_m_per_min
    return work.minutes + cut
