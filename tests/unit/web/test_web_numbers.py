"""Numbers that no page sends are refused in words, whatever they are and wherever they stand."""

from __future__ import annotations

import json
from collections.abc import Iterator

import pytest
from starlette.routing import Route
from starlette.testclient import TestClient

from drawerwright.job.file.first_jobs import example_text
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of
from fuzz.odd_values import ODD_NUMBERS

DESK = "http://127.0.0.1:8744"


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """A shop whose job 1 is the example; what is refused leaves it as it is."""
    shop = Shop(tmp_path_factory.mktemp("shop"))
    shop.jobs.add("example", example_text(), "")
    yield shop
    shop.close()


@pytest.fixture
def client(shop: Shop) -> TestClient:
    app = app_of(shop)
    headers = {"Origin": DESK}
    return TestClient(
        app, base_url=DESK, client=("127.0.0.1", 5), headers=headers, raise_server_exceptions=False
    )


@pytest.mark.parametrize("number", ODD_NUMBERS)
def test_a_page_of_the_packet_that_is_none_is_not_found(client: TestClient, number: str) -> None:
    assert client.get(f"/jobs/1/papers/packet-page-{number}.svg").status_code == 404


def test_no_address_has_so_large_a_number(client: TestClient, shop: Shop) -> None:
    routes = [route for route in app_of(shop).routes if isinstance(route, Route) and ":int}" in route.path]
    assert len(routes) > 20
    large = "9" * 25
    for route in routes:
        path = route.path.replace("{job_id:int}", large).replace("{name}", "packet.pdf")
        path = path.replace("{entry_id:int}", large).replace("{device_id:int}", large)
        path = path.replace("{place:int}", large).replace("{run:int}", large)
        path = path.replace("{number:int}", large).replace("{seen}", "play")
        assert "{" not in path
        for method in route.methods or ():
            assert client.request(method, path).status_code == 404, (method, path)


@pytest.mark.parametrize("odd", ODD_NUMBERS)
def test_what_is_no_number_is_refused_or_passed_over(client: TestClient, shop: Shop, odd: str) -> None:
    path = json.dumps(["banks", 0, "opening", "width"])
    wish = {"path": path, "kind": "length", "value": "480", "base": odd, "corner": odd, "entry": odd}
    for post in ("entry", "items/add", "items/remove", "paste", "shelf/take", "undo", "text"):
        answer = client.post(f"/jobs/1/{post}", data=wish, follow_redirects=False)
        assert 400 <= answer.status_code < 500, (post, answer.status_code)
    for page in ("trial?corner=", "corner?corner=", "run?view=one&step=", "sheets?day=", "drawers?drawer="):
        assert client.get(f"/jobs/1/{page}{odd}").status_code == 200, page
    assert client.get(f"/?deleted={odd}").status_code == 200
    assert shop.jobs.load(1).text == example_text()


@pytest.mark.parametrize("row", ["2", "1000000"])
def test_cells_are_pasted_at_a_row_that_there_is_or_right_after_it(
    client: TestClient, shop: Shop, row: str
) -> None:
    """The example has one row of boxes; a row far below would ask for as many boxes as lie between."""
    cells = {"list": "boxes", "text": "Tray\t2", "row": row, "column": "0", "base": "1"}
    assert client.post("/jobs/1/paste", data=cells).status_code == 422
    assert shop.jobs.load(1).text == example_text()
    assert client.post("/jobs/1/paste", data=cells | {"row": "1"}).status_code == 204
    shop.jobs.undo(1)
