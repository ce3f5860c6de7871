"""How well test cuts are read: coverage of the intervals, and how many cuts fit.

    python benchmarks/trial_cuts.py [SHOPS] [--set-aside]

With --set-aside, readings that contradict each other are left out as `drawerwright correct` does (six times slower).
The simulated shops are those of the tests (tests/validation/simulated_shops.py).
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "tests" / "validation"))

from simulated_shops import run_shops


def main() -> None:
    numbers = [argument for argument in sys.argv[1:] if argument.isdigit()]
    shops = int(numbers[0]) if numbers else 2000
    started = time.perf_counter()
    tally = run_shops(shops, sets_aside="--set-aside" in sys.argv)
    print(f"{shops} shops in {time.perf_counter() - started:.1f} s")
    for name, count in tally.covered.items():
        print(f"95 % interval of the {name} covers the truth in {count / shops:.1%}")
    print(f"fits: first cut {tally.first / shops:.1%}, second {tally.second / shops:.1%}, ", end="")
    print(f"third {tally.third / shops:.1%}; promised for the second {tally.promised / shops:.1%}")


if __name__ == "__main__":
    main()
