"""`drawerwright check`: every fault of a job file at once."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from drawerwright.basics.errors import FaultyInputError
from drawerwright.basics.phrases import plural
from drawerwright.cli.exits import done_with

if TYPE_CHECKING:
    from drawerwright.job.job import Job

NAME = "check"
SUMMARY = "check a job file: list its faults with line and field; write nothing"
EXAMPLE = "drawerwright check examples/music-school.yaml"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", type=Path, metavar="JOB.yaml", help="the job file")


def _counts(job: Job) -> str:
    """How many drawers there are, and where."""
    single = plural("{count} single box", "{count} single boxes", len(job.boxes))
    if not job.banks:
        return single
    drawers = plural("{count} drawer", "{count} drawers", len(job.all_boxes))
    banks = plural("in {count} bank", "in {count} banks", len(job.banks))
    if not job.boxes:
        return f"{drawers} {banks}"
    return f"{drawers}: {len(job.all_boxes) - len(job.boxes)} {banks}, {single}"


def run(args: argparse.Namespace) -> int:
    from drawerwright.basics.findings import grouped
    from drawerwright.job.planning.draft import draft_job
    from drawerwright.job.planning.job_findings import draft_findings
    from drawerwright.job.planning.job_plan import open_job

    try:
        job = open_job(args.job)
    except FaultyInputError as error:
        if any(fault.field for fault in error.found):  # the text was read: more may hang on its entries
            error.add_note(
                "Mend these, then check again: what hangs on them could not be looked at, nor the drawers."
            )
        raise
    print(f"{args.job}: no faults; {_counts(job)}")
    findings = draft_findings(draft_job(job))
    for finding in grouped(findings):
        print(finding.as_one.told(job.style))
    return done_with(findings)
