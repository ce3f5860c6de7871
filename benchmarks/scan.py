"""How well sections are read from pictures of known truth.

    python benchmarks/scan.py [--pictures N] [--first SEED] [--least-dpi DPI]

Draws N pictures (500) of any cut on any ground, turned, mirrored, whole or cut off, with plies, glue lines, saw marks,
chips, fuzz, dust, shadows, blur, noise and JPEG, by a scanner that is off by 0.12 % and wobbles
(`tests/scan_pictures.py`), and reads them. Printed: of how many each measure is nearer to the truth than the goal, the
error that 95 % stay below, how often the stated 95 % interval holds the truth, how many were refused, which errors are
over four standard uncertainties without a doubt being said, and seconds of a processor for a picture.
"""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from drawerwright.basics.errors import InvalidValueError
from drawerwright.joints.scan.cut_measures import INCH, read_section
from scan_pictures import any_look, any_truth, picture

GOALS = {"mid_depth": 0.03, "step": 0.03, "bit_height": 0.04, "fence": 0.04, "slope": 0.7}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--pictures", type=int, default=500)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--least-dpi", type=float, default=300.0)
    args = parser.parse_args()
    errors, ratios, seconds, refused, wrong, doubtful = [], [], [], 0, [], 0
    for seed in range(args.first, args.first + args.pictures):
        rng = np.random.default_rng(seed)
        truth, look = (
            any_truth(rng, is_flat=seed % 2 == 0),
            any_look(rng, least_dpi=args.least_dpi, scanner_scale=0.0012),
        )
        made = picture(truth, look)
        begin = time.process_time()
        try:
            reading = read_section(made.pixels, is_flat=truth.is_flat, per_mm=look.dpi / INCH)
        except InvalidValueError:
            refused += 1
            continue
        seconds.append((look.dpi, time.process_time() - begin))
        off = np.array([reading.measures[name].value - getattr(truth, name) for name in GOALS])
        sigma = np.array([reading.measures[name].uncertainty for name in GOALS])
        errors.append(off)
        ratios.append(off / sigma)
        doubtful += bool(reading.doubts)
        if np.abs(off / sigma).max() > 4 and not reading.doubts:
            wrong.append((seed, np.round(off / sigma, 1).tolist()))
    off, ratio = np.abs(errors), np.abs(ratios)
    print(f"{args.pictures} pictures: {len(off)} read, {doubtful} of them with a doubt; {refused} refused")
    for index, (name, goal) in enumerate(GOALS.items()):
        print(
            f"{name:12} within {goal:g}: {(off[:, index] <= goal).mean():.1%}; 95 % within "
            f"{np.quantile(off[:, index], 0.95):.3f}; interval holds {(ratio[:, index] <= 1.96).mean():.1%}"
        )
    print(f"all intervals hold {(ratio <= 1.96).mean():.1%}")
    print(f"over four standard uncertainties without a doubt: {wrong or 'none'}")
    for dpi in sorted({dpi for dpi, _ in seconds}):
        own = [second for at, second in seconds if at == dpi]
        print(f"{dpi:.0f} dpi: {np.mean(own):.2f} s a picture, at most {max(own):.2f} s")


if __name__ == "__main__":
    main()
