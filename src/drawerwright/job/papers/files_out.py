"""The files of a plan: report, parts list, drawings and packet, each written whole or not at all."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from drawerwright.basics.phrases import plain
from drawerwright.drawings.scene import Scene
from drawerwright.drawings.svg import write_svg
from drawerwright.job.papers.csv_text import csv_text
from drawerwright.job.papers.cut_lists import cut_list
from drawerwright.job.papers.packet_pages import plan_packet
from drawerwright.job.papers.plan_data import REPORT_VERSION, plan_report
from drawerwright.job.papers.plan_drawings import plan_drawings
from drawerwright.job.planning.days import days_data
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.store.files import write_whole

REPORT = "plan.json"
DRAWINGS = "drawings"
PART_COLUMNS = (
    "part",
    "drawer",
    "kind",
    "stock",
    "thickness_mm",
    "length_mm",
    "width_mm",
    "cut_length_mm",
    "cut_width_mm",
    "first_end",
    "first_setup",
    "second_end",
    "second_setup",
    "groove_height_mm",
    "groove_width_mm",
    "groove_depth_mm",
    "handed",
)
"""Columns of `parts.csv`; the names carry the unit."""
CUT_COLUMNS = ("stock", "turn", "setting_mm", "cut", "sheet", "numbers", "comes_free")
"""Columns of `cuts.csv`: a row for each sheet that is cut at a setting, whose turn counts from 1 for each stock."""


def write_plan(
    plan: JobPlan, folder: Path, *, dxf: bool = False, more: Mapping[str, Any] | None = None
) -> tuple[Path, ...]:
    """Write every file of a plan into `folder` (made when it is missing), with `dxf` each drawing as DXF too.

    Drawings of an earlier plan that this one does not have are removed: a sheet of yesterday must not be cut
    today. Only what the earlier `plan.json` names is touched.

    Args:
        plan: what is written.
        folder: where.
        dxf: drawings as DXF too.
        more: further entries of the report.

    Returns:
        The paths written, the packet first.

    Raises:
        OSError: the folder cannot be written.
    """
    drawings = plan_drawings(plan)
    endings = ("svg", "dxf") if dxf else ("svg",)
    names = [f"{DRAWINGS}/{name}.{ending}" for name in drawings for ending in endings]
    files = ["packet.pdf", *TABLES, *names, REPORT]
    # The report comes before the packet: each of them takes much memory while it is made.
    report = as_json(plan_report(plan) | dict(more or {}) | {"files": files})
    contents: dict[str, bytes] = {
        "packet.pdf": plan_packet(plan, drawings),
        **{name: table(plan).encode() for name, table in TABLES.items()},
    }
    for name, scene in drawings.items():
        contents[f"{DRAWINGS}/{name}.svg"] = write_svg(scene).encode()
        if dxf:
            contents[f"{DRAWINGS}/{name}.dxf"] = drawing_dxf(scene)
    contents[REPORT] = report
    stale = _drawings_of_the_last_plan(folder) - contents.keys()
    (folder / DRAWINGS).mkdir(parents=True, exist_ok=True)
    for name in stale:
        (folder / name).unlink(missing_ok=True)
    written = []
    for name, content in contents.items():
        path = folder / name
        write_whole(path, content)
        written.append(path)
    return tuple(written)


def write_page(path: Path, content: bytes) -> None:
    """Write one page, whole or not at all; its folder is made when it is missing.

    Raises:
        OSError: it cannot be written.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    write_whole(path, content)


def write_days(plans: Sequence[JobPlan], folder: Path, *, dxf: bool = False) -> tuple[Path, ...]:
    """Write the plan of each day into a folder of its own, and a report of all of them into `folder`.

    What an earlier plan of the undivided job left there is removed.

    Returns:
        The paths written, the first day's packet first.
    """
    for name in _drawings_of_the_last_plan(folder):
        (folder / name).unlink(missing_ok=True)
    if (folder / REPORT).exists():
        for name in ("packet.pdf", *TABLES):
            (folder / name).unlink(missing_ok=True)
    written: list[Path] = []
    days = []
    for number, (plan, data) in enumerate(zip(plans, days_data(plans), strict=True), start=1):
        name = f"day-{number}"
        (folder / name).mkdir(parents=True, exist_ok=True)
        written += write_plan(plan, folder / name, dxf=dxf)
        days.append({**data, "folder": name})
    report = {"format": "drawerwright-days", "version": REPORT_VERSION, "days": days}
    write_whole(folder / REPORT, as_json(report))
    return (*written, folder / REPORT)


def _drawings_of_the_last_plan(folder: Path) -> set[str]:
    """What an earlier `plan.json` in `folder` names as its drawings; nothing when there is none to read."""
    try:
        files = json.loads((folder / REPORT).read_text("utf-8"))["files"]
    except (OSError, ValueError, KeyError, TypeError):
        return set()
    names = (name for name in files if isinstance(name, str)) if isinstance(files, list) else ()
    return {f"{DRAWINGS}/{Path(name).name}" for name in names if Path(name).parent == Path(DRAWINGS)}


def as_json(report: Mapping[str, Any]) -> bytes:
    """A report as it stands in a file."""
    return (json.dumps(report, indent=1, ensure_ascii=False) + "\n").encode()


def drawing_dxf(scene: Scene) -> bytes:
    """A drawing as DXF."""
    from drawerwright.drawings.dxf import write_dxf  # loads slowly, and most plans go without

    return write_dxf(scene).encode()


def parts_csv(plan: JobPlan) -> str:
    """The parts list as CSV text; numbers with a point, millimetres."""
    rows: list[Sequence[object]] = [PART_COLUMNS]
    for part in plan.parts:
        ends: list[object] = []
        for index in (0, 1):
            if not part.is_loose:
                ends += [str(part.ends[index].role), plan.setup_of_end(part, index)]
            else:
                ends += ["", ""]
        groove = part.groove
        rows.append(
            [
                part.label,
                part.drawer,
                str(part.kind),
                part.stock.name,
                *(
                    f"{size:.2f}"
                    for size in (part.thickness, part.length, part.width, part.cut_length, part.cut_width)
                ),
                *ends,
                *(
                    [f"{groove.height:.2f}", f"{groove.width:.2f}", f"{groove.depth:.2f}"]
                    if groove
                    else ["", "", ""]
                ),
                "yes" if part.is_handed else "no",
            ]
        )
    return csv_text(rows)


def cuts_csv(plan: JobPlan) -> str:
    """The cut lists of all stocks as CSV text."""
    rows = [
        (
            stock.blanks.stock.name,
            turn,
            "" if row.length is None else f"{row.length:.2f}",
            plain(row.cut),
            each.sheet,
            " ".join(map(str, each.numbers)),
            plain(row.frees_of(each.sheet)),
        )
        for stock in plan.stocks
        for turn, row in enumerate(cut_list(plan, stock), start=1)
        for each in row.setting.sheets
    ]
    return csv_text([CUT_COLUMNS, *rows])


TABLES: Mapping[str, Callable[[JobPlan], str]] = {"parts.csv": parts_csv, "cuts.csv": cuts_csv}
"""What is written as CSV, by the name of its file."""
