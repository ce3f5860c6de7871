"""Every file of a plan by its name, made when it is asked for; the one list behind folder, archive and downloads."""

from __future__ import annotations

import json
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, field
from functools import cached_property, partial
from pathlib import PurePosixPath
from typing import Any, ClassVar

from drawerwright.drawings.part_outlines import draw_parts
from drawerwright.drawings.scene import Scene
from drawerwright.drawings.svg import write_svg
from drawerwright.drawings.typesetting import Told, page_count, single_pages, untold
from drawerwright.job.papers.data_table import table_csv
from drawerwright.job.papers.file_kinds import FileKind
from drawerwright.job.papers.packet_pages import told_packet
from drawerwright.job.papers.part_labels import LABELS, label_files, labels_pdf
from drawerwright.job.papers.plan_data import plan_report
from drawerwright.job.papers.plan_drawings import drawn_when_asked
from drawerwright.job.papers.plan_tables import cuts_table, parts_table, plan_tables
from drawerwright.job.planning.job_plan import JobPlan

REPORT, PACKET, WORKBOOK = "plan.json", "packet.pdf", "job.xlsx"
DRAWINGS, PAGES, MODELS, PARTS = "drawings", "pages", "models", "parts"
TABLES: Mapping[str, Callable[[JobPlan], str]] = {
    "parts.csv": lambda plan: table_csv(parts_table(plan)),
    "cuts.csv": lambda plan: table_csv(cuts_table(plan)),
}
"""What is written as CSV, by the name of its file."""
FROM_THE_PACKET = frozenset({FileKind.PDF, FileKind.PAGES})
"""What is made of the packet."""


@dataclass(frozen=True)
class PlanFiles:
    """The files of a plan; drawings and packet are made once, when the first file needs them.

    plan: whose files they are. more: further entries of the report. address: of the job's run, for labels.
    """

    plan: JobPlan
    more: Mapping[str, Any] = field(default_factory=dict)
    drawn: Mapping[str, Scene] | None = None
    """Its drawings, where they are known already."""
    told: Told = untold
    """How far a packet is that is set in pieces."""
    address: str = ""

    @cached_property
    def drawings(self) -> Mapping[str, Scene]:
        """By their names."""
        return drawn_when_asked(self.plan) if self.drawn is None else self.drawn

    @cached_property
    def _packet_in_work(self) -> Future[bytes]:
        """The packet, set beside what else is made: typesetting needs little of the interpreter."""
        packet = told_packet(self.plan, self.drawings)
        beside = ThreadPoolExecutor(1, "typesetting")
        try:
            return beside.submit(packet.pdf, self.told)
        finally:
            beside.shutdown(wait=False)

    @property
    def packet(self) -> bytes:
        """The packet as PDF."""
        return self._packet_in_work.result()

    def of(self, kinds: Collection[FileKind]) -> Iterator[tuple[str, bytes]]:
        """Name and content of every file of these kinds, what needs the packet last; the report, which names them all
        with the packet first, ends them."""
        named: dict[FileKind, list[str]] = {kind: [] for kind in FileKind if kind in kinds}
        of_packet = [kind for kind in named if kind in FROM_THE_PACKET]
        if of_packet:
            self._packet_in_work  # noqa: B018 - begins
        # Text at once: as data it would take ten times the memory while the packet is set.
        report = _entries(plan_report(self.plan) | dict(self.more))
        for kind in [kind for kind in named if kind not in FROM_THE_PACKET]:
            yield from self._made(kind, named[kind])
        for kind in of_packet:
            yield from self._made(kind, named[kind])
        files = [name for names in named.values() for name in names]
        yield REPORT, _in_braces([*report, *_entries({"files": [*files, REPORT]})])

    def _made(self, kind: FileKind, named: list[str]) -> Iterator[tuple[str, bytes]]:
        for name, make in self._MAKERS[kind](self):
            named.append(name)
            yield name, make()

    def workbook(self) -> bytes:
        """Every table in one workbook."""
        from drawerwright.job.papers.workbook import write_workbook  # loads slowly, and most plans go without

        return write_workbook(plan_tables(self.plan), self.plan.job.name, self.plan.job.style)

    def _packet(self) -> Iterator[tuple[str, Callable[[], bytes]]]:
        yield PACKET, lambda: self.packet

    def _pages(self) -> Iterator[tuple[str, Callable[[], bytes]]]:
        count = page_count(self.packet)
        numbers = range(1, count + 1)
        pages = single_pages(self.packet, self.plan.job.name, numbers)
        for number, page in zip(numbers, pages, strict=True):
            yield f"{PAGES}/packet-page-{number:0{len(str(count))}}.pdf", partial(bytes, page)

    def _tables(self) -> Iterator[tuple[str, Callable[[], bytes]]]:
        for name, table in TABLES.items():
            yield name, table(self.plan).encode

    def _workbook(self) -> Iterator[tuple[str, Callable[[], bytes]]]:
        yield WORKBOOK, self.workbook

    def _svg(self) -> Iterator[tuple[str, Callable[[], bytes]]]:
        for name, scene in self.drawings.items():
            yield f"{DRAWINGS}/{name}.svg", partial(drawing_svg, scene)

    def _dxf(self) -> Iterator[tuple[str, Callable[[], bytes]]]:
        for name, scene in {**self.drawings, PARTS: parts_drawing(self.plan)}.items():
            yield f"{DRAWINGS}/{name}.dxf", partial(drawing_dxf, scene)

    def _models(self) -> Iterator[tuple[str, Callable[[], bytes]]]:
        from drawerwright.job.papers.plan_models import plan_models  # loads slowly, and most plans go without

        for name, make in plan_models(self.plan).items():
            yield f"{MODELS}/{name}", make

    def _labels(self) -> Iterator[tuple[str, Callable[[], bytes]]]:
        for name, grid in label_files(self.plan.job):
            yield name, partial(labels_pdf, self.plan, grid, self.address)

    _MAKERS: ClassVar = {
        FileKind.PDF: _packet,
        FileKind.PAGES: _pages,
        FileKind.LABELS: _labels,
        FileKind.CSV: _tables,
        FileKind.XLSX: _workbook,
        FileKind.SVG: _svg,
        FileKind.DXF: _dxf,
        FileKind.GLB: _models,
    }


