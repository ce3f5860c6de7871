"""The packets of the examples as they are printed, read back with pdfplumber and pypdf."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import pypdf
import pytest

from drawerwright.job.file.building import read_job
from drawerwright.job.papers.packet_pages import plan_packet
from drawerwright.job.planning.job_plan import open_job, plan_job
from drawerwright.web.reader.words import wording
from printed_text import MM, block_texts, overlapping_letters, page_texts
from read_paper import bar_lengths, ink_depths, pages_of, used_height

EXAMPLES = Path(__file__).parents[2] / "examples"
JOBS = ("music-school", "repair-bench")


@lru_cache
def packet(job: str) -> bytes:
    return plan_packet(plan_job(open_job(EXAMPLES / f"{job}.yaml")))


def page(job: str, number: int) -> Any:
    """A page by its number, from 1, with its letters and lines."""
    return pages_of(packet(job), [number])[0]


def numbers_with(job: str, words: str) -> list[int]:
    """The pages that say this."""
    return [number for number, text in enumerate(page_texts(packet(job)), 1) if words in text]


@pytest.mark.parametrize(("job", "unit"), [("music-school", "mm"), ("repair-bench", "in")])
def test_every_page_has_its_title_block(job: str, unit: str) -> None:
    """The fields of ISO 7200, and those that a workshop adds."""
    blocks = block_texts(packet(job))
    for number, text in enumerate(blocks, 1):
        for words in ("Job", "Drawing", "Scale", f"Unit {unit}", "Revision", "Print at 100 %"):
            assert words in text, (number, words)
        assert re.search(r"Date \d{4}-\d\d-\d\d", text)
        assert f"Drawing sheet {number} of {len(blocks)}" in text
        assert re.search(r"Drawing (?!sheet \d)\S+ .*Date", text), f"page {number} has no name"


def chapters(pdf: bytes) -> dict[int, list[str]]:
    """What begins on each page, from 0, by the bookmarks."""
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    begins: dict[int, list[str]] = {}
    for entry in reader.outline:
        if not isinstance(entry, list):
            begins.setdefault(reader.get_destination_page_number(entry) or 0, []).append(str(entry.title))
    return begins


def short_pages(pdf: bytes) -> list[tuple[int, float]]:
    """Pages less than half used that are not the last before one on which a chapter begins."""
    begins = chapters(pdf)
    used = list(ink_depths(pdf))[:-1]
    return [(at + 1, depth) for at, depth in enumerate(used) if depth < 0.5 and at + 1 not in begins]


@pytest.mark.parametrize("job", JOBS)
def test_no_page_is_less_than_half_used_but_the_last_of_its_kind(job: str) -> None:
    """By the bookmarks: only a page before one that begins a chapter may be short."""
    assert len(chapters(packet(job))) > 10
    assert short_pages(packet(job)) == []


BENCH_JOB = """\
boxes:
  - name: Chest
    count: 2
    outer: {width: 400, depth: 300, height: 120}
    joint: {kind: finger, finger: 10}
    box: {all: birch15}
    bottom: {stock: birch6}
  - name: Tray
    outer: {width: 300, depth: 250, height: 80}
    joint: rebate
    box: {all: birch15}
    bottom: {stock: birch6}
