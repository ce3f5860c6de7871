"""The use case `plan`: a job walks through the rooms, from drawers to the order of work."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import FIRST_EXCEPTION, ThreadPoolExecutor, wait
from dataclasses import dataclass, replace
from pathlib import Path
from threading import Event, Lock
from typing import Protocol

from drawerwright.basics.findings import Finding, FindingGroup, grouped
from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawers.carcase import PullHole, RunnerLine, RunnerUse, pull_holes, runner_lines, runner_use
from drawerwright.drawers.groove_levels import GrooveLevels, groove_levels
from drawerwright.drawers.parts import Part
from drawerwright.job.file.building import read_job
from drawerwright.job.file.reading import read_text
from drawerwright.job.job import Job
from drawerwright.job.planning.corner_strengths import JobStrengths, job_strengths
from drawerwright.job.planning.draft import Corner, JobDraft, draft_job
from drawerwright.job.planning.first_cut_odds import JobOdds, job_odds
from drawerwright.job.planning.job_findings import draft_findings, gravest_first, sheet_findings
from drawerwright.joints.plain_joint import plain_joint
from drawerwright.run.bench_work import bench_works
from drawerwright.run.cautions import cautions
from drawerwright.run.order import Run, plan_run
from drawerwright.run.run_findings import band_findings
from drawerwright.run.setups import SetUp, plan_setups
from drawerwright.run.steps import RunInput
from drawerwright.sheets.from_parts import StockBlanks
from drawerwright.sheets.plan import PlanProgress, plan_sheets
from drawerwright.sheets.problem import SheetPlan, SheetProblem

Watcher = Callable[[str, PlanProgress], None]
"""Told which stock is being planned and how far it is."""


class SheetPlanner(Protocol):
    """What plans the sheets of one stock, as `plan_sheets` does."""

    def __call__(
        self,
        problem: SheetProblem,
        *,
        progress: Callable[[PlanProgress], None] | None = None,
        time_limit: float | None = None,
        cancelled: Callable[[], bool] | None = None,
    ) -> SheetPlan: ...


@dataclass(frozen=True, slots=True)
class StockPlan:
    """One stock: its blanks and the sheets they are cut from."""

    blanks: StockBlanks
    sheets: SheetPlan


@dataclass(frozen=True, slots=True)
class JobPlan:
    """Everything the shop needs for a job."""

    draft: JobDraft
    stocks: tuple[StockPlan, ...]
    run: Run
    runner_lines: tuple[RunnerLine, ...]
    pull_holes: tuple[PullHole, ...]
    cautions: tuple[str, ...]
    findings: tuple[Finding, ...]
    odds: JobOdds
    strengths: JobStrengths

    @property
    def job(self) -> Job:
        return self.draft.job

    @property
    def parts(self) -> tuple[Part, ...]:
        return self.draft.parts

    @property
    def corners(self) -> tuple[Corner, ...]:
        return self.draft.corners

    @property
    def runner_uses(self) -> tuple[RunnerUse, ...]:
        """The runners that have to be there, bank by bank."""
        uses = (runner_use(bank.bank, len(bank.boxes)) for bank in self.job.banks if bank.boxes)
        return tuple(use for use in uses if use is not None)

    @property
    def groove_levels(self) -> tuple[GrooveLevels, ...]:
        """Fronts that are grooved at another height than the sides of their drawers."""
        return tuple(groove_levels(self.parts))

    def shown_in(self, style: LengthStyle) -> JobPlan:
        """The same plan with lengths written in another style, the order of work included."""
        draft = replace(self.draft, job=replace(self.job, style=self.job.style.for_reader(style)))
        run = _run(draft, self.stocks, self.run.setups, self.runner_lines, self.pull_holes)
        return replace(self, draft=draft, run=run)

    def setup_of_end(self, part: Part, index: int) -> int | None:
        """Number of the router set-up that cuts an end of a part, None when it has none."""
        end = part.ends[index]
        for setup in self.run.setups:
            setting = setup.corners.get(end.corner)
            if setting is not None and end.role in setup.roles(setting):
                return setup.number
        return None

    @property
    def bench_setups(self) -> int:
        """Set-ups of jig, saw or a plain bit for corners that no self-mating cutter makes."""
        works = (work for _drawer, _corner, work in bench_works(self.draft.assembled, self.job.learnt_joints))
        return len({(work.title, work.lines) for work in works if work.is_setting})

    @property
    def setups(self) -> int:
        """Set-ups at the router table, and those at the bench for corners that no self-mating cutter makes."""
        return len(self.run.setups) + self.bench_setups

    @property
    def finding_groups(self) -> tuple[FindingGroup, ...]:
        """The findings, what is said alike of several places together."""
        return grouped(self.findings)

    @property
    def unmeasured(self) -> tuple[str, ...]:
        """The stock in use that has not been measured, by name: settings and lengths are provisional while there is
        some."""
        return tuple(
            dict.fromkeys(part.stock.name for part in self.parts if part.stock.thickness.is_provisional)
        )

    @property
    def is_provisional(self) -> bool:
        """True while a stock that is used has not been measured."""
        return bool(self.unmeasured)


def open_job(path: Path) -> Job:
    """Read a job file (see `read_job`)."""
    return read_job(read_text(path), str(path))


def plan_job(
    job: Job,
    *,
    watch: Watcher | None = None,
    time_limit: float | None = None,
    cancelled: Callable[[], bool] | None = None,
    planner: SheetPlanner = plan_sheets,
    at_once: int = 1,
) -> JobPlan:
    """Plan a whole job.

    Args:
        job: from `read_job`.
        watch: told about the progress of the sheets.
        time_limit: seconds for the sheets of each stock; the job's own limit when None.
        cancelled: True ends the search for better sheets; the best so far is used.
        planner: plans the sheets of each stock.
        at_once: how many stocks are planned at once; `planner` has to keep the interpreter free for the others.

    Raises:
        NoPlanError: something cannot be cut at all; the text says what would make it possible.
    """
    draft = draft_job(job)
    limit = job.sheets_time_limit if time_limit is None else time_limit
    stocks = _plan_stocks(draft, _Search(planner, watch, limit, cancelled), at_once)
    families = [family for stock in stocks for family in stock.blanks.families]
    bands = [band for stock in stocks for layout in stock.sheets.layouts for band in layout.bands]
    setups = plan_setups(families, bands, draft.settings, job.table)
    drawers = {drawer.box.name: drawer for drawer in draft.assembled}
    lines = tuple(line for bank in job.banks for line in runner_lines(bank.bank) if line.drawer in drawers)
    holes = tuple(
        hole
        for bank in job.banks
        for hole in pull_holes(bank.bank, [drawers[box.name] for box in bank.boxes])
    )
    run = _run(draft, stocks, setups, lines, holes)
    return JobPlan(
        draft=draft,
        stocks=stocks,
        run=run,
        runner_lines=lines,
        pull_holes=holes,
        cautions=cautions(
            [cutter.cutter for cutter in job.cutters_in_use],
            job.table,
            job.band_rules.shortest_piece,
            joints=[plain_joint(corner.keyed.made.kind) for corner in draft.plain_corners],
            are_stacked=any(len(stack) > 1 for stock in stocks for stack in stock.sheets.stacks),
        ),
        findings=gravest_first(
            [
                *draft_findings(draft),
                *band_findings(families, run.bands, job.band_rules, job.saw),
                *sheet_findings([stock.sheets for stock in stocks]),
            ]
        ),
        odds=job_odds(draft),
        strengths=job_strengths(draft),
    )


def _run(
    draft: JobDraft,
    stocks: tuple[StockPlan, ...],
    setups: tuple[SetUp, ...],
    lines: tuple[RunnerLine, ...],
    holes: tuple[PullHole, ...],
) -> Run:
    job = draft.job
    return plan_run(
        RunInput(
            drawers=draft.assembled,
            false_fronts=job.false_fronts,
            learnt_joints=job.learnt_joints,
            plans=tuple(stock.sheets for stock in stocks),
            blanks=tuple(stock.blanks for stock in stocks),
            setups=setups,
            rates=job.rates,
            table=job.table,
            runner_lines=lines,
            pull_holes=holes,
            style=job.style,
        )
    )


@dataclass(frozen=True, slots=True)
class _Search:
    """How the sheets of each stock are looked for."""

    planner: SheetPlanner
    watch: Watcher | None
    time_limit: float
    cancelled: Callable[[], bool] | None

    def stock_plan(self, draft: JobDraft, blanks: StockBlanks) -> StockPlan:
        watch = self.watch
        plan = self.planner(
            draft.sheet_problem(blanks),
            progress=None if watch is None else lambda progress: watch(blanks.stock.name, progress),
            time_limit=self.time_limit,
            cancelled=self.cancelled,
        )
        return StockPlan(blanks, plan)

    def beside_others(self, has_failed: Callable[[], bool]) -> _Search:
        """The same for several at once: only one tells at a time, and all end where one has failed."""
        watch, cancelled, telling = self.watch, self.cancelled, Lock()

        def told(stock: str, progress: PlanProgress) -> None:
            with telling:
                assert watch is not None
                watch(stock, progress)

        def is_over() -> bool:
            return has_failed() or (cancelled is not None and cancelled())

        return replace(self, watch=None if watch is None else told, cancelled=is_over)


def _plan_stocks(draft: JobDraft, search: _Search, at_once: int) -> tuple[StockPlan, ...]:
    if at_once == 1 or len(draft.blanks) == 1:
        return tuple(search.stock_plan(draft, blanks) for blanks in draft.blanks)
    failed = Event()
    beside = search.beside_others(failed.is_set)
    with ThreadPoolExecutor(at_once, "sheets") as planners:
        works = [planners.submit(beside.stock_plan, draft, blanks) for blanks in draft.blanks]
        try:
            wait(works, return_when=FIRST_EXCEPTION)
        finally:
            failed.set()  # those that still plan end
    return tuple(work.result() for work in works)
