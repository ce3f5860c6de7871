"""What to do after a test cut: the next setting with its odds, what contradicts, what to read next."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from drawerwright.basics import usual
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.chances import Odds, corner_chances
from drawerwright.joints.contradictions import Disagreement, Suspect, find_contradictions, telling_reading
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.joint import joint_of
from drawerwright.joints.learning import Item, Learnt, Place, Row, learn
from drawerwright.joints.readings import RULES, ReadingKind, height_for_misfit, misfit
from drawerwright.joints.setting import CornerSetting
from drawerwright.joints.table import RouterTable
from drawerwright.joints.trial_cut import TrialCut
from drawerwright.joints.wanted import Wanted

WORTH_READING = 0.0005
"""A reading that raises the odds by less is not worth taking."""


@dataclass(frozen=True, slots=True)
class NextReading:
    """A reading that could still be taken, and the odds of the next cut to expect after it."""

    kind: ReadingKind
    piece: str
    what: str
    odds: Odds
    gain: float


@dataclass(frozen=True, slots=True)
class NextCut:
    """The next setting: true sizes, what to dial in on the user's own gauges, and its odds (mm).

    `leaves_height` and `leaves_fence` say that the setting as it stands has the better odds: dialling in again
    would risk more than it mends. Then the odds are those of leaving it.
    """

    bit_height: Mm
    fence_flat: Mm
    fence_upright: Mm
    height_shown: Mm
    fence_flat_shown: Mm
    fence_upright_shown: Mm
    height_change: Mm
    fence_flat_change: Mm
    fence_upright_change: Mm
    leaves_height: bool
    leaves_fence: bool
    misfit: Estimate
    lip: Estimate
    odds: Odds

    @property
    def leaves_all(self) -> bool:
        """Whether the machine is left as it stands."""
        return self.leaves_height and self.leaves_fence


@dataclass(frozen=True, slots=True)
class Correction:
    """All that the test cuts of a corner say.

    `learnt` uses everything that is not set aside in the `disagreement`. `misfit` and `lip` are those of the last
    cut, `as_it_is` its odds when nothing is touched.
    """

    learnt: Learnt
    last: int
    misfit: Estimate
    lip: Estimate
    as_it_is: Odds
    next_cut: NextCut
    disagreement: Disagreement
    next_readings: tuple[NextReading, ...]

    def tells_apart(self, quarrel: Collection[Suspect]) -> ReadingKind | None:
        """What to read on the last cut to see which statement of a quarrel is wrong; None where no reading helps."""
        return telling_reading(self.learnt, self.last, quarrel)


def first_cut(cutter: Cutter, table: RouterTable, wanted: Wanted) -> TrialCut:
    """The cut that is recommended before anything is learnt, dialled in with the gauges as known."""
    return cut_at(wanted.recommended(cutter, table), table, wanted)


def cut_at(setting: CornerSetting, table: RouterTable, wanted: Wanted) -> TrialCut:
    """A cut without readings at a setting that is dialled in with the gauges as known."""
    return TrialCut(
        Estimate(table.height_reading(setting.bit_height)),
        table.fence_reading(setting.fence_flat),
        table.fence_reading(setting.fence_upright),
        wanted.flat_thickness,
        wanted.upright_thickness,
    )


def correct(cutter: Cutter, table: RouterTable, cuts: Sequence[TrialCut], wanted: Wanted) -> Correction:
    """Evaluate test cuts, oldest first, and say how to set the next one.

    Args:
        cutter: as known before the first of them.
        table: gauges as known before the first of them.
        cuts: at least one.
        wanted: the corner to be made, and what counts as a fit.

    Raises:
        InvalidValueError: with these readings cutter or corner would have a size that nothing has.
    """
    try:
        return _evaluated(cutter, table, cuts, wanted)
    except InvalidValueError as impossible:
        raise InvalidValueError(_impossible_words(cutter, table, cuts, wanted)) from impossible


def _impossible_words(cutter: Cutter, table: RouterTable, cuts: Sequence[TrialCut], wanted: Wanted) -> Phrase:
    """That readings give sizes that nothing has, and which one it is, where the others go without one alone."""
    suspects = [
        reading
        for place, cut in enumerate(cuts)
        for number, reading in enumerate(cut.readings)
        if _go_without(cutter, table, cuts, wanted, (place, number))
    ]
    if len(suspects) != 1 or suspects[0].value is None:
        return phrase(
            "these readings cannot all be right: no cutter and no corner could have the "
            "sizes they imply. At least one is far out: measure it again or leave it out"
        )
    return phrase(
        "these readings cannot all be right: no cutter and no corner could have the sizes they "
        "imply. Without one of them, {reading} {size}, the others agree: measure that again or "
        "leave it out",
        reading=RULES[suspects[0].kind].what,
        size=millimetres(suspects[0].value, "g"),
    )


def _go_without(
    cutter: Cutter, table: RouterTable, cuts: Sequence[TrialCut], wanted: Wanted, place: Place
) -> bool:
    """Whether readings can be evaluated without one of them."""
    number, left_out = place
    readings = tuple(reading for at, reading in enumerate(cuts[number].readings) if at != left_out)
    changed = [replace(cut, readings=readings) if at == number else cut for at, cut in enumerate(cuts)]
    try:
        _evaluated(cutter, table, changed, wanted)
    except InvalidValueError:
        return False
    return True


def _evaluated(cutter: Cutter, table: RouterTable, cuts: Sequence[TrialCut], wanted: Wanted) -> Correction:
    last = len(cuts) - 1
    disagreement = find_contradictions(cutter, table, cuts)
    left_out = disagreement.left_out
    learnt = learn(cutter, table, cuts, leaving_out=left_out)
    next_cut, planned = plan_next(cutter, table, cuts, wanted, left_out)
    stands = _Prospect(planned, wanted, _target(planned, cuts[last], wanted))
    return Correction(
        learnt=learnt,
        last=last,
        misfit=learnt.estimate(last, misfit),
        lip=learnt.estimate(last, _lip),
        as_it_is=stands.odds(last, last),
        next_cut=next_cut,
        disagreement=disagreement,
        next_readings=_next_readings(planned, last, wanted, next_cut),
    )


def worth_reading(
    cutter: Cutter, table: RouterTable, cuts: Sequence[TrialCut], wanted: Wanted
) -> tuple[tuple[NextReading, ...], Learnt]:
    """What to read on the last cut, best first, where nothing contradicts; and what is known without it."""
    next_cut, planned = plan_next(cutter, table, cuts, wanted)
    return _next_readings(planned, len(cuts) - 1, wanted, next_cut), planned


def plan_next(
    cutter: Cutter,
    table: RouterTable,
    cuts: Sequence[TrialCut],
    wanted: Wanted,
    leaving_out: frozenset[Item] = frozenset(),
) -> tuple[NextCut, Learnt]:
    """The next setting, and what is known with that cut as the last one."""
    last, cut = len(cuts) - 1, cuts[-1]
    planned = _with_planned(cutter, table, cuts, cut, wanted, leaving_out)
    target = _target(planned, cut, wanted)
    new = _dialled(cut, planned.setting(last + 1), target)
    if new.has_one_fence_setting != cut.has_one_fence_setting:
        planned = _with_planned(cutter, table, cuts, new, wanted, leaving_out)
        target = _target(planned, cut, wanted)
    at = _Prospect(planned, wanted, target)
    # Of ways with the same odds the one that leaves more as it stands.
    ways = [(height_of, fence_of) for height_of in (last, last + 1) for fence_of in (last, last + 1)]
    height_of, fence_of = max(ways, key=lambda way: round(at.odds(*way).both, 9))
    leaves_height, leaves_fence = height_of == last, fence_of == last
    stay = planned.setting(last)
    return (
        NextCut(
            bit_height=stay.bit_height if leaves_height else target.bit_height,
            fence_flat=stay.fence_flat if leaves_fence else target.fence_flat,
            fence_upright=stay.fence_upright if leaves_fence else target.fence_upright,
            height_shown=(cut if leaves_height else new).height_shown.value,
            fence_flat_shown=(cut if leaves_fence else new).fence_flat_shown,
            fence_upright_shown=(cut if leaves_fence else new).fence_upright_shown,
            height_change=0.0 if leaves_height else new.height_shown.value - cut.height_shown.value,
            fence_flat_change=0.0 if leaves_fence else new.fence_flat_shown - cut.fence_flat_shown,
            fence_upright_change=0.0 if leaves_fence else new.fence_upright_shown - cut.fence_upright_shown,
            leaves_height=leaves_height,
            leaves_fence=leaves_fence,
            misfit=at.misfit(height_of),
            lip=at.lip(fence_of),
            odds=at.odds(height_of, fence_of),
        ),
        planned,
    )


def _target(planned: Learnt, cut: TrialCut, wanted: Wanted) -> CornerSetting:
    """The setting to aim at with what is known now; a block can be planed to any height, a gauge has marks."""
    table = replace(
        planned.table, height_gauge=planned.height_gauge, fence_gauge=planned.fence_gauge, settled=None
    )
    target = wanted.recommended(planned.cutter, table)
    if not cut.by_block:
        return target
    aim = wanted.fit.best_misfit(planned.cutter.mating)
    return replace(target, bit_height=height_for_misfit(target, aim))


def _dialled(cut: TrialCut, here: CornerSetting, target: CornerSetting) -> TrialCut:
    """The cut after one that most probably was cut `here`, with the gauges moved to the target."""
    shown = cut.height_shown
    return replace(
        cut,
        height_shown=Estimate(shown.value + target.bit_height - here.bit_height, shown.uncertainty),
        fence_flat_shown=cut.fence_flat_shown + target.fence_flat - here.fence_flat,
        fence_upright_shown=cut.fence_upright_shown + target.fence_upright - here.fence_upright,
    )


@dataclass(frozen=True)
class _Prospect:
    """What is to be expected of the machine as it stands (the last cut made), and of a new setting (a cut after it)."""

    planned: Learnt
    wanted: Wanted
    target: CornerSetting

    @property
    def _next(self) -> int:
        return len(self.planned.cuts) - 1

    def misfit(self, cut: int) -> Estimate:
        if cut < self._next:
            return self.planned.estimate(cut, misfit)
        return self.planned.of_row(self.planned.row(cut, misfit), misfit(self.target))

    def lip(self, cut: int) -> Estimate:
        """The lip that the fences mean; what stands proud is the height's fault and comes off in the odds."""
        if cut < self._next:
            return self.planned.estimate(cut, _lip)
        return self.planned.of_row(self.planned.row(cut, _lip), self.target.lip)

    def odds(self, height_of: int, fence_of: int, reading: Row | None = None, noise: Mm = 0.0) -> Odds:
        """The odds with the height of one cut and the fences of one.

        With a `reading` more, of so much `noise` and not taken yet: what it will say is open, by how much it lessens
        the doubt is not.
        """
        rows = self.planned.row(height_of, misfit), self.planned.row(fence_of, _lip)
        over, lip = self.misfit(height_of), self.lip(fence_of)
        covariance = self.planned.covariance_of(*rows)
        if reading is not None:
            total = self.planned.covariance_of(reading, reading) + noise**2
            one, other = (self.planned.covariance_of(row, reading) / math.sqrt(total) for row in rows)
            over, lip = _less_doubtful(over, one), _less_doubtful(lip, other)
            covariance -= one * other
        return corner_chances(self.target, self.wanted.fit, over, lip, covariance)


