"""Taking out a stock that is in use asks what takes its place; a part is made again at one press."""

from __future__ import annotations

import json

from starlette.testclient import TestClient

from drawerwright.job.file.reading import entries_of
from drawerwright.web.server.shop import Shop


def remove(client: TestClient, **more: str) -> str:
    wish = {"path": json.dumps(["stock", "birch6"]), "base": "1", **more}
    answer = client.post("/jobs/1/items/remove", data=wish)
    assert answer.is_success
    return answer.text


def test_a_stock_in_use_asks_and_then_gives_way(client: TestClient, shop: Shop) -> None:
    asked = remove(client)
    assert "What takes its place?" in asked
    assert '<option value="birch15">' in asked
    assert shop.jobs.load(1).revision.number == 1
    remove(client, instead="birch15")
    data = entries_of(shop.jobs.load(1).text)
    assert "birch6" not in data["stock"]
    assert {bank["bottom"]["stock"] for bank in data["banks"]} == {"birch15"}


def test_a_part_is_made_again_at_one_press(client: TestClient) -> None:
    page = client.get("/jobs/1/replace", params={"part": "A1 back"})
    assert page.headers["content-type"] == "application/pdf"
    assert (
        "A1-back" in page.headers["content-disposition"] or "a1-back" in page.headers["content-disposition"]
    )
    assert client.get("/jobs/1/replace", params={"part": "Z9"}).status_code == 422
