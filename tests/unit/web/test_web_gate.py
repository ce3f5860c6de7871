"""Who gets in: Host, Origin, pairing, size, and what answers carry."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from drawerwright.web.server.security import LARGEST_BODY_BYTES, is_own_host
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of

DESK = "http://127.0.0.1:8744"
LAN = "http://192.0.2.7:8744"  # RFC 5737 documentation address
TOO_LARGE = {"file": ("job.yaml", b"x" * (LARGEST_BODY_BYTES + 1))}
YAML = {"file": ("job.yaml", b"job: Trays\n", "application/yaml")}


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    shop = Shop(tmp_path, LAN)
    yield shop
    shop.database.close()


def browser(shop: Shop, address: str = DESK, client: str = "127.0.0.1") -> TestClient:
    return TestClient(
        app_of(shop),
        base_url=address,
        client=(client, 50123),
        headers={"Origin": address},
        follow_redirects=False,
    )


@pytest.mark.parametrize(
    ("host", "server", "is_own"),
    [
        ("127.0.0.1:8744", ("127.0.0.1", 8744), True),
        ("localhost:8744", ("127.0.0.1", 8744), True),
        ("LOCALHOST:8744", ("127.0.0.1", 8744), True),
        ("[::1]:8744", ("::1", 8744), True),
        ("localhost", ("127.0.0.1", 80), True),
        ("localhost:8745", ("127.0.0.1", 8744), False),
        ("shop.example:8744", ("127.0.0.1", 8744), False),
        ("127.0.0.1.shop.example:8744", ("127.0.0.1", 8744), False),
        ("localhost:8744", ("192.0.2.7", 8744), False),
        ("192.0.2.7:8744", ("192.0.2.7", 8744), True),
        ("", ("127.0.0.1", 8744), False),
    ],
)
def test_host_must_be_the_address_of_the_connection(host: str, server: tuple[str, int], is_own: bool) -> None:
    assert is_own_host(host, server) is is_own


@pytest.mark.parametrize("method", ["GET", "POST", "HEAD"])
def test_foreign_host_is_refused_on_every_request(shop: Shop, method: str) -> None:
    answer = browser(shop).request(method, "/", headers={"Host": "evil.example:8744"})
    assert answer.status_code == 421


@pytest.mark.parametrize(
    "origin", ["http://evil.example", "null", "http://127.0.0.1:9", "https://127.0.0.1:8744"]
)
def test_foreign_origin_cannot_change_anything(shop: Shop, origin: str) -> None:
    answer = browser(shop).post("/jobs/import", files=YAML, headers={"Origin": origin})
    assert answer.status_code == 403
    assert shop.jobs.list() == ()


def test_a_change_without_origin_needs_fetch_metadata(shop: Shop) -> None:
    client = TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5), follow_redirects=False)
    assert client.post("/jobs/import", files=YAML).status_code == 403
    cross = {"Sec-Fetch-Site": "cross-site"}
    assert client.post("/jobs/import", files=YAML, headers=cross).status_code == 403
    assert (
        client.post("/jobs/import", files=YAML, headers={"Sec-Fetch-Site": "same-origin"}).status_code == 303
    )


def test_every_answer_carries_the_content_policy(shop: Shop) -> None:
    for path in ("/", "/nothing-here", "/static/app.css", "/alive"):
        policy = browser(shop).get(path).headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy


def test_large_uploads_are_refused_declared_or_not(shop: Shop) -> None:
    big = b"x" * (LARGEST_BODY_BYTES + 1)
    client = browser(shop)
    assert client.post("/jobs/import", files={"file": ("a.yaml", big)}).status_code == 413

    def pieces() -> Iterator[bytes]:
        yield b'--b\r\nContent-Disposition: form-data; name="file"; filename="a.yaml"\r\n\r\n'
        for start in range(0, len(big), 100_000):
            yield big[start : start + 100_000]

    kind = {"Content-Type": "multipart/form-data; boundary=b"}
    assert client.post("/jobs/import", content=pieces(), headers=kind).status_code == 413


def test_unpaired_device_sees_the_pairing_form_only(shop: Shop) -> None:
    shop.jobs.add("Secret chest", "job: Secret chest\n")
    phone = browser(shop, LAN, "192.0.2.55")
    answer = phone.get("/")
    assert (answer.status_code, answer.headers["location"]) == (303, "/pair")
    assert phone.get("/jobs/1/file").status_code == 303
    assert phone.post("/jobs/1/delete").status_code == 401
    assert "Secret" not in phone.get("/pair").text
    # The loopback address as client is not enough when the connection came to another address.
    assert browser(shop, LAN, "127.0.0.1").get("/").status_code == 303


def test_pairing_once_lets_a_device_in_until_it_is_revoked(shop: Shop) -> None:
    code = shop.codes.issue()
    phone, other = browser(shop, LAN, "192.0.2.55"), browser(shop, LAN, "192.0.2.56")
    welcome = phone.post("/pair", data={"code": f" {code[:4].lower()} {code[4:]} ", "name": "<b>bench</b>"})
    assert welcome.status_code == 303
    cookie = welcome.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert phone.get("/").status_code == 200
    assert other.post("/pair", data={"code": code}).status_code == 422, "a code is good once"
    listing = browser(shop).get("/devices").text
    assert "&lt;b&gt;bench" in listing
    assert "<b>bench" not in listing
    browser(shop).post(f"/devices/{shop.devices.list()[0].id}/revoke")
    assert phone.get("/").status_code == 303


def test_guesses_are_limited_even_for_the_right_code(shop: Shop) -> None:
    code = shop.codes.issue()
    phone = browser(shop, LAN, "192.0.2.55")
    for _ in range(5):
        assert phone.post("/pair", data={"code": "WRONG234"}).status_code == 422
    assert phone.post("/pair", data={"code": code}).status_code == 429


def test_new_codes_are_made_at_the_desk_only(shop: Shop) -> None:
    phone = browser(shop, LAN, "192.0.2.55")
    phone.post("/pair", data={"code": shop.codes.issue()})
    assert phone.get("/devices").status_code == 200
    assert phone.post("/devices/code").status_code == 403
    page = browser(shop).post("/devices/code")
    assert page.status_code == 200
    assert "<svg" in page.text


@pytest.mark.parametrize(
    ("status", "words"),
    [
        (421, ("„evil.example:8744“ ist keine Adresse dieses Programms.", f'href="{DESK}/"')),
        (403, ("Diese Änderung kam nicht von einer Seite dieses Programms",)),
        (413, ("größer als 2.000.000 Byte",)),
        (401, ("Dieses Gerät ist nicht gekoppelt", 'href="/pair"', "Dieses Gerät koppeln")),
    ],
)
@pytest.mark.parametrize("by", ["cookie", "browser"])
def test_a_refusal_is_said_in_the_readers_language(
    shop: Shop, status: int, words: tuple[str, ...], by: str
) -> None:
    reader = (
        {"Cookie": "drawerwright_reader=de|mm|comma|dark"} if by == "cookie" else {"Accept-Language": "de-AT"}
    )
    asked = {
        421: lambda headers: browser(shop).get("/", headers={"Host": "evil.example:8744", **headers}),
        403: lambda headers: browser(shop).post("/jobs/example", headers={"Origin": "null", **headers}),
        413: lambda headers: browser(shop).post("/jobs/import", files=TOO_LARGE, headers=headers),
        401: lambda headers: browser(shop, LAN, "192.0.2.55").post("/jobs/example", headers=headers),
    }[status]
    answer = asked(reader)
    assert answer.status_code == status
    assert answer.headers["content-type"] == "text/html; charset=utf-8"
    assert '<html lang="de"' in answer.text
    for word in words:
        assert word in answer.text
    fragment = asked({**reader, "HX-Request": "true"})
    assert "<html" not in fragment.text
    assert words[0] in fragment.text


def test_a_name_from_a_header_is_escaped_and_short(shop: Shop) -> None:
    answer = browser(shop).get("/", headers={"Host": "<b>" + "x" * 300})
    assert answer.status_code == 421
    assert "<b>" not in answer.text
    assert "x" * 100 not in answer.text


@pytest.mark.parametrize(
    ("language", "words"), [("en", "hit an internal error"), ("de", "Interner Fehler in Drawerwright")]
)
def test_a_fault_of_the_app_itself_is_a_page_too(
    shop: Shop, monkeypatch: pytest.MonkeyPatch, language: str, words: str
) -> None:
    def fail() -> None:
        raise ZeroDivisionError("in the middle")

    monkeypatch.setattr(shop.jobs, "list", fail)
    client = TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5), raise_server_exceptions=False)
    answer = client.get("/", headers={"Accept-Language": language})
    assert answer.status_code == 500
    assert f'<html lang="{language}"' in answer.text
    assert words in answer.text
    assert "in the middle" not in answer.text
    assert "default-src 'none'" in answer.headers["content-security-policy"]


def test_a_refusal_reads_well_without_the_style_that_is_refused_as_well(shop: Shop) -> None:
    """Headings, paragraphs and one link, in this order; nothing before them that only makes sense when styled."""
    page = browser(shop).get("/", headers={"Host": "evil.example:8744", "Accept-Language": "en"}).text
    head, body = page.split("<body")
    assert '<meta name="viewport" content="width=device-width' in head
    assert '<meta name="color-scheme" content="light dark">' in head
    assert "<title>This did not work (421) – Drawerwright</title>" in head
    seen = [
        text
        for text in re.findall(r">([^<]+)<", re.sub(r"<(\w+)[^>]*hidden>.*?</\1>", "", body))
        if text.strip()
    ]
    assert [text.strip() for text in seen] == [
        "Drawerwright",
        "This did not work",
        "“evil.example:8744” is not an address of this app.",
        "Use the address shown when it started.",
        f"Go to {DESK}/",
    ]
