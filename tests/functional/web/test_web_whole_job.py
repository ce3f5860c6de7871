"""From an empty data folder to a downloaded packet, at the desk and on the phone."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Locator, Page, ViewportSize, expect
from pypdf import PdfReader

from .conftest import SIZES, Served

ENTRIES = {
    "job": "Trays of the print room",
    "mid_depth": "6,05",
    "step": "3.9",
    "nominal": "15",
    "measured": "14.7; 14.6",
    "length": "2500",
    "width": "1250",
    "bottom": "6.5",
    "opening_width": '18 1/2"',
    "opening_height": "600",
    "opening_depth": "45 cm",
    "count": "4",
}
"""Twelve entries, some with a comma, inches and centimetres."""
MOST_CLICKS = 4
COUNT_CLICKS = """window.clicks = () => Number(sessionStorage.getItem("clicks"));
    window.addEventListener("click", () => sessionStorage.setItem("clicks", window.clicks() + 1), true);"""


def at_each_size(page: Page, *wanted: Locator) -> None:
    """What comes next is to be seen at the desk and on a phone, where the page is left."""
    for size in ("desk", "phone"):
        page.set_viewport_size(ViewportSize(**SIZES[size]))
        for place in wanted:
            expect(place).to_be_visible()


def test_twelve_entries_to_a_packet(phone: Page, served: Served, tmp_path: Path) -> None:
    """And no more than four clicks."""
    page = phone
    page.add_init_script(COUNT_CLICKS)
    page.goto(served.url)
    begin = page.get_by_role("link", name="New job")
    at_each_size(page, begin)
    begin.click()
    for name, text in ENTRIES.items():
        page.locator(f"#{name}").fill(text)
    start = page.get_by_role("button", name="Start the job")
    at_each_size(page, start)
    start.click()
    papers = page.get_by_role("link", name="Papers")
    at_each_size(page, page.get_by_role("heading", name="Known and missing"), papers)
    at_each_size(page, page.locator("figure svg:visible").first)
    papers.click()
    with page.expect_download(timeout=60_000) as waiting:
        page.get_by_role("link", name="Download the packet").click()
    assert 0 < page.evaluate("clicks()") <= MOST_CLICKS
    target = tmp_path / "packet.pdf"
    waiting.value.save_as(target)
    assert waiting.value.suggested_filename == "Trays-of-the-print-room-packet.pdf"
    sheets = PdfReader(target).pages
    words = sheets[0].extract_text().replace("\N{NO-BREAK SPACE}", " ")
    assert "Trays of the print room" in words
    assert "14.65 mm" in "".join(sheet.extract_text() for sheet in sheets).replace(
        "\N{NO-BREAK SPACE}", " "
    ), "the mean of the two readings"
    previews = page.locator(".preview img")
    expect(previews).to_have_count(len(sheets))
    previews.last.scroll_into_view_if_needed()
    expect(previews.last).to_have_js_property("complete", True)
    assert previews.last.evaluate("picture => picture.naturalWidth") > 0
