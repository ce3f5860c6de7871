"""`drawerwright backup`: all jobs and shop data in one file."""

from __future__ import annotations

import argparse
from pathlib import Path

from drawerwright.cli.data_argument import add_data_folder
from drawerwright.cli.exits import DONE

NAME = "backup"
SUMMARY = "copy all jobs and shop data into one file, even while the app is running"
EXAMPLE = "drawerwright backup shop.backup"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", type=Path, metavar="FILE", help="the backup file; an older one is replaced")
    add_data_folder(parser)


def run(args: argparse.Namespace) -> int:
    from drawerwright.store import back_up, data_folder

    count = back_up(args.data or data_folder(), args.file)
    print(f"{args.file}: jobs copied: {count}, deleted ones included")
    return DONE
