"""`drawerwright rack`: what lies on the shop's rack, or its stock taken over into a job file."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from drawerwright.cli.data_argument import add_data_folder
from drawerwright.cli.exits import DONE

if TYPE_CHECKING:
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.job.rack_stock import OnRack

NAME = "rack"
SUMMARY = "list the sheets and offcuts on the shop's rack, or take them over into a job file"
EXAMPLE = "drawerwright rack chest.yaml"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "job",
        type=Path,
        nargs="?",
        metavar="JOB.yaml",
        help="the job file whose stock becomes what the rack has of it; without one the rack is listed",
    )
    parser.add_argument("--preview", action="store_true", help="only say what would change in the job file")
    add_data_folder(parser)


def run(args: argparse.Namespace) -> int:
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.job.file.given_files import given_text
    from drawerwright.job.file.job_entries import shown_style
    from drawerwright.job.file.reading import LARGEST_FILE_BYTES
    from drawerwright.job.papers.files_out import write_page
    from drawerwright.job.rack_stock import on_rack, opened_rack, stock_from_rack

    text = None if args.job is None else given_text(args.job, LARGEST_FILE_BYTES)
    with opened_rack(args.data) as (shelf, rack):
        pieces = on_rack(shelf, rack)
        taken = None if text is None else stock_from_rack(text, shelf)
    if text is None or taken is None:
        _show(pieces, LengthStyle())
        return DONE
    args.shown_in = style = shown_style(text)
    _show([piece for piece in pieces if piece.stock in taken.changed], style)
    if not taken.changed:
        print(f"{args.job} has the stock as it is on the rack.")
    elif args.preview:
        print(f"{', '.join(taken.changed)} would change in {args.job}; nothing was written.")
    else:
        write_page(args.job, taken.text.encode())
        print(f"{', '.join(taken.changed)} taken over into {args.job}.")
    return DONE


def _show(pieces: list[OnRack] | tuple[OnRack, ...], style: LengthStyle) -> None:
    """The pieces, a line each below their stock."""
    stock = ""
    for piece in pieces:
        if piece.stock != stock:
            stock = piece.stock
            print(stock)
        count = "uncounted" if piece.count is None else f"{piece.count} ×"
        kind = "offcut" if piece.is_offcut else "sheet"
        size = f"{style.show(piece.length, with_unit=False)} × {style.show(piece.width)}"
        wanted = f"; planned in {', '.join(piece.wanted_by)}" if piece.wanted_by else ""
        print(f"  {count} {kind} {piece.label}: {size}{wanted}")
    if not pieces and not stock:
        print("Nothing is on the rack.")
