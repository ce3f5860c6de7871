"""A job split into days: sheets, order of work and papers of each day on the pages."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from crates import crates

from .conftest import Served

JOB = crates(2, on_hand=1, has_tray=True, days="[[crate], [tray]]")
"""One sheet holds the crates of the first day, and its offcut the tray of the second."""


@pytest.fixture
def crates(served: Served) -> str:
    """The address of the job."""
    return served.url + served.add_job(JOB)


def test_each_day_has_its_sheets_its_order_of_work_and_its_papers(desk: Page, crates: str) -> None:
    desk.goto(f"{crates}/sheets")
    table = desk.get_by_role("region", name="Day by day").get_by_role("table")
    expect(table.get_by_role("row")).to_have_count(3)
    expect(table.get_by_role("row").nth(2)).to_contain_text("tray")
    expect(desk.get_by_text("This page shows day 1: crate 1, crate 2.")).to_be_visible()
    expect(desk.locator(".sheet-drawing .at-desk").get_by_text("tray front", exact=True)).to_have_count(0)
    desk.get_by_label("New sheets of each size, at most").fill("1")
    desk.get_by_role("button", name="How many drawers do they yield?").click()
    answer = desk.locator("#within-stock").get_by_role("heading")
    expect(answer).to_have_text("1 new sheet of each size yields 2 of 2 drawers.", timeout=30_000)
    desk.get_by_role("navigation", name="Days of the job").get_by_role("link", name="Day 2").click()
    expect(desk.get_by_text("This page shows day 2: tray.")).to_be_visible()
    expect(desk.locator(".sheet-head p")).to_contain_text("of day 1")
    expect(
        desk.locator(".sheet-drawing .at-desk").get_by_text("tray front", exact=True).first
    ).to_be_visible()

    desk.goto(f"{crates}/run?day=2")
    expect(desk.get_by_text("This page shows day 2: tray.")).to_be_visible()
    first = desk.locator("li.step").first
    first.get_by_role("checkbox").check()
    expect(desk.locator(".run-head strong")).to_contain_text("1 of ")
    desk.goto(f"{crates}/run")
    expect(desk.locator(".run-head strong")).to_contain_text("0 of ")

    desk.goto(f"{crates}/run?day=2")
    desk.get_by_role("link", name="Drawing of the sheet").first.click()
    expect(desk.get_by_text("This page shows day 2: tray.")).to_be_visible()

    desk.goto(f"{crates}/papers?day=2")
    expect(desk.get_by_role("heading", name="Packet for the shop")).to_be_visible(timeout=30_000)
    parts = desk.request.get(f"{crates}/papers/parts.csv?day=2").text()
    assert "tray front" in parts
    assert "crate" not in parts
    with desk.expect_download() as taken:
        desk.get_by_role("link", name="Download the packet (PDF)").click()
    assert taken.value.suggested_filename.endswith("-day-2-packet.pdf")


def test_the_chosen_day_goes_along_to_the_other_pages(desk: Page, crates: str) -> None:
    tabs = desk.get_by_role("navigation", name="Pages of this job")
    days = desk.get_by_role("navigation", name="Days of the job")
    drawers = {1: "crate 1, crate 2", 2: "tray"}

    def shows(day: int) -> None:
        expect(desk.get_by_text(f"This page shows day {day}: {drawers[day]}.")).to_be_visible(timeout=30_000)
        expect(days.locator("[aria-current=page]")).to_contain_text(f"Day {day}")

    desk.goto(f"{crates}/sheets")
    shows(1)
    days.get_by_role("link", name="Day 2").click()
    shows(2)
    for page in ("Run", "Papers", "Sheets"):
        tabs.get_by_role("link", name=page).click()
        expect(desk.get_by_role("heading", name=page, level=1)).to_be_visible()
        shows(2)
    tabs.get_by_role("link", name="Corner").click()
    tabs.get_by_role("link", name="Run").click()
    shows(2)
    desk.get_by_role("link", name="One step at a time").click()
    shows(2)
    tabs.get_by_role("link", name="Papers").click()
    shows(2)
    days.get_by_role("link", name="Day 1").click()
    shows(1)
    tabs.get_by_role("link", name="Run").click()
    shows(1)
