"""So many sheets on hand: how many drawers they give, as the page of the sheets answers it."""

from __future__ import annotations

import html
import re
import time

from starlette.testclient import TestClient

from crates import crates
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of

DESK = "http://127.0.0.1:8744"
PLANNED_SECONDS = 60.0
ASKED = "/jobs/2/sheets/within-stock"


def ask(client: TestClient, count: str) -> str:
    """What is answered in the end, as HTML without entities."""
    until = time.monotonic() + PLANNED_SECONDS
    while "<progress" in (text := client.get(ASKED, params={"on_hand": count}).text):
        assert time.monotonic() < until
    return html.unescape(text).replace("\xa0", " ")


def test_two_sheets_give_five_of_six_crates(client: TestClient, shop: Shop) -> None:
    shop.jobs.add("crates", crates(6))
    answer = ask(client, "2")
    assert ">2 new sheets of each size yield 5 of 6 drawers.</h3>" in answer
    assert "To make: crate 1, crate 2, crate 3, crate 4, crate 5." in answer
    assert "No room for: crate 6." in answer
    assert "Running short: ash15." in answer
    assert re.search(r"1000 × 500 mm.*?<td[^>]*>2</td><td[^>]*>0</td></tr>", answer)
    # Both sheets hold a column of 400 and of 292.6 by 90 each, or one holds three columns and one a single one.
    assert re.search(r"worth keeping: (301\.4 mm × 500|597\.0 mm × 500)", answer)
    assert re.search(r'<input[^>]*name="on_hand"[^>]*value="2"', answer)
    assert "do not yield a single drawer" in ask(client, "0")
    enough = ask(client, "4")
    assert "4 new sheets of each size yield 6 of 6 drawers." in enough
    assert "No room" not in enough


def test_what_is_no_number_of_sheets_is_refused_beside_its_field(client: TestClient, shop: Shop) -> None:
    shop.jobs.add("crates", crates(6))
    refused = ask(client, "two")
    assert "The number of sheets must be a whole number from 0 to 999, not 'two'." in refused
    assert re.search(r'<input[^>]*value="two"', refused)
    assert "Say how many sheets you have: the job sets no limit for any size." in ask(client, "")


def test_a_job_that_its_sheets_do_not_hold_says_what_they_do_hold(shop: Shop) -> None:
    headers = {"Origin": DESK, "Accept-Language": "de-DE"}
    reader = TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5), headers=headers)
    text = crates(6, on_hand=1)
    shop.jobs.add("crates", text)
    assert shop.plans.ask(text, PLANNED_SECONDS, 2).fault
    page = html.unescape(reader.get("/jobs/2/sheets").text)
    assert "Das lässt sich nicht planen" in page
    assert f'hx-get="{ASKED}"' in page
    answer = ask(reader, "")
    assert "Die vorrätigen Platten reichen für 2 von 6 Schubladen.</h3>" in answer
    assert "Kein Platz für: crate 3, crate 4, crate 5, crate 6." in answer
    assert answer.count("<button") == 1  # a second day would have no sheets
