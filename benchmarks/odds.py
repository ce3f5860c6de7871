"""How long the odds of first cuts take to reckon, and that linear and drawn odds agree.

    python benchmarks/odds.py [--joints N] [--repeats N]

A drawer-lock corner with every input in doubt: cutter's measures 0.05 mm, slope 1 degree, gauges 0.08 mm,
dialling in 0.02 mm, thickness 0.05 mm by sheet and 0.04 mm within it, calipers 0.02 mm (standard uncertainties).
Printed: seconds for drawing N joints with misfit, gap, standing proud and lip of each; for all of one corner's
odds (with quantiles, shares and histograms left to the reader); for a bank of 12 drawers cut at one setting,
lipped in front and flush behind; and the odds themselves, by first order and as drawn. The best of the repeats
counts.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Callable
from typing import TypeVar

from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.doubts import Board, CutCorner, FirstCut
from drawerwright.joints.odds import draw_joints, group_odds, joint_odds
from drawerwright.joints.readings import FitRange
from drawerwright.joints.setting import CornerGeometry, set_corner
from drawerwright.joints.table import RouterTable

T = TypeVar("T")
CUTTER = Cutter(
    "drawer-lock",
    mid_depth=Estimate(5.65, 0.05),
    step=Estimate(3.45, 0.05),
    slope=Estimate(55.0, 1.0),
)
TABLE = RouterTable(height_gauge=Estimate(0.0, 0.08), fence_gauge=Estimate(0.0, 0.08), repeatability=0.02)
BOARD = Board("birch", Estimate(14.61, 0.05), scatter=0.04)
DRAWERS = 12


def corner(lip: float) -> CutCorner:
    geometry = CornerGeometry(BOARD.mean.value, BOARD.mean.value, lip)
    return CutCorner(set_corner(CUTTER, geometry), BOARD, BOARD)


def timed(work: Callable[[], T], repeats: int) -> tuple[float, T]:
    best, result = float("inf"), work()
    for _ in range(repeats):
        began = time.perf_counter()
        result = work()
        best = min(best, time.perf_counter() - began)
    return best, result


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--joints", type=int, default=1_000_000)
    parser.add_argument("--repeats", type=int, default=3)
    options = parser.parse_args()
    cut = FirstCut(CUTTER, TABLE, FitRange(), calipers=0.02)
    front, back = corner(6.0), corner(0.0)

    seconds, drawn = timed(lambda: draw_joints(cut, front, options.joints), options.repeats)
    print(f"{options.joints:,} joints drawn: {seconds:.3f} s")
    seconds, odds = timed(lambda: joint_odds(cut, front, tries=options.joints), options.repeats)
    print(f"all odds of one corner from {options.joints:,} tries: {seconds:.3f} s")
    groups = [{front: 1}, {front: 2, back: 2}, {front: 2 * DRAWERS, back: 2 * DRAWERS}]
    seconds, grouped = timed(lambda: group_odds(cut, groups), options.repeats)
    print(f"a joint, a drawer and a bank of {DRAWERS}: {seconds:.3f} s")

    low, high = cut.fit.misfits(CUTTER.mating)
    print(
        f"\nfits        first order {odds.odds.fits:7.2%}  drawn "
        f"{drawn['misfit'].chance(low, high):7.2%}; with the bit {odds.aim_change:+.3f} mm {odds.aimed.fits:7.2%}"
    )
    flush = cut.fit.flushness
    lip = front.setting.corner.lip
    print(
        f"flush       first order {odds.odds.flush:7.2%}  drawn "
        f"{drawn['lip'].chance(lip - flush, lip + flush):7.2%}"
    )
    for name, group in zip(("joint", "drawer", "bank"), grouped, strict=True):
        print(
            f"{name:11} closes {group.closes:7.2%}  fits {group.fits:7.2%}  flush {group.flush:7.2%}  both "
            f"{group.both:7.2%}"
        )
    for share in odds.shares:
        print(
            f"{share.what:40} {share.of_misfit:6.1%} of the misfit  {share.of_lip:6.1%} of the lip  "
            f"gain {share.gain:+6.1%}"
        )


if __name__ == "__main__":
    main()
