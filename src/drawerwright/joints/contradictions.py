"""Readings that cannot all be right, and statements that readings outvote.

Readings are first held against each other alone, with cutter and gauges free to be anything: what was stated may not
decide between two readings of the wood. Those that are left agree; then they and what was stated of cutter and
gauges are held against each other, each against all the rest. If readings that agree speak against a statement, it is
the statement that stands alone.

A deviation w is that of a value from what all the rest expects, in standard deviations. Setting a value aside makes the
misfit of the whole (its chi-square) smaller by w squared, so the largest w is the best single explanation, and one
whose square is less by not more than that of the limit explains the whole as well (W. Baarda, A Testing Procedure for
Use in Geodetic Networks, 1968, from memory). So does one without which nothing speaks against the worst any more; where
a quantity shows only above zero, the squares alone do not say that.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from drawerwright.basics import usual
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.joint import joint_of
from drawerwright.joints.learning import Item, Learnt, Place, learn
from drawerwright.joints.readings import RULES, ReadingKind
from drawerwright.joints.sights import clashes, deviation, expected_beside
from drawerwright.joints.statements import Statement, statements
from drawerwright.joints.table import RouterTable
from drawerwright.joints.trial_cut import TakenReading, TrialCut

CONTRADICTION = 3.0
"""Standard deviations from what everything else says at which a value contradicts it: 3 in 1000 by chance."""
BEARS_ON = 0.05
"""A value bears on another when leaving it out changes the other's deviation by this share."""


@dataclass(frozen=True, slots=True)
class Contradiction:
    """A reading that does not agree with the rest: what the rest points to, and how many standard deviations
    it is off. Of values that share a `quarrel` (numbered from 1), at least one is wrong, and nothing tells which.
    `is_of_home` says that they quarrel about whether the corner goes home.
    """

    place: Place
    reading: TakenReading
    expected: Estimate
    deviations: float
    quarrel: int = 1
    is_of_home: bool = False

    @property
    def item(self) -> Item:
        """What is set aside."""
        return self.place


@dataclass(frozen=True, slots=True)
class Outvoted:
    """A statement that does not agree with the readings: as it was stated, and what they point to (mm)."""

    statement: Statement
    stated: Estimate
    expected: Estimate
    deviations: float
    quarrel: int = 1

    @property
    def item(self) -> Item:
        """What is set aside."""
        return self.statement


Suspect: TypeAlias = Contradiction | Outvoted


@dataclass(frozen=True, slots=True)
class Disagreement:
    """Everything that is set aside, in the order in which it was found, worst first."""

    suspects: tuple[Suspect, ...] = ()

    @property
    def readings(self) -> tuple[Contradiction, ...]:
        return tuple(one for one in self.suspects if isinstance(one, Contradiction))

    @property
    def outvoted(self) -> tuple[Outvoted, ...]:
        return tuple(one for one in self.suspects if isinstance(one, Outvoted))

    @property
    def left_out(self) -> frozenset[Item]:
        """What learning has to leave out."""
        return frozenset(one.item for one in self.suspects)

    def is_open(self, statement: Statement) -> bool:
        """Whether it stands in a quarrel in which something else may be wrong instead."""
        return any(
            len(quarrel) > 1 and statement in [one.item for one in quarrel] for quarrel in self.quarrels
        )

    @property
    def quarrels(self) -> tuple[tuple[Suspect, ...], ...]:
        """The suspects by their quarrels."""
        numbers = dict.fromkeys(one.quarrel for one in self.suspects)
        return tuple(tuple(one for one in self.suspects if one.quarrel == number) for number in numbers)


@dataclass(frozen=True, slots=True)
class _Evidence:
    """Some test cuts with what is known beforehand; judges one value by all the others."""

    cutter: Cutter
    table: RouterTable
    cuts: tuple[TrialCut, ...]

    @property
    def readings(self) -> list[Item]:
        return [(number, index) for number, cut in enumerate(self.cuts) for index in range(len(cut.readings))]

    def judged(self, items: Collection[Item], out: frozenset[Item]) -> list[Suspect]:
        """Each of the values that is not set aside, held against all the others; worst first."""
        found = [self.against_the_rest(item, out) for item in items if item not in out]
        return sorted(found, key=lambda one: -abs(one.deviations))

    def contradicted(self, items: Collection[Item], out: frozenset[Item]) -> list[Suspect]:
        """Those of the values that everything else speaks against; worst first."""
        return [one for one in self.judged(items, out) if abs(one.deviations) >= CONTRADICTION]

    def against_the_rest(self, item: Item, out: frozenset[Item]) -> Suspect:
        rest = learn(self.cutter, self.table, self.cuts, leaving_out=out | {item})
        if isinstance(item, Statement):
            stated = statements(self.cutter, self.table)[item]
            expected = rest.stated(item)
            off = (stated.value - expected.value) / max(
                math.hypot(expected.uncertainty, stated.uncertainty), 1e-6
            )
            return Outvoted(item, stated, expected, off)
        cut, index = item
        reading = self.cuts[cut].readings[index]
        expected = rest.estimate(cut, RULES[reading.kind].value)
        spread = math.hypot(expected.uncertainty, max(reading.uncertainty, 1e-6))
        if reading.is_measured and reading.value is not None:
            deviations = (reading.value - expected.value) / spread
        elif reading.is_seen:
            deviations = max(-expected.value, 0.0) / spread
        else:
            deviations = -max(expected.value, 0.0) / spread
        if RULES[reading.kind].is_seen_when_positive:
            expected = Estimate(max(expected.value, 0.0), expected.uncertainty)
        return Contradiction(item, reading, expected, deviations)


