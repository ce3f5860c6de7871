"""Joints that two cutters cut at one table, against plain draws that share no code with the odds."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from test_first_cut_odds import BOARD, CUT, SCATTER, TABLE, TRIES, D, M, T, corner

from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.doubts import CutCorner, FirstCut
from drawerwright.joints.mixed_odds import MixedGroup, mixed_odds
from drawerwright.joints.odds import group_odds
from drawerwright.joints.setting import CornerGeometry, set_corner
from drawerwright.joints.table import Settled

SMALL = Cutter(
    mid_depth=Estimate(4.5, 0.04),
    step=Estimate(3.0, 0.03),
    slope=Estimate(45.0, 1.0),
    name="small",
)
OF_SMALL = FirstCut(SMALL, TABLE, CUT.fit, calipers=0.01)


def lowered(cut: FirstCut, deeper: float) -> CutCorner:
    """A flush corner with the bit so much below the tight height (mm)."""
    tight = set_corner(cut.cutter, CornerGeometry(T, T))
    return CutCorner(replace(tight, bit_height=tight.bit_height - deeper), BOARD, BOARD)


def taught(cut: FirstCut, height: float, fence: float) -> FirstCut:
    """The same once test cuts have tied the cutter's measures to the gauges."""
    settled = Settled(height_correlation=height, fence_correlation=fence)
    return replace(cut, table=replace(cut.table, settled=settled))


def test_gauges_and_wood_are_shared_and_cutters_are_not() -> None:
    """Every cause written down once in plain numpy: cutters are correlated with the gauges, -0.8 and 0.5 in height."""
    large, small = taught(CUT, -0.8, -0.6), taught(OF_SMALL, 0.5, -0.9)
    rng = np.random.default_rng(11)
    joints = 6

    def gauge_and_cutters(gauge: float, *cutters: tuple[float, float]) -> np.ndarray:
        """Errors of a gauge and of measures with these standard uncertainties and correlations with it."""
        count = len(cutters) + 1
        corr = np.eye(count)
        for n, (_sd, rho) in enumerate(cutters, start=1):
            corr[0, n] = corr[n, 0] = rho
        for one, (_a, rho_one) in enumerate(cutters, start=1):
            for other, (_b, rho_other) in enumerate(cutters, start=1):
                if one != other:  # nothing in common but the gauge
                    corr[one, other] = rho_one * rho_other
        sd = np.array([gauge, *(sd for sd, _rho in cutters)])
        return rng.multivariate_normal(np.zeros(count), corr * np.outer(sd, sd), TRIES).T

    def normal(deviation: float, count: int = 1) -> np.ndarray:
        return rng.normal(0, deviation, (TRIES, count))

    height_off, deep_large, deep_small = (
        e[:, None] for e in gauge_and_cutters(0.04, (0.03, -0.8), (0.04, 0.5))
    )
    fence_off, step_large, step_small = (
        e[:, None] for e in gauge_and_cutters(0.02, (0.02, -0.6), (0.03, -0.9))
    )
    sheet, calipers = normal(0.03), normal(0.01)
    fits, flush = np.ones(TRIES, bool), np.ones(TRIES, bool)
    for mid, step, slope, deep, wide in (
        (M, D, normal(2) + 50, deep_large, step_large),
        (4.5, 3.0, normal(1) + 45, deep_small, step_small),
    ):
        m, d = mid + deep, step + wide
        height = 2 * mid - 0.05 - height_off + normal(0.015)
        play = 2 * m - height
        proud = np.minimum(np.maximum(-play, 0) * np.tan(np.radians(slope)), d)
        fence = (T + step) / 2 - fence_off + normal(0.015)
        upright = T + sheet - calipers + normal(0.025, joints)
        fits &= ((play >= 0) & (play <= 0.15)).all(axis=1)
        flush &= (abs(2 * fence - upright - d - proud) <= 0.1).all(axis=1)
    group: MixedGroup = {(large, lowered(large, 0.05)): joints, (small, lowered(small, 0.05)): joints}
    (odds,) = mixed_odds([group], tries=TRIES)
    assert odds.fits == pytest.approx(fits.mean(), abs=SCATTER)
    assert odds.flush == pytest.approx(flush.mean(), abs=SCATTER)
    assert odds.both == pytest.approx((fits & flush).mean(), abs=SCATTER)


def test_one_cutter_by_itself_is_judged_alike_either_way() -> None:
    cut = taught(CUT, -0.7, -0.3)
    joint = corner(lip=3.0)
    (one,) = group_odds(cut, [{joint: 8}], tries=TRIES)
    (other,) = mixed_odds([{(cut, joint): 8}], tries=TRIES)
    for name in ("closes", "fits", "flush", "both"):
        assert getattr(one, name) == pytest.approx(getattr(other, name), abs=SCATTER)


def test_what_two_cutters_share_makes_both_right_more_often_than_chance() -> None:
    """With all doubt in the height gauge, whoever has one corner right has the other right as well."""
    table = replace(TABLE, height_gauge=Estimate(0.2, 0.06), repeatability=0.0)
    exact = {name: Estimate(getattr(SMALL, name).value, 0.0) for name in ("mid_depth", "step", "slope")}
    small = FirstCut(replace(SMALL, **exact), table, CUT.fit, calipers=0.0)
    large = FirstCut(
        replace(small.cutter, mid_depth=Estimate(M, 0.0), name="large"), table, CUT.fit, calipers=0.0
    )
    joints = [(cut, lowered(cut, 0.075)) for cut in (large, small)]
    both, *alone = mixed_odds([dict.fromkeys(joints, 1), *({joint: 1} for joint in joints)], tries=TRIES)
    assert both.fits == pytest.approx(alone[0].fits) == pytest.approx(alone[1].fits)
    assert both.fits > math.prod(odds.fits for odds in alone) + 0.1
