"""How sure a cut is: the odds that corners fit, from what is known of cutter, gauges and stock.

`joint_odds` looks at one corner: its odds (`drawerwright.joints.chances`), draws of its figures, and what would
help most. `group_odds` looks at corners that are cut together: a drawer, a bank, a job. Given what they share,
joints are independent, and each one's odds are a normal probability of its own scatter; so the odds of all of them
are the mean, over draws of what they share, of the product. What is in doubt, and what it does to a corner, stands
in `drawerwright.joints.doubts`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import Mm
from drawerwright.basics.uncertain import (
    DEFAULT_SEED,
    Drawn,
    Estimate,
    draw_causes,
    simulate_all,
)
from drawerwright.joints.bit_heights import recommended_height
from drawerwright.joints.chances import ARITHMETIC, Odds, chance_within, corner_chances
from drawerwright.joints.doubts import CutCorner, Doubt, FirstCut

Values: TypeAlias = NDArray[np.float64]

TRIES = 40_000
"""Settings that are drawn: the odds are then known to about 0.25 %."""
REMEMBERED = 16
"""How many corners' odds are kept: a corner is asked for by a page, by the plan and by its papers."""
BARS = 40
"""Bars of a histogram."""
WORTH_STATING = 0.05
"""A doubt that has a smaller part of the misfit's and of the lip's variance need not be stated better."""
WORTH_SAYING = 0.0005
"""A gain in the odds that is smaller is none."""

Group = Mapping[CutCorner, int]
"""Corners that are cut together, and how many joints of each."""


@dataclass(frozen=True, slots=True)
class Share:
    """The part (0 to 1) that a doubt has in the variance of a corner's misfit and of its lip.

    `gain` is what the odds of the corner at its recommended height (fits and flush) would gain if the doubt were gone.
    `assumed` is the uncertainty (mm) that stands in where nobody has stated one, None where somebody has.
    """

    what: str
    remedy: str
    of_misfit: float
    of_lip: float
    gain: float
    assumed: Mm | None = None


@dataclass(frozen=True)
class Distribution:
    """How a figure of a corner is spread (mm)."""

    drawn: Drawn

    @property
    def mean(self) -> Mm:
        return self.drawn.mean

    @property
    def deviation(self) -> Mm:
        """Standard deviation."""
        return self.drawn.uncertainty

    @property
    def quantiles(self) -> tuple[Mm, Mm, Mm]:
        """What 5, 50 and 95 % of the corners do not exceed."""
        low, middle, high = self.drawn.quantiles((0.05, 0.5, 0.95))
        return low, middle, high

    def histogram(self, bars: int = BARS) -> tuple[tuple[float, ...], tuple[Mm, ...]]:
        """The share of the corners in each bar, and the edges of the bars (one more, mm)."""
        counts, edges = np.histogram(self.drawn.values, bars)
        return tuple((counts / len(self.drawn.values)).tolist()), tuple(edges.tolist())


