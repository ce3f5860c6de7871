"""Readings of test cuts that everything else speaks against."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.learning import Place, TakenReading, TrialCut, learn
from drawerwright.joints.readings import RULES
from drawerwright.joints.table import RouterTable

CONTRADICTION = 3.0
"""Standard deviations from what everything else says at which a reading contradicts it: 3 in 1000 by chance."""
EQUALLY_SUSPECT = 0.9
"""A reading that deviates by at least this share of the worst one is as suspect, where the two bear on each other."""
LITTLE_TRUST: float = 10.0
"""What was known of cutter and gauges beforehand may not decide between two readings: so many times less sure it
counts there."""
BEARS_ON = 0.05
"""A reading bears on another when leaving it out changes the other's deviation by this share."""


@dataclass(frozen=True, slots=True)
class Contradiction:
    """A reading that does not agree with the rest: what the rest points to, and how many standard deviations
    it is off. Of readings that share a `quarrel` (numbered from 1), at least one is wrong, and nothing tells which.
    """

    place: Place
    reading: TakenReading
    expected: Estimate
    deviations: float
    quarrel: int = 1


def find_contradictions(
    cutter: Cutter, table: RouterTable, cuts: Sequence[TrialCut]
) -> tuple[Contradiction, ...]:
    """Readings that everything else speaks against, worst first.

    The worst one is set aside together with those that are as suspect: without which no reading would speak
    against it, or which deviate as far and bear on it. Then the rest is judged again, until it agrees. So nothing
    is promised from the survivor of two readings that contradict each other.
    """
    unsure = _unsure(cutter), _unsure_gauges(table)
    found: list[Contradiction] = []
    quarrel = 0
    while True:
        out = {contradiction.place for contradiction in found}
        judged = sorted(_judged(cutter, table, cuts, out), key=lambda one: -abs(one.deviations))
        if not judged or abs(judged[0].deviations) < CONTRADICTION:
            return tuple(found)
        worst, *others = judged
        quarrel += 1
        found.append(replace(worst, quarrel=quarrel))
        for other in others:
            is_close = abs(other.deviations) >= EQUALLY_SUSPECT * abs(worst.deviations)
            if not is_close and abs(other.deviations) < CONTRADICTION:
                break
            without = _against_the_rest(cutter, table, cuts, worst.place, out | {other.place})
            change = abs(without.deviations - worst.deviations)
            by_readings = _against_the_rest(*unsure, cuts, worst.place, out | {other.place})
            if abs(by_readings.deviations) < CONTRADICTION or (
                is_close and change >= BEARS_ON * abs(worst.deviations)
            ):
                found.append(replace(other, quarrel=quarrel))


def _unsure(cutter: Cutter) -> Cutter:
    return replace(cutter, mid_depth=_less_sure(cutter.mid_depth), step=_less_sure(cutter.step))


def _unsure_gauges(table: RouterTable) -> RouterTable:
    return replace(
        table, height_gauge=_less_sure(table.height_gauge), fence_gauge=_less_sure(table.fence_gauge)
    )


def _less_sure(known: Estimate) -> Estimate:
    return Estimate(known.value, LITTLE_TRUST * known.uncertainty)


def _judged(
    cutter: Cutter, table: RouterTable, cuts: Sequence[TrialCut], out: set[Place]
) -> Iterator[Contradiction]:
    """Every reading that is not set aside, held against all the others."""
    for number, cut in enumerate(cuts):
        for index in range(len(cut.readings)):
            if (number, index) not in out:
                yield _against_the_rest(cutter, table, cuts, (number, index), out)


def _against_the_rest(
    cutter: Cutter, table: RouterTable, cuts: Sequence[TrialCut], place: Place, out: set[Place]
) -> Contradiction:
    rest = learn(cutter, table, cuts, leaving_out={*out, place})
    cut, index = place
    reading = cuts[cut].readings[index]
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
    return Contradiction(place, reading, expected, deviations)
