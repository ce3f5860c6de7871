"""Which joint each drawer should have, on the terminal."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from drawerwright.cli.tables import Listing, terminal

if TYPE_CHECKING:
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.job.planning.joint_outcome import JointOutcome, WorkTaken
    from drawerwright.job.planning.which_joint import BatchJoints, JointComparison

NOTHING = "–"


def print_joints(found: JointComparison, style: LengthStyle) -> None:
    """Print every batch with its joints, those recommended marked, and the whole job with others."""
    from drawerwright.job.planning.corner_strengths import ESTIMATE, ONLY_ORDER
    from drawerwright.job.planning.which_joint import QUICK

    console, say = terminal(), style.say
    for batch in found.batches:
        known = ("bears its stop", "pull-off (N)") if batch.has_figures else ("place, 1 the weakest",)
        table = _listing(f"Which joint: {batch.title}", *known)
        for outcome in batch.outcomes:
            mark = "* " if batch.is_recommended(outcome) else "  "
            obstacle = f" ({say(outcome.obstacle)})" if outcome.obstacle else ""
            table.add_row(
                mark + say(outcome.choice.words) + obstacle,
                *_taken(outcome.taken, style),
                *_borne(outcome, batch, style),
            )
        console.print(table)
        for each in batch.advice:
            console.print(f"* {say(each.about)}: {say(each.recommended.choice.words)}. {say(each.reason)}")
    if found.alternatives:
        table = _listing("What if, the whole job", "")
        table.add_row("as it is", *_taken(found.present, style), "")
        for each_job in found.alternatives:
            table.add_row(say(each_job.words), *_taken(each_job.taken, style), say(each_job.reason))
        console.print(table)
    console.print(say(QUICK))
    console.print(say(ESTIMATE))
    if found.has_assumed:
        console.print(say(ONLY_ORDER))


def _listing(title: str, *more: str) -> Listing:
    return Listing(title, ("joint", "set-ups", "routed", "minutes", "new sheets", *more), words=("",))


def _taken(taken: WorkTaken | None, style: LengthStyle) -> Iterator[str]:
    if taken is None:
        yield from [NOTHING] * 4
        return
    yield from (
        str(taken.setups),
        style.show_run(1000 * taken.metres),
        f"{taken.minutes:.0f}",
        str(taken.new_sheets),
    )


def _borne(outcome: JointOutcome, batch: BatchJoints, style: LengthStyle) -> Iterator[str]:
    if not batch.has_figures:
        yield str(batch.place_of(outcome) or NOTHING)
        return
    bears = outcome.bears_words
    yield NOTHING if bears is None else f"{style.say(bears)} times"
    yield NOTHING if outcome.pull_off_words is None else style.say(outcome.pull_off_words)
