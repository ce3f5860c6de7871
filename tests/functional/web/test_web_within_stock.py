"""So many sheets on hand: how many drawers they give, asked and answered on the page of the sheets."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from crates import crates

from .conftest import PATIENCE_MS, SIZES, Served, job_text
from .test_web_long_work import trays


@pytest.fixture
def sheets(desk: Page, served: Served) -> Page:
    path = served.add_job(crates(6))
    desk.goto(f"{served.url}{path}/sheets")
    return desk


def ask(page: Page, count: str) -> None:
    page.get_by_label("New sheets of each size, at most").fill(count)
    page.get_by_role("button", name="How many drawers do they yield?").click()


def test_two_sheets_give_five_of_six_crates(sheets: Page) -> None:
    ask(sheets, "2")
    answer = sheets.locator("#within-stock")
    expect(answer.get_by_role("heading")).to_have_text(
        "2 new sheets of each size yield 5 of 6 drawers.", timeout=30_000
    )
    expect(answer).to_contain_text("To make: crate 1, crate 2, crate 3, crate 4, crate 5.")
    expect(answer).to_contain_text("No room for: crate 6.")
    expect(answer).to_contain_text("Running short: ash15.")
    expect(answer.get_by_role("row").nth(1)).to_have_text(re.compile(r"1000 × 500\smm\s*2\s*0\s*$"))
    # Both sheets hold a column of 400 and of 292.6 by 90 each, or one holds three columns and one a single one.
    expect(answer).to_contain_text(re.compile(r"worth keeping: (301\.4\smm × 500|597\.0\smm × 500)"))
    expect(answer.get_by_label("New sheets of each size, at most")).to_have_value("2")
    ask(sheets, "0")
    expect(answer).to_contain_text("do not yield a single drawer")
    ask(sheets, "4")
    expect(answer.get_by_role("heading")).to_have_text("4 new sheets of each size yield 6 of 6 drawers.")
    expect(answer).not_to_contain_text("No room")


def test_the_drawers_left_out_get_a_day_of_their_own(sheets: Page, served: Served) -> None:
    ask(sheets, "2")
    sheets.get_by_role("button", name="Make these on day 1 and the rest on day 2").click(timeout=30_000)
    days = sheets.get_by_role("region", name="Day by day").get_by_role("row")
    expect(days.nth(1)).to_contain_text("crate 1, crate 2, crate 3, crate 4, crate 5", timeout=30_000)
    expect(days.nth(1).get_by_role("cell").nth(1)).to_have_text("2")
    expect(days.nth(2)).to_contain_text("crate 6")
    assert "\ndays:\n  - [crate 1, crate 2, crate 3, crate 4, crate 5]\n  - [crate 6]\n" in job_text(
        sheets, served
    )
    ask(sheets, "0")
    expect(sheets.locator("#within-stock")).to_contain_text("do not yield a single drawer", timeout=30_000)
    expect(sheets.get_by_role("button", name="Make these on day 1")).to_have_count(0)


def test_what_is_no_number_of_sheets_is_refused_beside_its_field(sheets: Page) -> None:
    ask(sheets, "two")
    fault = sheets.locator("#fault-on-hand")
    expect(fault).to_have_text("The number of sheets must be a whole number from 0 to 999, not 'two'.")
    expect(sheets.locator("#on-hand")).to_have_value("two")
    ask(sheets, "")
    expect(fault).to_have_text("Say how many sheets you have: the job sets no limit for any size.")


def test_a_job_that_its_sheets_do_not_hold_says_what_they_do_hold(
    browser: Browser, served: Served, tmp_path: Path
) -> None:
    context = browser.new_context(viewport=SIZES["phone"], locale="de-DE")
    context.set_default_timeout(PATIENCE_MS)
    page = context.new_page()
    file = tmp_path / "crates.yaml"
    file.write_text(crates(6, on_hand=1), encoding="utf-8")
    page.goto(served.url)
    page.locator("input[type=file]").set_input_files(file)
    page.get_by_role("button", name="Importieren").click()
    page.wait_for_url("**/glance")
    page.goto(page.url.replace("/glance", "/sheets"))
    expect(page.get_by_role("heading", name="Das lässt sich nicht planen")).to_be_visible(timeout=30_000)
    page.get_by_role("button", name="Wie viele Schubladen ergeben sie?").click()
    answer = page.locator("#within-stock")
    expect(answer.get_by_role("heading")).to_have_text(
        "Die vorrätigen Platten reichen für 2 von 6 Schubladen.", timeout=30_000
    )
    expect(answer).to_contain_text("Kein Platz für: crate 3, crate 4, crate 5, crate 6.")
    expect(answer.get_by_role("button")).to_have_count(1)  # a second day would have no sheets
    assert page.evaluate("document.documentElement.scrollWidth") <= SIZES["phone"]["width"]
    context.close()


@pytest.mark.alone
def test_a_long_count_shows_how_far_it_is_and_is_stopped(desk: Page, served: Served) -> None:
    path = served.add_job(trays("Trays without grain", 24, grain="none", seconds=1))
    desk.goto(f"{served.url}{path}/sheets")
    desk.get_by_label("New sheets of each size, at most").fill("1", timeout=30_000)
    desk.get_by_role("button", name="How many drawers do they yield?").click()
    answer = desk.locator("#within-stock")
    expect(answer.locator("progress[max]")).to_be_visible(timeout=30_000)
    expect(answer).to_contain_text(re.compile(r"[1-9] of \d+ questions answered"))
    answer.get_by_role("button", name="Stop").click()
    expect(answer.get_by_role("button", name="How many drawers do they yield?")).to_be_visible()
    expect(answer.get_by_role("heading")).to_have_count(0)
