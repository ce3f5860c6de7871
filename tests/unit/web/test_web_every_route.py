"""The gate stands before every route that the app has, whatever is added to it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache

import pytest
from httpx import Response
from starlette.routing import Mount, Route
from starlette.testclient import TestClient

from drawerwright.web.server.security import SAFE_METHODS
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of
from few_drawers import FEW_DRAWERS

DESK = "http://127.0.0.1:8744"
LAN = "http://192.0.2.7:8744"  # RFC 5737 documentation address


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    shop = Shop(tmp_path_factory.mktemp("data"), LAN)
    shop.jobs.add("Chest", FEW_DRAWERS)
    yield shop
    shop.close()


def requests_of(shop: Shop) -> list[tuple[str, str]]:
    """Every method and address that the app answers, of its first job."""
    found = []
    for route in app_of(shop).routes:
        if isinstance(route, Mount):
            found.append(("GET", f"{route.path}/app.css"))
            continue
        assert isinstance(route, Route)
        path = re.sub(r"\{\w+:int\}", "1", route.path)
        path = path.replace("{name}", "packet.pdf")
        found += [(method, path) for method in route.methods or ()]
    return sorted(set(found))


def client_of(shop: Shop, address: str = DESK, client: str = "127.0.0.1") -> TestClient:
    return TestClient(app_of(shop), base_url=address, client=(client, 5), follow_redirects=False)


def test_every_route_asks_for_its_own_host(shop: Shop) -> None:
    client = client_of(shop)
    asked = requests_of(shop)
    assert len(asked) > 50
    for method, path in asked:
        answer = client.request(method, path, headers={"Host": "evil.example:8744", "Origin": DESK})
        assert (answer.status_code, path) == (421, path)


def test_every_change_asks_for_its_own_origin(shop: Shop) -> None:
    client = client_of(shop)
    changes = [(method, path) for method, path in requests_of(shop) if method not in SAFE_METHODS]
    assert len(changes) > 20
    before = shop.jobs.list(), shop.jobs.load(1), shop.progress.load(1), shop.devices.list()
    for method, path in changes:
        for headers in ({"Origin": "http://evil.example"}, {"Sec-Fetch-Site": "same-site"}, {}):
            answer = client.request(method, path, headers=headers)
            assert (answer.status_code, path) == (403, path)
    assert (shop.jobs.list(), shop.jobs.load(1), shop.progress.load(1), shop.devices.list()) == before


def test_every_route_but_the_way_in_asks_for_a_paired_device(shop: Shop) -> None:
    phone = client_of(shop, LAN, "192.0.2.55")
    for method, path in requests_of(shop):
        if path == "/pair" or path.startswith("/static/"):
            continue
        answer = phone.request(method, path, headers={"Origin": LAN})
        assert (answer.status_code, path) == (303 if method in SAFE_METHODS else 401, path)


@pytest.fixture(scope="module")
def seen_at_desk(shop: Shop) -> Callable[[str], Response]:
    """What a page answers at the desk once its job is planned; each is asked for once."""
    assert shop.plans.ask(FEW_DRAWERS, 60.0).made
    return cache(client_of(shop).get)


INLINE = re.compile(r"<style|<script(?![^>]*\bsrc=)|\s(?:style|on[a-z]+)=[\"']|javascript:", re.IGNORECASE)
"""What the content policy lets no browser do."""


def test_no_page_holds_what_the_content_policy_blocks(
    shop: Shop, seen_at_desk: Callable[[str], Response]
) -> None:
    seen = 0
    for method, path in requests_of(shop):
        if method != "GET" or path.endswith(("/events", "/papers/packet.pdf", "all.zip", "drawer.glb")):
            continue
        answer = seen_at_desk(path)
        assert answer.headers["content-security-policy"], path
        if answer.headers.get("content-type", "").startswith("text/html"):
            seen += 1
            assert INLINE.search(answer.text) is None, path
    assert seen > 15


def test_every_page_of_a_job_shows_something_and_every_link_leads_somewhere(
    seen_at_desk: Callable[[str], Response],
) -> None:
    """A page without its engine is not shown: what the tabs name is there."""
    tabs = re.findall(r'href="(/jobs/1/\w+)"', seen_at_desk("/jobs/1/drawers").text.split('class="tabs"')[1])
    pages = ["/", "/corner", *dict.fromkeys(tabs)]
    assert len(pages) > 9
    links = set()
    for page in pages:
        text = seen_at_desk(page).text
        assert "<h1" in text, page
        links |= {href.replace("&amp;", "&") for href in re.findall(r'href="(/[^"#]+)"', text)}
    alike = {re.sub(r"[0-9a-f]{8,}|\d+", "#", link): link for link in sorted(links)}
    assert len(alike) > 30
    for link in alike.values():  # one of those that differ by a number only
        assert seen_at_desk(link).status_code in (200, 204, 303), link
