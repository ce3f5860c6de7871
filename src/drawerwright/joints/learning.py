"""From the readings of test cuts to what cutter, gauges and settings really are.

Everything unknown is one vector of causes, each with a prior: the cutter's mid depth and step, the offset of
each gauge (shared by all cuts), and for each cut how far the setting was dialled off and how thick its pieces
are. A reading is a linear function of them (`drawerwright.joints.readings`, linearised where the wood is not
linear), so measured readings update the vector exactly. What shows only on one side of the right setting (play,
a gap, what stands proud) is treated as what it is: "none seen" says that the quantity is not above zero by more
than can be seen. Such a reading enters by matching the first two moments along its own direction (expectation
propagation; T. Minka, 2001), which leaves everything else linear and Gaussian.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import Mm
from drawerwright.basics.uncertain import Estimate, Origin
from drawerwright.joints import law
from drawerwright.joints.cutter import STEEPEST, Cutter
from drawerwright.joints.one_sided import FINEST, above_zero, moments_seen
from drawerwright.joints.readings import RULES, ReadingKind, misfit
from drawerwright.joints.setting import CornerGeometry, CornerSetting
from drawerwright.joints.statements import Statement, statements, without_trust
from drawerwright.joints.table import RouterTable
from drawerwright.joints.trial_cut import TakenReading, TrialCut

Row: TypeAlias = NDArray[np.float64]
Place: TypeAlias = tuple[int, int]
"""A reading's place: number of the cut, number of the reading in it, both from 0."""
Beside: TypeAlias = tuple[tuple[CornerSetting, CornerSetting], ...]
"""A cut's corner with each of its quantities a little larger and a little smaller: every figure's rates of change."""
Item: TypeAlias = Place | Statement
"""What may be left out: a reading, or a value that was stated."""

CURVED = (ReadingKind.LIP, ReadingKind.OVERLAP, ReadingKind.CUT_AT_TABLE, ReadingKind.TIP_AT_TABLE)
"""Readings that are linear only near a setting: their rows are made anew as the setting becomes known."""
SHORTENED = (ReadingKind.LIP, ReadingKind.OVERLAP)
"""Readings from which what stands proud is taken off."""
NEAR_FULL_STEP = 0.97
"""A corner that stands proud by this share of the step may be as far out as it can get: only `seen`."""
SWEEPS = 40
SETTLED = 1e-7


@dataclass(frozen=True)
class Learnt:
    """What is known after some test cuts. Make it with `learn`.

    mean, covariance: of the causes, in the order of `_Causes`.
    """

    cutter_before: Cutter
    table: RouterTable
    cuts: tuple[TrialCut, ...]
    mean: Row
    covariance: Row
    _beside: dict[int, Beside] = field(default_factory=dict, init=False, repr=False, compare=False)

    @property
    def mid_depth(self) -> Estimate:
        return self.stated(Statement.MID_DEPTH)

    @property
    def step(self) -> Estimate:
        return self.stated(Statement.STEP)

    @property
    def height_gauge(self) -> Estimate:
        """What the height gauge shows less what is true."""
        return self.stated(Statement.HEIGHT_GAUGE)

    @property
    def fence_gauge(self) -> Estimate:
        """What the fence scale shows less what is true."""
        return self.stated(Statement.FENCE_GAUGE)

    @property
    def cutter(self) -> Cutter:
        """The cutter with the measures as they are now known."""
        return replace(self.cutter_before, mid_depth=self.mid_depth, step=self.step)

    def setting(self, cut: int) -> CornerSetting:
        """The corner of a cut as it most probably is."""
        return _setting(self.cutter_before, self._quantities(cut))

    def estimate(self, cut: int, value: Callable[[CornerSetting], Mm]) -> Estimate:
        """Any figure of a cut's corner, with its uncertainty."""
        return self.of_row(self.row(cut, value), value(self.setting(cut)))

    def row(self, cut: int, value: Callable[[CornerSetting], Mm]) -> Row:
        """Change of a figure of a cut's corner per unit of each cause."""
        if cut not in self._beside:
            self._beside[cut] = _beside(self.cutter_before, self._quantities(cut))
        links, _ = _links(self.cuts, cut, len(self.mean))
        row: Row = _gradient(self._beside[cut], value) @ links
        return row

    def of_row(self, row: Row, value: float) -> Estimate:
        return Estimate(value, math.sqrt(max(float(row @ self.covariance @ row), 0.0)))

    def covariance_of(self, row: Row, other: Row) -> float:
        """Covariance of two figures."""
        return float(row @ self.covariance @ other)

    def row_of(self, statement: Statement) -> Row:
        """The row of a value that was stated."""
        row = np.zeros(len(self.mean))
        row[tuple(Statement).index(statement)] = 1.0
        return row

    def stated(self, statement: Statement) -> Estimate:
        """What is now known of a value that was stated; what no reading bears on stays as it was."""
        before = statements(self.cutter_before, self.table)[statement]
        row = self.row_of(statement)
        now = replace(self.of_row(row, float(row @ self.mean)), origin=Origin.LEARNT)
        is_as_before = max(abs(now.value - before.value), abs(now.uncertainty - before.uncertainty)) < SETTLED
        return before if is_as_before else now

    def correlation(self, one: Statement, other: Statement) -> float:
        """Between what is left in doubt of two values that were stated; 0 where one of them is exact."""
        rows = self.row_of(one), self.row_of(other)
        spread = math.sqrt(math.prod(max(self.covariance_of(row, row), 0.0) for row in rows))
        return self.covariance_of(*rows) / spread if spread else 0.0

    def _quantities(self, cut: int) -> Row:
        links, shown = _links(self.cuts, cut, len(self.mean))
        return links @ self.mean + shown


