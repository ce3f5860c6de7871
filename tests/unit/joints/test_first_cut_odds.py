"""The odds of a first cut, against plain draws that share no code with it and against closed forms."""

from __future__ import annotations

import math
from dataclasses import replace
from statistics import NormalDist

import numpy as np
import pytest

from drawerwright.basics.uncertain import Estimate
from drawerwright.joints import law
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.doubts import Board, CutCorner, FirstCut
from drawerwright.joints.odds import draw_joints, group_odds, joint_odds
from drawerwright.joints.readings import FitRange
from drawerwright.joints.setting import CornerGeometry, FenceRule, set_corner
from drawerwright.joints.table import RouterTable

M, D, T = 6.0, 4.0, 15.0
CUTTER = Cutter("drawer-lock", mid_depth=Estimate(M, 0.03), step=Estimate(D, 0.02), slope=Estimate(50.0, 2.0))
EXACT = RouterTable(height_gauge=Estimate(0.0, 0.0), fence_gauge=Estimate(0.0, 0.0), repeatability=0.0)
TABLE = RouterTable(height_gauge=Estimate(0.2, 0.04), fence_gauge=Estimate(-0.1, 0.02), repeatability=0.015)
BOARD = Board("ash", Estimate(T, 0.03), scatter=0.025)
CUT = FirstCut(CUTTER, TABLE, FitRange(), calipers=0.01)
TRIES = 100_000
SCATTER = 4 * 0.5 / math.sqrt(TRIES) * math.sqrt(2)
"""Four standard deviations of the difference of two drawn probabilities, at most."""


def corner(lip: float = 0.0, rule: FenceRule = FenceRule.ONE, cutter: Cutter = CUTTER) -> CutCorner:
    return CutCorner(set_corner(cutter, CornerGeometry(T, T, lip), rule), BOARD, BOARD)


def exactly(cutter: Cutter = CUTTER) -> FirstCut:
    return FirstCut(
        replace(
            cutter,
            mid_depth=Estimate(cutter.mid_depth.value),
            step=Estimate(cutter.step.value),
            slope=Estimate(cutter.slope.value),
        ),
        EXACT,
        calipers=0.0,
    )


def test_a_bank_against_plain_draws() -> None:
    """24 joints of two kinds cut at one setting, every joint drawn: written down a second time, in plain numpy."""
    front, back = corner(lip=3.0), corner()
    joints = 12
    rng = np.random.default_rng(5)

    def normal(deviation: float, count: int = 1) -> np.ndarray:
        return rng.normal(0, deviation, (TRIES, count))

    m, d = M + normal(0.03), D + normal(0.02)
    height = 2 * M - normal(0.04) + normal(0.015)
    gauge, calipers, sheet = normal(0.02), normal(0.01), normal(0.03)
    play = 2 * m - height
    proud = np.minimum(np.maximum(-play, 0) * np.tan(np.radians(50 + normal(2))), d)
    fits = ((play >= 0) & (play <= 0.15)).all(axis=1)
    flush = np.ones(TRIES, dtype=bool)
    for lip in (3.0, 0.0):
        fence = (lip + T + D) / 2 - gauge + normal(0.015)
        upright = T + sheet - calipers + normal(0.025, joints)
        flush &= (abs(2 * fence - upright - d - proud - lip) <= 0.1).all(axis=1)
    (odds,) = group_odds(CUT, [{front: joints, back: joints}], tries=TRIES)
    assert odds.fits == pytest.approx(fits.mean(), abs=SCATTER)
    assert odds.flush == pytest.approx(flush.mean(), abs=SCATTER)
    assert odds.both == pytest.approx((fits & flush).mean(), abs=SCATTER)
    assert odds.closes == pytest.approx((play >= 0).mean(), abs=SCATTER)


