"""`drawerwright scan`: cutter and test cut read from pictures of the test pieces."""

from __future__ import annotations

import argparse
from pathlib import Path

from drawerwright.basics import usual
from drawerwright.cli.exits import DONE
from drawerwright.cli.kinds import add_kind
from drawerwright.cli.length_arguments import add_units, json_in_mm, measure

NAME = "scan"
SUMMARY = "read cutter and set-up from a scan of sawn test pieces"
EXAMPLE = "drawerwright scan --flat flat.png --upright upright.png --thickness 14.6"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--flat",
        type=Path,
        nargs="+",
        action="extend",
        default=[],
        metavar="IMAGE",
        help="picture of the flat piece",
    )
    parser.add_argument(
        "--upright",
        type=Path,
        nargs="+",
        action="extend",
        default=[],
        metavar="IMAGE",
        help="picture of the upright piece",
    )
    add_kind(parser)
    parser.add_argument("--dpi", type=float, help="dots to an inch (default: what the file says)")
    parser.add_argument(
        "--thickness",
        type=measure(usual.CALIPER_READING),
        metavar="LENGTH",
        help="the piece's thickness by caliper: it checks the scale, or sets it",
    )
    parser.add_argument(
        "--bit-height",
        type=measure(usual.CALIPER_READING),
        metavar="LENGTH",
        help="top of the cutter above the table, where the cutter goes through the wood (lock-mitre)",
    )
    add_units(parser)
    parser.add_argument("--json", action="store_true", help="print JSON, lengths in mm")


def run(args: argparse.Namespace) -> int:
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.job.scan.scanning import open_pictures, scan_data, scan_pictures, scan_text

    given = open_pictures(args.flat, args.upright, args.thickness)
    cut = scan_pictures(given, kind=args.kind, dpi=args.dpi, bit_height=args.bit_height)
    print(json_in_mm(scan_data(cut)) if args.json else scan_text(cut, LengthStyle(args.units)))
    return DONE
