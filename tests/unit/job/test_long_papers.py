"""Papers of a job too long to be set at once: in pieces, told and stopped between them, looked at page by page."""

from __future__ import annotations

import io
from collections.abc import Callable
from xml.etree import ElementTree

import pypdf
import pytest

from drawerwright.drawings import packet_chapters
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.file_kinds import FileKind
from drawerwright.job.papers.plan_papers import PlanPapers, Step, make_archive, make_papers
from drawerwright.job.planning.job_plan import JobPlan, plan_job

JOB = """\
format: 1
job: Trays
cutter: {mid_depth: 5.65, step: 3.45}
stock: {birch: {nominal: 15, sheets: [{length: 2500, width: 1250}]}}
boxes: [{name: tray, outer: {width: 300, depth: 400, height: 90}, box: {all: birch}}]
"""
Steps = list[tuple[int, int, str]]


@pytest.fixture(scope="module")
def plan() -> JobPlan:
    return plan_job(read_job(JOB), time_limit=1)


@pytest.fixture(scope="module")
def long_papers(plan: JobPlan) -> tuple[PlanPapers, Steps]:
    """The papers as those of a long job are made, and what was told meanwhile."""
    steps: Steps = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(packet_chapters, "MOST_AT_ONCE", 0)
        papers = make_papers(plan, lambda *step: steps.append(step))
    return papers, steps


def test_each_piece_is_told(long_papers: tuple[PlanPapers, Steps]) -> None:
    _papers, steps = long_papers
    pages = [(done, count) for done, count, stage in steps if stage == "pages"]
    assert len(set(pages)) > 5  # cover, cards, parts and more, each set alone
    shares = [done / count for done, count, _stage in steps if count]
    assert shares[-1] == 1
    set_alone = [done for done, count in pages if count == pages[1][1]]
    assert set_alone == sorted(set_alone)


def test_a_page_of_a_long_packet_is_drawn_when_it_is_looked_at(
    long_papers: tuple[PlanPapers, Steps],
) -> None:
    papers, _steps = long_papers
    pages = pypdf.PdfReader(io.BytesIO(papers.packet)).pages
    assert papers.pages == ()
    assert papers.is_in_chapters
    assert b"pdfaid" not in papers.packet
    assert papers.page_count == len(pages) > 3
    for number in (1, len(pages)):
        picture = papers.file(f"packet-page-{number}.svg")
        assert picture is not None
        shown = ElementTree.fromstring(picture).attrib["viewBox"].split()
        assert [round(float(side)) for side in shown[2:]] == [
            round(side) for side in pages[number - 1].mediabox[2:]
        ]
    assert papers.file(f"packet-page-{len(pages) + 1}.svg") is None
    assert papers.file("packet-page-1.txt") is None


class Stopped(Exception):  # noqa: N818 - no error
    """Somebody has seen enough."""


@pytest.mark.parametrize(
    "make",
    [make_papers, lambda plan, step: make_archive(plan, JOB, {FileKind.PDF}, step)],
    ids=["papers", "archive"],
)
def test_a_long_packet_ends_between_two_pieces(
    plan: JobPlan, monkeypatch: pytest.MonkeyPatch, make: Callable[[JobPlan, Step], object]
) -> None:
    monkeypatch.setattr(packet_chapters, "MOST_AT_ONCE", 0)
    told: list[str] = []

    def step(_done: int, _count: int, stage: str) -> None:
        told.append(stage)
        if told.count("pages") == 3:
            raise Stopped

    with pytest.raises(Stopped):
        make(plan, step)
    assert told[-1] == "pages"
