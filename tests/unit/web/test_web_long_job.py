"""What the page of the drawers does not show at first, it does not send at first."""

from __future__ import annotations

import gzip
import html
import re

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file import reading
from drawerwright.job.file.first_jobs import example_text
from drawerwright.web.fields import job_text
from drawerwright.web.server import first_look
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of

DESK = "http://127.0.0.1:8744"
MOST_SENT_A_BANK = 300_000 / 57
"""Bytes of a page as sent: 300 kB is the goal for a job of 400 drawers, here 57 banks of seven."""
FRAME = 10_000
BANKS = 12
EXAMPLE = example_text()


def long_job(banks: int) -> str:
    """The example's first bank many times over, seven drawers each."""
    head, rest = EXAMPLE.split("banks:\n")
    bank = rest.split("  - name: Orchestra parts")[0]
    return f"{head}banks:\n" + "".join(bank.replace("Choir scores", f"Choir {n}") for n in range(banks))


@pytest.fixture
def client(shop: Shop) -> TestClient:
    return TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5), headers={"Origin": DESK})


def test_the_drawers_of_a_long_job_are_sent_within_the_limit(client: TestClient, shop: Shop) -> None:
    shop.jobs.add("long", long_job(BANKS), "")
    shown = client.get("/jobs/2/drawers")
    assert len(gzip.compress(shown.content, 6)) < BANKS * MOST_SENT_A_BANK + FRAME
    assert "A1" in shown.text
    places = re.findall(
        r'hx-get="(/jobs/2/elevations/[0-9]+)" hx-trigger="intersect once, again"', shown.text
    )
    assert len(places) == BANKS
    assert "<svg" in client.get(places[-1]).text
    assert client.get("/jobs/2/elevations/13").status_code == 404
    assert client.get("/jobs/2/elevations/0").status_code == 404


def test_the_first_look_at_a_long_job_is_answered_at_once_and_the_next_in_full(
    client: TestClient, shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(first_look, "LONG", 1000)
    in_browser = {"Sec-Fetch-Mode": "navigate"}
    with monkeypatch.context() as nothing_is_read:
        nothing_is_read.setattr(job_text, "shown", None)
        nothing_is_read.setattr(reading, "Document", None)
        assert client.get("/jobs/1", headers=in_browser, follow_redirects=False).status_code == 303
        first = client.get("/jobs/1/drawers?drawer=A2", headers=in_browser)
    assert first.status_code == 200
    assert '<meta http-equiv="refresh" content="0">' in first.text
    assert "<progress" in first.text
    second = client.get("/jobs/1/drawers?drawer=A2", headers=in_browser).text
    assert "refresh" not in second
    assert 'id="more-banks-0"' in second
    assert "refresh" not in client.get("/jobs/1/stock", headers=in_browser).text


def test_only_a_browser_that_opens_a_page_is_sent_away_to_come_again(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(first_look, "LONG", 1000)
    assert "refresh" not in client.get("/jobs/1/text").text
    assert client.get("/jobs/9/text", headers={"Sec-Fetch-Mode": "navigate"}).status_code == 404


MANY = 3
FIELD = "banks-%d-fronts-reveal"


def test_a_closed_panel_is_sent_when_it_is_opened(client: TestClient, shop: Shop) -> None:
    shop.jobs.add("long", long_job(MANY), "")
    shown = client.get("/jobs/2/drawers").text
    asked = re.findall(
        r'hx-get="(/jobs/2/drawers[?]part=panel[^"]*)" hx-trigger="intersect once, again"', shown
    )
    assert len(asked) == MANY - 1  # the first is open
    (there,) = {place for place in range(MANY) if f'id="{FIELD % place}"' in shown}
    assert there == 0
    last = client.get(html.unescape(asked[-1])).text
    assert f'id="{FIELD % (MANY - 1)}"' in last
    assert '<details class="row-panel' not in last
    assert client.get("/jobs/2/drawers?part=panel&open=more-banks-99").status_code == 404


def test_what_is_drawn_anew_has_the_panel_that_is_open(client: TestClient, shop: Shop) -> None:
    shop.jobs.add("long", long_job(MANY), "")
    part = client.get("/jobs/2/drawers?part=entries&open=more-banks-1").text
    assert [place for place in range(MANY) if f'id="{FIELD % place}"' in part] == [1]


def test_a_fault_in_a_closed_panel_brings_its_field_along(client: TestClient, shop: Shop) -> None:
    job = long_job(MANY)
    start = job.index("name: Choir 2")
    shop.jobs.add("long", job[:start] + job[start:].replace("reveal: 2.5", "reveal: wide", 1), "")
    shown = client.get("/jobs/2/drawers").text
    assert f'id="{FIELD % 2}"' in shown
