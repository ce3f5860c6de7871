"""News reaches every open page, from any thread, and a page that was away gets the present versions."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator, Coroutine
from concurrent.futures import ThreadPoolExecutor
from contextlib import aclosing
from pathlib import Path
from typing import Any

import httpx
import pytest

from drawerwright.store import UnknownJobError
from drawerwright.web.server import events
from drawerwright.web.server.events import Hub
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of

PATIENCE = 5.0
"""Seconds until a test gives up."""


def in_own_loop(work: Coroutine[Any, Any, None]) -> None:
    """Run to the end in a thread of its own: in this one, browser tests may have left a loop running."""
    with ThreadPoolExecutor(1) as pool:
        pool.submit(asyncio.run, work).result()


class Versions:
    """What a job's head and progress are, as the store would tell it."""

    def __init__(self) -> None:
        self.job = 1
        self.is_deleted = False

    def __call__(self) -> dict[str, int]:
        if self.is_deleted:
            raise UnknownJobError("gone")
        return {"job": self.job}


async def news(stream: AsyncIterator[bytes]) -> Any:
    """What the next event holds; the first piece of a stream only says how soon to come back."""
    while True:
        piece = (await asyncio.wait_for(anext(stream), PATIENCE)).decode()
        if piece.startswith("event: versions\ndata: "):
            assert piece.endswith("\n\n")
            return json.loads(piece.split("data: ")[1])


def test_a_page_gets_the_present_versions_at_once_and_after_each_change() -> None:
    async def watch() -> None:
        hub, versions = Hub(), Versions()
        async with aclosing(hub.stream(1, versions)) as stream:
            assert await news(stream) == {"job": 1}
            versions.job = 2
            await asyncio.to_thread(hub.announce, 1)
            assert await news(stream) == {"job": 2}

    in_own_loop(watch())


def test_every_page_of_a_job_is_woken_and_no_other() -> None:
    async def watch() -> None:
        hub, versions = Hub(), Versions()
        async with (
            aclosing(hub.stream(1, versions)) as one,
            aclosing(hub.stream(1, versions)) as two,
            aclosing(hub.stream(2, versions)) as other,
        ):
            assert [await news(page) for page in (one, two, other)] == [{"job": 1}] * 3
            versions.job = 5
            hub.announce(1)
            assert [await news(page) for page in (one, two)] == [{"job": 5}] * 2
            with pytest.raises(TimeoutError):
                await asyncio.wait_for(news(other), 0.05)

    in_own_loop(watch())


def test_a_change_while_the_versions_are_being_read_is_not_missed() -> None:
    async def watch() -> None:
        hub, versions = Hub(), Versions()

        def changed_meanwhile() -> dict[str, int]:
            found = versions()
            if versions.job == 1:
                versions.job = 2
                hub.announce(1)
            return found

        async with aclosing(hub.stream(1, changed_meanwhile)) as stream:
            assert await news(stream) == {"job": 1}
            assert await news(stream) == {"job": 2}

    in_own_loop(watch())


def test_a_page_hears_that_its_job_was_deleted_and_that_it_is_back() -> None:
    async def watch() -> None:
        hub, versions = Hub(), Versions()
        async with aclosing(hub.stream(1, versions)) as stream:
            assert await news(stream) == {"job": 1}
            versions.is_deleted = True
            hub.announce(1)
            assert await asyncio.wait_for(anext(stream), PATIENCE) == b"event: deleted\ndata: {}\n\n"
            versions.is_deleted = False
            hub.announce(1)
            assert await news(stream) == {"job": 1}

    in_own_loop(watch())


def test_streams_end_with_the_server(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(events, "HEARTBEAT_SECONDS", 0.01)

    async def watch() -> None:
        hub, versions = Hub(), Versions()
        closed = hub.stream(2, versions)
        assert await news(closed) == {"job": 1}
        assert await asyncio.wait_for(anext(closed), PATIENCE) == b": still here\n\n"
        hub.close()
        assert {piece async for piece in closed} <= {b": still here\n\n"}
        hub.announce(2)  # nobody listens any more
        assert not hub._waiting

    in_own_loop(asyncio.wait_for(watch(), 4 * PATIENCE))


def test_news_before_anybody_listens_and_after_the_loop_is_gone_is_no_fault() -> None:
    hub = Hub()
    hub.announce(1)

    async def once() -> None:
        async with aclosing(hub.stream(1, Versions())) as stream:
            await news(stream)

    in_own_loop(once())
    hub.announce(1)


def test_a_stream_ends_for_a_device_that_may_not_listen_any_more() -> None:
    async def watch() -> None:
        hub, answers = Hub(), [{"job": 1}, None]
        async with aclosing(hub.stream(1, lambda: answers.pop(0))) as stream:
            assert await news(stream) == {"job": 1}
            hub.announce_all()
            with pytest.raises(StopAsyncIteration):
                await news(stream)

    in_own_loop(watch())


def test_who_asks_for_the_head_of_the_news_alone_is_answered_at_once(tmp_path: Path) -> None:
    """It held a connection for ever: a stream without a body never ends."""
    shop = Shop(tmp_path)
    transport = httpx.ASGITransport(app_of(shop), client=("127.0.0.1", 5))

    async def ask() -> None:
        async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1:8744") as client:
            answer = await asyncio.wait_for(client.head("/jobs/1/events"), PATIENCE)
        assert answer.status_code == 200
        assert answer.headers["content-type"].startswith("text/event-stream")

    in_own_loop(ask())
    shop.close()