def find_contradictions(cutter: Cutter, table: RouterTable, cuts: Sequence[TrialCut]) -> Disagreement:
    """What cannot be right together among readings and statements.

    The worst value is set aside together with those that explain the contradiction as well and bear on it. Then the
    rest is judged again, until it agrees. So nothing is promised from the survivor of two that contradict each other.
    What no corner shows together is set aside before all that, however small its numbers are.
    """
    evidence = _Evidence(cutter, table, tuple(cuts))
    everything = (*evidence.readings, *Statement)
    of_home = _of_home(cuts)
    worst = evidence.judged(everything, frozenset(one.item for one in of_home))[:1]
    if not worst or abs(worst[0].deviations) < CONTRADICTION:
        return Disagreement(of_home)
    among_themselves = _quarrels(evidence, evidence.readings, of_home, frozenset(Statement))
    found = (*among_themselves, *_doubted_by(evidence, among_themselves))
    return Disagreement(_quarrels(evidence, everything, found, frozenset()))


def _of_home(cuts: Sequence[TrialCut]) -> tuple[Suspect, ...]:
    """Numbers and what was seen of one corner that cannot both be so."""
    found: list[Suspect] = []
    for quarrel, clash in enumerate(clashes(cuts), start=1):
        readings = cuts[clash.cut].readings
        for index in clash.readings:
            others = [readings[other] for other in clash.readings if other != index]
            expected = expected_beside(readings[index], others)
            off = deviation(readings[index], others)
            place = (clash.cut, index)
            found.append(Contradiction(place, readings[index], expected, off, quarrel, is_of_home=True))
    return tuple(found)


def _doubted_by(evidence: _Evidence, quarrelling: tuple[Suspect, ...]) -> list[Suspect]:
    """Statements that one of the quarrelling readings speaks against: if it is the right one, they are wrong."""
    all_out = frozenset(one.item for one in quarrelling)
    if not all_out:
        return []
    denied_anyway = {one.item for one in evidence.contradicted(tuple(Statement), all_out)}
    doubted: dict[Item, Suspect] = {}
    for one in quarrelling:
        for statement in evidence.contradicted(tuple(Statement), all_out - {one.item}):
            if statement.item not in denied_anyway:
                doubted.setdefault(statement.item, replace(statement, quarrel=one.quarrel))
    return list(doubted.values())


WORTH_ASKING = 0.5
"""A reading that leaves more than this share of a statement's variance does not settle what it is worth."""


def telling_reading(known: Learnt, cut: int, quarrel: Collection[Suspect]) -> ReadingKind | None:
    """The reading of a cut, not yet taken, that says most about the statements of a quarrel; None where none helps.

    Args:
        known: from everything that is not set aside.
        cut: its number.
        quarrel: the suspects among which nothing decides.
    """
    stated = [one.statement for one in quarrel if isinstance(one, Outvoted)]
    taken = {reading.kind for reading in known.cuts[cut].readings}
    found: list[tuple[float, ReadingKind]] = []
    for rule in joint_of(known.cutter_before).rules:
        if len(quarrel) < 2 or rule.is_seen_when_positive or rule.kind in taken:
            continue
        row = known.row(cut, rule.value)
        total = known.covariance_of(row, row) + usual.CALIPER_READING**2
        for statement in stated:
            cause = known.row_of(statement)
            share = known.covariance_of(row, cause) ** 2 / (
                total * max(known.covariance_of(cause, cause), 1e-12)
            )
            found.append((share, rule.kind))
    share, kind = max(found, default=(0.0, None))
    return kind if share > WORTH_ASKING else None


def _quarrels(
    evidence: _Evidence, items: Collection[Item], before: tuple[Suspect, ...], free: frozenset[Item]
) -> tuple[Suspect, ...]:
    """What was found before, and what of some items has to be set aside as well; `free` is never trusted."""
    found = list(before)
    while True:
        out = free.union(one.item for one in found)
        judged = evidence.judged(items, out)
        if not judged or abs(judged[0].deviations) < CONTRADICTION:
            return tuple(found)
        worst, *others = judged
        quarrel = 1 + max((one.quarrel for one in found), default=0)
        found.append(replace(worst, quarrel=quarrel))
        for other in others:
            if abs(other.deviations) < CONTRADICTION:
                break
            without = evidence.against_the_rest(worst.item, out | {other.item})
            bears_on = abs(without.deviations - worst.deviations) >= BEARS_ON * abs(worst.deviations)
            is_as_good = other.deviations**2 >= worst.deviations**2 - CONTRADICTION**2
            if abs(without.deviations) < CONTRADICTION or (bears_on and is_as_good):
                found.append(replace(other, quarrel=quarrel))
