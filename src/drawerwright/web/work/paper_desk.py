"""The files of a plan, made in the background: drawings and packet, and everything in one archive."""

from __future__ import annotations

import io
import json
import zipfile
from dataclasses import dataclass
from typing import TYPE_CHECKING

from drawerwright.web.reader import words
from drawerwright.web.work.background import PATIENCE_SECONDS, State, Work, WorkDesk

if TYPE_CHECKING:
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.drawings.scene import Scene
    from drawerwright.job.planning.job_plan import JobPlan


@dataclass(frozen=True, slots=True)
class Papers:
    """What is printed for a plan: its drawings by file name, the packet as PDF, and its pages as SVG."""

    drawings: dict[str, Scene]
    packet: bytes
    pages: tuple[bytes, ...]


class PaperDesk:
    """Makes the papers of plans and remembers the latest."""

    def __init__(self) -> None:
        self._papers: WorkDesk[Papers] = WorkDesk("papers")
        self._archives: WorkDesk[bytes] = WorkDesk("archive")

    def ask(
        self, text: str, plan: JobPlan, job_id: int | None = None, patience: float = PATIENCE_SECONDS
    ) -> State[Papers]:
        """The papers of a plan, if they are ready within `patience` seconds."""
        return self._papers.ask(
            text,
            lambda work: _make_papers(plan, work),
            variant=_variant(plan),
            job_id=job_id,
            patience=patience,
        )

    def ask_archive(
        self, text: str, plan: JobPlan, job_id: int | None = None, patience: float = PATIENCE_SECONDS
    ) -> State[bytes]:
        """Every file of a plan in one archive."""
        return self._archives.ask(
            text,
            lambda work: _make_archive(plan, work),
            variant=_variant(plan),
            job_id=job_id,
            patience=patience,
        )

    def cancel(self, text: str, plan: JobPlan) -> None:
        """Make no more of the papers and of the archive."""
        self._papers.cancel(text, _variant(plan))
        self._archives.cancel(text, _variant(plan))

    def forget(self, text: str) -> None:
        """Make both anew when next asked."""
        self._papers.forget(text)
        self.forget_archive(text)

    def forget_archive(self, text: str) -> None:
        """Make the archive anew when next asked."""
        self._archives.forget(text)

    def close(self) -> None:
        """End all work."""
        self._papers.close()
        self._archives.close()


def _variant(plan: JobPlan) -> tuple[LengthStyle, str, str]:
    """The name tells the days of a job apart."""
    return plan.job.style, words.language(), plan.job.name


def _make_papers(plan: JobPlan, work: Work[Papers]) -> Papers:
    from drawerwright.job.papers.packet_pages import plan_packet, plan_pages
    from drawerwright.job.papers.plan_drawings import plan_drawings

    drawings = plan_drawings(plan, lambda done, count: work.step(done, count + 2, "drawing"))
    count = len(drawings) + 2
    work.step(len(drawings), count, "pages")
    packet = plan_packet(plan, drawings)
    work.step(len(drawings) + 1, count, "pages")
    pages = plan_pages(plan, drawings)
    work.step(count, count)
    return Papers(drawings, packet, pages)


def _make_archive(plan: JobPlan, work: Work[bytes]) -> bytes:
    from drawerwright.drawings.dxf import write_dxf
    from drawerwright.drawings.svg import write_svg
    from drawerwright.job.papers.packet_pages import plan_packet
    from drawerwright.job.papers.plan_drawings import plan_drawings

    drawings = plan_drawings(plan, lambda done, count: work.step(done, 2 * count + 1, "drawing"))
    count = 2 * len(drawings) + 1
    work.step(len(drawings), count, "pages")
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED) as files:
        files.writestr("job.yaml", work.text)
        files.writestr("packet.pdf", plan_packet(plan, drawings))
        files.writestr("plan.json", plan_json(plan))
        files.writestr("parts.csv", parts_list(plan))
        for number, (name, scene) in enumerate(drawings.items(), start=1):
            work.step(len(drawings) + number, count, "writing")
            files.writestr(f"drawings/{name}.svg", write_svg(scene))
            files.writestr(f"drawings/{name}.dxf", write_dxf(scene))
    return archive.getvalue()


def plan_json(plan: JobPlan) -> bytes:
    """The whole plan as JSON."""
    from drawerwright.job.papers.plan_data import plan_report

    return (json.dumps(plan_report(plan), indent=1, ensure_ascii=False) + "\n").encode()


def parts_list(plan: JobPlan) -> bytes:
    """The parts list as CSV."""
    from drawerwright.job.papers.files_out import parts_csv

    return parts_csv(plan).encode()
