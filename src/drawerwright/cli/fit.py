"""`drawerwright fit`: what the wood does at any setting."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from drawerwright.cli.exits import DONE, length

NAME = "fit"
SUMMARY = "how a corner seats at any height and fence settings"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--kind", choices=("drawer-lock", "lock-mitre"), default="drawer-lock", help="the cutter's kind"
    )
    parser.add_argument("--mid-depth", type=length, help="from the cutter's top to its middle")
    parser.add_argument("--step", type=length, help="the cutter's total inset")
    parser.add_argument(
        "--slope", type=float, default=45.0, help="angle whose tangent is run / rise, degrees (default: 45)"
    )
    parser.add_argument(
        "--profile", type=Path, metavar="FILE", help="measured profile (CSV or DXF) instead of the three"
    )
    parser.add_argument(
        "--profile-uncertainty", type=length, default=0.0, help="standard uncertainty of its insets"
    )
    parser.add_argument("--flat", type=length, required=True, help="thickness of the flat piece")
    parser.add_argument("--upright", type=length, required=True, help="thickness of the upright piece")
    parser.add_argument("--bit-height", type=length, required=True, help="top of the cutter above the table")
    parser.add_argument("--fence-flat", type=length, required=True, help="fence setting of the flat piece")
    parser.add_argument(
        "--fence-upright", type=length, required=True, help="fence setting of the upright piece"
    )
    parser.add_argument("--json", action="store_true", help="print JSON, lengths in mm")


def run(args: argparse.Namespace) -> int:
    from drawerwright.basics.errors import InvalidValueError
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.basics.uncertain import Estimate
    from drawerwright.job.fitting import fit_data, fit_text
    from drawerwright.job.profiles import read_profile, seatable
    from drawerwright.joints.corner import Cuts
    from drawerwright.joints.cutter import Cutter, CutterKind
    from drawerwright.joints.fit import seat

    if args.profile is not None:
        measured = read_profile(args.profile)
        profile, step = seatable(measured, args.bit_height, args.flat, args.profile_uncertainty)
    elif args.mid_depth is None or args.step is None:
        raise InvalidValueError("give --mid-depth and --step, or a measured profile with --profile")
    else:
        cutter = Cutter(
            CutterKind(args.kind), Estimate(args.mid_depth), Estimate(args.step), Estimate(args.slope)
        )
        profile, step = cutter.profile(), args.step
    fit = seat(
        Cuts(profile, args.flat, args.upright, args.bit_height, args.fence_flat, args.fence_upright), step
    )
    print(json.dumps(fit_data(fit), indent=1) if args.json else fit_text(fit, LengthStyle()))
    return DONE
