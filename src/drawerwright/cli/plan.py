"""`drawerwright plan`: a job file in, everything the shop needs out."""

from __future__ import annotations

import argparse
from pathlib import Path

from drawerwright.cli.exits import DONE

NAME = "plan"
SUMMARY = "plan a job: settings, parts, bands, sheets, order of work and a packet to print"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", type=Path, metavar="JOB.yaml", help="the job file")
    parser.add_argument("--out", type=Path, required=True, metavar="DIR", help="folder for the files")
    parser.add_argument("--time-limit", type=float, metavar="S", help="seconds for the sheets of each stock")


def run(args: argparse.Namespace) -> int:
    from drawerwright.cli.summary import print_summary
    from drawerwright.job.outputs import write_plan
    from drawerwright.job.planning import open_job, plan_job

    plan = plan_job(open_job(args.job), time_limit=args.time_limit)
    written = write_plan(plan, args.out)
    print_summary(plan)
    print(f"\n{len(written)} files in {args.out}; print {written[0]} at 100 %.")
    return DONE