@dataclass(slots=True)
class _Site:
    """One reading's share of the knowledge: precision `weight` about the value `centre` along `row`."""

    place: Place
    reading: TakenReading
    row: Row
    offset: float = field(init=False)
    noise: float = field(init=False)
    weight: float = 0.0
    pull: float = 0.0


def learn(
    cutter: Cutter, table: RouterTable, cuts: Sequence[TrialCut], *, leaving_out: Collection[Item] = ()
) -> Learnt:
    """What some test cuts say about cutter, gauges and their own settings.

    Args:
        cutter: the cutter as it was known before any of the cuts.
        table: gauges and repeatability as known before.
        cuts: the test cuts, oldest first; one without readings is a cut that is planned.
        leaving_out: readings that are not to be used, and statements that may be far off.
    """
    cuts = tuple(cuts)
    mean, prior = _prior(cutter, table, cuts, leaving_out)
    known = Learnt(cutter, table, cuts, mean, prior)
    sites = [
        _Site((number, index), reading, np.zeros(len(mean)))
        for number, cut in enumerate(cuts)
        for index, reading in enumerate(cut.readings)
        if (number, index) not in leaving_out
    ]
    for sweep in range(SWEEPS):
        for site in sites:
            if sweep == 0 or site.reading.kind in CURVED:
                _set_row(site, known)
            _renew(site, known)
        before = known.mean
        known = Learnt(cutter, table, cuts, *_combined(mean, prior, sites))
        if not sites or (sweep and float(np.abs(known.mean - before).max()) < SETTLED):
            break
    return known


SHARED_CAUSES = len(Statement)
CAUSES_OF_A_CUT = 5
"""Height dialled off, fence dialled off for the flat and for the upright piece, both thicknesses."""


def _prior(
    cutter: Cutter, table: RouterTable, cuts: Sequence[TrialCut], leaving_out: Collection[Item]
) -> tuple[Row, Row]:
    shared = (
        without_trust(known) if statement in leaving_out else known
        for statement, known in statements(cutter, table).items()
    )
    repeat = table.dialling.uncertainty
    causes = list(shared)
    for cut in cuts:
        causes += [
            Estimate(0.0, math.hypot(repeat, cut.height_shown.uncertainty)),
            Estimate(0.0, repeat),
            Estimate(0.0, repeat),
            cut.flat_thickness,
            cut.upright_thickness,
        ]
    means = np.array([cause.value for cause in causes])
    covariance = np.diag([cause.uncertainty**2 for cause in causes])
    for (one, other), correlation in (
        ((Statement.MID_DEPTH, Statement.HEIGHT_GAUGE), table.height_correlation),
        ((Statement.STEP, Statement.FENCE_GAUGE), table.fence_correlation),
    ):
        if one not in leaving_out and other not in leaving_out:
            here, there = (list(Statement).index(statement) for statement in (one, other))
            together = correlation * causes[here].uncertainty * causes[there].uncertainty
            covariance[here, there] = covariance[there, here] = together
    return means, covariance


def _links(cuts: Sequence[TrialCut], number: int, size: int) -> tuple[Row, Row]:
    """Mid depth, step, bit height, both fences and both thicknesses of a cut from the causes: matrix, constants."""
    cut = cuts[number]
    first = SHARED_CAUSES + CAUSES_OF_A_CUT * number
    links = np.zeros((7, size))
    links[0, 0] = links[1, 1] = 1.0
    links[2, 2] = 0.0 if cut.by_block else -1.0
    links[2, first] = 1.0
    links[3, 3] = links[4, 3] = -1.0
    links[3, first + 1] = 1.0
    links[4, first + (1 if cut.has_one_fence_setting else 2)] = 1.0
    links[5, first + 3] = links[6, first + 4] = 1.0
    shown = (0.0, 0.0, cut.height_shown.value, cut.fence_flat_shown, cut.fence_upright_shown, 0.0, 0.0)
    return links, np.array(shown)


def _setting(cutter: Cutter, quantities: Row) -> CornerSetting:
    mid_depth, step, height, fence_flat, fence_upright, flat, upright = (float(q) for q in quantities)
    return CornerSetting(
        replace(cutter, mid_depth=Estimate(mid_depth), step=Estimate(step)),
        CornerGeometry(flat, upright),
        height,
        fence_flat,
        fence_upright,
    )


