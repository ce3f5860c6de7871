"""What a page shows in one unit is taken in that unit, whatever its reader has chosen since in another tab."""

from __future__ import annotations

import json
import re

from starlette.testclient import TestClient

from drawerwright.job.file.job_entries import job_entries
from drawerwright.web.server.shop import Shop

INCHES, MILLIMETRES = "en|in|point|system", "en|mm|point|system"


def _save(client: TestClient, cookie: str, headers: dict[str, str], value: str) -> None:
    client.cookies.set("drawerwright_reader", cookie)
    form = {
        "path": json.dumps(["banks", 0, "opening", "width"]),
        "kind": "length",
        "base": "1",
        "value": value,
    }
    answer = client.post("/jobs/1/entry", data=form, headers={**headers, "hx-request": "true"})
    assert answer.status_code < 400, answer.text


def _headers_of(client: TestClient, page: str) -> dict[str, str]:
    body = re.search(r'hx-headers="([^"]+)"', client.get(page).text)
    assert body is not None
    headers: dict[str, str] = json.loads(body[1].replace("&#34;", '"'))
    return headers


def test_a_value_is_in_the_unit_of_the_page_that_it_was_typed_on(client: TestClient, shop: Shop) -> None:
    client.cookies.set("drawerwright_reader", INCHES)
    told = _headers_of(client, "/jobs/1/drawers")
    _save(client, MILLIMETRES, told, "19")  # another tab went over to millimetres
    assert job_entries(shop.jobs.load(1).text)["banks"][0]["opening"]["width"] == "19 in"


def test_a_page_in_millimetres_stays_one(client: TestClient, shop: Shop) -> None:
    client.cookies.set("drawerwright_reader", "de|mm|comma|system")
    told = _headers_of(client, "/jobs/1/drawers")
    _save(client, INCHES, told, "480,5")
    assert job_entries(shop.jobs.load(1).text)["banks"][0]["opening"]["width"] == 480.5


def test_a_new_job_is_in_the_unit_of_its_form(client: TestClient, shop: Shop) -> None:
    client.cookies.set("drawerwright_reader", INCHES)
    page = client.get("/jobs/new").text
    hidden = re.search(r'name="(drawerwright-drawn-for)" value="([^"]+)"', page)
    assert hidden is not None
    form = {
        "job": "Bench", "mid_depth": "0.168 ± 0.002", "step": "0.106", "nominal": "1/2", "measured": "0.472",
        "bottom": "1/4", "bottom_measured": "0.24; 0.242", "length": "60", "width": "60", "opening_width": "20 1/4",
        "opening_height": "21", "opening_depth": "22", "count": "5", hidden[1]: hidden[2],
    }  # fmt: skip
    client.cookies.set("drawerwright_reader", MILLIMETRES)
    answer = client.post("/jobs/new", data=form, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    text = shop.jobs.load(2).text
    assert "units: in\n" in text
    assert "saw: {kerf: 1/8, trim: 1/4}" in text
    assert "width: 20 1/4" in text
    assert "measured: [0.24, 0.242]" in text or "- 0.24\n" in text
    assert "mm" not in text


def test_a_copied_job_has_a_name_of_its_own(client: TestClient, shop: Shop) -> None:
    first = shop.jobs.load(1)
    for number in (2, 3):
        client.post("/jobs/1/duplicate")
        copy = shop.jobs.load(number)
        assert copy.title != first.title
        assert job_entries(copy.text)["job"] == copy.title
    assert shop.jobs.load(2).title != shop.jobs.load(3).title
    assert shop.jobs.load(2).title.endswith("(copy)")
