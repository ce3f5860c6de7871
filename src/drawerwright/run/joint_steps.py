"""The steps for corners that no self-mating cutter makes: on bands before they are ripped, or piece by piece later."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.joints.corner_key import CornerKey, PlainKeyedCorner
from drawerwright.joints.joint import BenchWork
from drawerwright.joints.plain_cuts import LearntJoint
from drawerwright.joints.plain_joint import plain_joint
from drawerwright.run.bench_work import bench_works, work_minutes
from drawerwright.run.edge_cuts import band_edges, edge_minutes
from drawerwright.run.marks import BandMark
from drawerwright.run.times import Rates
from drawerwright.run.work import CutBandEdges, MakeJoints, Work
from drawerwright.sheets.from_parts import StockBlanks


@dataclass(frozen=True, slots=True)
class JointStep:
    """One step: what it is called, at which machine, its work and what it takes."""

    title: Phrase
    machine: Phrase
    work: tuple[Work, ...]
    minutes: float


def steps_on_bands(
    drawers: Sequence[AssembledDrawer],
    blanks: Iterable[StockBlanks],
    bands: Iterable[BandMark],
    rates: Rates,
    learnt: Sequence[LearntJoint],
) -> Iterator[JointStep]:
    """What is cut on bands: the machine is set for one cut, and all bands that have it pass, before the next is set."""
    marks: dict[str, list[BandMark]] = {}
    for band in bands:
        marks.setdefault(band.placed.family, []).append(band)
    families = [family for stock in blanks for family in stock.families]
    edges = band_edges(drawers, families, {key: tuple(found) for key, found in marks.items()})
    for (joint, figures), group in groupby(edges, key=lambda edge: (edge.joint, edge.figures)):
        works = [
            (drawer, corner, work)
            for drawer, corner, work in bench_works(drawers, learnt)
            if work.on_bands and _edge_cut(corner) == (joint, figures)
        ]
        yield from _steps(works, rates, tuple(group))


def steps_on_parts(
    drawers: Sequence[AssembledDrawer], rates: Rates, learnt: Sequence[LearntJoint]
) -> Iterator[JointStep]:
    """What is done to parts, each kind of work once, whatever the drawers that need it."""
    yield from _steps([each for each in bench_works(drawers, learnt) if not each[-1].on_bands], rates)


def _edge_cut(corner: PlainKeyedCorner) -> tuple[str, tuple[Mm, ...]]:
    made = corner.made
    return made.kind, plain_joint(made.kind).edge_cut(made)


def _steps(
    works: Iterable[tuple[str, PlainKeyedCorner, BenchWork]],
    rates: Rates,
    edges: tuple[CutBandEdges, ...] = (),
) -> Iterator[JointStep]:
    found: dict[tuple[Phrase, Phrase, bool, tuple[Phrase, ...]], list[tuple[str, CornerKey]]] = {}
    minutes: dict[tuple[Phrase, Phrase, bool], float] = {}
    for drawer, corner, work in works:
        step = work.title, work.machine, work.is_setting
        said = *step, work.lines
        minutes[step] = minutes.get(step, 0.0) + work_minutes(work, rates, is_first=said not in found)
        found.setdefault(said, []).append((drawer, corner.key))
    for title, machine, is_setting in minutes:
        joints = [
            MakeJoints(
                lines,
                tuple(dict.fromkeys(drawer for drawer, _key in alike)),
                tuple(dict.fromkeys(key for _drawer, key in alike)),
                is_setting,
            )
            for (*step, lines), alike in found.items()
            if step == [title, machine, is_setting]
        ]
        done = () if is_setting else edges
        takes = minutes[title, machine, is_setting] + edge_minutes(done, rates)
        yield JointStep(title, machine, (*joints, *done), takes)
