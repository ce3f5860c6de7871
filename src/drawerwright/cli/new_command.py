"""`drawerwright new`: a job file by answering questions."""

from __future__ import annotations

import argparse
from pathlib import Path

from drawerwright.cli.exits import DONE

NAME = "new"
SUMMARY = "begin a job file by answering thirteen questions"
EXAMPLE = "drawerwright new drawers.yaml"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "job", type=Path, metavar="JOB.yaml", help="the job file to write; it must not exist yet"
    )
    parser.add_argument(
        "--units",
        choices=("mm", "in"),
        default="mm",
        help="unit of lengths that name none, here and in the file (default: %(default)s)",
    )


def run(args: argparse.Namespace) -> int:
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.cli.questions_asked import ask_for_job
    from drawerwright.job.planning.guided_job import check_is_new, write_new_job

    check_is_new(args.job)
    write_new_job(args.job, ask_for_job(LengthStyle(args.units)))
    print(f"\nWrote {args.job}. Open it in any editor; docs/job-file.md explains every entry. Next:")
    print(f"  drawerwright check {args.job}")
    print(f"  drawerwright plan {args.job} --out {args.job.with_suffix('')}")
    return DONE
