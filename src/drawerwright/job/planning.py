"""The use case `plan`: a job walks through the rooms, from drawers to the order of work."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from drawerwright.basics.findings import Finding, Severity
from drawerwright.drawers.carcase import PullHole, RunnerLine, pull_holes, runner_lines
from drawerwright.drawers.judgement import bank_findings, box_findings
from drawerwright.drawers.parts import Part, PartKind, Role
from drawerwright.job.building import read_job
from drawerwright.job.job import Job
from drawerwright.job.reading import read_text
from drawerwright.joints.judgement import setting_findings
from drawerwright.joints.setting import CornerGeometry, CornerSetting
from drawerwright.run.cautions import cautions
from drawerwright.run.fencing import FenceChoice, choose_fences
from drawerwright.run.setups import corner_settings, plan_setups
from drawerwright.run.speeds import advise_speed
from drawerwright.run.steps import Run, RunInput, plan_run
from drawerwright.sheets.from_parts import StockBlanks, blanks_of
from drawerwright.sheets.plan import Progress, plan_sheets
from drawerwright.sheets.problem import SheetPlan, SheetProblem
from drawerwright.wood.stock import stock_findings

Watcher = Callable[[str, Progress], None]
"""Told which stock is being planned and how far it is."""


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of the job: what it is called, its setting, and the drawers that have it."""

    name: str
    setting: CornerSetting
    drawers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StockPlan:
    """One stock: its blanks and the sheets they are cut from."""

    blanks: StockBlanks
    sheets: SheetPlan


@dataclass(frozen=True, slots=True)
class JobPlan:
    """Everything the shop needs for a job."""

    job: Job
    parts: tuple[Part, ...]
    corners: tuple[Corner, ...]
    fences: FenceChoice
    stocks: tuple[StockPlan, ...]
    run: Run
    runner_lines: tuple[RunnerLine, ...]
    pull_holes: tuple[PullHole, ...]
    cautions: tuple[str, ...]
    findings: tuple[Finding, ...]

    @property
    def is_provisional(self) -> bool:
        """True while a stock that is used has not been measured."""
        return any(part.stock.thickness.is_provisional for part in self.parts)


def open_job(path: Path) -> Job:
    """Read a job file (see `read_job`)."""
    return read_job(read_text(path), str(path))


