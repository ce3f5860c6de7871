"""`drawerwright plan`: a job file in, everything the shop needs out."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from drawerwright.cli.exits import done_with, interruptible
from drawerwright.cli.number_arguments import seconds, whole
from drawerwright.cli.progress_line import ProgressLines
from drawerwright.job.search_time import USUAL_SECONDS

if TYPE_CHECKING:
    from drawerwright.job.job import Job
    from drawerwright.job.papers.file_kinds import FileKind
    from drawerwright.job.planning.job_plan import Watcher

NAME = "plan"
SUMMARY = "plan a job: settings, parts, bands, sheets, order of work and a packet to print"
EXAMPLE = "drawerwright plan examples/music-school.yaml --out build/music-school"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", type=Path, metavar="JOB.yaml", help="the job file")
    parser.add_argument("--out", type=Path, required=True, metavar="DIR", help="folder for the output")
    parser.add_argument(
        "--time-limit",
        type=seconds,
        metavar="S",
        help="seconds to search for the sheets of each stock "
        f"(default: the job's 'sheets: time_limit', {USUAL_SECONDS:g} without one)",
    )
    parser.add_argument(
        "--what-if",
        action="store_true",
        help="compare other sheets, a thinner blade and other joints, and look for free drawers",
    )
    parser.add_argument(
        "--within-stock",
        action="store_true",
        help="plan as many drawers, in order, as the sheets on hand yield",
    )
    parser.add_argument(
        "--on-hand",
        type=whole,
        metavar="N",
        help="like --within-stock, with at most N new sheets of each size",
    )
    parser.add_argument(
        "--files",
        metavar="KINDS",
        help="what to write: pdf, pages, labels, csv, xlsx, svg, dxf, glb, with commas between them, or all "
        "(default: pdf,csv,svg)",
    )
    parser.add_argument("--dxf", action="store_true", help="also write every drawing as DXF")


def run(args: argparse.Namespace) -> int:
    from drawerwright.basics.errors import InvalidValueError
    from drawerwright.basics.phrases import phrase
    from drawerwright.cli.joint_table import print_joints
    from drawerwright.cli.summary import print_summary, print_what_if, print_within_stock
    from drawerwright.job.papers.file_kinds import FileKind
    from drawerwright.job.papers.files_out import check_place, write_plan
    from drawerwright.job.papers.joint_data import comparison_data
    from drawerwright.job.planning.job_plan import open_job, plan_job
    from drawerwright.job.planning.what_if import what_if, what_if_data
    from drawerwright.job.planning.which_joint import compare_joints
    from drawerwright.job.planning.within_stock import plan_within_stock, within_stock_data

    kinds = _kinds(args)
    job = open_job(args.job)
    args.shown_in = job.style
    within = args.within_stock or args.on_hand is not None
    if job.days and (within or args.what_if):
        raise InvalidValueError(
            phrase(
                "the job is split into days: drop --what-if, --within-stock and --on-hand, or "
                "take out the days"
            )
        )
    check_place(args.out)
    if job.days:
        return _run_days(job, args, kinds)
    with interruptible() as was_interrupted:
        lines = ProgressLines()
        search = _search(lines, args, was_interrupted)
        counted = plan_within_stock(job, on_hand=args.on_hand, step=lines.step, **search) if within else None
        plan = plan_job(job, **search, **_at_once()) if counted is None else counted.plan
        found = what_if(plan, step=lines.step) if args.what_if else None
        joints = compare_joints(job, step=lines.step) if args.what_if else None
    more: dict[str, Any] = {} if found is None else {"what_if": what_if_data(found)}
    if joints is not None:
        more["which_joint"] = comparison_data(joints)
    if counted is not None:
        more["within_stock"] = within_stock_data(counted)
    written = write_plan(plan, args.out, kinds=kinds, more=more)
    print_summary(plan)
    if counted is not None:
        print_within_stock(counted, args.on_hand)
    if found is not None:
        print_what_if(found, job.style)
    if joints is not None:
        print_joints(joints, job.style)
    hint = f"; print {written[0]} at 100 %" if FileKind.PDF in kinds else ""
    print(f"\nWrote {len(written)} files to {args.out}{hint}.")
    return done_with(plan.findings)


def _at_once() -> dict[str, Any]:
    """How the sheets of several stocks are planned beside each other."""
    from drawerwright.job.planning.planner_process import plan_in_process, processors

    return {"planner": plan_in_process, "at_once": processors()}


def _kinds(args: argparse.Namespace) -> frozenset[FileKind]:
    """What is written: as asked, else the usual kinds; `--dxf` adds drawings as DXF to either."""
    from drawerwright.job.papers.file_kinds import USUAL_KINDS, FileKind, file_kinds

    kinds = USUAL_KINDS if args.files is None else file_kinds(args.files)
    return kinds | {FileKind.DXF} if args.dxf else kinds


def _run_days(job: Job, args: argparse.Namespace, kinds: frozenset[FileKind]) -> int:
    from drawerwright.cli.summary import print_days
    from drawerwright.job.papers.file_kinds import FileKind
    from drawerwright.job.papers.files_out import write_days
    from drawerwright.job.planning.days import plan_days

    with interruptible() as was_interrupted:
        plans = plan_days(job, **_search(ProgressLines(), args, was_interrupted), **_at_once())
    written = write_days(plans, args.out, kinds=kinds)
    print_days(job, plans)
    hint = "; print each day's packet at 100 %" if FileKind.PDF in kinds else ""
    print(f"\nWrote {len(written)} files to {args.out}{hint}.")
    return done_with(finding for plan in plans for finding in plan.findings)


def _search(
    lines: ProgressLines, args: argparse.Namespace, was_interrupted: Callable[[], bool]
) -> dict[str, Any]:
    """How long sheets are searched for, who stops the search, and who hears how far it is."""
    return {
        "watch": _watcher(lines),
        "time_limit": args.time_limit,
        "cancelled": lines.asking(was_interrupted),
    }


def _watcher(lines: ProgressLines) -> Watcher:
    return lambda stock, progress: lines.search(
        stock, progress.best_cost, progress.lower_bound, progress.seconds
    )
