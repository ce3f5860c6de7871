"""`drawerwright check`: every fault of a job file at once."""

from __future__ import annotations

import argparse
from pathlib import Path

from drawerwright.cli.exits import done_with

NAME = "check"
SUMMARY = "check a job file: list every fault with line and field; write nothing"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", type=Path, metavar="JOB.yaml", help="the job file")


def run(args: argparse.Namespace) -> int:
    from drawerwright.basics.findings import grouped
    from drawerwright.job.planning.draft import draft_job
    from drawerwright.job.planning.job_findings import draft_findings
    from drawerwright.job.planning.job_plan import open_job

    job = open_job(args.job)
    print(f"{args.job}: no faults; {len(job.all_boxes)} drawers in {len(job.banks)} banks and single boxes")
    findings = draft_findings(draft_job(job))
    for finding in grouped(findings):
        print(finding)
    return done_with(findings)
