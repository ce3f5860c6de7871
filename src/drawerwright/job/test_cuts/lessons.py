"""What test cuts change in a job file: what they taught of cutter and gauges, and what they settled."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, TypeAlias

from drawerwright.job.file.editing import Path
from drawerwright.job.file.entry_types import written_estimate
from drawerwright.job.file.job_entries import set_in_mm
from drawerwright.job.file.settled import settled_entry, settled_entry_of
from drawerwright.job.job import JobCutter
from drawerwright.job.test_cuts.trial_reading import Trial
from drawerwright.joints.correction import Correction
from drawerwright.joints.shared_gauges import carried_over
from drawerwright.joints.statements import Statement
from drawerwright.joints.table import Settled

Lesson: TypeAlias = tuple[Path, Any]
"""Where in a job file, and what to write there."""
_GAUGES: dict[Statement, Path] = {
    Statement.HEIGHT_GAUGE: ("machine", "router_table", "height_gauge_offset"),
    Statement.FENCE_GAUGE: ("machine", "router_table", "fence_gauge_offset"),
}


def learnt_entries(trial: Trial, correction: Correction) -> tuple[Lesson, ...]:
    """What was learnt of the cutter and the gauges.

    Nothing of what is still assumed, and nothing at all while it is open which of the statements is wrong: what the
    cuts know would be lost with them.
    """
    if any(correction.disagreement.is_open(statement) for statement in Statement):
        return ()
    known = ((statement, correction.learnt.stated(statement)) for statement in Statement)
    return tuple(
        (_GAUGES.get(one, (*trial.place, str(one))), written_estimate(now))
        for one, now in known
        if not now.is_assumed
    )


def measures_learnt(trial: Trial, correction: Correction) -> tuple[Lesson, ...]:
    """Of all lessons the measures of cutters and gauges, which other jobs may take over."""
    return tuple((path, value) for path, value in lessons(trial, correction) if isinstance(value, str))


def lessons(trial: Trial, correction: Correction) -> tuple[Lesson, ...]:
    """Everything that the job file should say from now on: what was learnt, what is settled, and what follows for the
    job's other cutters; nothing while it is open which of the statements is wrong."""
    learnt = learnt_entries(trial, correction)
    if not learnt:
        return ()
    settled = (trial.place_of("learnt"), settled_entry(correction, trial.table))
    return (*learnt, settled, *(lesson for other in trial.others for lesson in _follows(other, correction)))


def with_lessons(text: str, trial: Trial, correction: Correction) -> str:
    """A job file's text with what the test cuts of one of its corners taught."""
    for path, value in lessons(trial, correction):
        text = set_in_mm(text, tuple(path), value)
    return text


def _follows(other: JobCutter, correction: Correction) -> Iterator[Lesson]:
    """What is known of another cutter since more is known of the gauges, where its own test cuts tied it to them."""
    settled = other.table.settled
    if settled is None:
        return
    learnt = correction.learnt
    height, fence = (learnt.stated(one) for one in (Statement.HEIGHT_GAUGE, Statement.FENCE_GAUGE))
    mid_depth, height_tie = carried_over(
        other.cutter.mid_depth, settled.height_correlation, other.table.height_gauge, height
    )
    step, fence_tie = carried_over(
        other.cutter.step, settled.fence_correlation, other.table.fence_gauge, fence
    )
    yield (*other.place, str(Statement.MID_DEPTH)), written_estimate(mid_depth)
    yield (*other.place, str(Statement.STEP)), written_estimate(step)
    known = {
        Statement.MID_DEPTH: mid_depth,
        Statement.STEP: step,
        Statement.HEIGHT_GAUGE: height,
        Statement.FENCE_GAUGE: fence,
    }
    now = Settled(settled.height_shown, settled.fences_shown, height_tie, fence_tie)
    yield other.place_of("learnt"), settled_entry_of(known, now)
