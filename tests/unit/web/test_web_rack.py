"""The rack on the pages: booked with one press, taken back, its labels, and who else wants a piece."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

from drawerwright.store.records import ShelfKind
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of

DESK = "http://127.0.0.1:8744"
JOB = """\
format: 1
job: Music stands
cutter: {mid_depth: 5.65, step: 3.45}
stock:
  birch:
    nominal: 15
    sheets: [{length: 2500, width: 1250}]
    offcuts: [{length: 1200, width: 420, label: by the bandsaw}]
boxes:
  - {name: tray, outer: {width: 400, depth: 300, height: 90}, box: {all: birch}}
"""


@pytest.fixture
def shop(tmp_path) -> Shop:
    shop = Shop(tmp_path)
    shop.jobs.add("Music stands", JOB)
    shop.jobs.add("Reed chest", JOB)
    for number in (1, 2):
        shop.plans.ask(JOB, 30.0, number)
    return shop


@pytest.fixture
def client(shop: Shop) -> TestClient:
    return TestClient(
        app_of(shop), base_url=DESK, client=("127.0.0.1", 5), headers={"Origin": DESK}, follow_redirects=False
    )


def test_one_press_books_a_run_and_one_takes_it_back(client: TestClient, shop: Shop) -> None:
    assert "It is cut: put what is left on the rack" in client.get("/jobs/1/run").text
    booked = client.post("/jobs/1/rack/book")
    assert (booked.status_code, booked.headers["location"]) == (303, "/jobs/1/run#rack")
    shown = client.get("/jobs/1/run").text
    labels = re.search(r'href="(/jobs/1/rack/labels/\d+)"', shown)
    assert labels
    assert client.get(labels[1]).content.startswith(b"%PDF")
    (stock,) = shop.shelf.list(ShelfKind.STOCK)
    assert "by the bandsaw" not in stock.text
    assert "R1" in stock.text
    assert "from the shelf" in shown or "Shelf" in client.get("/jobs/2/stock").text
    run = re.search(r'name="run" value="(\d+)"', shown)
    assert run
    assert client.post("/jobs/1/rack/undo", data={"run": run[1]}).status_code == 303
    (stock,) = shop.shelf.list(ShelfKind.STOCK)
    assert "by the bandsaw" in stock.text
    assert "R1" not in stock.text
    assert client.post("/jobs/1/rack/undo", data={"run": run[1]}).status_code == 404


def test_a_piece_that_two_jobs_plan_is_said_on_the_pages_of_both(client: TestClient) -> None:
    assert "is planned in" not in client.get("/jobs/1/sheets").text
    assert "by the bandsaw is planned in Music stands too" in client.get("/jobs/2/sheets").text
    assert "by the bandsaw is planned in Reed chest too" in client.get("/jobs/1/run").text


def test_what_cannot_be_booked_or_taken_back_is_said_on_the_page(client: TestClient, shop: Shop) -> None:
    by_script = {"HX-Request": "true"}
    assert client.post("/jobs/1/rack/book", headers=by_script).headers["hx-trigger"] == '{"job-changed": {}}'
    refused = client.post("/jobs/2/rack/book", headers=by_script)
    assert refused.status_code == 422
    assert "which Music stands used" in refused.text
    assert "<html" not in refused.text
    assert (
        "offcut by the bandsaw is no longer on the rack; Music stands used it"
        in client.get("/jobs/2/run").text
    )
    assert "no longer there" in client.get("/jobs/2/stock").text
    assert "The rack has changed" not in client.get("/jobs/1/stock").text, "it is cut"
    client.post("/jobs/2/shelf/put", data={"path": '["stock", "birch"]'})
    (stock,) = shop.shelf.list(ShelfKind.STOCK)
    assert "R1" in stock.text
    assert "by the bandsaw" not in stock.text


def test_a_job_that_is_cut_has_nothing_next(client: TestClient) -> None:
    client.post("/jobs/1/rack/book")
    shown = client.get("/jobs/1/glance").text
    assert "It is cut, and what was left is on the rack." in shown
    assert "It is cut, and what was left is on the rack." in client.get("/jobs/1/card").text
