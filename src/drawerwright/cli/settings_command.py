"""`drawerwright settings`: one corner, straight from its measures."""

from __future__ import annotations

import argparse
from typing import Any

from drawerwright.basics import usual
from drawerwright.cli.exits import done_with
from drawerwright.cli.kinds import add_kind
from drawerwright.cli.length_arguments import add_units, json_in_mm, length, measure

NAME = "settings"
SUMMARY = "work out bit height, fence and lengths for one corner"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    add_kind(parser)
    add_units(parser)
    parser.add_argument(
        "--mid-depth",
        type=measure(usual.CUTTER_MEASURE),
        required=True,
        help="from the cutter's top to its middle",
    )
    parser.add_argument(
        "--step", type=measure(usual.CUTTER_MEASURE), required=True, help="the cutter's total inset"
    )
    parser.add_argument(
        "--flat",
        type=measure(usual.CALIPER_READING),
        required=True,
        help="the flat piece's thickness",
    )
    parser.add_argument(
        "--upright",
        type=measure(usual.CALIPER_READING),
        required=True,
        help="the upright piece's thickness",
    )
    parser.add_argument(
        "--lip", type=length, default=0.0, help="how far the flat piece stands beyond the upright"
    )
    parser.add_argument(
        "--fence",
        default="one",
        help="one: same setting for both pieces; tooth: only the tooth cuts the upright; or the upright's setting "
        "(default: one)",
    )
    parser.add_argument("--outer", type=length, help="finished size over both flat pieces, or of a panel")
    parser.add_argument("--boards", type=int, default=2, help="how many boards make the panel (default: 2)")
    parser.add_argument("--other-flat", type=length, help="thickness of the flat piece at the far end")
    parser.add_argument(
        "--cutting-height", type=length, help="the cutter's cutting height, to check the bit height against"
    )
    parser.add_argument("--least-play", type=length, help="least play that counts as a fit")
    parser.add_argument("--most-play", type=length, help="most play that counts as a fit")
    parser.add_argument("--flushness", type=length, help="how far the lip may be off, either way")
    parser.add_argument(
        "--repeatability", type=length, help="standard deviation of a setting dialled in again"
    )
    parser.add_argument(
        "--height-gauge-offset",
        type=measure(usual.GAUGE),
        help="how much the height gauge reads high",
    )
    parser.add_argument(
        "--fence-gauge-offset", type=measure(usual.GAUGE), help="how much the fence scale reads high"
    )
    parser.add_argument("--height-gauge-step", type=length, help="distance between marks of the height gauge")
    parser.add_argument("--fence-gauge-step", type=length, help="distance between marks of the fence scale")
    parser.add_argument("--json", action="store_true", help="print JSON, lengths in mm")


def run(args: argparse.Namespace) -> int:
    from drawerwright.basics.lengths import LengthStyle, parse_length
    from drawerwright.job.one_corner import settle_corner, settled_text
    from drawerwright.joints.cutter import Cutter
    from drawerwright.joints.readings import FitRange
    from drawerwright.joints.setting import FenceRule
    from drawerwright.joints.table import RouterTable, usual_gauge_step
    from drawerwright.joints.wanted import Wanted

    def said(**given: Any) -> dict[str, Any]:
        """What was given; what was not keeps its default."""
        return {name: value for name, value in given.items() if value is not None}

    is_rule = args.fence in tuple(FenceRule)
    fence = FenceRule(args.fence) if is_rule else parse_length(args.fence, default_unit=args.units)
    fit = FitRange(**said(least_play=args.least_play, most_play=args.most_play, flushness=args.flushness))
    table = RouterTable(
        **said(
            height_gauge=args.height_gauge_offset,
            fence_gauge=args.fence_gauge_offset,
            repeatability=args.repeatability,
            height_gauge_step=args.height_gauge_step or usual_gauge_step(args.units),
            fence_gauge_step=args.fence_gauge_step or usual_gauge_step(args.units),
        )
    )
    settled = settle_corner(
        Cutter(
            args.kind,
            mid_depth=args.mid_depth,
            step=args.step,
            cutting_height=args.cutting_height,
        ),
        Wanted(args.flat, args.upright, args.lip, fence, fit),
        table,
        outer=args.outer,
        other_flat=args.other_flat,
        boards=args.boards,
    )
    print(json_in_mm(settled.data) if args.json else settled_text(settled, LengthStyle(args.units)))
    return done_with(settled.findings)
