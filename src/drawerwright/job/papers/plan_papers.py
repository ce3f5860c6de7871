"""What is printed or taken away of a plan: its papers, each file by its name, and all of them in one archive."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable, Collection
from dataclasses import dataclass

from drawerwright.drawings.scene import Scene
from drawerwright.drawings.typesetting import page_count, page_pictures, single_pages
from drawerwright.job.papers.file_kinds import FileKind
from drawerwright.job.papers.packet_pages import told_packet
from drawerwright.job.papers.part_labels import label_files, labels_pdf
from drawerwright.job.papers.plan_data import plan_report
from drawerwright.job.papers.plan_drawings import plan_drawings
from drawerwright.job.papers.plan_files import (
    PACKET,
    PARTS,
    REPORT,
    TABLES,
    WORKBOOK,
    PlanFiles,
    as_json,
    drawing_dxf,
    drawing_svg,
    parts_drawing,
)
from drawerwright.job.planning.job_plan import JobPlan

Step = Callable[[int, int, str], None]
"""Told how many of how many steps are done, and what is at hand: "drawing", "pages" or "writing"; what it raises ends
the work."""
TEXT = "job.yaml"
PAGE = re.compile(r"packet-page-([1-9][0-9]{0,5})")


@dataclass(frozen=True, slots=True)
class PlanPapers:
    """What is printed for a plan: its drawings by file name, the packet as PDF, and its pages as SVG.

    `pages` has none of a long packet: each of those is drawn when it is looked at.
    """

    drawings: dict[str, Scene]
    packet: bytes
    pages: tuple[bytes, ...]

    @property
    def page_count(self) -> int:
        """How many pages the packet has."""
        return len(self.pages) or page_count(self.packet)

    @property
    def is_in_chapters(self) -> bool:
        """Whether the packet is so long that it is set piece by piece, and claims no standard."""
        return not self.pages

    def file(self, name: str) -> bytes | None:
        """The file of this name: the packet, a page of it as SVG or PDF, a drawing as SVG or DXF; None for another."""
        if name == PACKET:
            return self.packet
        stem, _dot, ending = name.rpartition(".")
        page = PAGE.fullmatch(stem)
        if page is not None and ending in ("svg", "pdf") and int(page[1]) <= self.page_count:
            number = int(page[1])
            if ending == "pdf":
                return next(single_pages(self.packet, stem, [number]))
            return self.pages[number - 1] if self.pages else next(page_pictures(self.packet, [number]))
        scene = self.drawings.get(stem)
        if scene is None or ending not in ("svg", "dxf"):
            return None
        return drawing_svg(scene) if ending == "svg" else drawing_dxf(scene)


def data_file(plan: JobPlan, name: str, address: str = "", used: int = 0) -> bytes | None:
    """A file that needs no drawing: the whole plan as JSON, tables, drawers as solids, labels with the `address` of the
    job's run on a sheet of which so many are `used`; None for another name."""
    if name == REPORT:
        return as_json(plan_report(plan))
    if name == WORKBOOK:
        return PlanFiles(plan).workbook()
    if grid := dict(label_files(plan.job)).get(name):
        return labels_pdf(plan, grid, address, used)
    if name == f"{PARTS}.dxf":
        return drawing_dxf(parts_drawing(plan))
    if name.endswith(".glb"):
        from drawerwright.job.papers.plan_models import plan_models  # loads slowly

        make = plan_models(plan).get(name)
        return None if make is None else make()
    return TABLES[name](plan).encode() if name in TABLES else None


def make_papers(plan: JobPlan, step: Step) -> PlanPapers:
    """Drawings, packet and pages of a plan."""
    drawings = plan_drawings(plan, lambda done, count: step(done, count + 2, "drawing"))
    drawn = len(drawings)
    step(drawn, drawn + 2, "pages")
    packet = told_packet(plan, drawings)
    pdf = packet.pdf(lambda done, of: step(drawn + done, drawn + of + 1, "pages"))
    step(drawn + 1, drawn + 2, "pages")
    pages = packet.pages()
    step(drawn + 2, drawn + 2, "pages")
    return PlanPapers(drawings, pdf, pages)


def make_archive(
    plan: JobPlan, text: str, kinds: Collection[FileKind], step: Step, address: str = ""
) -> bytes:
    """The files of these kinds in one ZIP archive, with `text`, the job file that they were made from; labels lead to
    the `address` of the job's run."""
    drawings = plan_drawings(plan, lambda done, count: step(done, 2 * count + 1, "drawing"))
    count = 2 * len(drawings) + 1
    step(len(drawings), count, "pages")
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED) as files:
        files.writestr(TEXT, text)
        made = PlanFiles(
            plan,
            drawn=drawings,
            address=address,
            told=lambda done, of: step(len(drawings) + done, count + of, "pages"),
        )
        for number, (name, content) in enumerate(made.of(kinds), start=1):
            step(min(len(drawings) + number, count), count, "writing")
            files.writestr(name, content)
    return archive.getvalue()