def test_one_joint_in_closed_form() -> None:
    """Misfit and lip are sums of normal quantities; the fence gauge and one dialled position count twice."""
    odds = joint_odds(CUT, corner(), tries=TRIES)
    misfit = math.hypot(2 * 0.03, 0.04, 0.015)
    lip = math.hypot(0.02, 2 * 0.02, 2 * 0.015, 0.03, 0.01, 0.025)
    for found, expected in ((odds.misfit_estimate, misfit), (odds.lip_estimate, lip)):
        assert found.value == pytest.approx(0.0, abs=1e-9)
        assert found.uncertainty == pytest.approx(expected)
    normal = NormalDist(0, misfit)
    fits, flush = normal.cdf(0) - normal.cdf(-0.15), 1 - 2 * NormalDist(0, lip).cdf(-0.1)
    assert odds.odds.fits == pytest.approx(fits)
    assert odds.odds.both == pytest.approx(fits * flush, abs=1e-5)
    # A corner that stands proud has less lip than its fences make.
    assert odds.odds.flush == pytest.approx(odds.lip.drawn.chance(-0.1, 0.1), abs=SCATTER)
    assert odds.odds.flush < flush - 0.05
    assert odds.misfit.deviation == pytest.approx(misfit, rel=0.01)
    assert odds.misfit.drawn.chance(-0.15, 0.0) == pytest.approx(fits, abs=SCATTER)
    low, middle, high = odds.misfit.quantiles
    assert (low, high) == pytest.approx((-1.6449 * misfit, 1.6449 * misfit), rel=0.02)
    assert middle == pytest.approx(0.0, abs=0.001)
    # The gauge shows 0.2 too much and has marks every 0.05: 12.1 of it is 0.1 below the tight height, 12.15 0.05.
    assert odds.aim_change == pytest.approx(-0.1)
    assert odds.aimed.fits == pytest.approx(normal.cdf(0.1) - normal.cdf(-0.05))


def test_shares_add_up_and_the_first_to_measure_gains_most() -> None:
    odds = joint_odds(CUT, corner(), tries=1000)
    assert sum(share.of_misfit for share in odds.shares) == pytest.approx(1.0)
    assert sum(share.of_lip for share in odds.shares) == pytest.approx(1.0)
    by_name = {share.what: share for share in odds.shares}
    misfit, lip = math.hypot(0.06, 0.04, 0.015), odds.lip_estimate.uncertainty
    assert by_name["the cutter's mid depth"].of_misfit == pytest.approx((0.06 / misfit) ** 2)
    assert by_name["the thickness of ash"].of_lip == pytest.approx((0.03 / lip) ** 2)
    assert by_name["dialling in the fence"].of_lip == pytest.approx((2 * 0.015 / lip) ** 2)
    assert odds.greatest_of_misfit is by_name["the cutter's mid depth"]
    assert odds.greatest_of_lip is by_name["the fence scale's offset"]
    assert odds.measure_first is max(odds.shares, key=lambda share: share.gain)
    better = replace(CUT, cutter=replace(CUTTER, mid_depth=Estimate(M)))
    gain = (
        joint_odds(better, corner(cutter=better.cutter), tries=TRIES).aimed.both
        - joint_odds(CUT, corner(), tries=TRIES).aimed.both
    )
    assert by_name["the cutter's mid depth"].gain == pytest.approx(gain, abs=SCATTER)


def test_pieces_cut_at_two_positions_do_not_share_the_error_of_dialling() -> None:
    table = replace(EXACT, repeatability=0.02)
    exact = replace(exactly(), table=table)
    board = Board("ash", Estimate(T))
    deviations = {}
    for rule in FenceRule:
        cut_corner = CutCorner(set_corner(CUTTER, CornerGeometry(T, T), rule), board, board)
        deviations[rule] = joint_odds(exact, cut_corner, tries=10).lip_estimate.uncertainty
    assert deviations[FenceRule.ONE] == pytest.approx(2 * 0.02)
    assert deviations[FenceRule.TOOTH] == pytest.approx(math.sqrt(2) * 0.02)


