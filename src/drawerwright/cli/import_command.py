"""`drawerwright import`: drawers from a table (CSV, XLSX) into a job file, after a look at every fault."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.job.imported_drawers import DrawersToTake

NAME = "import"
SUMMARY = "add drawers from a table (CSV or XLSX) to a job file, after showing every fault"
EXAMPLE = "drawerwright import drawers.xlsx --into chest.yaml --preview"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("table", type=Path, metavar="TABLE", help="the table: .csv, .txt, .tsv or .xlsx")
    parser.add_argument(
        "--into", type=Path, required=True, metavar="JOB.yaml", help="the job file to add the drawers to"
    )
    parser.add_argument("--preview", action="store_true", help="show what would be imported; write nothing")
    parser.add_argument(
        "--sheet", metavar="NAME", help="which sheet of a workbook (default: the one that fits best)"
    )
    parser.add_argument(
        "--column",
        action="append",
        default=[],
        metavar="COLUMN=FIELD",
        help="what a column holds, by its letter or heading, where its heading does not say; "
        "COLUMN= leaves it out; may be given several times",
    )
    parser.add_argument(
        "--numbers-in",
        choices=("mm", "in"),
        help="unit of bare numbers in columns whose headings name none (default: that of the job file)",
    )
    parser.add_argument(
        "--stock", default="", metavar="NAME", help="stock for boxes where the table names none"
    )


def run(args: argparse.Namespace) -> int:
    from drawerwright.basics.errors import FaultyInputError, InvalidValueError
    from drawerwright.basics.phrases import phrase, plural
    from drawerwright.job.file.given_files import given_bytes, given_text
    from drawerwright.job.file.given_tables import LARGEST_TABLE_BYTES, given_sheets
    from drawerwright.job.file.job_entries import shown_style
    from drawerwright.job.file.reading import LARGEST_FILE_BYTES
    from drawerwright.job.imported_drawers import TableChoice, drawers_to_take
    from drawerwright.job.papers.files_out import write_page

    chosen: dict[str | int, str] = {}
    for given in args.column:
        column, sign, name = given.partition("=")
        if not sign or not column.strip():
            raise InvalidValueError(
                phrase("--column must be COLUMN=FIELD, as in B=width, not {given!r}", given=given)
            )
        chosen[column.strip()] = name.strip()
    text = given_text(args.into, LARGEST_FILE_BYTES)
    sheets = given_sheets(args.table.name, given_bytes(args.table, LARGEST_TABLE_BYTES))
    choice = TableChoice(chosen, args.sheet, args.numbers_in, args.stock, "--stock NAME", "--numbers-in")
    found = drawers_to_take(text, sheets, choice, table=args.table.name, file=str(args.into))
    _show(found, shown_style(text))
    if found.faults:
        print("Nothing was imported.")
        raise FaultyInputError(found.faults)
    drawers = plural("{count} drawer", "{count} drawers", found.count)
    if args.preview:
        print(f"{drawers} to import; nothing was written.")
        return 0
    write_page(args.into, found.taken().encode())
    print(f"{drawers} imported into {args.into}.")
    return 0


def _show(found: DrawersToTake, style: LengthStyle) -> None:
    """Which columns were read as what, and what the rows become, in the order of the table."""
    from drawerwright.basics.phrases import plural

    for column in found.drawers.table.columns:
        held = "not read" if column.field is None else style.say(column.field.label)
        unit = f", in {column.read_in}" if column.read_in else ""
        print(f"  {column.letter}  {column.heading or '-'}: {held}{unit}")
    print()
    told: list[tuple[int, str]] = []
    for row, box in zip(found.drawers.box_rows, found.drawers.boxes, strict=True):
        sizes = " × ".join(
            style.show(box["outer"][name], with_unit=False) if name in box["outer"] else "?"
            for name in ("width", "depth", "height")
        )
        times = f"{box['count']} × " if "count" in box else ""
        words = f"{times}{box['name'] or '?'}: {sizes} {style.typed_unit}"
        told.append((row.line, f"  line {row.line}: {words}{' !' if row.faults else ''}"))
    for bank in found.drawers.banks:
        where = plural("line {lines}", "lines {lines}", len(bank.lines), lines=bank.lines_in_row)
        has_faults = any(row.faults for row in bank.fronts)
        told.append((bank.lines[0], f"  {where}: {style.say(bank.told)}{' !' if has_faults else ''}"))
    for _line, words in sorted(told):
        print(words)
    if found.bottomless:
        print(f"  {found.bottomless}")
    for stop in found.stops:
        print(f"  {stop.as_one.told(style)}")
    print()
