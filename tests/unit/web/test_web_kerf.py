"""The kerf test on the Stock page: both widths typed, the kerf shown and used."""

from __future__ import annotations

import json

from starlette.testclient import TestClient

from drawerwright.web.server.shop import Shop

PLACE = ["machine", "saw", "kerf_test"]


def type_into(client: TestClient, shop: Shop, entry: str, value: str) -> None:
    kind = "whole" if entry == "cuts" else "length"
    base = shop.jobs.load(1).revision.number
    answer = client.post(
        "/jobs/1/entry",
        data={"path": json.dumps([*PLACE, entry]), "value": value, "kind": kind, "base": str(base)},
    )
    assert answer.status_code < 300, answer.text


def test_two_widths_give_the_kerf(client: TestClient, shop: Shop) -> None:
    assert "Kerf from the test" not in client.get("/jobs/1/stock").text.replace("\xa0", " ")
    type_into(client, shop, "before", "120")
    page = client.get("/jobs/1/stock").text.replace("\xa0", " ")
    assert "the kerf follows from the widths before and after the cuts" in page
    assert "Kerf from the test" not in page
    type_into(client, shop, "after", "104.15")
    page = client.get("/jobs/1/stock").text.replace("\xa0", " ")
    assert "is missing" not in page
    assert "Kerf from the test, used for planning" in page
    assert "3.17 mm" in page


def test_more_cuts_share_what_is_lost(client: TestClient, shop: Shop) -> None:
    for entry, value in (("before", "120"), ("after", "88.3"), ("cuts", "10")):
        type_into(client, shop, entry, value)
    assert "3.17 mm" in client.get("/jobs/1/stock").text.replace("\xa0", " ")


def test_the_kerf_is_told_beside_its_fields_whatever_else_is_amiss(client: TestClient, shop: Shop) -> None:
    """By hand: (84 - 72.5) / 5 = 2.3. A fault elsewhere in the job leaves the test as it is."""
    for entry, value in (("before", "84"), ("after", "72.5"), ("cuts", "5")):
        type_into(client, shop, entry, value)
    base = str(shop.jobs.load(1).revision.number)
    wide = {
        "path": json.dumps(["machine", "router_table", "tallest_upright"]),
        "kind": "length",
        "base": base,
    }
    client.post("/jobs/1/entry", data={**wide, "value": "tall"})
    page = client.get("/jobs/1/stock").text.replace("\xa0", " ")
    beside_kerf = page.split('id="machine-saw-kerf"')[1].split('id="fault-machine-saw-kerf"')[0]
    assert "measured 2.30 mm, used instead" in beside_kerf
    beside_test = page.split('id="machine-saw-kerf_test-cuts"')[1].split("fault-machine-saw-kerf_test-cuts")
    assert "measured 2.30 mm, used" in beside_test[1]
