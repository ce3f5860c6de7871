"""How well test cuts are read: coverage of the intervals, and how many cuts fit.

    python benchmarks/trial_cuts.py [SHOPS] [--set-aside | --outvoted | --scanned]

With --set-aside, what cannot be right together is left out as `drawerwright correct` does (much slower). With
--outvoted, everybody states cutter and gauges to 0.02 mm, and in each row something is 0.3 mm off for all that. With
--scanned, shops that scan a slice of the flat piece are compared with those that use calipers. The
simulated shops are those of the tests (tests/validation/simulated_shops.py).
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "tests" / "validation"))

from simulated_shops import LOOSE, SCANNED, THREE, run_shops

TIGHT = {"cutter_doubt": 0.02, "gauge_doubt": 0.02}
OUTVOTED = {
    "nothing is off": {},
    "height gauge 0.3 high": {"height_slip": 0.3},
    "height gauge 0.3 low": {"height_slip": -0.3},
    "mid depth 0.3 deeper than stated": {"depth_slip": -0.3},
    "mid depth 0.3 less than stated": {"depth_slip": 0.3},
    "first reading 0.3 off": {"reading_slip": 0.3},
}


def main() -> None:
    numbers = [argument for argument in sys.argv[1:] if argument.isdigit()]
    if "--outvoted" in sys.argv:
        _outvoted(int(numbers[0]) if numbers else 100)
        return
    if "--scanned" in sys.argv:
        _scanned(int(numbers[0]) if numbers else 1000)
        return
    shops = int(numbers[0]) if numbers else 2000
    started = time.perf_counter()
    tally = run_shops(shops, sets_aside="--set-aside" in sys.argv)
    print(f"{shops} shops in {time.perf_counter() - started:.1f} s")
    for name, count in tally.covered.items():
        print(f"95 % interval of the {name} covers the truth in {count / shops:.1%}")
    print(f"fits: first cut {tally.first / shops:.1%}, second {tally.second / shops:.1%}, ", end="")
    print(f"third {tally.third / shops:.1%}; promised for the second {tally.promised / shops:.1%}")


def _scanned(shops: int) -> None:
    ways = {
        "calipers, loose pieces": LOOSE,
        "calipers, corner put together": THREE,
        "scan of the flat piece": SCANNED,
    }
    for name, plan in ways.items():
        tally = run_shops(shops, plan=plan)
        print(f"{name}: fits first {tally.first / shops:.1%}, second {tally.second / shops:.1%} ", end="")
        print(f"(promised {tally.promised / shops:.1%}), third {tally.third / shops:.1%}", flush=True)


def _outvoted(shops: int) -> None:
    for name, slips in OUTVOTED.items():
        plan = ("roof", *THREE) if "reading_slip" in slips else THREE
        tally = run_shops(shops, sets_aside=True, plan=plan, **TIGHT, **slips)
        print(f"{name}: fits first {tally.first / shops:.1%}, second {tally.second / shops:.1%} ", end="")
        print(f"(promised {tally.promised / shops:.1%}), third {tally.third / shops:.1%}; ", end="")
        print(f"misfit covered in {tally.covered['misfit'] / shops:.1%}", flush=True)


if __name__ == "__main__":
    main()