DIFFERENCE: Mm = 1e-4
"""Half the distance (mm) over which a figure's rate of change is taken."""


def _beside(cutter: Cutter, quantities: Row) -> Beside:
    settings = []
    for index in range(len(quantities)):
        moved = quantities.copy()
        moved[index] += DIFFERENCE
        above = _setting(cutter, moved)
        moved[index] -= 2 * DIFFERENCE
        settings.append((above, _setting(cutter, moved)))
    return tuple(settings)


def _gradient(beside: Beside, value: Callable[[CornerSetting], Mm]) -> Row:
    return np.array([(value(above) - value(below)) / (2 * DIFFERENCE) for above, below in beside])


@lru_cache(maxsize=256)
def _straight_gradient(cutter: Cutter, kind: ReadingKind) -> Row:
    """The gradient of a reading that is linear: the same at every setting."""
    middle, step = cutter.mid_depth.value, cutter.step.value
    quantities = np.array([middle, step, middle, step, step, 2 * middle, step])
    return _gradient(_beside(cutter, quantities), RULES[kind].value)


def _set_row(site: _Site, known: Learnt) -> None:
    cut, reading = site.place[0], site.reading
    rule = RULES[reading.kind]
    if reading.kind in CURVED:
        site.row = known.row(cut, rule.value)
    else:
        links, _ = _links(known.cuts, cut, len(known.mean))
        site.row = _straight_gradient(known.cutter_before, reading.kind) @ links
    site.offset = rule.value(known.setting(cut)) - float(site.row @ known.mean)
    site.noise = max(reading.uncertainty, FINEST)
    if reading.kind in SHORTENED and known.cutter_before.mating.has_play:
        _set_row_of_shortened(site, known)
    if reading.kind is ReadingKind.STANDS_PROUD and reading.is_measured and reading.value is not None:
        slope = known.cutter_before.slope
        rate, steeper = (
            law.run_over_rise(min(angle, STEEPEST))
            for angle in (slope.value, slope.value + slope.uncertainty)
        )
        site.noise = math.hypot(site.noise, reading.value * (steeper / rate - 1))


def _set_row_of_shortened(site: _Site, known: Learnt) -> None:
    """The row of a reading that is shorter by what the corner stands proud, which may be nothing.

    Whether it stands proud is itself in doubt, so the straight line is the one that fits best over what the
    misfit may be (statistical linearisation; A. Gelb (ed.), Applied Optimal Estimation, 1974, section 6.2), and
    what it leaves over counts as noise.
    """
    cut, rule = site.place[0], RULES[site.reading.kind]

    def closed(setting: CornerSetting) -> Mm:
        return rule.value(setting) + setting.stands_proud

    over = known.estimate(cut, misfit)
    share, mean, spread = above_zero(over)
    rate = law.run_over_rise(known.cutter_before.slope_angle)
    over_row = known.row(cut, misfit)
    straight = known.row(cut, closed)
    site.row = straight - rate * share * over_row
    expected = closed(known.setting(cut)) - rate * mean
    site.offset = expected - float(site.row @ known.mean)
    site.noise = math.hypot(site.noise, rate * spread)


def _renew(site: _Site, known: Learnt) -> None:
    """The site's weight and pull from its reading, given what everything else says."""
    reading = site.reading
    measured = reading.value if reading.is_measured else None
    if measured is not None and reading.kind is ReadingKind.STANDS_PROUD:
        full = float(known.mean[1])
        measured = None if measured > NEAR_FULL_STEP * full else measured
    one_sided = RULES[reading.kind].is_seen_when_positive
    if measured is not None and not (one_sided and measured < 4 * site.noise):
        site.weight = 1 / site.noise**2
        site.pull = site.weight * (measured - site.offset)
        return
    variance = float(site.row @ known.covariance @ site.row)
    centre = float(site.row @ known.mean) + site.offset
    if variance < FINEST**2 / 100:
        return
    left = 1 / variance - site.weight
    if left <= 0:
        return
    others = (centre / variance - (site.pull + site.weight * site.offset)) / left
    mean, spread = moments_seen(
        others, 1 / left, is_seen=reading.is_seen, measured=measured, noise=site.noise
    )
    site.weight = max(1 / spread - left, 0.0)
    site.pull = mean / spread - others * left - site.weight * site.offset


def _combined(mean: Row, prior: Row, sites: Sequence[_Site]) -> tuple[Row, Row]:
    """Prior and sites together, in a form that allows causes without doubt."""
    live = [site for site in sites if site.weight > 0]
    if not live:
        return mean, prior
    rows = np.array([site.row for site in live])
    targets = np.array([site.pull / site.weight for site in live])
    noise = np.diag([1 / site.weight for site in live])
    spread = prior @ rows.T
    gain = np.linalg.solve(rows @ spread + noise, spread.T).T
    return mean + gain @ (targets - rows @ mean), prior - gain @ spread.T