@dataclass(frozen=True)
class JointOdds:
    """How sure the next cut of one corner is.

    misfit_estimate, lip_estimate: by first-order propagation; the lip is that of the fences. misfit, gap, stands_proud,
    lip: as drawn, see `FirstCut.figures`. odds: at the setting as it is. aimed: the odds of `aimed_corner`, which is at
    its recommended bit height. shares: what is in doubt, the largest gain first. taken_as_exact: what
    could matter and has no uncertainty. is_next: whether test cuts were accepted before.
    """

    corner: CutCorner
    misfit_estimate: Estimate
    lip_estimate: Estimate
    misfit: Distribution
    gap: Distribution
    stands_proud: Distribution
    lip: Distribution
    odds: Odds
    aimed_corner: CutCorner
    aimed: Odds
    shares: tuple[Share, ...]
    taken_as_exact: tuple[str, ...]
    is_next: bool = False

    @property
    def aimed_height(self) -> Mm:
        """The recommended bit height (mm)."""
        return self.aimed_corner.setting.bit_height

    @property
    def aim_change(self) -> Mm:
        """By how much the recommended height differs from the one that is set (mm)."""
        return self.aimed_height - self.corner.setting.bit_height

    @property
    def greatest_of_misfit(self) -> Share | None:
        """The doubt with most of the misfit's variance; None when nothing is in doubt."""
        found = max(self.shares, key=lambda share: share.of_misfit, default=None)
        return found if found is not None and found.of_misfit > 0 else None

    @property
    def greatest_of_lip(self) -> Share | None:
        """The doubt with most of the lip's variance; None when nothing is in doubt."""
        found = max(self.shares, key=lambda share: share.of_lip, default=None)
        return found if found is not None and found.of_lip > 0 else None

    @property
    def measure_first(self) -> Share | None:
        """The doubt whose end would raise the odds most; None when none would."""
        best = self.shares[0] if self.shares else None
        return best if best is not None and best.gain > WORTH_SAYING else None

    @property
    def assumed(self) -> tuple[Share, ...]:
        """The doubts that matter and that nobody has stated."""
        return tuple(
            share
            for share in self.shares
            if share.assumed is not None and max(share.of_misfit, share.of_lip) >= WORTH_STATING
        )

    @property
    def is_judged(self) -> bool:
        """Whether anything that decides the fit is in doubt; odds from nothing but exact values say nothing."""
        return self.misfit_estimate.uncertainty > 0


@lru_cache(maxsize=REMEMBERED)
def joint_odds(
    cut: FirstCut, corner: CutCorner, *, tries: int = TRIES, seed: int = DEFAULT_SEED
) -> JointOdds:
    """How sure the next cut of one corner is.

    Args:
        cut: cutter, machine and what counts as a fit.
        corner: its setting and stock.
        tries: how many joints are drawn, each at a setting of its own.
        seed: of the draws; the same gives the same answer.
    """
    misfits, lips = (cut.propagated(corner, name) for name in ("misfit", "fence_lip"))
    drawn = draw_joints(cut, corner, tries, seed)
    aimed = aimed_corner(cut, corner)
    return JointOdds(
        corner=corner,
        misfit_estimate=misfits.estimate,
        lip_estimate=lips.estimate,
        **{name: Distribution(drawn[name]) for name in ("misfit", "gap", "stands_proud", "lip")},
        odds=exact_odds(cut, corner),
        aimed_corner=aimed,
        aimed=exact_odds(cut, aimed),
        shares=_shares(cut, aimed),
        taken_as_exact=_taken_as_exact(cut, corner),
        is_next=cut.table.settled is not None,
    )


def exact_odds(cut: FirstCut, corner: CutCorner) -> Odds:
    """The odds of one corner, as exactly as the causes are normal and the slope is known."""
    misfits, lips = (cut.propagated(corner, name) for name in ("misfit", "fence_lip"))
    return corner_chances(corner.setting, cut.fit, misfits.estimate, lips.estimate, misfits.covariance(lips))


def draw_joints(cut: FirstCut, corner: CutCorner, joints: int, seed: int = DEFAULT_SEED) -> dict[str, Drawn]:
    """The figures of so many joints, each cut at a setting of its own (`FirstCut.figures`)."""
    causes = [doubt.cause for doubt in cut.doubts(corner)]
    return simulate_all(lambda at: cut.figures(corner, at), causes, joints, seed)


def aimed_corner(cut: FirstCut, corner: CutCorner) -> CutCorner:
    """The corner at its recommended bit height."""
    height = recommended_height(cut, corner.setting.corner.flat_thickness)
    return replace(corner, setting=replace(corner.setting, bit_height=height))


def group_odds(
    cut: FirstCut, groups: Sequence[Group], *, tries: int = TRIES, seed: int = DEFAULT_SEED
) -> tuple[Odds, ...]:
    """The odds that all joints of a group come out right, for several groups of one cut.

    Args:
        cut: cutter, machine and what counts as a fit.
        groups: each with its corners and how many joints of each.
        tries: settings that are drawn; groups share them.
        seed: of the draws.
    """
    corners = tuple(dict.fromkeys(corner for group in groups for corner in group))
    scatters = {corner: own_scatter(cut, corner) for corner in corners}
    sums = np.zeros((len(groups), 4))
    for shared, size in draw_causes([doubt.cause for doubt in cut.shared_doubts(corners)], tries, seed):
        given = {corner: chances_given(cut, corner, shared, *scatters[corner]) for corner in corners}
        for number, group in enumerate(groups):
            closes, fits, flush = (
                math.prod(
                    (given[corner][index] ** count for corner, count in group.items()), start=np.ones(size)
                )
                for index in range(3)
            )
            sums[number] += [float(odds.sum()) for odds in (closes, fits, flush, fits * flush)]
    return tuple(Odds(*row) for row in (sums / tries).tolist())


