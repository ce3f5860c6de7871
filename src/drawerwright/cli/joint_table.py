"""Which joint each drawer should have, on the terminal."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from drawerwright.cli.tables import Listing, terminal

if TYPE_CHECKING:
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.job.planning.joint_outcome import JointOutcome, WorkTaken
    from drawerwright.job.planning.which_joint import JointComparison

NOTHING = "–"


def print_joints(found: JointComparison, style: LengthStyle) -> None:
    """Print every batch with its joints, those recommended marked, and the whole job with others."""
    from drawerwright.job.planning.corner_strengths import ESTIMATE, ONLY_ORDER

    console, say = terminal(), style.say
    for batch in found.batches:
        table = _listing(
            f"Which joint: {batch.title}", "place from the weakest", "bears its stop", "pull-off (N)"
        )
        for outcome in batch.outcomes:
            mark = "* " if batch.is_recommended(outcome) else "  "
            obstacle = f" ({say(outcome.obstacle)})" if outcome.obstacle else ""
            table.add_row(
                mark + say(outcome.choice.words) + obstacle,
                *_taken(outcome.taken, style),
                str(batch.place_of(outcome) or NOTHING),
                *_borne(outcome, style),
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


def _borne(outcome: JointOutcome, style: LengthStyle) -> Iterator[str]:
    bears = outcome.bears_shown
    yield NOTHING if bears is None else f"{bears:.1f} times"
    yield NOTHING if outcome.pull_off_words is None else style.say(outcome.pull_off_words)