def test_corners_at_one_position_fail_together_and_scatter_within_the_sheet_alone_does_not() -> None:
    one, many = {corner(): 1}, {corner(): 40}
    steady = replace(BOARD, scatter=0.0)
    same = {replace(corner(), flat=steady, upright=steady): 40}
    single, bank = group_odds(CUT, [one, many], tries=TRIES)
    assert bank.fits == single.fits
    assert bank.flush < single.flush
    (shared,) = group_odds(CUT, [same], tries=TRIES)
    (shared_single,) = group_odds(CUT, [{next(iter(same)): 1}], tries=TRIES)
    assert shared.both == shared_single.both


def test_without_any_doubt_the_law_fits_for_certain_and_says_what_it_took_for_exact() -> None:
    board = Board("ash", Estimate(T))
    exact = exactly()
    odds = joint_odds(exact, CutCorner(corner().setting, board, board), tries=100)
    assert (odds.odds.closes, odds.odds.fits, odds.odds.both) == (1.0, 1.0, 1.0)
    assert not odds.is_judged
    assert odds.measure_first is None
    assert odds.greatest_of_misfit is None
    assert odds.greatest_of_lip is None
    assert set(odds.taken_as_exact) >= {
        "the cutter's mid depth",
        "the height gauge's offset",
        "dialling in the bit height",
        "the cutter's step",
        "the thickness of ash",
    }
    assert "the cutter's slope" not in odds.taken_as_exact


def test_a_lock_mitre_always_goes_home_and_its_height_error_counts_twice() -> None:
    cutter = Cutter("lock-mitre", mid_depth=Estimate(11.0, 0.03), step=Estimate(D), cutting_height=24.0)
    cut = FirstCut(cutter, replace(EXACT, height_gauge=Estimate(0.0, 0.02)), calipers=0.0)
    board = Board("ash", Estimate(T, 0.04), scatter=0.03)
    odds = joint_odds(cut, CutCorner(set_corner(cutter, CornerGeometry(T, T)), board, board), tries=TRIES)
    assert odds.odds.closes == 1.0
    deviation = math.hypot(2 * 0.03, 2 * 0.02, 0.04, 0.03)
    assert odds.misfit_estimate.uncertainty == pytest.approx(deviation)
    assert odds.odds.fits == pytest.approx(1 - 2 * NormalDist(0, deviation).cdf(-0.1), abs=SCATTER)
    assert odds.aim_change == 0.0


def test_drawn_gaps_follow_the_law_one_by_one() -> None:
    """What is drawn at once is what the law says of each corner alone."""
    tall = CutCorner(replace(corner().setting, bit_height=2 * M + 0.1), BOARD, BOARD)
    drawn = draw_joints(CUT, tall, 2000)
    misfit, gap, proud = (drawn[name].values for name in ("misfit", "gap", "stands_proud"))
    assert gap == pytest.approx(np.maximum(-misfit, 0))
    assert (proud[misfit <= 0] == 0).all()
    out = misfit > 0.01
    slopes = np.degrees(np.arctan(proud[out] / misfit[out]))
    assert slopes.mean() == pytest.approx(50.0, abs=4 * 2 / math.sqrt(out.sum()))
    steep = replace(CUTTER, slope=Estimate(89.0), step=Estimate(0.5, 0.001))
    limited = draw_joints(replace(CUT, cutter=steep), tall, 2000)["stands_proud"].values
    assert limited.max() == pytest.approx(0.5, abs=0.01)


def test_the_law_takes_arrays() -> None:
    heights, slopes = np.array([11.9, 12.0, 12.1, 19.0]), np.array([40.0, 45.0, 50.0, 60.0])
    proud = law.stands_proud(heights, M, D, slopes)
    gaps = law.play(heights, M)
    for number, (height, slope) in enumerate(zip(heights, slopes, strict=True)):
        assert proud[number] == pytest.approx(law.stands_proud(float(height), M, D, float(slope)))
        assert gaps[number] == law.play(float(height), M)
