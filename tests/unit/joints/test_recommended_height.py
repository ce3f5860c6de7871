"""The recommended bit height, against draws and closed forms that share no code with it."""

from __future__ import annotations

import math
from dataclasses import replace
from statistics import NormalDist

import numpy as np
import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.bit_heights import BY_LAW, BitHeights, recommended_height
from drawerwright.joints.chances import corner_chances
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.doubts import Board, CutCorner, FirstCut
from drawerwright.joints.odds import exact_odds
from drawerwright.joints.readings import FitRange
from drawerwright.joints.setting import CornerGeometry, set_corner
from drawerwright.joints.table import INCH_GAUGE_STEP, RouterTable

TRIES = 400_000


def cutter_of(mid_depth: float, doubt: float = 0.0, kind: str = "drawer-lock") -> Cutter:
    return Cutter(kind, mid_depth=Estimate(mid_depth, doubt), step=Estimate(3.2), slope=Estimate(50.0))


def cut_of(mid_depth: float, doubt: float, fit: FitRange | None = None, **table: object) -> FirstCut:
    return FirstCut(cutter_of(mid_depth, doubt), RouterTable(**table), fit or FitRange())  # type: ignore[arg-type]


def drawn_odds(cut: FirstCut, height: float, seed: int) -> float:
    """How often a simulated shop that dials in this height gets the wanted play: plain numpy, the law written anew."""
    rng = np.random.default_rng(seed)
    table, mid_depth = cut.table, cut.cutter.mid_depth
    shown = height + table.height_gauge.value
    true = shown - rng.normal(table.height_gauge.value, table.height_gauge.uncertainty, TRIES)
    true += rng.normal(0.0, table.repeatability, TRIES)
    play = 2 * rng.normal(mid_depth.value, mid_depth.uncertainty, TRIES) - true
    return float(((play >= cut.fit.least_play) & (play <= cut.fit.most_play)).mean())


def test_no_mark_of_the_gauge_has_better_odds_in_simulated_shops() -> None:
    rng = np.random.default_rng(11)
    for number in range(12):
        least = rng.uniform(0, 0.05)
        step = rng.choice([0.01, 0.05, INCH_GAUGE_STEP, 0.1])
        cut = cut_of(
            rng.uniform(4, 8),
            rng.uniform(0.005, 0.05),
            FitRange(least, least + rng.uniform(1.2, 4) * step),
            height_gauge=Estimate(rng.normal(0, 0.1), rng.uniform(0, 0.05)),
            repeatability=rng.uniform(0, 0.03),
            height_gauge_step=step,
        )
        chosen = recommended_height(cut, 15.0)
        mark = (chosen + cut.table.height_gauge.value) / step
        assert mark == pytest.approx(round(mark), abs=1e-4)
        best = drawn_odds(cut, chosen, number)
        for steps in (-2, -1, 1, 2):
            assert drawn_odds(cut, chosen + steps * step, number) <= best + 0.004
        tight = 2 * cut.cutter.mid_depth.value
        assert cut.fit.least_play <= tight - chosen <= cut.fit.most_play


def test_odds_at_the_recommended_height_in_closed_form() -> None:
    """Half of what is cut at the tight height stands proud; in the middle of the wanted play most of it fits."""
    cut = cut_of(5.65, 0.015, height_gauge=Estimate(0.0, 0.02), repeatability=0.015)
    board = Board("ash", Estimate(14.6))
    tight = CutCorner(set_corner(cut.cutter, CornerGeometry(14.6, 14.6)), board, board)
    height = recommended_height(cut, 14.6)
    recommended = replace(tight, setting=replace(tight.setting, bit_height=height))
    spread = math.hypot(2 * 0.015, 0.02, 0.015)
    for corner, off in ((tight, 0.0), (recommended, height - 11.3)):
        known = NormalDist(off, spread)
        fits = known.cdf(0.0) - known.cdf(-0.15)
        assert exact_odds(cut, corner).fits == pytest.approx(fits, abs=1e-7)
        assert drawn_odds(cut, corner.setting.bit_height, 3) == pytest.approx(fits, abs=0.004)
    assert exact_odds(cut, tight).fits == pytest.approx(0.5, abs=0.001)
    assert exact_odds(cut, recommended).fits > 0.88
    assert recommended.setting.tight_bit_height == pytest.approx(11.3)
    assert recommended.setting.play == pytest.approx(0.1)


