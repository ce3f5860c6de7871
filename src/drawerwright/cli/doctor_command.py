"""`drawerwright doctor`: what is wrong with an installation or its data."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from drawerwright.cli.data_argument import add_data_folder
from drawerwright.cli.exits import BAD_INPUT, DONE

if TYPE_CHECKING:
    from drawerwright.job.installation import Check

NAME = "doctor"
SUMMARY = "say what is wrong with this installation or its data folder, and what to do; change nothing"
EXAMPLE = "drawerwright doctor"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    add_data_folder(parser)
    parser.add_argument("--json", action="store_true", help="print JSON")


def run(args: argparse.Namespace) -> int:
    from drawerwright.store import data_folder

    found = []
    for check in _checks(args.data or data_folder()):
        found.append(check)
        if not args.json:
            print(f"{check.weight:5}  {check.about}: {check.said}", flush=True)
    if args.json:
        rows = [
            {
                "about": row.about,
                "said": row.said,
                "is_fault": row.is_fault,
                "is_to_look_at": row.is_to_look_at,
            }
            for row in found
        ]
        print(json.dumps({"checks": rows, "ok": not any(row.is_fault for row in found)}, indent=2))
    return BAD_INPUT if any(check.is_fault for check in found) else DONE


def _checks(folder: Path) -> Iterator[Check]:
    from drawerwright.job.installation import Check, checks
    from drawerwright.web.serving import MISSING_SCRIPTS, has_scripts

    yield from checks(folder)
    yield Check("pages", "their scripts are there" if has_scripts() else MISSING_SCRIPTS, not has_scripts())
