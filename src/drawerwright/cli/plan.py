"""`drawerwright plan`: a job file in, everything the shop needs out."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from drawerwright.cli.exits import DONE, interruptible

if TYPE_CHECKING:
    from drawerwright.sheets.plan import Progress

NAME = "plan"
SUMMARY = "plan a job: settings, parts, bands, sheets, order of work and a packet to print"

PATIENCE = 1.0
"""Seconds before the search for sheets says how far it is."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", type=Path, metavar="JOB.yaml", help="the job file")
    parser.add_argument("--out", type=Path, required=True, metavar="DIR", help="folder for the files")
    parser.add_argument("--time-limit", type=float, metavar="S", help="seconds for the sheets of each stock")
    parser.add_argument("--dxf", action="store_true", help="write every drawing as DXF too")


def run(args: argparse.Namespace) -> int:
    from drawerwright.cli.summary import print_summary
    from drawerwright.job.outputs import write_plan
    from drawerwright.job.planning import open_job, plan_job

    job = open_job(args.job)
    with interruptible() as was_interrupted:
        plan = plan_job(job, watch=_show_progress, time_limit=args.time_limit, cancelled=was_interrupted)
    written = write_plan(plan, args.out, dxf=args.dxf)
    print_summary(plan)
    print(f"\n{len(written)} files in {args.out}; print {written[0]} at 100 %.")
    return DONE


def _show_progress(stock: str, progress: Progress) -> None:
    if sys.stderr.isatty() and progress.seconds > PATIENCE:
        best = "none yet" if progress.best_cost is None else f"{progress.best_cost:g}"
        print(
            f"{stock}: best {best}, at least {progress.lower_bound:g}, {progress.seconds:.0f} s "
            "(Ctrl-C takes the best so far)",
            file=sys.stderr,
        )
