"""Which of several joints is recommended, and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum, auto

from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawers.duty import Use
from drawerwright.job.planning.joint_outcome import JointOutcome

WORTH_CHANGING = 0.2
"""A joint that is enough is left for another that is too where this saves more of the time (our own choice)."""


class Because(Enum):
    """Why a joint is recommended, in short: what drawers have in common that are told together."""

    NONE_POSSIBLE = auto()
    PRESENT_IMPOSSIBLE = auto()
    NOTHING_KNOWN = auto()
    NONE_ENOUGH = auto()
    PRESENT_TOO_WEAK = auto()
    PRESENT_UNTRUSTED = auto()
    SAVES = auto()
    OTHER_UNTRUSTED = auto()
    ENOUGH = auto()


@dataclass(frozen=True, slots=True)
class JointVerdict:
    """The joint that is recommended, and why, in short and in words."""

    recommended: JointOutcome
    because: Because
    reason: Phrase


def recommended(outcomes: Sequence[JointOutcome], use: Use, *, may_save: bool = True) -> JointVerdict:
    """Which joint drawers should have.

    Args:
        outcomes: about these drawers, that of the joint at hand first; what they take is what their batch takes.
        use: how they are used.
        may_save: whether a joint that is only quicker may take the place of one that is enough.
    """
    present = outcomes[0]
    possible = [each for each in outcomes if each.is_possible]
    says = {"joint": present.choice.words, "use": use.words}
    if not possible:
        return JointVerdict(present, Because.NONE_POSSIBLE, phrase("None can be made: see the findings."))
    enough = [each for each in possible if each.suits(use)]
    if not present.is_possible:
        best = min(enough or possible, key=_minutes)
        why = phrase("{joint} cannot be made here: {why}", why=present.obstacle, **says)
        return JointVerdict(best, Because.PRESENT_IMPOSSIBLE, why)
    if present.bears is None:
        return _without_figures(present, possible, use)
    if not enough:
        trusted = [each for each in possible if not each.is_end_glued] or possible
        best = max(trusted, key=lambda each: each.bears or 0.0)
        why = phrase("None is sure to bear this load in {use}; this one bears most.", **says)
        return JointVerdict(best, Because.NONE_ENOUGH, why)
    quickest = min(enough, key=_minutes)
    more = _minutes(quickest) - _minutes(present)
    if not present.is_enough:
        return JointVerdict(quickest, Because.PRESENT_TOO_WEAK, _too_weak_words(present, use, more))
    if not present.suits(use):
        why = phrase(
            "{joint} relies on glued end grain alone, which {use} does not forgive: {time}.",
            time=_time_words(more),
            **says,
        )
        return JointVerdict(quickest, Because.PRESENT_UNTRUSTED, why)
    if may_save and _saves_much(quickest, present):
        why = phrase("Strong enough for {use}, and saves {saved:.0f} min.", saved=-more, **says)
        return JointVerdict(quickest, Because.SAVES, why)
    untrusted = [each for each in possible if each.is_enough and not each.suits(use)]
    if untrusted and _saves_much(fastest := min(untrusted, key=_minutes), present):
        why = phrase(
            "Strong enough for {use}. {other} would save {saved:.0f} min, but relies on glued end "
            "grain alone, which {use} does not forgive.",
            other=fastest.choice.words,
            saved=_minutes(present) - _minutes(fastest),
            **says,
        )
        return JointVerdict(present, Because.OTHER_UNTRUSTED, why)
    return JointVerdict(
        present, Because.ENOUGH, phrase("Strong enough for {use}; no other joint saves much.", **says)
    )


def _time_words(more: float) -> Phrase:
    """How much longer a batch takes with another joint (minutes)."""
    minutes = round(more)
    if minutes == 0:
        return phrase("the batch takes as long")
    if minutes > 0:
        return phrase("the batch takes {minutes} min longer", minutes=minutes)
    return phrase("the batch takes {minutes} min less", minutes=-minutes)


def _too_weak_words(present: JointOutcome, use: Use, more: float) -> Phrase:
    says = {"joint": present.choice.words, "use": use.words, "time": _time_words(more)}
    if present.bears_shown is None:
        return phrase(
            "By the strengths assumed for plywood, {joint} may be too weak to take the stop in "
            "{use}; this one is strong enough: {time}.",
            **says,
        )
    return phrase(
        "{joint} bears {share:.2f} times what its stop demands in {use}; this one is strong enough: {time}.",
        share=present.bears_shown,
        **says,
    )


def _saves_much(other: JointOutcome, present: JointOutcome) -> bool:
    return _minutes(present) - _minutes(other) > WORTH_CHANGING * _minutes(present)


def _without_figures(present: JointOutcome, possible: Sequence[JointOutcome], use: Use) -> JointVerdict:
    """Where nobody can say what the stop does or what the wood bears, only the order of the joints is left."""
    if not any(outcome.pulls for outcome in possible):
        why = phrase(
            "The strength of this wood is not known: give its species, or say that it is plywood. It "
            "stays as it is."
        )
        return JointVerdict(present, Because.NOTHING_KNOWN, why)
    strongest = max(possible, key=lambda each: each.pulls)
    if use is Use.HEAVY and strongest.pulls > present.pulls:
        why = phrase("No load is stated: in heavy use the joint that bears most is the safe choice.")
        return JointVerdict(strongest, Because.NOTHING_KNOWN, why)
    why = phrase("No load is stated, so nothing speaks against it. It stays as it is.")
    return JointVerdict(present, Because.NOTHING_KNOWN, why)


def _minutes(outcome: JointOutcome) -> float:
    return outcome.taken.minutes if outcome.taken is not None else float("inf")
