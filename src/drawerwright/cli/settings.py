"""`drawerwright settings`: one corner, straight from its measures."""

from __future__ import annotations

import argparse
import json

from drawerwright.cli.exits import done_with, length

NAME = "settings"
SUMMARY = "bit height, fence and lengths of one corner"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--kind", choices=("drawer-lock", "lock-mitre"), default="drawer-lock", help="the cutter's kind"
    )
    parser.add_argument("--mid-depth", type=length, required=True, help="from the cutter's top to its middle")
    parser.add_argument("--step", type=length, required=True, help="the cutter's total inset")
    parser.add_argument("--flat", type=length, required=True, help="thickness of the flat piece, measured")
    parser.add_argument(
        "--upright", type=length, required=True, help="thickness of the upright piece, measured"
    )
    parser.add_argument(
        "--lip", type=length, default=0.0, help="how far the flat piece stands beyond the upright"
    )
    parser.add_argument(
        "--fence",
        default="one",
        help="one setting for both pieces, only the tooth for the upright, or the upright's setting (default: one)",
    )
    parser.add_argument("--outer", type=length, help="finished size over both flat pieces")
    parser.add_argument("--other-flat", type=length, help="thickness of the flat piece at the far end")
    parser.add_argument("--cutting-height", type=length, help="the cutter's, to check the bit height against")
    parser.add_argument("--json", action="store_true", help="print JSON, lengths in mm")


def run(args: argparse.Namespace) -> int:
    from drawerwright.basics.lengths import parse_length, show_length
    from drawerwright.basics.uncertain import Estimate
    from drawerwright.job.settling import settle_corner
    from drawerwright.joints.cutter import Cutter, CutterKind
    from drawerwright.joints.setting import CornerGeometry, FenceRule

    fence = FenceRule(args.fence) if args.fence in tuple(FenceRule) else parse_length(args.fence)
    cutter = Cutter(
        CutterKind(args.kind),
        Estimate(args.mid_depth),
        Estimate(args.step),
        cutting_height=args.cutting_height,
    )
    settled = settle_corner(
        cutter,
        CornerGeometry(args.flat, args.upright, args.lip),
        fence=fence,
        outer=args.outer,
        other_flat=args.other_flat,
    )
    data = settled.data
    if args.json:
        print(json.dumps(data, indent=1))
        return done_with(settled.findings)
    for name, value in data.items():
        if name != "findings":
            print(f"{name.replace('_', ' '):15} {show_length(value, fine=True):>10}")
    for finding in settled.findings:
        print(finding)
    return done_with(settled.findings)
