"""`drawerwright rack`: what lies on the shop's rack, its stock taken over into a job file, and a cut plan booked."""

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
SUMMARY = "list the shop's rack, copy it into a job file, or book what a plan used and left once it is cut"
EXAMPLE = "drawerwright rack chest.yaml"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "job",
        type=Path,
        nargs="?",
        metavar="JOB.yaml",
        help="the job file whose stock is set to what is on the rack; without one the rack is listed",
    )
    parser.add_argument(
        "--preview", action="store_true", help="only say what would change in the job file or on the rack"
    )
    what = parser.add_mutually_exclusive_group()
    what.add_argument(
        "--cut",
        type=Path,
        metavar="plan.json",
        help="you cut the job by this plan: take what it used off the rack and add what it left, each with a number",
    )
    what.add_argument("--undo", action="store_true", help="undo the job's last booking")
    what.add_argument(
        "--take", nargs=2, metavar=("STOCK", "LABEL"), help="take one sheet or offcut off the rack"
    )
    what.add_argument(
        "--put",
        nargs=3,
        metavar=("STOCK", "LENGTH", "WIDTH"),
        help="put an offcut of this size on the rack (mm without a unit)",
    )
    add_data_folder(parser)


def run(args: argparse.Namespace) -> int:
    from drawerwright.basics.errors import InvalidValueError

    if args.take or args.put:
        return _by_hand(args)
    if args.cut or args.undo:
        if args.job is None:
            raise InvalidValueError("name the job file to book: drawerwright rack JOB.yaml --cut plan.json")
        return _booked(args)
    return _listed(args)


def _listed(args: argparse.Namespace) -> int:
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.job.file.given_files import given_text
    from drawerwright.job.file.job_entries import shown_style
    from drawerwright.job.file.reading import LARGEST_FILE_BYTES
    from drawerwright.job.papers.files_out import write_page
    from drawerwright.job.rack_stock import on_rack, opened_rack, stock_from_rack

    text = None if args.job is None else given_text(args.job, LARGEST_FILE_BYTES)
    with opened_rack(args.data) as (shelf, rack, _jobs):
        pieces = on_rack(shelf, rack)
        taken = None if text is None else stock_from_rack(text, shelf)
    if text is None or taken is None:
        _show(pieces, LengthStyle())
        return DONE
    args.shown_in = style = shown_style(text)
    _show([piece for piece in pieces if piece.stock in taken.changed], style)
    if not taken.changed:
        print(f"{args.job} already has the stock as it is on the rack.")
    elif args.preview:
        print(f"{', '.join(taken.changed)} would change in {args.job}; nothing was written.")
    else:
        write_page(args.job, taken.text.encode())
        print(f"{', '.join(taken.changed)} copied into {args.job}.")
    return DONE


def _by_hand(args: argparse.Namespace) -> int:
    """One piece more or fewer."""
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.basics.typed_lengths import parse_length
    from drawerwright.job.cut_plan import piece_line
    from drawerwright.job.rack_bookings import put_piece, take_piece
    from drawerwright.job.rack_stock import opened_rack

    with opened_rack(args.data) as (shelf, rack, _jobs):
        if args.take:
            piece = take_piece(rack, shelf, *args.take)
        else:
            stock, *size = args.put
            piece = put_piece(rack, shelf, stock, *(parse_length(side) for side in size))
    done = "is off the rack" if args.take else f"is on the rack. Write {piece.label} on it"
    print(f"{piece_line(piece, LengthStyle())} {done}.")
    return DONE


def _booked(args: argparse.Namespace) -> int:
    """What a plan that was cut used and left, or that taken back."""
    from drawerwright.basics.errors import InvalidValueError
    from drawerwright.job.cut_plan import change_of_plan_data, job_in_shop, piece_line
    from drawerwright.job.file.building import read_job
    from drawerwright.job.file.given_files import given_plan_data, given_text
    from drawerwright.job.file.reading import LARGEST_FILE_BYTES
    from drawerwright.job.rack_bookings import book_change, counted, undo_run
    from drawerwright.job.rack_stock import opened_rack

    text = given_text(args.job, LARGEST_FILE_BYTES)
    job = read_job(text, str(args.job))
    args.shown_in = style = job.style
    if args.undo:
        with opened_rack(args.data) as (shelf, rack, jobs):
            known = [each.id for each in jobs.list() if each.title == job.name]
            runs = [run for job_id in known for run in rack.runs(job_id)]
            if not runs:
                raise InvalidValueError(f"no run of {job.name} is booked")
            undo_run(rack, shelf, runs[-1])
        print(f"The booking of {job.name} is undone.")
        return DONE
    change = given_plan_data(args.cut, lambda data: change_of_plan_data(data, job))
    with opened_rack(args.data, may_be_new=True, is_kept=not args.preview) as (shelf, rack, jobs):
        change = counted(change, shelf, job)
        took, left = change.took, change.left
        if not args.preview:
            run = book_change(rack, shelf, job_in_shop(jobs, job.name, text), text, change)
            took, left = run.took, run.left
    print("Used:" if took else "Nothing that the rack counts was used.")
    for piece in took:
        print(f"  {piece_line(piece, style)}")
    print("Left:" if left else "Nothing worth keeping is left.")
    for piece in left:
        print(f"  {piece_line(piece, style)}")
    if args.preview:
        print("Nothing was written.")
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
