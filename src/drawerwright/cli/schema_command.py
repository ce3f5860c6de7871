"""`drawerwright schema`: what a file may say, for editors that check it while it is typed."""

from __future__ import annotations

import argparse

from drawerwright.cli.exits import DONE

NAME = "schema"
SUMMARY = "print the JSON Schema of the job file, for editors that check as you type"
EXAMPLE = "drawerwright schema > job.schema.json"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--of",
        choices=("job", "trial"),
        default="job",
        help="what file it describes: a job or test cuts (default: %(default)s)",
    )


def run(args: argparse.Namespace) -> int:
    from drawerwright.job.file.editor_schema import schema_text

    print(schema_text(args.of), end="")
    return DONE
