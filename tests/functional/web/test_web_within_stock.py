"""So many sheets on hand: asked on the page of the sheets, answered there while it is looked for, and taken over.

What is answered: tests/unit/web/test_web_within_stock.py.
"""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, ViewportSize, expect

from crates import crates

from .conftest import SIZES, Served, job_text
from .test_web_long_work import trays


@pytest.fixture
def sheets(desk: Page, served: Served) -> Page:
    path = served.add_job(crates(6))
    desk.goto(f"{served.url}{path}/sheets")
    return desk


def ask(page: Page, count: str) -> None:
    page.get_by_label("New sheets of each size, at most").fill(count)
    page.get_by_role("button", name="How many drawers do they yield?").click()


def test_the_drawers_left_out_get_a_day_of_their_own(sheets: Page, served: Served) -> None:
    ask(sheets, "2")
    answer = sheets.locator("#within-stock")
    expect(answer).to_contain_text("No room for: crate 6.", timeout=30_000)
    expect(answer.get_by_label("New sheets of each size, at most")).to_have_value("2")
    sheets.set_viewport_size(ViewportSize(**SIZES["phone"]))
    assert sheets.evaluate("document.documentElement.scrollWidth") <= SIZES["phone"]["width"]
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


@pytest.mark.alone
def test_a_long_count_shows_how_far_it_is_and_is_stopped(desk: Page, served: Served) -> None:
    path = served.add_job(trays("Trays without grain", 40, grain="none", seconds=1))
    desk.goto(f"{served.url}{path}/sheets")
    desk.get_by_label("New sheets of each size, at most").fill("1", timeout=30_000)
    desk.get_by_role("button", name="How many drawers do they yield?").click()
    answer = desk.locator("#within-stock")
    expect(answer.locator("progress[max]")).to_be_visible(timeout=30_000)
    expect(answer).to_contain_text(re.compile(r"[1-9] of \d+ plans tried"))
    answer.get_by_role("button", name="Stop").click()
    expect(answer.get_by_role("button", name="How many drawers do they yield?")).to_be_visible()
    expect(answer.get_by_role("heading")).to_have_count(0)
