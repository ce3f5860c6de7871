"""`drawerwright cutter`: does a measured cutter mate with itself, and where is its middle?"""

from __future__ import annotations

import argparse
from pathlib import Path

from drawerwright.basics import usual
from drawerwright.cli.exits import DONE
from drawerwright.cli.length_arguments import add_units, json_in_mm, length

NAME = "cutter"
SUMMARY = "tell whether a measured cutter mates with itself, with its mid depth and step"
EXAMPLE = "drawerwright cutter examples/measured-cutter.csv --uncertainty 0.02 --upright 14.6"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    add_units(parser)
    parser.add_argument("profile", type=Path, metavar="FILE", help="the measured profile, CSV or DXF")
    parser.add_argument(
        "--uncertainty",
        type=length,
        help=f"standard uncertainty of each inset, 0 for exact (default: {usual.PROFILE_INSET:g} mm)",
    )
    parser.add_argument(
        "--through",
        type=length,
        metavar="THICKNESS",
        help="for a lock-mitre, or two boards edge to edge: thickness of the stock it cuts through",
    )
    parser.add_argument(
        "--limit", type=length, help="widest gap that still counts as mating (default: what glue fills)"
    )
    parser.add_argument("--upright", type=length, help="thickness of the upright piece, for the fence")
    parser.add_argument(
        "--lip", type=length, default=0.0, help="how far the flat piece stands beyond the upright"
    )
    parser.add_argument("--json", action="store_true", help="print JSON, lengths in mm")


def run(args: argparse.Namespace) -> int:
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.basics.uncertain import Estimate
    from drawerwright.job.fitting import assumed_inset_words, inset_data, mate_data, mate_text
    from drawerwright.job.measured_cutter import judge_file

    inset = Estimate.given(0.0, args.uncertainty, usual=usual.PROFILE_INSET)
    mate = judge_file(
        args.profile, inset.uncertainty, through=args.through, limit=args.limit, unit=args.units
    )
    corner = {"through": args.through, "upright": args.upright, "lip": args.lip}
    if args.json:
        print(json_in_mm({**mate_data(mate, **corner), "inset": inset_data(inset)}))
    else:
        print(mate_text(mate, LengthStyle(args.units), **corner))
        if inset.is_assumed:
            print(LengthStyle(args.units).say(assumed_inset_words(inset, "--uncertainty")))
    return DONE
