"""Which joint each drawer should have, as data for other programs."""

from __future__ import annotations

from typing import Any

from drawerwright.job.planning.which_joint import BatchJoints, JointComparison, JointOutcome, WorkTaken


def comparison_data(found: JointComparison) -> dict[str, Any]:
    """As JSON-ready data: metres, minutes, N, kg; `bears` is how many of its stops a joint bears, 1 is enough."""
    return {
        "batches": [_batch(batch) for batch in found.batches],
        "as_it_is": _taken(found.present),
        "alternatives": [
            {"change": each.words, "takes": _taken(each.taken), "reason": each.reason}
            for each in found.alternatives
        ],
    }


def _batch(batch: BatchJoints) -> dict[str, Any]:
    return {
        "batch": batch.name,
        "drawers": list(batch.drawers),
        "use": str(batch.use),
        "load": None if batch.load is None else round(batch.load, 2),
        "joints": [_outcome(outcome) for outcome in batch.outcomes],
        "recommended": _named(batch.recommended),
        "reason": batch.reason,
    }


def _named(outcome: JointOutcome) -> dict[str, str]:
    choice = outcome.choice
    return {"joint": choice.joint} if choice.joint else {"cutter": choice.cutter}


def _outcome(outcome: JointOutcome) -> dict[str, Any]:
    force = outcome.pull_off
    return {
        **_named(outcome),
        "takes": _taken(outcome.taken),
        "bears": None if outcome.bears is None else round(outcome.bears, 2),
        "pull_off": None if force is None else {"low": round(force.low, 1), "high": round(force.high, 1)},
        "obstacle": outcome.obstacle,
    }


def _taken(taken: WorkTaken | None) -> dict[str, Any] | None:
    if taken is None:
        return None
    return {
        "setups": taken.setups,
        "metres": round(taken.metres, 1),
        "minutes": round(taken.minutes),
        "new_sheets": taken.new_sheets,
    }
