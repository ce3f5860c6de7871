"""How well sections are read from pictures of known truth.

    python benchmarks/scan.py [--pictures N] [--first SEED] [--least-dpi DPI] [--true-scanner] [--photos] [--keep FILE]
                              [--for-docs]

Draws N pictures (500) of any cut and reads them. Scans are on any ground, turned, mirrored, whole or cut off, with
plies, glue lines, saw marks, chips, fuzz, dust, shadows, blur, noise and JPEG, by a scanner that is off by 0.12 % and
waves by 0.006 mm, standard deviations that the reader assumes as well (`tests/scan_pictures.py`), or with
`--true-scanner` by one that is as true as a calibrated one would be at best. With `--photos` slices 4 to 9 mm high lie
on the sheet of marks, under a camera that is held as somebody careful holds it, with a lens that bends, in uneven
light (`tests/photo_pictures.py`); of a quarter of them nobody measured how high they are, and as many files do not
tell the lens. `--keep` writes what each picture said into a file as it goes, and leaves out what stands there: so it
can be done in pieces. With `--for-docs` the figures go to benchmarks/data/runs, from where `make tables` takes them
into docs/scanning.md.
Printed: of how many each measure is nearer to the truth than the goal, also of those without a doubt; the error that
95 % stay below, how often the stated 95 % interval holds the truth, how many were refused, which errors are over four
standard uncertainties without a doubt being said, and seconds of a processor for a picture.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.scan.cut_measures import SectionReading, read_section
from drawerwright.joints.scan.instrument import ScaleSource
from drawerwright.joints.scan.picture_scale import INCH
from drawerwright.joints.scan.sheet_photo import flatten_photo
from photo_pictures import any_slice_photo
from scan_pictures import Truth, any_look, any_truth, picture

GOALS = {"mid_depth": 0.03, "step": 0.03, "bit_height": 0.04, "fence": 0.04, "slope": 0.7}
PHOTO_GOALS = {"mid_depth": 0.08, "step": 0.08, "bit_height": 0.08, "fence": 0.08, "slope": 2.0}
CALIPER, SLICE = 0.02, 0.3
"""Standard uncertainties of the board's thickness and of the slice's height (mm)."""
PHOTO_SIZE = (3000, 2250)
RUNS = Path(__file__).parent / "data" / "runs"


def scanned(seed: int, least_dpi: float, scanner_scale: float) -> tuple[Truth, str, SectionReading, float]:
    """Truth, kind, reading and seconds of one scan by a scanner with such an error of its scale."""
    rng = np.random.default_rng(seed)
    truth = any_truth(rng, is_flat=seed % 2 == 0)
    look = any_look(rng, least_dpi=least_dpi, scanner_scale=scanner_scale)
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


def told(seed: int, args: argparse.Namespace) -> dict[str, Any]:
    """What the reading of one picture says, as it is kept."""
    try:
        truth, kind, reading, taken = (
            photographed(seed)
            if args.photos
            else scanned(seed, args.least_dpi, 0.0 if args.true_scanner else 0.0012)
        )
    except InvalidValueError as error:
        return {"seed": seed, "refused": str(error)[:60]}
    return {
        "seed": seed,
        "kind": kind,
        "seconds": round(taken, 3),
        "off": {name: round(reading.measures[name].value - getattr(truth, name), 5) for name in GOALS},
        "unsure": {name: round(reading.measures[name].uncertainty, 5) for name in GOALS},
        "doubts": [str.__str__(doubt) for doubt in reading.doubts],
    }


def gathered(args: argparse.Namespace) -> list[dict[str, Any]]:
    """What all pictures say, those that are kept already and the others."""
    seeds = range(args.first, args.first + args.pictures)
    lines = args.keep.read_text("utf-8").splitlines() if args.keep and args.keep.exists() else []
    rows = {row["seed"]: row for row in map(json.loads, lines)}
    for seed in seeds:
        if seed not in rows:
            rows[seed] = told(seed, args)
            if args.keep:
                with args.keep.open("a", encoding="utf-8") as file:
                    file.write(json.dumps(rows[seed]) + "\n")
    return [rows[seed] for seed in seeds]


def summary(every: Sequence[dict[str, Any]], goals: Mapping[str, float], kind: str = "") -> dict[str, Any]:
    """What pictures (those of a `kind` where one is named) come to: how many there were, of how many each measure is
    within its goal, which error 95 % stay below and how often the 95 % interval holds the truth; the same of those
    `sure`, about which nothing was doubted."""
    rows = [row for row in every if "refused" not in row and kind in ("", row["kind"])]
    sure = [row for row in rows if not row["doubts"]]
    found: dict[str, Any] = {
        "pictures": len(every),
        "read": len(rows),
        "sure": len(sure),
        "refused": sum("refused" in row for row in every),
        "wrong": [row["seed"] for row in sure if max(_in_uncertainties(row, name) for name in goals) > 4],
        "holds": float(np.mean([_in_uncertainties(row, name) <= 1.96 for row in rows for name in goals])),
        "measures": {},
    }
    for name, goal in goals.items():
        off, clear = (np.abs([row["off"][name] for row in some]) for some in (rows, sure))
        found["measures"][name] = {
            "goal": goal,
            "within": float((off <= goal).mean()),
            "sure_within": float((clear <= goal).mean()),
            "p95": float(np.quantile(off, 0.95)),
            "sure_p95": float(np.quantile(clear, 0.95)),
            "holds": float(np.mean([_in_uncertainties(row, name) <= 1.96 for row in rows])),
        }
    return found


def _in_uncertainties(row: Mapping[str, Any], name: str) -> float:
    return float(abs(row["off"][name]) / row["unsure"][name])


def print_summary(every: Sequence[dict[str, Any]], goals: Mapping[str, float]) -> None:
    """Print what `summary` says, why pictures were refused, and seconds for a picture."""
    found = summary(every, goals)
    refused = [row["refused"] for row in every if "refused" in row]
    rows = [row for row in every if "refused" not in row]
    print(
        f"{found['pictures']} pictures: {found['read']} read, {found['read'] - found['sure']} of them with a doubt; "
        f"{found['refused']} refused"
    )
    for words in sorted(set(refused)):
        print(f"  refused {refused.count(words)}: {words}")
    print("               goal  within it  if no doubt  95 % within  if no doubt  interval holds")
    kinds = sorted({row["kind"] for row in rows})
    for kind in ["", *(kinds if goals is PHOTO_GOALS else [])]:
        own = summary(every, goals, kind)
        print(f"{kind or 'all'}: {own['read']}")
        for name, of in own["measures"].items():
            print(
                f"  {name:12} {of['goal']:4g} {of['within']:10.1%} {of['sure_within']:12.1%} "
                f"{of['p95']:12.3f} {of['sure_p95']:12.3f} {of['holds']:15.1%}"
            )
    print(f"all intervals hold {found['holds']:.1%}")
    print(f"over four standard uncertainties without a doubt: {found['wrong'] or 'none'}")
    for kind in kinds:
        spent = np.array([row["seconds"] for row in rows if row["kind"] == kind])
        print(f"{kind}: {spent.mean():.2f} s a picture, at most {spent.max():.2f} s")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--pictures", type=int, default=500)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--least-dpi", type=float, default=300.0)
    parser.add_argument("--true-scanner", action="store_true")
    parser.add_argument("--photos", action="store_true")
    parser.add_argument("--keep", type=Path, metavar="FILE")
    parser.add_argument("--for-docs", action="store_true")
    args = parser.parse_args()
    goals = PHOTO_GOALS if args.photos else GOALS
    every = gathered(args)
    print_summary(every, goals)
    if args.for_docs:
        told = {"photos": args.photos, "first": args.first, "pictures": args.pictures}
        words = [
            f"--{name}" if value is True else f"--{name} {value}" for name, value in told.items() if value
        ]
        command = " ".join(["python benchmarks/scan.py", *words])
        kept = RUNS / ("scan_photos.json" if args.photos else "scan.json")
        kept.write_text(json.dumps({"command": command, **summary(every, goals)}, indent=2) + "\n", "utf-8")


if __name__ == "__main__":
    main()