def test_of_two_marks_with_the_same_odds_the_lower_one_closes_more_often() -> None:
    """The middle of 0 to 0.15 lies just between two marks of 0.05."""
    for doubt in (0.0, 0.02):
        assert recommended_height(cut_of(5.65, doubt), 15.0) == pytest.approx(11.2)


def test_a_gauge_that_shows_too_much_is_dialled_to_its_own_marks() -> None:
    cut = cut_of(5.65, 0.02, height_gauge=Estimate(0.03, 0.02))
    height = recommended_height(cut, 15.0)
    assert height == pytest.approx(11.22)
    assert cut.table.height_reading(height) == pytest.approx(11.25)


def test_a_range_between_two_marks_is_aimed_at_in_its_middle() -> None:
    """Marks at 11.20 and 11.25, wanted 11.21 to 11.24: no mark will do."""
    assert recommended_height(cut_of(5.65, 0.02, FitRange(0.06, 0.09)), 15.0) == pytest.approx(11.225)
    # As narrow a range about a mark is served by the mark.
    assert recommended_height(cut_of(5.65, 0.02, FitRange(0.09, 0.12)), 15.0) == pytest.approx(11.2)


def test_a_lock_mitre_is_set_tight() -> None:
    cutter = cutter_of(11.013, 0.03, "lock-mitre")
    assert recommended_height(FirstCut(cutter, RouterTable()), 15.0) == pytest.approx(18.513)
    assert set_corner(cutter, CornerGeometry(15.0, 15.0)).play is None


def test_kept_heights_are_taken_nearest_to_the_recommended_one() -> None:
    cutter = cutter_of(5.65, 0.02)
    assert BY_LAW.of(cutter, 15.0) == pytest.approx(11.3)
    heights = BitHeights(FitRange())
    assert heights.of(cutter, 15.0) == pytest.approx(11.2)
    assert replace(heights, kept=(11.13, 11.31)).of(cutter, 15.0) == 11.13


def test_a_step_of_nothing_is_refused() -> None:
    for field in ("height_gauge_step", "fence_gauge_step"):
        with pytest.raises(InvalidValueError, match="more than 0 apart, not 0"):
            RouterTable(**{field: 0.0})  # type: ignore[arg-type]


@pytest.mark.parametrize("correlated", [0.0, -0.7, 0.6])
def test_a_lip_is_right_as_the_corner_seats(correlated: float) -> None:
    """Misfit and lip drawn together, what stands proud taken off by hand: 40 degrees, at most the step."""
    setting = set_corner(
        Cutter("drawer-lock", mid_depth=Estimate(6.0), step=Estimate(0.15), slope=Estimate(40.0)),
        CornerGeometry(15, 15, 4),
    )
    fit = FitRange(0.02, 0.2, flushness=0.08)
    middle, lip, spreads = -0.03, 4.02, (0.09, 0.06)
    covariance = correlated * spreads[0] * spreads[1]
    found = corner_chances(setting, fit, Estimate(middle, 0.09), Estimate(lip, 0.06), covariance)
    misfits, lips = (
        np.random.default_rng(4)
        .multivariate_normal([middle, lip], [[0.0081, covariance], [covariance, 0.0036]], TRIES)
        .T
    )
    seated = lips - np.clip(misfits * math.tan(math.radians(40)), 0.0, 0.15)
    fits, flush = (misfits >= -0.2) & (misfits <= -0.02), abs(seated - 4) <= 0.08
    for odds, drawn in (
        (found.closes, misfits <= 0),
        (found.fits, fits),
        (found.flush, flush),
        (found.both, fits & flush),
    ):
        assert odds == pytest.approx(drawn.mean(), abs=0.004)
