"""`drawerwright scan`: cutter and test cut read from pictures of the test pieces."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from drawerwright.basics import usual
from drawerwright.cli.data_argument import add_data_folder
from drawerwright.cli.exits import DONE
from drawerwright.cli.kinds import add_kind
from drawerwright.cli.length_arguments import add_units, json_in_mm, measure

if TYPE_CHECKING:
    from drawerwright.job.scan.scanner_scale import ScannerScale

NAME = "scan"
SUMMARY = "read cutter and set-up from a scan or a photo of sawn test pieces"
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
    parser.add_argument("--dpi", type=float, help="dots per inch (default: what the file says)")
    parser.add_argument(
        "--thickness",
        type=measure(usual.CALIPER_READING),
        metavar="LENGTH",
        help="the piece's thickness by caliper: it checks the scale, or sets it; a photo needs it",
    )
    parser.add_argument(
        "--bit-height",
        type=measure(usual.CALIPER_READING),
        metavar="LENGTH",
        help="top of the cutter above the table, for a cutter taller than the stock (lock-mitre)",
    )
    photo = parser.add_argument_group("photo")
    photo.add_argument(
        "--sheet",
        type=Path,
        metavar="PDF",
        help="write the sheet to photograph slices on, and read nothing",
    )
    photo.add_argument(
        "--slice-height",
        type=measure(usual.SLICE_READING),
        metavar="LENGTH",
        help="how high the slice stands above the sheet, by caliper (default: about 7 mm)",
    )
    scanner = parser.add_argument_group("scanner")
    scanner.add_argument("--scanner", metavar="NAME", help="use the scale of this scanner on the shelf")
    scanner.add_argument(
        "--calibrate",
        type=Path,
        metavar="IMAGE",
        help="scan of a block whose sides you measured: keep the scale of --scanner on the shelf",
    )
    for way, side in (
        ("across", "width: across the picture"),
        ("along", "height: along the scanner's carriage"),
    ):
        scanner.add_argument(
            f"--{way}",
            type=measure(usual.CALIPER_READING),
            metavar="LENGTH",
            help=f"with --calibrate: the block's {side}",
        )
    add_data_folder(parser)
    add_units(parser)
    parser.add_argument("--json", action="store_true", help="print JSON, lengths in mm")


def run(args: argparse.Namespace) -> int:
    from drawerwright.basics.lengths import LengthStyle

    style = LengthStyle(args.units)
    if args.sheet is not None:
        from drawerwright.job.scan.sheet_paper import write_slice_sheet

        write_slice_sheet(args.sheet, style)
        print(f"{args.sheet}")
        return DONE
    if args.calibrate is not None:
        return _calibrate(args)
    from drawerwright.job.scan.picture_files import TakenWith
    from drawerwright.job.scan.scanning import open_pictures, scan_data, scan_pictures, scan_text

    taken = TakenWith(args.dpi, args.slice_height, _scanner(args))
    given = open_pictures(args.flat, args.upright, args.thickness, taken)
    cut = scan_pictures(given, kind=args.kind, bit_height=args.bit_height)
    print(json_in_mm(scan_data(cut)) if args.json else scan_text(cut, style))
    return DONE


def _scanner(args: argparse.Namespace) -> ScannerScale | None:
    if args.scanner is None:
        return None
    from drawerwright.job.scan.scanner_calibration import kept_scanner

    return kept_scanner(args.data, args.scanner)


def _calibrate(args: argparse.Namespace) -> int:
    from drawerwright.basics.errors import InvalidValueError
    from drawerwright.basics.phrases import phrase
    from drawerwright.job.scan.scanner_calibration import calibrate, keep_scanner, scale_data, scale_words

    if not args.scanner:
        raise InvalidValueError(phrase("name the scanner with --scanner, so that its scale can be kept"))
    scale = calibrate(args.calibrate, args.across, args.along, args.dpi)
    keep_scanner(args.data, args.scanner, scale)
    print(json_in_mm(scale_data(scale)) if args.json else scale_words(args.scanner, scale))
    return DONE
