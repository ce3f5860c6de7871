"""Which steps a part goes through, and by which mark its label leads to them."""

from __future__ import annotations

from collections.abc import Iterable
from zlib import crc32

from drawerwright.run.marks import BandMark, PartName
from drawerwright.run.steps import Step
from drawerwright.run.work import (
    BandEdges,
    Bore,
    BoreBacks,
    CheckBottoms,
    CutBandEdges,
    CutGrooves,
    CutScoops,
    CutSheet,
    FitRunner,
    FixFalseFront,
    GlueUp,
    HangRails,
    MakeJoints,
    NotchBacks,
    Rip,
    Rout,
    ScrewOnFronts,
    TakeWhole,
    TrimParts,
    Work,
)


def part_mark(part: PartName) -> str:
    """A short mark of a part for an address: it stays while the part is called so, whatever changes around it."""
    name = f"{part.drawer}/{part.kind}"
    return f"{crc32(name.encode()):08x}"


def works_on(work: Work, part: PartName) -> bool:
    """Whether it is done to this part, to the band that it is in, or to the drawer that it became.

    Settings, test cuts and what is fetched are done to no part.
    """
    if isinstance(work, CutSheet):
        return _is_in(work.bands, part) or any(mark.part == part for mark in work.loose)
    if isinstance(work, (Rout, CutBandEdges, TakeWhole)):
        return _is_in(work.bands, part)
    if isinstance(work, Rip):
        return any(part in (cut.frees, cut.leaves) for cut in work.cuts)
    if isinstance(work, CutGrooves):
        return any(each.part == part for each in work.passes)
    if isinstance(
        work, (CheckBottoms, TrimParts, BandEdges, NotchBacks, BoreBacks, CutScoops, ScrewOnFronts)
    ):
        return part in work.parts
    if isinstance(work, (Bore, FixFalseFront)):
        return work.part == part
    if isinstance(work, (MakeJoints, GlueUp, HangRails)):
        return part.drawer in work.drawers
    return isinstance(work, FitRunner) and work.drawer == part.drawer


def steps_of_part(steps: Iterable[Step], part: PartName) -> tuple[int, ...]:
    """The places in the list, from 0, of the steps that a part goes through, in their order."""
    return tuple(place for place, step in enumerate(steps) if any(works_on(work, part) for work in step.work))


def _is_in(bands: Iterable[BandMark], part: PartName) -> bool:
    return any(part in band.parts for band in bands)
