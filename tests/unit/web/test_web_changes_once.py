"""A change that is sent twice is made once, and what waited on a page that went away is made in its order."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor
from typing import Any
from urllib.parse import urlencode

import pytest
from starlette.testclient import TestClient
from starlette.types import Message, Receive, Scope, Send

from drawerwright.web.server import changes_once
from drawerwright.web.server.changes_once import NAME_HEADER, ChangesOnce
from drawerwright.web.server.shop import Shop

PAGE = "a1b2c3d4e5f6"


def named(number: int) -> dict[str, str]:
    return {NAME_HEADER: f"{PAGE}-{number}"}


def entry(path: list[Any], value: str, base: int, number: int) -> dict[str, str]:
    """A change of an entry as a page keeps it."""
    fields = {"path": json.dumps(path), "kind": "length", "value": value, "base": base, "drawn": base}
    return {"name": f"{PAGE}-{number}", "to": "/jobs/1/entry", "form": urlencode(fields)}


def send_late(client: TestClient, *changes: dict[str, str]) -> int:
    body = urlencode([("change", json.dumps(change)) for change in changes])
    headers = {"content-type": "application/x-www-form-urlencoded"}
    return client.post("/late", content=body, headers=headers).status_code


WIDTH: list[Any] = ["banks", 0, "opening", "width"]


def test_a_named_change_is_made_once_and_answered_twice(client: TestClient, shop: Shop) -> None:
    add = {"path": '["boxes"]', "base": "1"}
    answers = [client.post("/jobs/1/items/add", data=add, headers=named(1)) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [204, 204]
    assert answers[0].headers["drawerwright-step"] == answers[1].headers["drawerwright-step"] == "1 2"
    assert shop.jobs.load(1).revision.number == 2
    assert client.post("/jobs/1/items/add", data=add | {"base": "2"}, headers=named(2)).status_code == 204
    assert shop.jobs.load(1).revision.number == 3


def test_what_waited_is_made_in_its_order_and_knows_its_own_steps(client: TestClient, shop: Shop) -> None:
    """Every change tells the revision that its page showed; the ones before it in the piece are its own."""
    widths = [entry(WIDTH, width, 1, number) for number, width in enumerate(("470", "480", "490"), 1)]
    add = {
        "name": f"{PAGE}-4",
        "to": "/jobs/1/items/add",
        "form": urlencode({"path": '["boxes"]', "base": 1}),
    }
    undo = {"name": f"{PAGE}-5", "to": "/jobs/1/undo", "form": urlencode({"base": 1})}
    assert send_late(client, *widths, add, undo) == 204
    job = shop.jobs.load(1)
    assert "width: 490" in job.text
    assert job.text.count("Reed tray") == 1
    revisions = sorted(revision.number for revision in shop.jobs.revisions(1))
    assert revisions == [1, 2, 3, 4, 5]
    assert job.revision.number == 4


def test_what_was_under_way_already_is_not_made_again(client: TestClient, shop: Shop) -> None:
    first = entry(WIDTH, "470", 1, 1)
    form = {"content-type": "application/x-www-form-urlencoded", **named(1)}
    assert client.post("/jobs/1/entry", content=first["form"], headers=form).status_code == 204
    assert send_late(client, first, entry(WIDTH, "480", 1, 2)) == 204
    assert "width: 480" in shop.jobs.load(1).text
    assert shop.jobs.load(1).revision.number == 3


def test_nothing_else_than_changes_of_a_page_is_made(client: TestClient, shop: Shop) -> None:
    good = entry(WIDTH, "470", 1, 9)
    itself = {"name": f"{PAGE}-1", "to": "/late", "form": ""}
    elsewhere = {"name": f"{PAGE}-2", "to": "http://192.0.2.7/jobs/1/delete", "form": ""}
    assert send_late(client, itself, elsewhere, {"name": "x"}, good) == 204
    assert "width: 470" in shop.jobs.load(1).text
    assert client.post("/late", content=b"change=%5B").status_code == 204


def test_late_changes_pass_the_gate(shop: Shop, client: TestClient) -> None:
    there = TestClient(
        client.app,
        base_url="http://127.0.0.1:8744",
        client=("192.0.2.9", 5),
        headers={"Origin": str(client.base_url)},
    )
    assert send_late(there, entry(WIDTH, "470", 1, 1)) == 401
    assert shop.jobs.load(1).revision.number == 1


class Slow:
    """An app that takes its time, or fails; it counts how often it was asked."""

    def __init__(self, *, fails_first: bool = False) -> None:
        self.asked = 0
        self.fails_first = fails_first

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        self.asked += 1
        number = self.asked
        await asyncio.sleep(0.02)
        if self.fails_first and number == 1:
            raise RuntimeError("out of wood")
        await send(
            {"type": "http.response.start", "status": 204, "headers": [(b"number", str(number).encode())]}
        )
        await send({"type": "http.response.body", "body": b""})


async def ask(once: ChangesOnce, number: int) -> bytes:
    """Which answer of the app comes back."""
    got: list[Message] = []

    async def receive() -> Message:
        return {"type": "http.request", "body": b"", "more_body": False}

    async def send(message: Message) -> None:
        got.append(message)

    headers = [(NAME_HEADER.encode(), f"{PAGE}-{number}".encode())]
    await once({"type": "http", "method": "POST", "path": "/", "headers": headers}, receive, send)
    found: bytes = got[0]["headers"][0][1]
    return found


def in_own_loop(work: Coroutine[Any, Any, None]) -> None:
    with ThreadPoolExecutor(1) as pool:
        pool.submit(asyncio.run, work).result()


def test_who_asks_while_it_is_being_made_waits_for_the_answer() -> None:
    async def both() -> None:
        app = Slow()
        once = ChangesOnce(app)
        assert await asyncio.gather(ask(once, 1), ask(once, 1), ask(once, 2)) == [b"1", b"1", b"2"]
        assert app.asked == 2

    in_own_loop(both())


def test_what_failed_is_made_by_who_asks_next() -> None:
    async def both() -> None:
        once = ChangesOnce(Slow(fails_first=True))
        answers = await asyncio.gather(ask(once, 1), ask(once, 1), return_exceptions=True)
        assert isinstance(answers[0], RuntimeError)
        assert answers[1] == b"2"

    in_own_loop(both())


def test_only_the_last_answers_are_remembered(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(changes_once, "MOST_REMEMBERED", 2)

    async def many() -> None:
        once = ChangesOnce(Slow())
        assert [await ask(once, number) for number in (1, 2, 3, 3, 1)] == [b"1", b"2", b"3", b"3", b"4"]

    in_own_loop(many())
