"""The question that calipers leave open: does the corner go home by hand? And what hangs on the answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.job.plain_data import clean
from drawerwright.job.test_cuts.trial_reading import Trial
from drawerwright.joints.correction import Correction, correct
from drawerwright.joints.readings import ReadingKind
from drawerwright.joints.sights import Unseen, read_otherwise, unseen


@dataclass(frozen=True, slots=True)
class HomeQuestion:
    """A number of a test cut on which nobody looked whether the corner goes home.

    `otherwise` is what all cuts say if the number is the other thing; None where the other readings rule that out, and
    where a later cut asks the same (not `is_last`). `is_ruled_out` says that they rule out what was written.
    """

    doubt: Unseen
    otherwise: Correction | None = None
    is_ruled_out: bool = False
    is_last: bool = True

    @property
    def cut(self) -> int:
        """Counted from 1."""
        return self.doubt.place[0] + 1

    @property
    def reads_play(self) -> bool:
        """Whether play was written; else standing proud."""
        return self.doubt.reading.kind is ReadingKind.PLAY

    @property
    def as_written(self) -> str:
        """What the corner does if the number is what it was written down as."""
        return "goes home" if self.reads_play else "does not go home"

    @property
    def is_open(self) -> bool:
        """Whether the answer, its odds too, holds only if the number is what it was written down as."""
        return self.otherwise is not None and not self.is_ruled_out


def home_questions(trial: Trial, correction: Correction) -> tuple[HomeQuestion, ...]:
    """What has to be asked about a trial's cuts, oldest first; what hangs on it is worked out for the last."""
    doubts = unseen(trial.cuts)
    if not doubts:
        return ()
    *before, last = doubts
    return (
        *(HomeQuestion(doubt, is_last=False) for doubt in before),
        HomeQuestion(last, _otherwise(trial, doubts), last.place in correction.disagreement.left_out),
    )


def _otherwise(trial: Trial, doubts: Sequence[Unseen]) -> Correction | None:
    """What the cuts say if the last of these numbers is the other thing, or else if all of them are."""
    for taken in dict.fromkeys((tuple(doubts[-1:]), tuple(doubts))):
        try:
            found = correct(trial.cutter, trial.table, read_otherwise(trial.cuts, taken), trial.wanted)
        except InvalidValueError:
            continue  # nothing has the sizes that would follow
        if found.disagreement.left_out.isdisjoint(doubt.place for doubt in taken):
            return found
    return None


def asked(question: HomeQuestion) -> str:
    """The question."""
    read = millimetres(question.doubt.reading.value or 0.0)
    if question.reads_play:
        return phrase(
            "Does the corner of cut {cut} go home by hand? You wrote down {read} of play; "
            "standing proud by as much would read the same.",
            cut=question.cut,
            read=read,
        )
    return phrase(
        "Does the corner of cut {cut} go home by hand? You wrote down {read} proud; as much "
        "play would read the same.",
        cut=question.cut,
        read=read,
    )


def at_stake(question: HomeQuestion, *, by_block: bool) -> str | None:
    """What hangs on the answer; None where a later cut says that, or where the number agrees with nothing either way.

    Args:
        question: the question.
        by_block: whether the height is set by a planed block.
    """
    if not question.is_last or (question.otherwise is None and question.is_ruled_out):
        return None
    if question.otherwise is None:
        if question.reads_play:
            return phrase("The other readings rule out standing proud, so this answer holds.")
        return phrase("The other readings rule out play, so this answer holds.")
    height = question.otherwise.next_cut.height_shown
    values = {"height": millimetres(height), "instead": _block(height) if by_block else _gauge(height)}
    if question.is_ruled_out:
        if question.reads_play:
            return phrase(
                "The other readings point to standing proud, not to play; in that case {instead}.",
                **values,
            )
        return phrase(
            "The other readings point to play, not to standing proud; in that case {instead}.", **values
        )
    if question.reads_play:
        return phrase("If it goes home, this answer and its odds hold; if it does not, {instead}.", **values)
    return phrase("If it does not go home, this answer and its odds hold; if it does, {instead}.", **values)


def _gauge(height: float) -> str:
    return phrase("set the height gauge to {height} for the next cut", height=millimetres(height))


def _block(height: float) -> str:
    return phrase("plane the block for the next cut to {height}", height=millimetres(height))


def home_finding(question: HomeQuestion, *, by_block: bool) -> Finding:
    """The question as a finding."""
    stake = at_stake(question, by_block=by_block)
    text = asked(question)
    return Finding(
        "goes-home-unseen",
        Severity.WARNING,
        phrase("cut {cut}", cut=question.cut),
        text if stake is None else phrase("{asked} {stake}", asked=text, stake=stake),
        phrase("Press it home, look, and write what you see: 'seen: play', 'tight', 'proud' or 'closes'."),
    )


def question_data(question: HomeQuestion) -> dict[str, Any]:
    """The question as plain data, lengths in mm."""
    other = None if question.otherwise is None else question.otherwise.next_cut
    return {
        "cut": question.cut,
        "reading": str(question.doubt.reading.kind),
        "value": clean(question.doubt.reading.value),
        "could_be": str(question.doubt.otherwise.kind),
        "odds_hold": not question.is_last or not question.is_open,
        "otherwise_dial_in": other
        and {
            "height": clean(other.height_shown),
            "fence_flat": clean(other.fence_flat_shown),
            "fence_upright": clean(other.fence_upright_shown),
        },
    }