def is_file_of_a_plan(name: str) -> bool:
    """Whether a name is one under which a plan is written, and leads to nowhere else."""
    path = PurePosixPath(name)
    if path.parent == PurePosixPath("."):
        return name in (PACKET, WORKBOOK, *TABLES) or LABELS.fullmatch(name) is not None
    return str(path.parent) in (DRAWINGS, PAGES, MODELS) and name == str(path) and path.name != ".."


def as_json(report: Mapping[str, Any]) -> bytes:
    """A report as it stands in a file: each entry on a line of its own, and each of a list."""
    return _in_braces(_entries(report))


def _entries(report: Mapping[str, Any]) -> list[str]:
    return [f" {_json(name)}: {_in_lines(value)}" for name, value in report.items()]


def _in_braces(entries: Sequence[str]) -> bytes:
    return ("{\n" + ",\n".join(entries) + "\n}\n").encode()


def _in_lines(value: Any) -> str:
    if isinstance(value, list | tuple) and value:
        return "[\n" + ",\n".join(f"  {_json(entry)}" for entry in value) + "\n ]"
    return _json(value)


def _json(value: Any) -> str:
    # Without indents json works in C, ten times as fast: the report of 400 drawers is a million values.
    return json.dumps(value, ensure_ascii=False)


def parts_drawing(plan: JobPlan) -> Scene:
    """Every kind of part with its grooves and holes."""
    placed = [part for drawer in plan.draft.assembled for part in drawer.placed]
    return draw_parts(placed, style=plan.job.style)


def drawing_svg(scene: Scene) -> bytes:
    """A drawing as SVG, its layers in groups."""
    return write_svg(scene, layered=True).encode()


def drawing_dxf(scene: Scene) -> bytes:
    """A drawing as DXF."""
    from drawerwright.drawings.dxf import write_dxf  # loads slowly, and most plans go without

    return write_dxf(scene).encode()
