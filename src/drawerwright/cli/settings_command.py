"""`drawerwright settings`: one corner, straight from its measures."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import Any

from drawerwright.basics import usual
from drawerwright.cli.exits import done_with
from drawerwright.cli.kinds import add_kind, add_measures, destination, kind_in, reading
from drawerwright.cli.length_arguments import add_units, json_in_mm, length, measure

NAME = "settings"
SUMMARY = "work out bit height, fence and lengths for one corner"
EXAMPLE = 'drawerwright settings --mid-depth "5.65 ± 0.02" --step 3.45 --flat 14.6 --upright 14.6 --outer 420'


def add_arguments(parser: argparse.ArgumentParser, given: Sequence[str] = ()) -> None:
    """What every joint takes, and what the one that is `given` takes beside it."""
    add_kind(parser)
    add_units(parser)
    add_measures(parser, kind_in(given))
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
    parser.add_argument("--outer", type=length, help="finished size over both flat pieces, or of a panel")
    parser.add_argument("--other-flat", type=length, help="thickness of the flat piece at the far end")
    parser.add_argument("--width", type=length, help="width of the edge: the height of the drawer")
    parser.add_argument(
        "--read",
        type=reading,
        action="append",
        default=[],
        metavar="NAME=LENGTH",
        help="what a test cut of a joint without a self-mating cutter shows; may be given several times",
    )
    parser.add_argument("--json", action="store_true", help="print JSON, lengths in mm")


def run(args: argparse.Namespace) -> int:
    from drawerwright.job.one_plain_corner import measures_of

    return _with_cutter(args) if measures_of(args.kind) is None else _without_cutter(args)


def _without_cutter(args: argparse.Namespace) -> int:
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.job.one_plain_corner import measures_of, settle_plain_corner
    from drawerwright.joints.setting import CornerGeometry

    measures = {
        measure.name: getattr(args, destination(measure.name)) for measure in measures_of(args.kind) or ()
    }
    settled = settle_plain_corner(
        args.kind,
        CornerGeometry(args.flat.value, args.upright.value, args.lip),
        {name: value for name, value in measures.items() if value is not None},
        width=args.width,
        outer=args.outer,
        other_flat=args.other_flat,
        read={name: given.value(args.units) for name, given in args.read},
    )
    print(json_in_mm(settled.data) if args.json else settled.text(LengthStyle(args.units)))
    return done_with(settled.findings)


def _with_cutter(args: argparse.Namespace) -> int:
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.basics.typed_lengths import parse_length
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
    step = usual_gauge_step(args.units)
    table = RouterTable(
        **said(
            height_gauge=args.height_gauge_offset,
            fence_gauge=args.fence_gauge_offset,
            repeatability=args.repeatability,
            height_gauge_step=step if args.height_gauge_step is None else args.height_gauge_step,
            fence_gauge_step=step if args.fence_gauge_step is None else args.fence_gauge_step,
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
