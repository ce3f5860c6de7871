"""A job split into days: sheets, order of work and papers of each, and the day goes along from page to page."""

from __future__ import annotations

import html
import re
import time
from urllib.parse import urljoin

import pytest
from starlette.testclient import TestClient

from crates import crates
from drawerwright.web.server.shop import Shop

PLANNED_SECONDS = 60.0
DRAWERS = {1: "crate 1, crate 2", 2: "tray"}
"""One sheet holds the crates of the first day, and its offcut the tray of the second."""


@pytest.fixture
def job(shop: Shop) -> str:
    """The address of the job."""
    text = crates(2, on_hand=1, has_tray=True, days="[[crate], [tray]]")
    number = shop.jobs.add("crates", text).id
    assert shop.plans.ask(text, PLANNED_SECONDS, number, day=2).made
    return f"/jobs/{number}"


def said(page: str) -> str:
    """The words of a page, one space between them."""
    return " ".join(html.unescape(re.sub("<[^>]*>", " ", page)).split())


def link(page: str, words: str) -> str:
    """Where the first link leads whose words begin so."""
    for address, inside in re.findall(r'<a [^>]*href="([^"]+)"[^>]*>(.*?)</a>', page, re.DOTALL):
        if re.match(rf"(known|open|doubtful|stop)? ?{words}\b", said(inside)):
            return html.unescape(address)
    raise AssertionError(f"no link says {words}")


def answer(client: TestClient, address: str) -> str:
    """What is asked in the background, once it is there."""
    until = time.monotonic() + PLANNED_SECONDS
    while "plans tried" in (text := said(client.get(address).text)):
        assert time.monotonic() < until
    return text


def test_each_day_has_its_sheets_and_its_order_of_work(client: TestClient, job: str) -> None:
    first = client.get(f"{job}/sheets").text
    table = first.split('id="days-head"')[1].split("</table>")[0]
    assert table.count("<tr>") == 3
    assert "tray" in said(table.split("<tr>")[3])
    assert "This page shows day 1: crate 1, crate 2." in said(first)
    assert 'data-region="tray front"' not in first
    asked = html.unescape(re.findall(r'hx-get="([^"]*/sheets/within-stock[^"]*)"', first)[0])
    assert "1 new sheet of each size yields 2 of 2 drawers." in answer(client, f"{asked}&on_hand=1")
    second = client.get(link(first, "Day 2")).text
    assert "This page shows day 2: tray." in said(second)
    assert "of day 1" in said(second.split('class="sheet-head')[1].split("</p>")[0])
    assert 'data-region="tray front"' in second

    run = client.get(f"{job}/run?day=2").text
    assert "This page shows day 2: tray." in said(run)
    (vals, *_others) = re.findall(r'hx-post="[^"]*/run/tick[^"]*"[^>]*hx-vals="([^"]*)"', run)
    step = re.findall(r'"step": ?"((?:[^"\\]|\\.)*)"', html.unescape(html.unescape(vals)))[0]
    client.post(f"{job}/run/tick", data={"step": step.encode().decode("unicode_escape"), "done": "yes"})
    assert re.search(r"\b1 of \d+ steps", said(client.get(f"{job}/run?day=2").text))
    assert re.search(r"\b0 of \d+ steps", said(client.get(f"{job}/run").text))
    drawing = urljoin(f"{job}/run", link(run, "Drawing of the sheets"))
    assert "This page shows day 2: tray." in said(client.get(drawing).text)


def test_each_day_has_its_papers(client: TestClient, job: str) -> None:
    parts = client.get(f"{job}/papers/parts.csv?day=2").text
    assert "tray front" in parts
    assert "crate" not in parts
    until = time.monotonic() + PLANNED_SECONDS
    while "Download the packet" not in said(page := client.get(f"{job}/papers?day=2").text):
        assert time.monotonic() < until
    taken = client.get(urljoin(f"{job}/papers", link(page, "Download the packet")))
    assert re.search(r'filename="?[^";]*-day-2-packet\.pdf', taken.headers["content-disposition"])


def test_the_chosen_day_goes_along_to_the_other_pages(client: TestClient, job: str) -> None:
    at = f"{job}/sheets"
    for words, day in (
        *(("Day 2", 2), ("Run", 2), ("Papers", 2), ("Sheets", 2), ("Corner", None), ("Run", 2)),
        *(("One step at a time", 2), ("Papers", 2), ("Day 1", 1), ("Run", 1)),
    ):
        at = urljoin(at, link(client.get(at).text, words))
        page = client.get(at).text
        if day:
            assert f"This page shows day {day}: {DRAWERS[day]}." in said(page), at
            chosen = re.findall(
                r'href="[^"]*day=(\d)" aria-current="page"',
                page.split('class="row day-links')[1].split("</nav>")[0],
            )
            assert chosen == [str(day)]
