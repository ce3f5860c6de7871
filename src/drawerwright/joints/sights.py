"""Does the corner go home? A length on the calipers does not say, and everything hangs on it.

A corner has play, or it stands proud, never both. Whoever measures 0.2 mm of the one and writes it down as the other
turns the next setting the wrong way, and no arithmetic on that number can see it. The eye can: whether the corner goes
home by hand. So such a number is held against what was seen on the same corner; where nothing was seen it is asked.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.learning import Place
from drawerwright.joints.readings import ReadingKind
from drawerwright.joints.trial_cut import TakenReading, TrialCut

GOES_HOME = (ReadingKind.PLAY, ReadingKind.SHOULDER_GAP)
"""Above zero only where the corner goes home."""
STAYS_OUT = (ReadingKind.STANDS_PROUD,)
"""Above zero only where it does not."""
TAKEN_FOR = {ReadingKind.PLAY: ReadingKind.STANDS_PROUD, ReadingKind.STANDS_PROUD: ReadingKind.PLAY}
"""A number that is asked about, and what it may be instead."""
SURELY = 2.0
"""A number says that there is something if it is above zero by so many standard uncertainties (95 %)."""


@dataclass(frozen=True, slots=True)
class Clash:
    """Readings of one cut that no corner shows together, at least one of them a number; `readings` are their places
    in the cut."""

    cut: int
    readings: tuple[int, ...]


def clashes(cuts: Sequence[TrialCut]) -> tuple[Clash, ...]:
    """Per cut, the numbers that what was seen excludes, or that exclude each other, and what excludes them."""
    found = []
    for number, cut in enumerate(cuts):
        indices = {
            index
            for here, reading in enumerate(cut.readings)
            if _is_number(reading)
            for there, other in enumerate(cut.readings)
            if _excludes(other, reading)
            for index in (here, there)
        }
        if indices:
            found.append(Clash(number, tuple(sorted(indices))))
    return tuple(found)


def expected_beside(reading: TakenReading, others: Sequence[TakenReading]) -> Estimate:
    """What the readings it clashes with say about the same thing: their number, or none (mm)."""
    same = GOES_HOME if reading.kind in GOES_HOME else STAYS_OUT
    numbers = [other for other in others if other.kind in same and _is_number(other)]
    if not _is_number(reading) and numbers:
        return Estimate(numbers[0].value or 0.0, numbers[0].uncertainty)
    return Estimate(0.0, min(other.uncertainty for other in others))


def deviation(reading: TakenReading, others: Sequence[TakenReading]) -> float:
    """How far a reading and those that it clashes with are apart, in standard deviations of the number."""
    sizes = [
        (one.value or 0.0) / max(math.hypot(one.uncertainty, other.uncertainty), 1e-6)
        for one in (reading, *others)
        for other in (reading, *others)
        if _is_number(one) and _excludes(other, one)
    ]
    return max(sizes, default=0.0)


def _is_number(reading: TakenReading) -> bool:
    """Whether it is a length that says that the corner goes home, or that it does not."""
    is_one_sided = reading.kind in GOES_HOME or reading.kind in STAYS_OUT
    return is_one_sided and reading.value is not None and reading.value > SURELY * reading.uncertainty


def _excludes(other: TakenReading, number: TakenReading) -> bool:
    """Whether what the other says cannot be true of the same corner."""
    same, opposite = (GOES_HOME, STAYS_OUT) if number.kind in GOES_HOME else (STAYS_OUT, GOES_HOME)
    if other.kind in same:
        return not other.is_seen
    return other.kind in opposite and (other.value is None or _is_number(other))


@dataclass(frozen=True, slots=True)
class Unseen:
    """A number of a cut on which nobody looked whether it goes home, and the same cut with the number as the other."""

    place: Place
    reading: TakenReading
    otherwise: TakenReading


def unseen(cuts: Sequence[TrialCut]) -> tuple[Unseen, ...]:
    """Play and standing proud that nothing else of the same cut confirms, oldest first."""
    return tuple(_unseen(cuts))


def _unseen(cuts: Sequence[TrialCut]) -> Iterator[Unseen]:
    for number, cut in enumerate(cuts):
        for index, reading in enumerate(cut.readings):
            others = (other for place, other in enumerate(cut.readings) if place != index)
            if (
                reading.kind in TAKEN_FOR
                and reading.value is not None
                and reading.value > 0
                and not any(other.kind in TAKEN_FOR for other in others)
            ):
                yield Unseen((number, index), reading, replace(reading, kind=TAKEN_FOR[reading.kind]))


def read_otherwise(cuts: Sequence[TrialCut], doubts: Iterable[Unseen]) -> tuple[TrialCut, ...]:
    """The cuts with these numbers taken for what they may be instead."""
    changed = list(cuts)
    for doubt in doubts:
        number, index = doubt.place
        readings = list(changed[number].readings)
        readings[index] = doubt.otherwise
        changed[number] = replace(changed[number], readings=tuple(readings))
    return tuple(changed)
