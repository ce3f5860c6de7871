"""How far the test cuts of a job have come."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import joined, phrase
from drawerwright.job.planning.corners import PlainJobCorner
from drawerwright.job.planning.draft import Corner, JobDraft
from drawerwright.job.test_cuts.bench import Bench, bench_of
from drawerwright.job.test_cuts.goes_home import home_questions
from drawerwright.job.test_cuts.kept_cuts import GAUGES, counting_cuts
from drawerwright.job.test_cuts.plain_bench import PlainBench, plain_bench_of
from drawerwright.job.test_cuts.quarrels import quarrel_words
from drawerwright.store.records import ShelfEntry


class CutAsks(StrEnum):
    """What the test cuts of a corner ask for."""

    LOOK = "look"
    """What was read is impossible or contradicts itself, or it hangs on what only the eye has seen."""
    AGAIN = "again"
    """Another cut at a new setting."""
    KEEP = "keep"
    """Nothing more on the machine; the job has still to be told what they taught."""
    NOTHING = "nothing"
    """Nothing more: they fit, and taught nothing that is sure enough to be kept."""

    @property
    def is_about_the_cut(self) -> bool:
        """Whether the machine is not set yet as it should be."""
        return self in (CutAsks.LOOK, CutAsks.AGAIN)


@dataclass(frozen=True, slots=True)
class CornerCuts:
    """The test cuts that count for a corner: how many, what they ask, and what to set next, in words; `gauges` are what
    height gauge and fence scale, flat and upright, have to show for it (mm), where a cutter makes the corner."""

    corner: Corner | PlainJobCorner
    count: int
    asks: CutAsks
    to_set: str = ""
    gauges: tuple[Mm, ...] = ()


def cuts_of_corners(job_id: int, draft: JobDraft, shelf: Sequence[ShelfEntry]) -> tuple[CornerCuts, ...]:
    """Every corner of a job that has test cuts which still count, in the order of the job."""
    tried = {key for key, _entry in counting_cuts(job_id, shelf)}
    return (
        *(
            _told(bench_of(job_id, draft.job, draft, corner, shelf), corner)
            for corner in draft.corners
            if corner.key in tried
        ),
        *(
            _plainly_told(plain_bench_of(job_id, draft, corner, shelf))
            for corner in draft.tested_plain_corners
            if corner.key in tried
        ),
    )


def _plainly_told(bench: PlainBench) -> CornerCuts:
    count = len(bench.entries)
    try:
        found = bench.answer()
    except InvalidValueError:
        return CornerCuts(bench.corner, count, CutAsks.LOOK)
    said = (
        phrase("{setting} {size}", setting=each.setting.words, size=millimetres(each.shown))
        for each in found.settings
    )
    asks = CutAsks.LOOK if found.quarrels else CutAsks.NOTHING if found.leaves_all else CutAsks.AGAIN
    return CornerCuts(bench.corner, count, asks, joined(said, ", "))


def _told(bench: Bench, corner: Corner) -> CornerCuts:
    count = len(bench.entries)
    try:
        correction = bench.correction()
    except InvalidValueError:
        return CornerCuts(corner, count, CutAsks.LOOK)
    assert correction is not None  # the corner has cuts
    dial = bench.dial(correction)
    height, flat, upright = (millimetres(dial[name]) for name in GAUGES)
    shown = phrase(
        "height gauge {height}, fence scale {flat} flat and {upright} upright",
        height=height,
        flat=flat,
        upright=upright,
    )
    is_open = any(question.is_open for question in home_questions(bench.trial, correction))
    if is_open or quarrel_words(correction):
        return CornerCuts(corner, count, CutAsks.LOOK, shown)
    if not correction.next_cut.leaves_all:
        return CornerCuts(corner, count, CutAsks.AGAIN, shown, tuple(dial[name] for name in GAUGES))
    return CornerCuts(corner, count, CutAsks.KEEP if bench.is_settled(correction) else CutAsks.NOTHING, shown)
