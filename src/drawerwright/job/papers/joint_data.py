"""Which joint each drawer should have, as data for other programs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from drawerwright.job.planning.joint_outcome import JointChoice, JointOutcome, WorkTaken
from drawerwright.job.planning.joints_for_use import JointForUse
from drawerwright.job.planning.which_joint import BatchJoints, DrawerAdvice, JointComparison, WholeJob


def comparison_data(found: JointComparison) -> dict[str, Any]:
    """As JSON-ready data: metres, minutes, N, kg.

    `bears` is how many of its stops the weakest drawer of a batch bears with a joint, 1 is enough; null where its
    wood's strengths are only assumed, as is `pull_off`. `place` is the order then: 1 is the weakest joint.
    """
    return {
        "batches": [_batch(batch) for batch in found.batches],
        "as_it_is": _taken(found.present),
        "alternatives": [_alternative(each) for each in found.alternatives],
    }


def for_use_data(found: Sequence[JointForUse]) -> list[dict[str, Any]]:
    """Whether the joint at hand is enough for load and use, and which others would be, the weakest first.

    `bears` is how many of its stops the weakest drawer bears, 1 is enough; null where its wood's strengths are only
    assumed.
    """
    return [
        {
            "drawers": list(each.drawers),
            "use": str(each.use),
            "load": round(each.load, 2),
            **_named(each.present.choice),
            "bears": None if each.present.bears_shown is None else round(each.present.bears_shown, 2),
            "is_enough": each.is_enough,
            "enough": [_named(other.choice) for other in each.enough],
            "text": each.words,
        }
        for each in found
    ]


def changes_data(each: WholeJob | DrawerAdvice) -> list[dict[str, Any]]:
    """What is taken with it: drawers, and the joint or the cutter that they get."""
    if isinstance(each, DrawerAdvice):
        return [{"drawers": list(each.drawers), **_named(each.recommended.choice)}]
    return [{"drawers": list(change.drawers), **_named(change.choice)} for change in each.changes]


def _alternative(each: WholeJob) -> dict[str, Any]:
    return {
        "change": each.words,
        "changes": changes_data(each),
        "takes": _taken(each.taken),
        "reason": each.reason,
    }


def _batch(batch: BatchJoints) -> dict[str, Any]:
    return {
        "batch": batch.name,
        "drawers": list(batch.drawers),
        "joints": [_outcome(batch, outcome) for outcome in batch.outcomes],
        "advice": [_advice(each) for each in batch.advice],
    }


def _advice(each: DrawerAdvice) -> dict[str, Any]:
    return {
        "drawers": list(each.drawers),
        "use": str(each.use),
        "load": None if each.load is None else round(each.load, 2),
        "recommended": _named(each.recommended.choice),
        "reason": each.reason,
    }


def _named(choice: JointChoice) -> dict[str, str]:
    return {"joint": choice.joint} if choice.joint else {"cutter": choice.cutter}


def _outcome(batch: BatchJoints, outcome: JointOutcome) -> dict[str, Any]:
    force, bears = outcome.pull_off, outcome.bears_shown
    return {
        **_named(outcome.choice),
        "takes": _taken(outcome.taken),
        "bears": None if bears is None else round(bears, 2),
        "pull_off": None if force is None else {"low": round(force.low, 1), "high": round(force.high, 1)},
        "place": batch.place_of(outcome),
        "weak_plane": outcome.weak_plane,
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
