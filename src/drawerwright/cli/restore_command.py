"""`drawerwright restore`: a backup in the place of the data."""

from __future__ import annotations

import argparse
from pathlib import Path

from drawerwright.cli.data_argument import add_data_folder
from drawerwright.cli.exits import DONE

NAME = "restore"
SUMMARY = "put a backup in place of the data; the old data is kept next to it"
EXAMPLE = "drawerwright restore shop.backup"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", type=Path, metavar="FILE", help="the backup")
    add_data_folder(parser)


def run(args: argparse.Namespace) -> int:
    from drawerwright.store import data_folder, restore

    count, kept = restore(args.data or data_folder(), args.file)
    print(f"jobs restored: {count}, deleted ones included")
    if kept is not None:
        print(f"the data from before is in {kept}; reload open pages")
    return DONE
