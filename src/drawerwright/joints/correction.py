"""What to do after a test cut: the next setting with its odds, what contradicts, what to read next."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field, replace

from drawerwright.basics import usual
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.contradictions import Disagreement, Suspect, find_contradictions, telling_reading
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.learning import Item, Learnt, Row, TrialCut, learn
from drawerwright.joints.readings import (
    FitRange,
    ReadingKind,
    height_for_misfit,
    misfit,
    rules_for,
)
from drawerwright.joints.setting import CornerGeometry, CornerSetting, FenceRule, set_corner
from drawerwright.joints.table import RouterTable

WORTH_READING = 0.0005
"""A reading that raises the odds by less is not worth taking."""


@dataclass(frozen=True, slots=True)
class Odds:
    """Probability that the corner closes with the wanted play, and that its lip is right within the flushness."""

    fits: float
    flush: float

    @property
    def both(self) -> float:
        """Both, as far as their causes are separate."""
        return self.fits * self.flush


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


@dataclass(frozen=True, slots=True)
class Wanted:
    """The corner that is to be made: thicknesses of the stock, lip, how the fence sum is shared, what fits."""

    flat_thickness: Estimate
    upright_thickness: Estimate
    lip: Mm = 0.0
    fence: FenceRule | Mm = FenceRule.ONE
    fit: FitRange = field(default_factory=FitRange)

    @property
    def corner(self) -> CornerGeometry:
        return CornerGeometry(self.flat_thickness.value, self.upright_thickness.value, self.lip)


def first_cut(cutter: Cutter, table: RouterTable, wanted: Wanted) -> TrialCut:
    """The cut that the law alone asks for: settings of the ideal corner, dialled in with the gauges as known."""
    return cut_at(set_corner(cutter, wanted.corner, wanted.fence), table, wanted)


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
        raise InvalidValueError(
            phrase(
                "these readings cannot all be right: no cutter and no corner has the sizes that follow from them. At "
                "least one is far off: measure it again or leave it out"
            )
        ) from impossible


def _evaluated(cutter: Cutter, table: RouterTable, cuts: Sequence[TrialCut], wanted: Wanted) -> Correction:
    last = len(cuts) - 1
    disagreement = find_contradictions(cutter, table, cuts)
    left_out = disagreement.left_out
    learnt = learn(cutter, table, cuts, leaving_out=left_out)
    next_cut, planned = plan_next(cutter, table, cuts, wanted, left_out)
    return Correction(
        learnt=learnt,
        last=last,
        misfit=learnt.estimate(last, misfit),
        lip=learnt.estimate(last, _lip),
        as_it_is=_odds_as_it_is(planned, last, wanted),
        next_cut=next_cut,
        disagreement=disagreement,
        next_readings=_next_readings(planned, last, wanted, next_cut),
    )


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
    here = planned.setting(last + 1)
    target = set_corner(planned.cutter, wanted.corner, wanted.fence)
    aim = wanted.fit.best_misfit(cutter.kind)
    height = height_for_misfit(here, aim)
    moves = (
        height - here.bit_height,
        target.fence_flat - here.fence_flat,
        target.fence_upright - here.fence_upright,
    )
    new = replace(
        cut,
        height_shown=Estimate(cut.height_shown.value + moves[0], cut.height_shown.uncertainty),
        fence_flat_shown=cut.fence_flat_shown + moves[1],
        fence_upright_shown=cut.fence_upright_shown + moves[2],
    )
    if new.has_one_fence_setting != cut.has_one_fence_setting:
        planned = _with_planned(cutter, table, cuts, new, wanted, leaving_out)
        target = set_corner(planned.cutter, wanted.corner, wanted.fence)
    dialled = Odds(
        _fits(planned.of_row(planned.row(last + 1, misfit), aim), wanted, cutter),
        _flush(planned.of_row(planned.row(last + 1, _lip), wanted.lip), wanted),
    )
    kept = _odds_as_it_is(planned, last, wanted)
    leaves_height = kept.fits >= dialled.fits
    leaves_fence = kept.flush >= dialled.flush
    stay = planned.setting(last)
    misfit_next = (
        planned.estimate(last, misfit)
        if leaves_height
        else planned.of_row(planned.row(last + 1, misfit), aim)
    )
    lip_next = (
        planned.estimate(last, _lip)
        if leaves_fence
        else planned.of_row(planned.row(last + 1, _lip), wanted.lip)
    )
    return (
        NextCut(
            bit_height=stay.bit_height if leaves_height else height,
            fence_flat=stay.fence_flat if leaves_fence else target.fence_flat,
            fence_upright=stay.fence_upright if leaves_fence else target.fence_upright,
            height_shown=(cut if leaves_height else new).height_shown.value,
            fence_flat_shown=(cut if leaves_fence else new).fence_flat_shown,
            fence_upright_shown=(cut if leaves_fence else new).fence_upright_shown,
            height_change=0.0 if leaves_height else moves[0],
            fence_flat_change=0.0 if leaves_fence else moves[1],
            fence_upright_change=0.0 if leaves_fence else moves[2],
            leaves_height=leaves_height,
            leaves_fence=leaves_fence,
            misfit=misfit_next,
            lip=lip_next,
            odds=Odds(max(kept.fits, dialled.fits), max(kept.flush, dialled.flush)),
        ),
        planned,
    )


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
    """The lip that the fences mean; what stands proud is the height's fault and judged there."""
    return setting.lip


def _fits(known: Estimate, wanted: Wanted, cutter: Cutter) -> float:
    return known.chance(*wanted.fit.misfits(cutter.kind))


def _flush(known: Estimate, wanted: Wanted) -> float:
    return known.chance(wanted.lip - wanted.fit.flushness, wanted.lip + wanted.fit.flushness)


def _odds_as_it_is(planned: Learnt, last: int, wanted: Wanted) -> Odds:
    return Odds(
        _fits(planned.estimate(last, misfit), wanted, planned.cutter_before),
        _flush(planned.estimate(last, _lip), wanted),
    )


def _next_readings(
    planned: Learnt, last: int, wanted: Wanted, next_cut: NextCut, uncertainty: Mm = usual.CALIPER_READING
) -> tuple[NextReading, ...]:
    """Readings of the last cut that would raise the odds of the next, best first.

    What a reading takes off the variance is known before it is taken. One that shows only on one side of the
    right setting counts by the chance that it shows.
    """
    misfit_row = planned.row(last + 1, misfit)
    lip_row = planned.row(last + 1, _lip)
    aim = wanted.fit.best_misfit(planned.cutter_before.kind)
    found = []
    for rule in rules_for(planned.cutter_before.kind):
        row = planned.row(last, rule.value)
        known = planned.estimate(last, rule.value)
        total = known.uncertainty**2 + uncertainty**2
        shows = 1 - known.chance(-math.inf, 0.0) if rule.is_seen_when_positive else 1.0

        def after(target: Row, value: float, row: Row = row, total: float = total) -> Estimate:
            left = planned.covariance_of(target, target) - planned.covariance_of(target, row) ** 2 / total
            return Estimate(value, math.sqrt(max(left, 0.0)))

        odds = Odds(
            max(next_cut.odds.fits, _fits(after(misfit_row, aim), wanted, planned.cutter_before)),
            max(next_cut.odds.flush, _flush(after(lip_row, wanted.lip), wanted)),
        )
        gain = shows * (odds.both - next_cut.odds.both)
        if gain > WORTH_READING:
            found.append(NextReading(rule.kind, rule.piece, rule.what, odds, gain))
    return tuple(sorted(found, key=lambda reading: -reading.gain))
