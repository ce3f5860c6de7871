"""What the pages promise about the list of jobs, measured stock, the live corner and the next reading."""

from __future__ import annotations

import sys
import time
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from .conftest import Served
from .test_web_lost_and_found import steps_done

NAME = 'Chest "A" <b>&</b> more'
TEXT = f"""\
# A job of nobody's but mine: “Ähre”, 3/4″  # and so on
format: 1
job:   '{NAME}'   # the name
cutter: {{mid_depth: 6, step: 4}}
"""
PX_PER_MM = 96 / 25.4
"""By definition of the CSS inch (CSS Values and Units, absolute lengths)."""


@pytest.mark.alone
def test_jobs_come_go_and_come_back(desk: Page, served: Served, tmp_path: Path) -> None:
    file = tmp_path / "chest.yml"
    file.write_bytes(TEXT.encode())
    desk.goto(served.url)
    desk.locator("input[type=file]").set_input_files(file)
    desk.get_by_role("button", name="Import").click()
    desk.wait_for_url("**/glance")
    desk.goto(served.url)
    card = desk.locator(".job-card")
    expect(card.get_by_role("heading")).to_have_text(NAME)
    with desk.expect_download() as waiting:
        card.get_by_role("link", name="Export").click()
    assert waiting.value.path().read_bytes() == TEXT.encode()
    card.get_by_role("button", name="Duplicate").click()
    desk.wait_for_url("**/glance")
    desk.goto(served.url)
    expect(card).to_have_count(2)
    card.first.get_by_role("button", name="Delete").click()
    expect(card).to_have_count(1)
    desk.get_by_role("button", name="Undo").click()
    expect(card).to_have_count(2)
    expect(desk.locator("b")).to_have_count(0)


def test_a_file_too_large_to_send_is_refused_with_a_way_on(
    desk: Page, shared: Served, example_job: str, tmp_path: Path
) -> None:
    """The answer comes while the browser still sends; tests/unit/web/test_web_imported_files.py tries other files."""
    file = tmp_path / "large.yaml"
    file.write_bytes(b"#" * 3_000_000)
    desk.goto(shared.url)
    desk.locator("input[type=file]").set_input_files(file)
    desk.get_by_role("button", name="Import").click()
    expect(desk.get_by_text("larger than 2,000,000 bytes")).to_be_visible()
    desk.goto(shared.url)
    expect(desk.locator(".job-card a").first).to_have_attribute("href", example_job)
    expect(desk.locator(".job-card")).to_have_count(1)


def test_caliper_targets_follow_the_law(desk: Page, served: Served) -> None:
    """Mid depth 6, step 4, stock of 15: tight at 12, to be set to 11.9, so 3.1 is left; the fence splits 15 + 4."""
    desk.goto(f"{served.url}/corner")
    table = desk.get_by_role("table").filter(has_text="fits from – to")
    expect(table.get_by_role("row", name="roof, left over the cut")).to_contain_text("3.10 mm")
    for row, length in (("deepest cut", 9.5), ("shallow cut", 5.5), ("neck", 5.5), ("head", 9.5)):
        expect(table.get_by_role("row", name=row)).to_contain_text(f"{length:.2f} mm")
    desk.locator("#bit_height").fill("11.8")
    expect(table.get_by_role("row", name="roof, left over the cut").locator("td")).to_have_text(
        ["3.20 mm high", "3.10 mm", "3.00 mm – 3.15 mm"]
    )


def test_the_corner_is_printed_at_its_true_size(desk: Page, served: Served) -> None:
    desk.goto(f"{served.url}/corner")
    expect(desk.locator("#verdict")).to_be_visible()
    desk.get_by_role("button", name="Print at 1:1").click()
    bar = desk.locator(".true-bar path")
    expect(bar).to_be_visible()
    assert bar.evaluate("bar => bar.getBBox().width * bar.getScreenCTM().a") == pytest.approx(
        100 * PX_PER_MM, rel=1e-3
    )
    per_mm = desk.locator(".true-size svg.drawing").evaluate("svg => svg.getScreenCTM().a")
    assert per_mm == pytest.approx(PX_PER_MM, rel=1e-3)


def test_a_run_is_worked_through_by_keyboard(desk: Page, served: Served) -> None:
    path = served.add_example()
    desk.goto(f"{served.url}{path}/run?view=one")
    desk.locator("#tick-0").wait_for(timeout=30_000)
    desk.locator("#tick-0").focus()
    desk.keyboard.press("Space")
    expect(desk.get_by_text(steps_done(1))).to_be_visible()
    expect(desk.locator("#tick-0")).to_be_focused()
    desk.keyboard.press("Space")
    expect(desk.get_by_text(steps_done(0))).to_be_visible()
    desk.get_by_role("button", name="I have read this").press("Enter")
    desk.get_by_role("button", name="Done, next").press("Enter")
    expect(desk.locator("#tick-1")).to_be_visible()


def test_the_app_opens_the_browser_when_asked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Python's `webbrowser` starts what BROWSER names: here something that notes the address."""
    noted = tmp_path / "noted"
    opener = tmp_path / "opener.py"
    opener.write_text(f"import pathlib, sys\npathlib.Path({str(noted)!r}).write_text(sys.argv[1])\n", "utf-8")
    monkeypatch.setenv("BROWSER", f"{sys.executable} {opener} %s")
    server = Served(tmp_path / "data", "--open")
    try:
        for _wait in range(250):
            if noted.exists() and noted.read_text("utf-8"):
                break
            time.sleep(0.02)
        assert noted.read_text("utf-8") == f"{server.url}/"
    finally:
        server.stop()


TO_TYPE = "main :is(input:not([type=hidden]), textarea, select):visible"


@pytest.mark.parametrize("page", ["import", "text", "papers"])
def test_a_page_on_paper_has_nothing_to_fill_in(
    desk: Page, shared: Served, example_job: str, page: str
) -> None:
    desk.goto(f"{shared.url}{example_job}/{page}")
    expect(desk.locator(TO_TYPE).first).to_be_visible(timeout=30_000)
    desk.emulate_media(media="print")
    expect(desk.locator(TO_TYPE)).to_have_count(0)


def test_the_job_file_is_printed_to_its_last_line(desk: Page, shared: Served, example_job: str) -> None:
    desk.goto(f"{shared.url}{example_job}/text")
    text = desk.locator("#job-text").input_value()
    desk.emulate_media(media="print")
    printed = desk.locator("main pre")
    expect(printed).to_be_visible()
    assert printed.text_content() == text
    assert printed.evaluate("printed => printed.scrollHeight <= printed.clientHeight + 1")
