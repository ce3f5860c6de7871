"""Silent connections, slow bodies, doubled headers, and what a paired phone may not do."""

from __future__ import annotations

import asyncio
import contextlib
import logging
from collections.abc import AsyncIterator

import httpx
import pytest
import uvicorn
from starlette.testclient import TestClient

from drawerwright.basics.errors import InvalidValueError
from drawerwright.web.server import connections, security
from drawerwright.web.server.connections import FewLines, PatientProtocol, _has_room
from drawerwright.web.server.security import DEVICE_COOKIE
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of, checked_host

DESK = "http://127.0.0.1:8744"
PHONE = "http://192.168.1.20:8744"


@contextlib.asynccontextmanager
async def served(shop: Shop) -> AsyncIterator[int]:
    """The app on a port of its own."""
    config = uvicorn.Config(
        app_of(shop), port=0, http=PatientProtocol, lifespan="off", ws="none", log_level="error"
    )
    server = uvicorn.Server(config)
    running = asyncio.ensure_future(server.serve())
    while not server.started:
        await asyncio.sleep(0.01)
    yield server.servers[0].sockets[0].getsockname()[1]
    server.should_exit = True
    await running


@pytest.mark.parametrize(
    "said", [b"", b"GET /alive HTTP/1.1\r\nHost: x\r\n", b"GET / HTTP/1.1\r\nX: " + b"y" * 999]
)
def test_who_says_nothing_is_shown_out(shop: Shop, monkeypatch: pytest.MonkeyPatch, said: bytes) -> None:
    monkeypatch.setattr(connections, "HEAD_SECONDS", 0.1)

    async def wait() -> int:
        async with served(shop) as port:
            reader, writer = await asyncio.open_connection("127.0.0.1", port)
            writer.write(said)
            with contextlib.suppress(ConnectionError):
                assert await asyncio.wait_for(reader.read(), 5) == b""
            writer.close()
            async with httpx.AsyncClient() as client:
                return (await client.get(f"http://127.0.0.1:{port}/alive")).status_code

    assert asyncio.run(wait()) < 300


def test_a_body_that_does_not_come_is_told_so(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(security, "BODY_SECONDS", 0.1)

    async def send_half() -> bytes:
        async with served(shop) as port:
            reader, writer = await asyncio.open_connection("127.0.0.1", port)
            own = f"127.0.0.1:{port}"
            head = f"POST /jobs/1/entry HTTP/1.1\r\nHost: {own}\r\nOrigin: http://{own}\r\nContent-Length: 100\r\n"
            writer.write(f"{head}Content-Type: application/x-www-form-urlencoded\r\n\r\npath=".encode())
            answer = await asyncio.wait_for(reader.readuntil(b"\r\n"), 5)
            writer.close()
            return answer

    assert asyncio.run(send_half()).startswith(b"HTTP/1.1 408")


def test_idle_connections_of_others_leave_room() -> None:
    many = [("192.168.1.66", port) for port in range(connections.MOST_OF_ONE_ADDRESS)]
    assert not _has_room(("192.168.1.66", 9999), many)
    assert _has_room(("192.168.1.67", 9999), many)
    others = [(f"192.168.1.{port % 100}", port) for port in range(connections.MOST_IN_ALL - 60)]
    assert not _has_room(("192.168.2.1", 9999), others)
    assert _has_room(("127.0.0.1", 9999), others)
    full = others + [("127.0.0.1", port) for port in range(60)]
    assert not _has_room(("127.0.0.1", 9999), full)


def test_one_address_too_many_times_is_shown_out_at_once(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(connections, "MOST_OF_ONE_ADDRESS", 3)

    async def crowd() -> list[bool]:
        async with served(shop) as port:
            found = []
            writers = []
            for _ in range(5):
                reader, writer = await asyncio.open_connection("127.0.0.1", port)
                writers.append(writer)
                try:
                    await asyncio.wait_for(reader.read(1), 0.2)
                    found.append(False)
                except TimeoutError:
                    found.append(True)
                except ConnectionError:
                    found.append(False)
            for writer in writers:
                writer.close()
            return found

    assert asyncio.run(crowd()) == [True, True, True, False, False]


def test_broken_requests_do_not_fill_the_log() -> None:
    few = FewLines()
    lines = [
        logging.LogRecord("x", logging.WARNING, "", 0, "Invalid HTTP request", (), None) for _ in range(1000)
    ]
    written = [line.getMessage() for line in lines if few.filter(line)]
    assert len(written) == connections.LINES_A_MINUTE + 1
    assert written[-1] == "more of the like within this minute"


@pytest.mark.parametrize(
    "headers",
    [
        [("Origin", DESK), ("Origin", "http://elsewhere.example")],
        [("Origin", "http://elsewhere.example"), ("Origin", DESK)],
        [("Sec-Fetch-Site", "same-origin"), ("Sec-Fetch-Site", "cross-site")],
        [("Origin", f"{DESK}, http://elsewhere.example")],
    ],
)
def test_a_change_has_one_origin(shop: Shop, headers: list[tuple[str, str]]) -> None:
    client = TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5))
    assert client.post("/jobs/1/duplicate", headers=httpx.Headers(headers)).status_code == 403
    assert len(shop.jobs.list()) == 1


def test_a_phone_works_jobs_and_takes_nothing_away_unless_the_desk_lets_it(shop: Shop) -> None:
    desk = TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5), headers={"Origin": DESK})
    phone = TestClient(app_of(shop), base_url=PHONE, client=("192.168.1.30", 5), headers={"Origin": PHONE})
    phone.cookies.set(DEVICE_COOKIE, shop.devices.pair("Phone"))
    other = shop.devices.pair("Other")
    assert phone.post("/jobs/1/duplicate").status_code == 200
    assert phone.post("/jobs/1/delete").status_code == 403
    assert phone.post("/devices/2/revoke").status_code == 403
    assert phone.post("/devices/1/manage", data={"may": "yes"}).status_code == 403
    assert "/delete" not in phone.get("/").text
    assert "/revoke" not in phone.get("/devices").text
    assert "/delete" in desk.get("/").text
    assert shop.is_paired(other)
    assert desk.post("/devices/1/manage", data={"may": "yes"}).status_code == 200
    assert phone.post("/jobs/1/delete").status_code == 200
    assert phone.post("/devices/2/revoke").status_code == 200
    assert not shop.is_paired(other)
    assert desk.post("/devices/1/manage", data={"may": "no"}).status_code == 200
    assert phone.post("/jobs/2/delete").status_code == 403


@pytest.mark.parametrize(
    "given",
    ["a b/<", "", "0.0.0.0", "224.0.0.1", "shop", "::1", "1.2.3", "203.0.113.7", "x" * 500],
)
def test_an_address_that_nobody_could_come_to_is_refused(given: str) -> None:
    with pytest.raises(InvalidValueError, match="--lan-host") as refused:
        checked_host(given)
    assert len(str(refused.value)) < 200


def test_an_address_of_this_machine_is_taken() -> None:
    assert checked_host("127.0.0.2") == "127.0.0.2"