def _less_doubtful(known: Estimate, by: float) -> Estimate:
    return Estimate(known.value, math.sqrt(max(known.uncertainty**2 - by**2, 0.0)))


def _with_planned(
    cutter: Cutter,
    table: RouterTable,
    cuts: Sequence[TrialCut],
    like: TrialCut,
    wanted: Wanted,
    leaving_out: frozenset[Item],
) -> Learnt:
    planned = replace(
        like,
        readings=(),
        flat_thickness=wanted.flat_thickness,
        upright_thickness=wanted.upright_thickness,
    )
    return learn(cutter, table, (*cuts, planned), leaving_out=leaving_out)


def _lip(setting: CornerSetting) -> Mm:
    return setting.lip


def _next_readings(
    planned: Learnt, last: int, wanted: Wanted, next_cut: NextCut, uncertainty: Mm = usual.CALIPER_READING
) -> tuple[NextReading, ...]:
    """Readings of the last cut that would raise the odds of the next, best first.

    What a reading takes off the variance is known before it is taken. One that shows only on one side of the
    right setting counts by the chance that it shows.
    """
    at = _Prospect(planned, wanted, _target(planned, planned.cuts[last], wanted))
    found = []
    for rule in joint_of(planned.cutter_before).rules:
        known = planned.estimate(last, rule.value)
        shows = 1 - known.chance(-math.inf, 0.0) if rule.is_seen_when_positive else 1.0
        odds = at.odds(last + 1, last + 1, planned.row(last, rule.value), uncertainty)
        gain = shows * (odds.both - next_cut.odds.both)
        if gain > WORTH_READING:
            found.append(NextReading(rule.kind, rule.piece, rule.what, odds, gain))
    return tuple(sorted(found, key=lambda reading: -reading.gain))
