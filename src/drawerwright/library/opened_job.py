"""A job from its file to everything that the shop needs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from os import PathLike
from pathlib import Path
from typing import Any

from drawerwright.basics.declared import Seconds, checked
from drawerwright.basics.findings import Finding
from drawerwright.drawers.parts import Part
from drawerwright.job.job import Job
from drawerwright.job.papers.file_kinds import USUAL_KINDS, FileKind, file_kinds
from drawerwright.job.papers.files_out import write_days, write_plan
from drawerwright.job.papers.plan_data import plan_report
from drawerwright.job.papers.plan_drawings import plan_drawings
from drawerwright.job.pictures.drawing import Drawing
from drawerwright.job.planning.corner_strengths import JointStrength, job_strengths
from drawerwright.job.planning.days import plan_days
from drawerwright.job.planning.draft import Corner, draft_job
from drawerwright.job.planning.job_findings import draft_findings
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.job.planning.job_plan import open_job as read_job_file
from drawerwright.library.notebook import html_findings, html_paragraph, html_table
from drawerwright.sheets.patterns import SheetCount


@dataclass(frozen=True, slots=True)
class PlannedJob:
    """A plan: settings, parts, sheets, order of work and papers; of a job split into days, all days in order.

    A notebook shows its settings, sheets and findings as tables.
    """

    plans: tuple[JobPlan, ...] = field(repr=False)
    is_split: bool = False

    @property
    def name(self) -> str:
        """What the job is called."""
        return self.plans[0].job.name

    @property
    def days(self) -> tuple[PlannedJob, ...]:
        """The plan of each day; only itself where the job is not split."""
        return tuple(PlannedJob((plan,)) for plan in self.plans) if self.is_split else (self,)

    @property
    def corners(self) -> tuple[Corner, ...]:
        """Every corner: its `name`, and `setting.bit_height`, `setting.fence_flat`, `setting.fence_upright` (mm)."""
        return tuple(corner for plan in self.plans for corner in plan.corners)

    @property
    def parts(self) -> tuple[Part, ...]:
        """Every part: `label`, `drawer`, `length`, `width`, `thickness` (mm)."""
        return tuple(part for plan in self.plans for part in plan.parts)

    @property
    def shopping_list(self) -> tuple[tuple[str, SheetCount], ...]:
        """For each stock, by its name, how many sheets of each size: `size`, `count`, `cost`."""
        return tuple(
            (stock.blanks.stock.name, line)
            for plan in self.plans
            for stock in plan.stocks
            for line in stock.sheets.shopping_list
        )

    @property
    def minutes(self) -> float:
        """How long the work takes, about."""
        return sum(plan.run.effort.minutes for plan in self.plans)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What is doubtful, the gravest first; a finding with `stops` says not to cut before it is settled."""
        found = dict.fromkeys(finding for plan in self.plans for finding in plan.findings)
        return tuple(sorted(found, key=lambda finding: not finding.stops))

    @property
    def stops(self) -> bool:
        """Whether anything must be settled before the first cut."""
        return any(finding.stops for finding in self.findings)

    @property
    def is_provisional(self) -> bool:
        """Whether a stock that is used has not been measured."""
        return bool(self.unmeasured)

    @property
    def unmeasured(self) -> tuple[str, ...]:
        """The stock in use that has not been measured, by name."""
        return tuple(dict.fromkeys(name for plan in self.plans for name in plan.unmeasured))

    @property
    def drawings(self) -> Mapping[str, Drawing]:
        """Corners, banks, sheets and set-ups by the names of their files; those of a day behind `day-1/`, `day-2/` …"""
        return {
            f"day-{number}/{name}" if self.is_split else name: Drawing.of(scene)
            for number, plan in enumerate(self.plans, start=1)
            for name, scene in plan_drawings(plan).items()
        }

    @property
    def data(self) -> dict[str, Any] | list[dict[str, Any]]:
        """What `plan.json` holds (lengths in mm, with a format version); a list of them, day by day, of a split job."""
        reports = [plan_report(plan) for plan in self.plans]
        return reports if self.is_split else reports[0]

    @checked
    def write(
        self,
        folder: str | PathLike[str],
        *,
        files: str | Sequence[str] | None = None,
        dxf: bool = False,
    ) -> tuple[Path, ...]:
        """Write the plan into a folder, made where it is missing.

        Files that an earlier plan left there and this one does not write are removed.

        Args:
            folder: where; a job split into days gets a folder for each in it.
            files: what to write beside `plan.json`: `pdf` (the packet), `pages` (each of its pages), `csv`, `xlsx`,
                `svg`, `dxf`, `glb`, in a sequence or one text with commas, or `all`; packet, CSV and SVG by default.
            dxf: drawings as DXF as well.

        Returns:
            The paths written, the packet first.

        Raises:
            DrawerwrightError: `files` names a kind that there is not.
            OSError: the folder cannot be written.
        """
        kinds = USUAL_KINDS if files is None else file_kinds(files)
        if dxf:
            kinds |= {FileKind.DXF}
        if self.is_split:
            return write_days(self.plans, Path(folder), kinds=kinds)
        return write_plan(self.plans[0], Path(folder), kinds=kinds)

    def __str__(self) -> str:
        sheets = ", ".join(f"{line.size.label} ({line.count})" for _, line in self.shopping_list)
        return f"{self.name}: {len(self.parts)} parts from {sheets}; about {self.minutes / 60:.1f} h of work"

    def _repr_html_(self) -> str:
        style = self.plans[0].job.style
        settings = [
            (
                corner.name,
                *(
                    style.show(length, fine=True)
                    for length in (
                        corner.setting.bit_height,
                        corner.setting.fence_flat,
                        corner.setting.fence_upright,
                        corner.setting.shown_lip,
                    )
                ),
            )
            for corner in self.corners
        ]
        sheets = [
            (stock, line.size.label, str(line.count), "" if line.cost is None else f"{line.cost:.2f}")
            for stock, line in self.shopping_list
        ]
        provisional = (
            f"Provisional: not measured yet: {', '.join(self.unmeasured)}." if self.unmeasured else ""
        )
        return "".join(
            (
                html_paragraph(str(self), strong=True),
                html_paragraph(provisional) if provisional else "",
                html_table(
                    "Corners", ("corner", "bit height", "fence, flat", "fence, upright", "lip"), settings
                ),
                html_table("Sheets", ("stock", "size", "sheets", "cost"), sheets),
                html_findings(self.findings),
            )
        )


