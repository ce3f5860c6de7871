"""From an empty data folder to a downloaded packet, at the desk and on the phone."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from pypdf import PdfReader

from .conftest import Served, new_context

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


@pytest.mark.parametrize("size", ["desk", "phone"])
def test_twelve_entries_to_a_packet(browser: Browser, served: Served, size: str, tmp_path: Path) -> None:
    """And no more than four clicks."""
    context = new_context(browser, size, accept_downloads=True)
    page = context.new_page()
    page.add_init_script(COUNT_CLICKS)
    page.goto(served.url)
    page.get_by_role("link", name="New job").click()
    for name, text in ENTRIES.items():
        page.locator(f"#{name}").fill(text)
    page.get_by_role("button", name="Start the job").click()
    expect(page.get_by_role("heading", name="Known and missing")).to_be_visible()
    expect(page.locator("figure svg:visible").first).to_be_visible()
    page.get_by_role("link", name="Papers").click()
    with page.expect_download(timeout=60_000) as waiting:
        page.get_by_role("link", name="Download the packet").click()
    assert 0 < page.evaluate("clicks()") <= MOST_CLICKS
    target = tmp_path / "packet.pdf"
    waiting.value.save_as(target)
    assert waiting.value.suggested_filename == "Trays-of-the-print-room-packet.pdf"
    words = "".join(sheet.extract_text() for sheet in PdfReader(target).pages).replace(
        "\N{NO-BREAK SPACE}", " "
    )
    assert "Trays of the print room" in words
    assert "14.65 mm" in words, "the mean of the two readings"
    previews = page.locator(".preview img")
    expect(previews).to_have_count(len(PdfReader(target).pages))
    previews.last.scroll_into_view_if_needed()
    expect(previews.last).to_have_js_property("complete", True)
    assert previews.last.evaluate("picture => picture.naturalWidth") > 0
    context.close()


def test_archive_holds_the_very_job_file(desk: Page, served: Served) -> None:
    path = served.add_example()
    answer = desk.request.get(f"{served.url}{path}/papers/all.zip", timeout=60_000)
    archive = zipfile.ZipFile(io.BytesIO(answer.body()))
    source = Path(__file__).parents[3] / "examples" / "music-school.yaml"
    assert archive.read("job.yaml") == source.read_bytes()
    assert {"packet.pdf", "plan.json", "parts.csv"} <= set(archive.namelist())
    assert sum(name.endswith(".dxf") for name in archive.namelist()) >= 5
    chosen = desk.request.get(f"{served.url}{path}/papers/all.zip?files=csv,xlsx", timeout=60_000)
    names = zipfile.ZipFile(io.BytesIO(chosen.body())).namelist()
    assert names == ["job.yaml", "parts.csv", "cuts.csv", "job.xlsx", "plan.json"]
    assert desk.request.get(f"{served.url}{path}/papers/all.zip?files=doc").status == 422


def test_guided_start_says_what_is_wrong_beside_each_field(desk: Page, served: Served) -> None:
    desk.goto(f"{served.url}/jobs/new")
    for name, text in ENTRIES.items():
        desk.locator(f"#{name}").fill(text)
    desk.locator("#step").fill("wide")
    desk.locator("#count").fill("many")
    desk.get_by_role("button", name="Start the job").click()
    expect(desk.locator("#fault-step")).to_contain_text("cannot read 'wide' as a length")
    expect(desk.locator("#fault-count")).to_contain_text("whole number")
    expect(desk.locator("#step")).to_have_value("wide")
    expect(desk.locator("#fault-width")).to_have_text("")
