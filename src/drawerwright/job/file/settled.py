"""What accepted test cuts have settled, between a job file and the router table."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from drawerwright.basics.lengths import Mm
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.learnt_model import LearntEntry
from drawerwright.joints.correction import Correction
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.statements import Statement, statements
from drawerwright.joints.table import RouterTable, Settled

SAME_VALUE: Mm = 0.0006
"""Values are written to a thousandth: closer ones are the same."""
SHOWN_TO, CORRELATION_TO = 4, 3
"""Decimals of what gauges show (mm), and of a correlation."""


def settled_of(entry: LearntEntry | None, cutter: Cutter, table: RouterTable) -> Settled | None:
    """What a job file says that test cuts have settled; None where cutter or gauges are others by now."""
    if entry is None:
        return None
    now = statements(cutter, table)
    taught = entry.taught.model_dump()
    if any(abs(now[statement].value - taught[statement]) > SAME_VALUE for statement in Statement):
        return None
    return Settled(entry.height_shown, entry.fences_shown, entry.height_correlation, entry.fence_correlation)


def settled_by(correction: Correction, before: RouterTable) -> Settled:
    """What the cuts of a corner have settled.

    Args:
        correction: of the cuts.
        before: the table as the job has it. What it has settled of the fence stays, for other corners.
    """
    learnt, after = correction.learnt, correction.next_cut
    last = learnt.cuts[correction.last]
    shown = dict.fromkeys(
        (round(after.fence_flat_shown, SHOWN_TO), round(after.fence_upright_shown, SHOWN_TO))
    )
    others = before.settled.fences_shown if before.settled else ()
    kept = [fence for fence in others if all(abs(fence - new) > before.fence_gauge_step for new in shown)]
    return Settled(
        None if last.by_block else round(after.height_shown, SHOWN_TO),
        (*shown, *kept),
        learnt.correlation(Statement.MID_DEPTH, Statement.HEIGHT_GAUGE),
        learnt.correlation(Statement.STEP, Statement.FENCE_GAUGE),
    )


def settled_entry(correction: Correction, before: RouterTable) -> dict[str, Any]:
    """The job file's entry for what the cuts of a corner have settled, as `settled_by` has it."""
    taught = {statement: correction.learnt.stated(statement) for statement in Statement}
    return settled_entry_of(taught, settled_by(correction, before))


def settled_entry_of(taught: Mapping[Statement, Estimate], settled: Settled) -> dict[str, Any]:
    """The entry for what is settled while cutter and gauges have the values that were `taught`."""
    entry: dict[str, Any] = {
        "taught": {str(statement): round(taught[statement].value, 3) for statement in Statement}
    }
    if settled.height_shown is not None:
        entry["height_shown"] = settled.height_shown
    entry["fences_shown"] = list(settled.fences_shown)
    entry["height_correlation"] = round(settled.height_correlation, CORRELATION_TO)
    entry["fence_correlation"] = round(settled.fence_correlation, CORRELATION_TO)
    return entry
