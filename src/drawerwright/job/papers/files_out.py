"""A plan written into a folder: every file whole or not at all, and nothing of an earlier plan left to cut from."""

from __future__ import annotations

import errno
import os
from collections.abc import Collection, Mapping, Sequence
from pathlib import Path
from typing import Any

from drawerwright.basics.errors import DrawerwrightError
from drawerwright.job.file.given_files import LARGEST_PLAN_DATA, given_json
from drawerwright.job.papers.file_kinds import USUAL_KINDS, FileKind
from drawerwright.job.papers.plan_data import REPORT_VERSION
from drawerwright.job.papers.plan_files import PACKET, REPORT, PlanFiles, as_json, is_file_of_a_plan
from drawerwright.job.planning.days import days_data
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.store.files import write_each_whole, write_whole


def check_place(folder: Path) -> None:
    """See whether files can go into `folder`, which may be missing yet, before much time is spent on them.

    Raises:
        OSError: it is a file, or lies in something that cannot be written.
    """
    there = next(place for place in (folder.absolute(), *folder.absolute().parents) if place.exists())
    if not there.is_dir():
        raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(there))
    if not os.access(there, os.W_OK | os.X_OK):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(there))


def write_plan(
    plan: JobPlan,
    folder: Path,
    *,
    kinds: Collection[FileKind] = USUAL_KINDS,
    more: Mapping[str, Any] | None = None,
) -> tuple[Path, ...]:
    """Write the files of a plan into `folder` (made when it is missing).

    Files of an earlier plan that this one does not write are removed: a sheet of yesterday must not be cut today. Only
    what the earlier `plan.json` names is touched.

    Args:
        plan: what is written.
        folder: where.
        kinds: which kinds of files; `plan.json` comes with any.
        more: further entries of the report.

    Returns:
        The paths written, the packet first.

    Raises:
        OSError: the folder cannot be written.
    """
    # All of it is made before anything is written: a plan that cannot be drawn leaves the folder as it was.
    contents = dict(PlanFiles(plan, more or {}).of(kinds))
    report = contents.pop(REPORT)
    folder.mkdir(parents=True, exist_ok=True)
    for name in _files_of_the_last_plan(folder) - contents.keys():
        (folder / name).unlink(missing_ok=True)
    write_each_whole(folder, contents)
    write_whole(folder / REPORT, report)
    names = sorted((*contents, REPORT), key=lambda name: name != PACKET)
    return tuple(folder / name for name in names)


def write_page(path: Path, content: bytes) -> None:
    """Write one page, whole or not at all; its folder is made when it is missing.

    Raises:
        OSError: it cannot be written.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    write_whole(path, content)


def write_days(
    plans: Sequence[JobPlan], folder: Path, *, kinds: Collection[FileKind] = USUAL_KINDS
) -> tuple[Path, ...]:
    """Write the plan of each day into a folder of its own, and a report of all of them into `folder`.

    What an earlier plan of the undivided job left there is removed.

    Returns:
        The paths written, the first day's packet first.
    """
    for name in _files_of_the_last_plan(folder):
        (folder / name).unlink(missing_ok=True)
    written: list[Path] = []
    days = []
    for number, (plan, data) in enumerate(zip(plans, days_data(plans), strict=True), start=1):
        name = f"day-{number}"
        (folder / name).mkdir(parents=True, exist_ok=True)
        written += write_plan(plan, folder / name, kinds=kinds)
        days.append({**data, "folder": name})
    report = {"format": "drawerwright-days", "version": REPORT_VERSION, "days": days}
    write_whole(folder / REPORT, as_json(report))
    return (*written, folder / REPORT)


def _files_of_the_last_plan(folder: Path) -> set[str]:
    """What an earlier `plan.json` in `folder` names as its files; nothing when there is none to read."""
    try:
        files = given_json(folder / REPORT, LARGEST_PLAN_DATA)["files"]
    except (DrawerwrightError, KeyError, TypeError):
        return set()
    names = (name for name in files if isinstance(name, str)) if isinstance(files, list) else ()
    return {name for name in names if is_file_of_a_plan(name)}
