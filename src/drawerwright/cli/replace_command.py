"""`drawerwright replace`: a part was spoiled; where another comes from, and its steps on one page."""

from __future__ import annotations

import argparse
from pathlib import Path

from drawerwright.cli.exits import DONE, interruptible
from drawerwright.cli.number_arguments import seconds
from drawerwright.job.search_time import USUAL_SECONDS

NAME = "replace"
SUMMARY = "make one spoiled part again: the offcut or sheet it comes from, and its steps on one page"
EXAMPLE = 'drawerwright replace examples/music-school.yaml "A1 left side" --out A1-left-side.pdf'


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", type=Path, metavar="JOB.yaml", help="the job file, as it was cut")
    parser.add_argument(
        "part", metavar="PART", help='the part, as on the parts list, for instance "A1 left side"'
    )
    parser.add_argument(
        "--out", type=Path, metavar="FILE.pdf", help="where the page goes (default: PART.pdf, here)"
    )
    parser.add_argument(
        "--time-limit",
        type=seconds,
        metavar="S",
        help="seconds to search for the sheets of each stock "
        f"(default: the job's 'sheets: time_limit', {USUAL_SECONDS:g} without one)",
    )


def run(args: argparse.Namespace) -> int:
    from drawerwright.job.papers.files_out import write_page
    from drawerwright.job.papers.replacement_paper import replacement_lines, replacement_page
    from drawerwright.job.planning.job_plan import open_job, plan_job
    from drawerwright.job.planning.replacement import plan_replacement

    job = open_job(args.job)
    args.shown_in = job.style
    with interruptible() as was_interrupted:
        plan = plan_job(job, time_limit=args.time_limit, cancelled=was_interrupted)
        made = plan_replacement(plan, args.part)
    path = args.out or Path(f"{made.part.label.replace(' ', '-')}.pdf")
    write_page(path, replacement_page(made))
    style = job.style
    for line in replacement_lines(made):
        print(style.say(line))
    for step in made.run.steps:
        print(f"{step.number}. {style.say(step.title)} ({style.say(step.machine)})")
    print(f"Wrote {path}; print it at 100 %.")
    return DONE
