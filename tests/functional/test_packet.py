"""The shop packet as PDF, read back with pypdf: true sizes on paper, words that stay words, pages in order."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import replace
from xml.etree import ElementTree

import pypdf
import pytest

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.uncertain import Estimate
from drawerwright.drawers.parts import Role
from drawerwright.drawings import packet_chapters
from drawerwright.drawings.checkbar import draw_check_bar
from drawerwright.drawings.corner_section import draw_corner
from drawerwright.drawings.packet import (
    Figure,
    Packet,
    PacketTable,
    SetupCard,
    SheetPage,
    WorkPhase,
    WorkStep,
)
from drawerwright.drawings.printing import ToldPacket
from drawerwright.drawings.setup import draw_pass
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.setting import CornerGeometry, set_corner

POINTS_PER_MM = 72 / 25.4
"""PDF user space: 1/72 inch by default (ISO 32000-2, 8.3.2.3)."""
WICKED = '#panic("x") *bold* $1$ <b> \\ "1 ⅛″" ½ × ± − [a] @ref'

SETTING = set_corner(
    Cutter(
        "drawer-lock",
        mid_depth=Estimate(5.5),
        step=Estimate(3.6),
        slope=Estimate(50.0),
        diameter=45.0,
    ),
    CornerGeometry(16.2, 13.7, 4.0),
)


def packet(drawers: int = 3, job: str = "Reed cupboard") -> Packet:
    card = SetupCard(
        title="Set-up 1",
        values=(("bit height", "11.00 mm"), ("fence", "9.15 mm")),
        drawing=draw_pass(SETTING, Role.FLAT),
        corners=(Figure(draw_corner(SETTING, scale=1.0, annotated=False), "front corner"),),
        targets=PacketTable(("reading", "expect"), (("roof", "5.20 ± 0.05 mm"),), "Caliper targets"),
        remedies=PacketTable(("off by", "do"), (("+0.1 mm", "raise 0.1 mm"),), "When it is off"),
        cautions=("Feed against the rotation of the cutter.",),
    )
    parts = tuple((f"D{n} left side", "412.30 mm", "96.4 mm") for n in range(drawers))
    return Packet(
        job=job,
        findings=(Finding("thin-neck", Severity.WARNING, "front corner", "neck 3.1 mm.", "Split anew."),),
        sheets=(SheetPage("ash ply: sheet 1 of 1", draw_check_bar(200.0)),),
        cards=(card, card),
        parts=PacketTable(("part", "length", "width"), parts, ticks=True),
        work=(WorkPhase("At the saw", tuple(WorkStep(f"Rip band {n}") for n in range(drawers))),),
    )


def read(pdf: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(pdf))


def words(page: pypdf.PageObject) -> str:
    return re.sub(r"\s+", " ", page.extract_text())


def drawn_shapes(page: pypdf.PageObject) -> Iterator[tuple[float, float]]:
    """Width and height on paper (mm) of every path of a page, its transformations applied."""
    contents = page.get_contents()
    assert contents is not None
    now, kept = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0), []
    shape: list[tuple[float, float]] = []
    for raw, operator in contents.operations:
        if operator == b"q":
            kept.append(now)
        elif operator == b"Q":
            now = kept.pop()
        elif operator == b"cm":
            a, b, c, d, e, f = map(float, raw)
            p, q, r, s, t, u = now
            now = (
                a * p + b * r,
                a * q + b * s,
                c * p + d * r,
                c * q + d * s,
                e * p + f * r + t,
                e * q + f * s + u,
            )
        elif operator in (b"m", b"l"):
            x, y = map(float, raw)
            point = (x * now[0] + y * now[2] + now[4], x * now[1] + y * now[3] + now[5])
            shape = [point] if operator == b"m" else [*shape, point]
        elif operator in (b"S", b"s", b"f", b"f*", b"B", b"B*", b"b", b"b*") and shape:
            xs, ys = [x for x, _ in shape], [y for _, y in shape]
            yield (max(xs) - min(xs)) / POINTS_PER_MM, (max(ys) - min(ys)) / POINTS_PER_MM
            shape = []


@pytest.fixture(scope="module")
def pages() -> list[pypdf.PageObject]:
    return list(read(ToldPacket.of(packet()).pdf()).pages)


def card_of(pages: list[pypdf.PageObject]) -> pypdf.PageObject:
    return next(page for page in pages if "Set-up 1" in words(page))


def test_pages_are_a4(pages: list[pypdf.PageObject]) -> None:
    """ISO 216: A4 is 210 mm by 297 mm."""
    for page in pages:
        sides = sorted((float(page.mediabox.width), float(page.mediabox.height)))
        assert sides == pytest.approx([210 * POINTS_PER_MM, 297 * POINTS_PER_MM], abs=0.1)


def test_the_check_bar_is_100_mm_on_paper(pages: list[pypdf.PageObject]) -> None:
    assert any(width == pytest.approx(100.0, abs=0.01) for width, _ in drawn_shapes(card_of(pages)))


def test_the_corner_has_its_true_size_on_paper(pages: list[pypdf.PageObject]) -> None:
    """The flat piece is 16.2 mm thick and the upright 13.7 mm: so thick do both pieces lie on the page."""
    shapes = list(drawn_shapes(card_of(pages)))
    assert any(height == pytest.approx(16.2, abs=0.01) for _, height in shapes)
    assert any(width == pytest.approx(13.7, abs=0.01) for width, _ in shapes)


def test_each_card_has_a_page_of_its_own(pages: list[pypdf.PageObject]) -> None:
    cards = [page for page in pages if "Set-up 1" in words(page)]
    assert len(cards) == 2
    for card in cards:
        text = words(card)
        assert "Caliper targets" in text
        assert "When it is off" in text
        assert "Before you switch on" in text


def test_every_page_says_the_job_and_its_number(pages: list[pypdf.PageObject]) -> None:
    for number, page in enumerate(pages, start=1):
        assert "Reed cupboard" in words(page)
        assert f"Drawing sheet {number} of {len(pages)}" in words(page)


def test_whatever_a_job_is_called_stays_text() -> None:
    first = words(read(ToldPacket.of(packet(job=WICKED)).pdf()).pages[0])
    assert WICKED in first
    wicked_table = PacketTable((WICKED, "b"), ((WICKED, "c"),))
    assert WICKED in words(read(ToldPacket.of(Packet(job="x", settings=wicked_table)).pdf()).pages[0])
    assert "Dvorák ?" in words(read(ToldPacket.of(Packet(job="Dvořák 🎻")).pdf()).pages[0])


def test_one_drawer_and_sixty() -> None:
    one, sixty = read(ToldPacket.of(packet(1)).pdf()), read(ToldPacket.of(packet(60)).pdf())
    assert len(sixty.pages) > len(one.pages)
    with_parts = [page for page in sixty.pages if "left side" in words(page)]
    assert len(with_parts) > 1
    for page in with_parts:
        assert "part length width" in words(page), "a long table repeats its head"
    everything = " ".join(words(page) for page in sixty.pages)
    assert all(f"D{n} left side" in everything for n in range(60))


def test_an_empty_packet_is_one_page() -> None:
    assert len(read(ToldPacket.of(Packet(job="Nothing yet")).pdf()).pages) == 1


def test_pages_to_look_at_are_those_of_the_pdf(pages: list[pypdf.PageObject]) -> None:
    """Each page as an SVG of the size that the PDF's page has; sizes in points."""
    pictures = [ElementTree.fromstring(page).attrib for page in ToldPacket.of(packet()).pages()]
    assert len(pictures) == len(pages) > 1
    for picture, page in zip(pictures, pages, strict=True):
        for name, extent in (("width", page.mediabox.width), ("height", page.mediabox.height)):
            assert float(picture[name].removesuffix("pt")) == pytest.approx(float(extent), abs=0.01)


