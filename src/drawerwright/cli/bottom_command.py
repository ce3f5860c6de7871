"""`drawerwright bottom`: how far a bottom sags under a load, and whether it holds."""

from __future__ import annotations

import argparse

from drawerwright.cli.exits import DONE
from drawerwright.cli.length_arguments import add_units, json_in_mm, length, load

NAME = "bottom"
SUMMARY = "work out how far a bottom sags under a load, and whether it holds"
EXAMPLE = 'drawerwright bottom --width 400 --length 500 --thickness 6.4 --panel birch-plywood --load "10 kg"'


def add_arguments(parser: argparse.ArgumentParser) -> None:
    add_units(parser)
    parser.add_argument(
        "--width", type=length, required=True, help="from side to side, between the edges that carry it"
    )
    parser.add_argument("--length", type=length, required=True, help="from front to back")
    parser.add_argument("--thickness", type=length, required=True, help="its thickness")
    parser.add_argument(
        "--panel",
        type=_panel,
        required=True,
        help="what it is made of: birch-plywood, plywood, mdf, solid ...",
    )
    parser.add_argument(
        "--load",
        type=load,
        required=True,
        metavar="LOAD",
        help="spread over it: 10 kg or 22 lb; a bare number is kg, or lb with --units in",
    )
    parser.add_argument("--point", type=load, metavar="LOAD", help="added at the worst place (default: 0)")
    parser.add_argument(
        "--supports",
        type=_supports,
        help="three: both sides and the front carry it, the back is free; four: all edges (default: four)",
    )
    parser.add_argument("--species", help="of solid wood")
    parser.add_argument("--cut", help="of solid wood: tangential (default) or radial")
    parser.add_argument(
        "--lengthwise",
        action="store_true",
        help="the face grain runs from front to back, not from side to side",
    )
    parser.add_argument(
        "--span-over", type=float, metavar="N", help="it may sag by its span divided by N (default: 200)"
    )
    parser.add_argument("--most", type=length, help="but never by more than this (default: 3 mm)")
    parser.add_argument("--json", action="store_true", help="print JSON: mm, kg, N/mm²")


def _panel(text: str) -> str:
    """argparse type of a kind of panel. A wood is no kind: who names one is told where it goes."""
    from drawerwright.basics.errors import InvalidValueError
    from drawerwright.job.bearing_bottom import panel_named

    try:
        return panel_named(text)
    except InvalidValueError as error:
        raise argparse.ArgumentTypeError(f"{error}; for a wood write --panel solid --species NAME") from None


def _supports(text: str) -> str:
    """argparse type of the edges that carry a bottom."""
    from drawerwright.basics.errors import InvalidValueError
    from drawerwright.job.bearing_bottom import supports_named

    try:
        return supports_named(text)
    except InvalidValueError as error:
        raise argparse.ArgumentTypeError(str(error)) from None


def run(args: argparse.Namespace) -> int:
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.job.bearing_bottom import bear, sag_limit

    borne = bear(
        args.width,
        args.length,
        args.thickness,
        args.panel,
        args.load,
        point=args.point or 0.0,
        supports=args.supports,
        species=args.species,
        cut=args.cut,
        lengthwise=args.lengthwise,
        limit=sag_limit(args.span_over, args.most),
    )
    data = json_in_mm(borne.data, load="kg", stress="N/mm²") if args.json else ""
    print(data or borne.text(LengthStyle(args.units)))
    return DONE
