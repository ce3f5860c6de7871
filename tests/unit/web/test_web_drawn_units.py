"""What a page shows in one unit is taken in that unit, whatever its reader has chosen since in another tab."""

from __future__ import annotations

import json
import re
from dataclasses import replace

from starlette.testclient import TestClient

from drawerwright.job.file.job_entries import job_entries
from drawerwright.web.fields.field import Field, shown_absent
from drawerwright.web.reader.preferences import Preferences
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


def _in_inches(shop: Shop) -> None:
    shop.jobs.add("inches", "units: in\n" + shop.jobs.load(1).text, "")


def test_a_page_of_a_job_is_in_the_jobs_unit_until_its_reader_chooses_one(
    client: TestClient, shop: Shop
) -> None:
    _in_inches(shop)
    assert _headers_of(client, "/jobs/2/drawers") == {"drawerwright-drawn-for": "in ."}
    assert _headers_of(client, "/jobs/1/drawers") == {"drawerwright-drawn-for": "mm ."}
    client.cookies.set("drawerwright_reader", "en|job|point|system")
    assert _headers_of(client, "/jobs/2/drawers") == {"drawerwright-drawn-for": "in ."}
    client.cookies.set("drawerwright_reader", MILLIMETRES)
    assert _headers_of(client, "/jobs/2/drawers") == {"drawerwright-drawn-for": "mm ."}


def test_other_choices_leave_the_unit_to_the_job(client: TestClient, shop: Shop) -> None:
    _in_inches(shop)
    page = client.get("/reader").text
    assert '<option value="job" selected>' in page
    assert '<option value="language" selected>' in page
    chosen = {"unit": "job", "decimal_sign": "language", "language": "de", "theme": "dark"}
    client.post("/reader", data=chosen, headers={"Accept-Language": "en"}, follow_redirects=False)
    assert _headers_of(client, "/jobs/2/drawers") == {"drawerwright-drawn-for": "in ,"}


def test_who_chooses_german_alone_reads_a_comma(client: TestClient) -> None:
    client.post("/reader", data={"language": "de"}, headers={"Accept-Language": "en"}, follow_redirects=False)
    assert _headers_of(client, "/jobs/1/drawers") == {"drawerwright-drawn-for": "mm ,"}


def test_what_an_empty_field_takes_has_its_unit() -> None:
    metric, german, inches = Preferences(), Preferences("de", decimal_sign=","), Preferences(unit="in")
    play, doubtful = Field(("play",), "Play", absent="0.2"), Field(("gauge",), "Gauge", absent="0 ± 0.1")
    assert [shown_absent(play, reader) for reader in (metric, german)] == ["0.2 mm", "0,2 mm"]
    assert shown_absent(play, inches).endswith(" in")
    assert shown_absent(doubtful, metric) == "0 ± 0.1 mm"
    assert shown_absent(replace(play, kind="load"), metric) == "0.2 kg"
    assert shown_absent(replace(play, kind="number"), metric) == "0.2"
    assert shown_absent(replace(play, absent="inside"), metric) == "inside"