def own_scatter(cut: FirstCut, corner: CutCorner) -> tuple[Mm, Mm]:
    """What a joint's own causes do to its misfit and to its lip (standard deviations)."""
    own = [doubt.cause.name for doubt in cut.own_doubts(corner)]
    misfit, lip = (cut.propagated(corner, name).part(*own) for name in ("misfit", "fence_lip"))
    return misfit, lip


def chances_given(
    cut: FirstCut,
    corner: CutCorner,
    shared: Mapping[str, float | Values],
    misfit_scatter: Mm,
    lip_scatter: Mm,
) -> tuple[Values, ...]:
    """Odds that one joint closes, fits and is flush, given what it shares with others.

    The flat piece's own thickness enters the misfit alone, the upright piece's the lip alone, so that the odds
    of fitting and of being flush are independent here.
    """
    figures = cut.figures(corner, shared)
    mating, wanted = cut.cutter.mating, corner.setting.corner.lip
    closing = (-math.inf, 0.0 if cut.has_play else math.inf)
    return (
        _chance(figures["misfit"], misfit_scatter, *closing),
        _chance(figures["misfit"], misfit_scatter, *cut.fit.misfits(mating)),
        _chance(figures["lip"], lip_scatter, *mating.lips(wanted, cut.fit.flushness)),
    )


def _chance(middle: Values | float, scatter: Mm, low: Mm, high: Mm) -> Values:
    middle = np.atleast_1d(np.asarray(middle, dtype=np.float64))
    return chance_within(middle, scatter, low - ARITHMETIC, high + ARITHMETIC)


def _shares(cut: FirstCut, aimed: CutCorner) -> tuple[Share, ...]:
    """Each doubt's part, and what its end would gain; doubts of the same name count together."""
    misfits, lips = (cut.propagated(aimed, name) for name in ("misfit", "fence_lip"))

    def odds(*ended: str) -> float:
        """That the corner fits and its lip is right when these causes are in doubt no more."""
        misfit, lip = (known.without(*ended) for known in (misfits, lips))
        return corner_chances(
            aimed.setting, cut.fit, misfit.estimate, lip.estimate, misfit.covariance(lip)
        ).both

    now = odds()
    named: dict[str, list[Doubt]] = {}
    for doubt in cut.doubts(aimed):
        named.setdefault(doubt.what, []).append(doubt)
    found = []
    for what, same in named.items():
        causes = [doubt.cause.name for doubt in same]
        of_misfit, of_lip = misfits.share(*causes), lips.share(*causes)
        if of_misfit or of_lip:
            assumed = same[0].cause.uncertainty if same[0].is_assumed else None
            gain = odds(*causes) - now
            found.append(Share(what, same[0].remedy, of_misfit, of_lip, gain, assumed))
    return tuple(sorted(found, key=lambda share: -share.gain))


NUDGE: Mm = 0.01
"""A cause that moves neither misfit nor lip when it changes by this does not matter to them."""


def _taken_as_exact(cut: FirstCut, corner: CutCorner) -> tuple[str, ...]:
    doubts = cut.doubts(corner)
    at = {doubt.cause.name: doubt.cause.value for doubt in doubts}
    before = cut.figures(corner, at)

    def matters(name: str) -> bool:
        after = cut.figures(corner, {**at, name: at[name] + NUDGE})
        return any(abs(after[figure] - before[figure]) > ARITHMETIC for figure in ("misfit", "lip"))

    exact = [doubt for doubt in doubts if not doubt.cause.uncertainty and matters(doubt.cause.name)]
    return tuple(dict.fromkeys(doubt.what for doubt in exact))
