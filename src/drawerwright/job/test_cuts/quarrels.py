"""Readings that cannot all be right, in words: what the answer follows, and what to measure."""

from __future__ import annotations

from dataclasses import dataclass
from functools import reduce

from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import joined, phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.contradictions import Contradiction, Outvoted, Suspect
from drawerwright.joints.correction import Correction
from drawerwright.joints.readings import RULES
from drawerwright.joints.trial_cut import TakenReading

LEAST_SHOWN: Mm = 0.005
"""What is less is shown as nothing, without a sign."""


@dataclass(frozen=True, slots=True)
class QuarrelWords:
    """One quarrel: what is wrong, the values concerned, and what to measure."""

    head: str
    items: tuple[str, ...]
    advice: str


def quarrel_words(correction: Correction) -> tuple[QuarrelWords, ...]:
    """Every quarrel of a correction, the worst first."""
    return tuple(
        QuarrelWords(
            _head(quarrel), tuple(_item(suspect) for suspect in quarrel), _advice(correction, quarrel)
        )
        for quarrel in correction.disagreement.quarrels
    )


def _is_of_home(quarrel: tuple[Suspect, ...]) -> bool:
    return any(isinstance(suspect, Contradiction) and suspect.is_of_home for suspect in quarrel)


def _head(quarrel: tuple[Suspect, ...]) -> str:
    stated = [suspect for suspect in quarrel if isinstance(suspect, Outvoted)]
    if _is_of_home(quarrel):
        return phrase(
            "A corner has play or stands proud, never both: one of these was written down as "
            "the wrong one, so none was used."
        )
    if not stated:
        if len(quarrel) == 1:
            return phrase("This reading contradicts everything else, so it was not used.")
        return phrase("These readings contradict each other; at least one is wrong, so none was used.")
    if len(stated) < len(quarrel):
        return phrase("These cannot all be right, and which is wrong cannot be told, so none was used.")
    what = reduce(
        lambda one, other: phrase("{one} or {other}", one=one, other=other),
        (suspect.statement.what for suspect in stated),
    )
    if all(suspect.stated.is_assumed for suspect in stated):
        return phrase(
            "The readings agree with each other, but not with what was assumed: {what} is "
            "further out than usual. The answer follows the wood.",
            what=what,
        )
    return phrase(
        "The readings agree with each other, but not with what was stated: {what} is not as "
        "you wrote. The answer follows the wood.",
        what=what,
    )


def _item(suspect: Suspect) -> str:
    if isinstance(suspect, Outvoted):
        values = {
            "what": suspect.statement.what,
            "known": _known(suspect.stated),
            "expected": _known(suspect.expected),
        }
        if suspect.stated.is_assumed:
            return phrase("{what}: assumed {known}; the readings say {expected}", **values)
        return phrase("{what}: stated {known}; the readings say {expected}", **values)
    return phrase(
        "cut {cut}, {what}: {read}; everything else points to {expected}",
        cut=suspect.place[0] + 1,
        what=RULES[suspect.reading.kind].what,
        read=_read(suspect.reading),
        expected=_known(suspect.expected),
    )


def _advice(correction: Correction, quarrel: tuple[Suspect, ...]) -> str:
    """What to measure: the readings again, the one that tells statements apart, and what was stated."""
    steps: list[str] = []
    if _is_of_home(quarrel):
        steps.append(
            phrase(
                "press the corner home by hand: if it goes, the length is play; if it does not, the length is how far "
                "the upright piece stands proud"
            )
        )
    elif any(isinstance(suspect, Contradiction) for suspect in quarrel):
        steps.append(phrase("take the readings again"))
    kind = correction.tells_apart(quarrel)
    if kind is not None:
        steps.append(
            phrase(
                "measure “{what}” on the same test pieces ({piece})",
                what=RULES[kind].what,
                piece=RULES[kind].piece,
            )
        )
    steps += [suspect.statement.check for suspect in quarrel if isinstance(suspect, Outvoted)]
    told = joined(steps, "; ")
    return (
        phrase("To be sure: {steps}.", steps=told)
        if len(quarrel) == 1
        else phrase("To find out: {steps}.", steps=told)
    )


def _known(known: Estimate) -> str:
    value = 0.0 if abs(known.value) < LEAST_SHOWN else known.value
    return phrase(
        "{value} ± {uncertainty}",
        value=millimetres(value, with_unit=False),
        uncertainty=millimetres(known.uncertainty),
    )


def _read(reading: TakenReading) -> str:
    if reading.value is None:
        return phrase("seen")
    return phrase("{read}", read=millimetres(reading.value)) if reading.is_measured else phrase("none seen")
