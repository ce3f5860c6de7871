"""`drawerwright fit`: what the wood does at any setting."""

from __future__ import annotations

import argparse
from pathlib import Path

from drawerwright.basics import usual
from drawerwright.cli.exits import DONE
from drawerwright.cli.kinds import add_kind
from drawerwright.cli.length_arguments import add_units, json_in_mm, length

NAME = "fit"
SUMMARY = "show how a corner seats at any height and fence settings"
EXAMPLE = (
    "drawerwright fit --mid-depth 5.65 --step 3.45 --slope 55 --flat 14.6 --upright 14.6 "
    "--bit-height 11.2 --fence-flat 9.02 --fence-upright 9.02"
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    add_kind(parser)
    add_units(parser)
    parser.add_argument("--mid-depth", type=length, help="from the cutter's top to its middle")
    parser.add_argument("--step", type=length, help="the cutter's total inset")
    parser.add_argument(
        "--slope",
        type=float,
        default=usual.UNKNOWN_SLOPE.value,
        help="angle with the tangent run / rise, in degrees (default: %(default)g)",
    )
    parser.add_argument(
        "--profile", type=Path, metavar="FILE", help="measured profile (CSV or DXF) instead of these three"
    )
    parser.add_argument(
        "--profile-uncertainty",
        type=length,
        help=f"standard uncertainty of its insets, 0 for exact (default: {usual.PROFILE_INSET:g} mm)",
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
    from drawerwright.job.fitting import assumed_inset_words, fit_corner, fit_data, fit_text, inset_data
    from drawerwright.joints.cutter import Cutter

    if args.profile is None and None in (args.mid_depth, args.step):
        raise InvalidValueError("give --mid-depth and --step, or a measured profile with --profile")
    fitted = fit_corner(
        args.profile
        or Cutter(
            args.kind,
            mid_depth=Estimate(args.mid_depth),
            step=Estimate(args.step),
            slope=Estimate(args.slope),
        ),
        args.flat,
        args.upright,
        args.bit_height,
        args.fence_flat,
        args.fence_upright,
        profile_uncertainty=args.profile_uncertainty,
        unit=args.units,
    )
    inset = fitted.inset
    if args.json:
        of_profile = {} if inset is None else {"inset": inset_data(inset)}
        print(json_in_mm({**fit_data(fitted.fit, fitted.doubt), **of_profile}))
        return DONE
    print(fit_text(fitted, LengthStyle(args.units)))
    if inset is not None and inset.is_assumed:
        print(LengthStyle(args.units).say(assumed_inset_words(inset, "--profile-uncertainty")))
    return DONE
