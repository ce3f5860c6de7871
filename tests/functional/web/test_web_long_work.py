"""Long work shows how far it is, can be stopped, and leaves every other page quick."""

from __future__ import annotations

import random
import re

import pytest
from playwright.sync_api import Page, expect

from drawerwright.web.work.background import WORKERS

from .conftest import Served

MANY = 75
"""Trays of random sizes: 24 of them are proven in seconds, these not in minutes."""
HEAD = """format: 1
job: {name}
cutter: {{mid_depth: 6, step: 4, diameter: 44, max_speed: 16000}}
stock:
  panel15:
    nominal: 15
    measured: [14.6]
    grain: {grain}
    sheets:
      - {{length: 2500, width: 1250, price: 74.5}}
      - {{length: 1525, width: 1525, price: 51.3}}
      - {{length: 2130, width: 1370, price: 67.1}}
sheets: {{time_limit: {seconds}}}
boxes:
"""


def trays(name: str, count: int, *, grain: str, seconds: float) -> str:
    """A job of trays of random sizes, too many for any solver to prove the fewest sheets in a blink."""
    sizes = random.Random(11)
    boxes = [
        f"  - {{name: Tray {number}, box: {{all: panel15}}, outer: {{width: {sizes.randint(180, 620)}, "
        f"depth: {sizes.randint(180, 480)}, height: {sizes.randint(52, 160)}}}}}"
        for number in range(1, count + 1)
    ]
    return HEAD.format(name=name, grain=grain, seconds=seconds) + "\n".join(boxes) + "\n"


@pytest.mark.alone
def test_a_long_search_for_sheets_shows_progress_and_is_stopped(
    desk: Page, phone: Page, served: Served
) -> None:
    text = trays("Trays without grain", MANY, grain="none", seconds=300)
    path = served.add_job(text)
    desk.goto(f"{served.url}{path}/sheets")
    expect(desk.get_by_role("heading", name="Planning")).to_be_visible()
    expect(desk.get_by_text(re.compile(r"The best so far costs \d+"))).to_be_visible(timeout=60_000)
    stop = desk.get_by_role("button", name="Stop and use the best so far")
    stop.focus()
    phone.goto(f"{served.url}{path}/drawers")
    expect(phone.locator(f"#boxes-{MANY - 1}-name")).to_have_value(f"Tray {MANY}")
    phone.goto(f"{served.url}/corner")
    expect(phone.locator("#verdict")).to_be_visible()
    expect(stop).to_be_focused()  # the progress was drawn anew meanwhile
    stop.click()
    expect(desk.get_by_role("heading", name="Sheets to have ready")).to_be_visible(timeout=60_000)
    expect(desk.get_by_text(re.compile("the best found in"))).to_be_visible()
    desk.get_by_role("button", name="Search again from the start").click()
    expect(desk.get_by_role("heading", name="Planning")).to_be_visible()


@pytest.mark.alone
def test_a_newer_text_ends_the_work_for_the_older_one(desk: Page, served: Served) -> None:
    """Each worker has had a text that takes minutes before the quick one comes."""
    slow = trays("Trays without grain", MANY, grain="none", seconds=300)
    path = served.add_job(slow)
    desk.goto(f"{served.url}{path}/sheets")
    expect(desk.get_by_role("heading", name="Planning")).to_be_visible()
    quick = trays("Trays without grain", 6, grain="none", seconds=0.5)
    for newer in (*(slow + "# changed\n" * change for change in range(1, WORKERS)), quick):
        desk.goto(f"{served.url}{path}/text")
        desk.locator("#job-text").fill(newer)
        desk.get_by_role("button", name="Save", exact=True).click()
        desk.goto(f"{served.url}{path}/sheets")
    expect(desk.get_by_role("heading", name="Sheets to have ready")).to_be_visible(timeout=60_000)


@pytest.mark.alone
def test_a_long_packet_shows_progress_and_is_stopped(desk: Page, served: Served) -> None:
    path = served.add_job(trays("Many trays", 40, grain="length", seconds=0.5))
    desk.goto(f"{served.url}{path}/papers")
    making = desk.get_by_role("heading", name="Packet in the making")
    expect(making).to_be_visible(timeout=60_000)
    expect(desk.locator("#papers-made progress[max]")).to_be_visible()
    desk.get_by_role("button", name="Stop", exact=True).click()
    expect(desk.get_by_text("This was stopped.")).to_be_visible(timeout=30_000)
    assert desk.request.get(f"{served.url}{path}/papers/packet.pdf").status == 422
    desk.get_by_role("button", name="Make the packet").click()
    expect(making).to_be_visible()


def test_an_archive_shows_that_it_is_made_and_comes_by_itself(desk: Page, served: Served) -> None:
    path = served.add_job(trays("Some trays", 24, grain="length", seconds=0.5))
    desk.goto(f"{served.url}{path}/papers")
    expect(desk.get_by_role("link", name="Download the packet")).to_be_visible(timeout=60_000)
    with desk.expect_download(timeout=60_000) as waiting:
        desk.get_by_role("button", name="Make the archive (zip)").click()
        expect(desk.get_by_role("heading", name="Archive in the making")).to_be_visible()
    assert waiting.value.suggested_filename == "Some-trays.zip"
    expect(desk.get_by_role("link", name="Download the archive")).to_be_visible()


@pytest.mark.alone
def test_a_single_step_stays_on_the_screen_when_its_plan_came_late(desk: Page, served: Served) -> None:
    path = served.add_job(trays("Late", MANY, grain="none", seconds=2.5))
    desk.goto(f"{served.url}{path}/run?view=one")
    expect(desk.get_by_role("heading", name="Planning")).to_be_visible()
    expect(desk.locator("#step-1")).to_be_visible(timeout=60_000)
    desk.locator("#tick-0").check()
    expect(desk.get_by_text(re.compile(r"1 of \d+ steps done"))).to_be_visible()
    expect(desk.locator("#step-1")).to_be_visible()