def plan_job(
    job: Job,
    *,
    watch: Watcher | None = None,
    time_limit: float | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> JobPlan:
    """Plan a whole job.

    Args:
        job: from `read_job`.
        watch: told about the progress of the sheets.
        time_limit: seconds for the sheets of each stock; the job's own limit when None.
        cancelled: True ends the search for better sheets; the best so far is used.

    Raises:
        NoPlanError: something cannot be cut at all; the text says what would make it possible.
    """
    boxes = job.all_boxes
    parts = tuple(part for box in boxes for part in box.parts(job.cutter))
    fences = choose_fences(
        _corner_geometries(parts), job.cutter, plan=job.fences.plan, flushness=job.fences.flushness
    )
    settings = corner_settings(job.cutter, fences.pairs)
    corners = _named_corners(job, settings)
    stocks = tuple(
        _plan_stock(job, blanks, watch, time_limit, cancelled)
        for blanks in blanks_of(parts, _matched(job, parts))
    )
    families = [family for stock in stocks for family in stock.blanks.families]
    bands = [band for stock in stocks for layout in stock.sheets.layouts for band in layout.bands]
    setups = plan_setups(families, bands, settings, job.table)
    lines = tuple(line for bank in job.banks for line in runner_lines(bank.bank))
    holes = tuple(hole for bank in job.banks for hole in pull_holes(bank.bank))
    run = plan_run(
        RunInput(
            boxes, parts, tuple(stock.sheets for stock in stocks), setups, job.rates, lines, holes, job.style
        )
    )
    return JobPlan(
        job=job,
        parts=parts,
        corners=corners,
        fences=fences,
        stocks=stocks,
        run=run,
        runner_lines=lines,
        pull_holes=holes,
        cautions=cautions(job.cutter, job.table, job.band_rules.shortest_piece),
        findings=_findings(job, parts, corners, stocks),
    )


def _corner_geometries(parts: Sequence[Part]) -> tuple[CornerGeometry, ...]:
    return tuple(dict.fromkeys(end.corner for part in parts for end in part.ends))


def _matched(job: Job, parts: Sequence[Part]) -> list[tuple[Part, ...]]:
    """Applied fronts of the banks that ask for a running figure, in the order in which they hang."""
    groups = []
    for bank in job.banks:
        if bank.matches_fronts:
            names = {box.name for box in bank.boxes}
            group = tuple(p for p in parts if p.kind is PartKind.APPLIED_FRONT and p.drawer in names)
            if len(group) > 1:
                groups.append(group)
    return groups


def _plan_stock(
    job: Job,
    blanks: StockBlanks,
    watch: Watcher | None,
    time_limit: float | None,
    cancelled: Callable[[], bool] | None,
) -> StockPlan:
    problem = SheetProblem(
        stock=blanks.stock.name,
        sizes=job.sheet_sizes[blanks.stock.name],
        saw=job.saw,
        band_rules=job.band_rules,
        strips=blanks.strips,
        loose=blanks.loose,
        matched=blanks.matched,
        preferences=job.preferences,
    )
    plan = plan_sheets(
        problem,
        progress=None if watch is None else lambda progress: watch(blanks.stock.name, progress),
        time_limit=job.sheets_time_limit if time_limit is None else time_limit,
        cancelled=cancelled,
    )
    return StockPlan(blanks, plan)


def _named_corners(job: Job, settings: dict[CornerGeometry, CornerSetting]) -> tuple[Corner, ...]:
    """Every corner with a name that says where it stands; equal corners are one."""
    places: dict[CornerGeometry, dict[str, list[str]]] = {geometry: {} for geometry in settings}
    for box in job.all_boxes:
        for end, geometry in (("front", box.front_corner), ("back", box.back_corner)):
            places[geometry].setdefault(end, []).append(box.name)
    corners = []
    for geometry, ends in places.items():
        kind = f"lip {geometry.lip:.1f} mm" if geometry.lip else "flush"
        name = f"{' and '.join(ends)} corner, {kind}"
        drawers = tuple(dict.fromkeys(name for names in ends.values() for name in names))
        corners.append(Corner(name, settings[geometry], drawers))
    return tuple(corners)


def _findings(
    job: Job, parts: Sequence[Part], corners: Sequence[Corner], stocks: Sequence[StockPlan]
) -> tuple[Finding, ...]:
    found: list[Finding] = []
    for stock in dict.fromkeys(part.stock for part in parts):
        found += stock_findings(stock)
    for bank in job.banks:
        found += bank_findings(bank.bank, bank.boxes)
    for box in job.all_boxes:
        found += box_findings(box, job.cutter)
    for corner in corners:
        found += setting_findings(corner.setting, corner.name)
    found += _table_findings(job, stocks)
    found += _sheet_findings(stocks)
    order = list(reversed(Severity))
    return tuple(sorted(dict.fromkeys(found), key=lambda finding: order.index(finding.severity)))


def _table_findings(job: Job, stocks: Sequence[StockPlan]) -> list[Finding]:
    tallest = job.table.tallest_upright
    found = [
        Finding(
            "band-too-tall",
            Severity.STOP,
            family.parts[0].label,
            f"bands {family.length:.0f} mm tall stand higher than the {tallest:g} mm that the router table takes.",
            "Raise the limit if your fence and feather boards allow it, make the drawers less deep, or cut these "
            "corners another way.",
        )
        for stock in stocks
        for family in stock.blanks.families
        if family.role is Role.UPRIGHT and tallest is not None and family.length > tallest
    ]
    advice = advise_speed(job.cutter, job.table)
    if advice is None:
        found.append(
            Finding(
                "speed-unknown",
                Severity.WARNING,
                job.cutter.name,
                "neither its diameter nor its greatest speed is given.",
                "Enter what is marked on the cutter.",
            )
        )
    elif advice.choose is None and job.table.speeds:
        found.append(
            Finding(
                "spindle-too-fast",
                Severity.STOP,
                job.cutter.name,
                f"the slowest spindle speed, {min(job.table.speeds):,.0f} 1/min, is above the limit of "
                f"{advice.limit:,.0f} 1/min ({advice.source}).",
                "Do not run this cutter on this machine.",
            )
        )
    return found


def _sheet_findings(stocks: Sequence[StockPlan]) -> list[Finding]:
    return [
        Finding(
            "sheets-not-proven",
            Severity.NOTE,
            f"stock {stock.blanks.stock.name}",
            f"the plan costs {stock.sheets.figures.new_sheet_cost:g}; at least {stock.sheets.lower_bound:g} is needed, "
            "and the time was too short to prove which is right.",
            "Give the sheets more time if a sheet less would matter.",
        )
        for stock in stocks
        if not stock.sheets.proven
    ]