"""


def test_papers_of_a_short_job_share_pages() -> None:
    """Fingers and a rebate, in German: each corner had half a page for itself among the fronts, and each paper of the
    bench began a page. A card is half full at least, and glue-up begins below the order of work or beside the lists."""
    head = (EXAMPLES / "music-school.yaml").read_text("utf-8").partition("banks:")[0]
    job = read_job(head + BENCH_JOB)
    german = replace(job, style=replace(job.style, wording=wording("de")))
    pdf = plan_packet(plan_job(german, time_limit=0.1))
    begins, used = chapters(pdf), list(ink_depths(pdf))
    assert short_pages(pdf) == []
    for place, titles in begins.items():
        if titles[0].startswith("Ecke vorn"):
            assert used[place] > 0.5
    work, glue = (
        next(place for place, titles in begins.items() if title in titles)
        for title in ("Arbeitsablauf", "Verleimen")
    )
    assert glue <= work + 2
    assert len(used) <= 14


def test_where_ink_ends_is_read_as_another_reader_does() -> None:
    """The quick reading of a page's depth against pdfplumber's."""
    quick = list(ink_depths(packet("music-school")))
    for number in (1, 3, 7, 15, len(quick)):
        assert quick[number - 1] == pytest.approx(used_height(page("music-school", number)), abs=0.01)


@pytest.mark.parametrize("job", JOBS)
def test_each_set_up_has_one_page(job: str) -> None:
    """By the bookmarks: the entry after a card begins on the page after it."""
    reader = pypdf.PdfReader(io.BytesIO(packet(job)))
    entries = [
        (e.title, reader.get_destination_page_number(e)) for e in reader.outline if not isinstance(e, list)
    ]
    cards = [place for place, (title, _page) in enumerate(entries) if str(title).startswith("Set-up")]
    assert cards
    for place in cards:
        assert entries[place + 1][1] == entries[place][1] + 1  # type: ignore[operator]


def test_papers_of_one_plan_have_one_mark() -> None:
    marks = {
        mark for text in block_texts(packet("music-school")) for mark in re.findall(r"Revision (\S+)", text)
    }
    assert len(marks) == 1
    assert re.fullmatch("[0-9a-f]{6}", marks.pop())


def test_the_packet_is_made_for_archives_and_for_readers_who_hear_it() -> None:
    """What a file claims of ISO 19005-2 (level A) and ISO 14289-1, and what both ask: tags, a language, a title, and
    words for each picture. The typesetter refuses to write a file that would break them."""
    reader = pypdf.PdfReader(io.BytesIO(packet("music-school")))
    claims = reader.trailer["/Root"]["/Metadata"].get_data().decode()  # type: ignore[index]
    assert re.search(r"pdfaid:part>2<", claims)
    assert re.search(r"pdfaid:conformance>A<", claims)
    assert re.search(r"pdfuaid:part>1<", claims)
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]  # type: ignore[index]
    assert root["/Lang"] == "en"  # type: ignore[index]
    figures = _figures(root["/StructTreeRoot"])  # type: ignore[index]
    assert len(figures) > 10
    assert all(figure.get("/Alt") for figure in figures)


def _figures(node: Any) -> list[Any]:
    node = node.get_object() if hasattr(node, "get_object") else node
    if isinstance(node, list):
        return [figure for kid in node for figure in _figures(kid)]
    if not isinstance(node, dict):
        return []
    own = [node] if node.get("/S") == "/Figure" else []
    return own + _figures(node.get("/K", []))


@pytest.mark.parametrize("job", JOBS)
def test_no_letter_lies_on_another(job: str) -> None:
    assert overlapping_letters(packet(job)) == []


def test_letters_that_lie_on_each_other_are_seen() -> None:
    """Two words of one page, the second half a letter beside the first and then a line below it."""
    written = "BT /F 12 Tf 72 {height} Td (fence) Tj 3 {down} Td (height) Tj ET"
    assert overlapping_letters(_paper(written.format(height=700, down=0)))
    assert overlapping_letters(_paper(written.format(height=700, down=-15))) == []


def _paper(content: str) -> bytes:
    """A PDF of one page with this content, lettered in a typeface that every reader has."""
    writer = pypdf.PdfWriter()
    sheet = writer.add_blank_page(width=595, height=842)
    name = pypdf.generic.NameObject
    font = {"/Type": "/Font", "/Subtype": "/Type1", "/BaseFont": "/Helvetica"}
    face = pypdf.generic.DictionaryObject({name(key): name(value) for key, value in font.items()})
    fonts = pypdf.generic.DictionaryObject({name("/F"): face})
    sheet[name("/Resources")] = pypdf.generic.DictionaryObject({name("/Font"): fonts})
    stream = pypdf.generic.DecodedStreamObject()
    stream.set_data(content.encode())
    sheet[name("/Contents")] = writer._add_object(stream)
    paper = io.BytesIO()
    writer.write(paper)
    return paper.getvalue()


def test_the_rule_on_a_story_stick_is_true_on_paper() -> None:
    """Its ticks are 10 mm apart: nine of them make 90 mm, to 0.05 mm."""
    stick = page("music-school", numbers_with("music-school", "piece 1 of")[0])
    short = [line for line in stick.lines if abs(line["width"] * MM - 2.0) < 0.01]
    left = min(line["x0"] for line in short)
    ticks = sorted({round(line["top"] * MM, 3) for line in short if abs(line["x0"] - left) < 0.1})
    assert len(ticks) > 12
    steps = [b - a for a, b in pairwise(ticks) if b - a < 15.0]
    assert steps == pytest.approx([10.0] * len(steps), abs=0.05)


@pytest.mark.parametrize("job", JOBS)
def test_check_bars_are_true_on_paper(job: str) -> None:
    """100 mm, and 4 in for readers of inches, to 0.05 mm."""
    cards = numbers_with(job, "must measure")
    assert cards
    for number in cards:
        lengths = list(bar_lengths(page(job, number)))
        for wanted in (100.0,) if job == "music-school" else (100.0, 101.6):
            assert any(abs(length - wanted) <= 0.05 for length in lengths)