def test_the_same_packet_is_the_same_file() -> None:
    assert ToldPacket.of(packet()).pdf() == ToldPacket.of(packet()).pdf()


def test_letters_are_embedded(pages: list[pypdf.PageObject]) -> None:
    """No viewer may put another typeface in: every font carries its program (ISO 32000-2, 9.9)."""
    for page in pages:
        fonts = page["/Resources"]["/Font"]  # type: ignore[index]
        for name in fonts:
            font = fonts[name].get_object()
            assert "B612" in font["/BaseFont"]
            described = font["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
            assert {"/FontFile2", "/FontFile3"} & set(described)


def test_a_row_of_the_wrong_length_is_refused() -> None:
    with pytest.raises(ValueError, match="2 columns"):
        PacketTable(("a", "b"), (("only one",),))


def test_a_chapter_may_begin_with_a_table(monkeypatch: pytest.MonkeyPatch) -> None:
    """Its heading is a lower one, as the drawers' sizes after the parts of a job of thousands have."""
    monkeypatch.setattr(packet_chapters, "MOST_AT_ONCE", 0)
    sizes = PacketTable(("Drawer", "Width"), (("A1", "300.0 mm"),), title="Drawers, finished sizes")
    bound = pypdf.PdfReader(io.BytesIO(ToldPacket.of(replace(packet(drawers=2), more=(sizes,))).pdf()))
    assert any("Drawers, finished sizes" in page.extract_text() for page in bound.pages)


def test_a_long_packet_set_in_chapters_is_the_same_packet(monkeypatch: pytest.MonkeyPatch) -> None:
    """Words, page sizes and their order against the packet set at once; pages are numbered through."""
    long = packet(drawers=130)
    at_once = pypdf.PdfReader(io.BytesIO(ToldPacket.of(long).pdf()))
    monkeypatch.setattr(packet_chapters, "MOST_AT_ONCE", 0)
    monkeypatch.setattr(packet_chapters, "ROWS", 50)
    bound = pypdf.PdfReader(io.BytesIO(ToldPacket.of(long).pdf()))

    def words(reader: pypdf.PdfReader) -> set[str]:
        lines = {
            line.strip()
            for page in reader.pages
            for line in page.extract_text().replace("\N{NO-BREAK SPACE}", " ").splitlines()
        }
        return {line for line in lines if "Drawing sheet" not in line}

    assert words(bound) == words(at_once)
    sizes = {tuple(map(round, page.mediabox[2:])) for page in bound.pages}
    assert sizes == {tuple(map(round, page.mediabox[2:])) for page in at_once.pages}
    for number, page in enumerate(bound.pages, start=1):
        text = re.sub(r"\s+", " ", page.extract_text())
        assert "Drawing sheet" in text
        assert f"{number} of {len(bound.pages)}" in text
    titles = [str(entry.title) for entry in bound.outline if not isinstance(entry, list)]
    assert titles[0] == long.job
    assert [title for title in titles if title == "Parts"] == ["Parts"] * 3
    assert titles[-1] == "Order of work"


def test_figures_keep_whole_and_a_table_too_wide_for_them_goes_on_below() -> None:
    """Ten columns of 18.609 in ± 0.003 have no room beside each other; no line of the page ends inside one."""
    figure = "18.609 in ± 0.003"
    head = ("Drawer", *(f"Size {n}" for n in range(10)))
    sizes = PacketTable(head, (("D1", *(figure,) * 10),), title="Sizes")
    many = ", ".join(f"Score drawer {n}" for n in range(30))
    found = Finding("thin-neck", Severity.NOTE, many, f"{figure} of neck. " * 12, "Split anew.")
    pages = read(ToldPacket.of(replace(packet(), findings=(found,), more=(sizes,))).pdf()).pages
    shown = [
        line.replace("\N{NO-BREAK SPACE}", " ") for page in pages for line in page.extract_text().split("\n")
    ]
    assert sum(line.count(figure) for line in shown) == 10 + 12
    assert max(line.count(figure) for line in shown if line.startswith("D1")) < 10
    assert sum(line.startswith("D1 " + figure[:2]) for line in shown) > 1


@pytest.mark.parametrize("above", range(48, 54))
def test_no_row_of_a_short_table_stands_on_a_page_alone(above: int) -> None:
    """Whatever stands above it, all four rows are on one page."""
    first = PacketTable(("Part",), tuple((f"P{n}",) for n in range(above)), title="Parts of all drawers")
    short = PacketTable(("Plan", "Moves"), tuple((f"fence plan {n}", "1") for n in range(4)), title="Plans")
    pages = read(ToldPacket.of(Packet(job="Reed cupboard", parts=first, more=(short,))).pdf()).pages
    counts = [words(page).count("fence plan") for page in pages]
    assert sorted(filter(None, counts)) == [4]
