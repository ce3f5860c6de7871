"""How well sections are read from pictures of known truth.

    python benchmarks/scan.py [--pictures N] [--first SEED] [--least-dpi DPI] [--photos]

Draws N pictures (500) of any cut and reads them. Scans are on any ground, turned, mirrored, whole or cut off, with
plies, glue lines, saw marks, chips, fuzz, dust, shadows, blur, noise and JPEG, by a scanner that is off by 0.12 % and
waves by 0.006 mm, standard deviations that the reader assumes as well (`tests/scan_pictures.py`). With `--photos`
slices 4 to 9 mm high lie on the sheet of marks, under a camera that is held as somebody careful holds it, with a lens
that bends, in uneven light (`tests/photo_pictures.py`); of a quarter of them nobody measured how high they are, and as
many files do not tell the lens.
Printed: of how many each measure is nearer to the truth than the goal, the error that 95 % stay below, how often the
stated 95 % interval holds the truth, how many were refused, which errors are over four standard uncertainties without
a doubt being said, and seconds of a processor for a picture.
"""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.scan.cut_measures import INCH, SectionReading, read_section
from drawerwright.joints.scan.instrument import ScaleSource
from drawerwright.joints.scan.sheet_photo import flatten_photo
from photo_pictures import any_slice_photo
from scan_pictures import Truth, any_look, any_truth, picture

GOALS = {"mid_depth": 0.03, "step": 0.03, "bit_height": 0.04, "fence": 0.04, "slope": 0.7}
PHOTO_GOALS = {"mid_depth": 0.08, "step": 0.08, "bit_height": 0.08, "fence": 0.08, "slope": 2.0}
CALIPER, SLICE = 0.02, 0.3
"""Standard uncertainties of the board's thickness and of the slice's height (mm)."""
PHOTO_SIZE = (3000, 2250)


def scanned(seed: int, least_dpi: float) -> tuple[Truth, str, SectionReading, float]:
    """Truth, kind, reading and seconds of one scan."""
    rng = np.random.default_rng(seed)
    truth = any_truth(rng, is_flat=seed % 2 == 0)
    look = any_look(rng, least_dpi=least_dpi, scanner_scale=0.0012)
    made = picture(truth, look)
    begin = time.process_time()
    reading = read_section(made.pixels, is_flat=truth.is_flat, per_mm=look.dpi / INCH)
    return truth, f"{look.dpi:.0f} dpi", reading, time.process_time() - begin


def photographed(seed: int) -> tuple[Truth, str, SectionReading, float]:
    """The same of one photo; three of four files tell the focal length, and of as many the slice was measured."""
    made = any_slice_photo(seed, PHOTO_SIZE)
    rng = np.random.default_rng([seed, 1])
    height = Estimate(made.shot.slice_height + rng.normal(0, SLICE), SLICE) if rng.random() < 0.75 else None
    focal = made.shot.focal_35 if rng.random() < 0.75 else None
    begin = time.process_time()
    flat = flatten_photo(made.pixels, slice_height=height, focal_35=focal)
    if flat is None:
        raise InvalidValueError("no mark is seen")
    reading = read_section(
        flat.picture,
        is_flat=made.truth.is_flat,
        per_mm=flat.per_mm,
        source=ScaleSource.SHEET,
        thickness=Estimate(made.truth.thickness + rng.normal(0, CALIPER), CALIPER),
        instrument=flat.instrument,
    )
    kind = "as asked for" if height is not None and focal is not None else "height or lens not known"
    return made.truth, kind, reading, time.process_time() - begin


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--pictures", type=int, default=500)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--least-dpi", type=float, default=300.0)
    parser.add_argument("--photos", action="store_true")
    args = parser.parse_args()
    goals = PHOTO_GOALS if args.photos else GOALS
    errors, ratios, kinds, seconds, refused, wrong, doubtful = [], [], [], [], [], [], 0
    for seed in range(args.first, args.first + args.pictures):
        try:
            truth, kind, reading, taken = photographed(seed) if args.photos else scanned(seed, args.least_dpi)
        except InvalidValueError as error:
            refused.append(str(error)[:60])
            continue
        seconds.append((kind, taken))
        kinds.append(kind)
        off = np.array([reading.measures[name].value - getattr(truth, name) for name in goals])
        sigma = np.array([reading.measures[name].uncertainty for name in goals])
        errors.append(off)
        ratios.append(off / sigma)
        doubtful += bool(reading.doubts)
        if np.abs(off / sigma).max() > 4 and not reading.doubts:
            wrong.append((seed, np.round(off / sigma, 1).tolist()))
    off, ratio = np.abs(errors), np.abs(ratios)
    print(
        f"{args.pictures} pictures: {len(off)} read, {doubtful} of them with a doubt; {len(refused)} refused"
    )
    for words in sorted(set(refused)):
        print(f"  refused {refused.count(words)}: {words}")
    for kind in sorted(set(kinds)) if args.photos else ["all"]:
        own = np.array([kind in (at, "all") for at in kinds])
        print(f"{kind}: {own.sum()}")
        for index, (name, goal) in enumerate(goals.items()):
            print(
                f"{name:12} within {goal:g}: {(off[own, index] <= goal).mean():.1%}; 95 % within "
                f"{np.quantile(off[own, index], 0.95):.3f}; interval holds {(ratio[own, index] <= 1.96).mean():.1%}"
            )
    print(f"all intervals hold {(ratio <= 1.96).mean():.1%}")
    print(f"over four standard uncertainties without a doubt: {wrong or 'none'}")
    for kind in sorted(set(kinds)):
        spent = [second for at, second in seconds if at == kind]
        print(f"{kind}: {np.mean(spent):.2f} s a picture, at most {max(spent):.2f} s")


if __name__ == "__main__":
    main()
