"""`drawerwright strength`: how strong the corners of a job's drawers are."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from drawerwright.cli.exits import DONE

NAME = "strength"
SUMMARY = "estimate how strong the corners of a job's drawers are, and where they give way"
EXAMPLE = "drawerwright strength examples/music-school.yaml"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", type=Path, metavar="JOB.yaml", help="the job file")
    parser.add_argument("--json", action="store_true", help="print JSON: forces in N, energies in J")


def run(args: argparse.Namespace) -> int:
    from drawerwright.job.planning.corner_strengths import job_strengths
    from drawerwright.job.planning.draft import draft_job
    from drawerwright.job.planning.job_plan import open_job

    job = open_job(args.job)
    strengths = job_strengths(draft_job(job))
    print(json.dumps(strengths.data, indent=1) if args.json else job.style.say(strengths.text(job.style)))
    return DONE
