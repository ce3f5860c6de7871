"""`drawerwright made`: the job changed after cutting began; which parts still fit."""

from __future__ import annotations

import argparse
from pathlib import Path

from drawerwright.cli.exits import DONE

NAME = "made"
SUMMARY = "after a change: say which parts already made still fit, can be cut down, or must be cut anew"
EXAMPLE = "drawerwright made examples/music-school.yaml --as shop/plan.json"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", type=Path, metavar="JOB.yaml", help="the job file, as it is now")
    parser.add_argument(
        "--as",
        dest="plan",
        type=Path,
        required=True,
        metavar="plan.json",
        help="the plan that the parts were cut by, as 'drawerwright plan' wrote it",
    )
    parser.add_argument(
        "--only",
        nargs="+",
        metavar="PART",
        help='the parts already made, as on the parts list (default: all of them), for instance "A1 front"',
    )


def run(args: argparse.Namespace) -> int:
    from drawerwright.job.file.given_files import given_plan_data
    from drawerwright.job.made_parts import Standing, compared_parts, of_plan_data
    from drawerwright.job.parts_by_name import part_named
    from drawerwright.job.planning.draft import draft_job
    from drawerwright.job.planning.job_plan import open_job

    job = open_job(args.job)
    args.shown_in = style = job.style
    made = given_plan_data(args.plan, of_plan_data)
    named = {part_named(name, made).label for name in args.only or ()}
    compared = compared_parts(
        [part for part in made if not named or part.label in named], draft_job(job).parts
    )
    for each in compared:
        if each.standing is not Standing.FITS:
            why = "" if each.why is None else f": {style.say(each.why)}"
            print(f"{each.made.label}: {style.say(each.standing.words)}{why}")
    fitting = sum(1 for each in compared if each.standing is Standing.FITS)
    print(f"{fitting} of {len(compared)} parts still fit.")
    return DONE