@dataclass(frozen=True, slots=True)
class OpenedJob:
    """A job file that was read and is without faults."""

    job: Job = field(repr=False)

    @property
    def name(self) -> str:
        """What the job is called."""
        return self.job.name

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What is doubtful before the sheets are planned, as `drawerwright check` lists it."""
        return draft_findings(draft_job(self.job))

    @property
    def strengths(self) -> tuple[JointStrength, ...]:
        """How strong the corners of each drawer are, front and back: an estimate (docs/strength.md).

        Each has `drawer`, `at`, `joint`, `weak_plane`, `rank` (1 is the weakest), and `pull_off`, `racking` (N) and
        `drop` (J) with `low` and `high`, or None.
        """
        return job_strengths(draft_job(self.job)).joints

    @checked
    def plan(self, *, time_limit: Seconds | None = None) -> PlannedJob:
        """Plan the whole job, or each of its days.

        Args:
            time_limit: seconds for the sheets of each stock; default: the job's own limit.

        Raises:
            DrawerwrightError: something cannot be cut at all; the text says what would make it possible.
        """
        if self.job.days:
            return PlannedJob(plan_days(self.job, time_limit=time_limit), is_split=True)
        return PlannedJob((plan_job(self.job, time_limit=time_limit),))


@checked
def open_job(path: str | PathLike[str]) -> OpenedJob:
    """Read a job file (docs/job-file.md).

    Raises:
        DrawerwrightError: the file has faults; every one is named, with line and field.
    """
    return OpenedJob(read_job_file(Path(path)))
