"""What a page fills in, it takes back: every page with fields, every unit, every language."""

from __future__ import annotations

import json
import time
from html.parser import HTMLParser

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.entry_paths import value_at
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.file.reading import entries_of
from drawerwright.web.fields import job_text
from drawerwright.web.fields.field import stored
from drawerwright.web.reader.preferences import UNITS, Preferences
from drawerwright.web.server.shop import Shop
from opened_panels import with_panels_open

READERS = [
    Preferences(language, unit, "," if language == "de" else ".")
    for unit in UNITS
    for language in ("en", "de")
]
ENTRIES = ("cutter", "stock", "drawers")
"""Pages whose fields are entries of the job file."""

PATIENCE = 120.0
"""Seconds until a test gives up."""


class Fields(HTMLParser):
    """The entries of a page, and what each form would send."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.found: list[dict[str, str]] = []
        self.sent: dict[str, str] = {}
        self._chosen: str | None = None
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if tag == "select":
            self._chosen = given.get("name")
        elif tag == "option" and "selected" in given and self._chosen:
            self.sent[self._chosen] = given["value"]
        elif tag == "input" and given.get("type") not in ("radio", "checkbox", "range"):
            self.sent[given.get("name", "")] = given.get("value", "")
            if "path" in given.get("hx-vals", ""):
                self.found.append(given)


def read_by(client: TestClient, reader: Preferences) -> None:
    client.cookies.set("drawerwright_reader", reader.to_cookie())


@pytest.mark.parametrize("reader", READERS, ids=lambda reader: f"{reader.language}-{reader.unit}")
def test_entries_of_a_job_read_back(client: TestClient, shop: Shop, reader: Preferences) -> None:
    read_by(client, reader)
    data, count = json.loads(json.dumps(entries_of(example_text()))), 0
    for page in ENTRIES:
        for field in Fields(with_panels_open(client, f"/jobs/1/{page}")).found:
            entry = json.loads(field["hx-vals"])
            if field["value"]:
                *around, last = json.loads(entry["path"])
                value_at(data, around)[last] = stored(field["value"], entry["kind"], reader, "mm")
                count += 1
    assert count > 60
    assert job_text.faults_of(json.dumps(data)) == ()  # which is YAML too


def test_a_corner_is_drawn_as_its_page_fills_it_in(client: TestClient) -> None:
    until = time.monotonic() + PATIENCE
    while "corner-form" not in client.get("/jobs/1/corner").text and time.monotonic() < until:
        time.sleep(0.2)  # the job is planned first
    for reader in READERS:
        read_by(client, reader)
        for page in ("/jobs/1/corner", "/corner"):
            sent = Fields(client.get(page).text).sent
            assert sent["mid_depth"]
            assert 'id="verdict"' in client.get("/corner/section", params=sent).text, (reader, page)


@pytest.mark.parametrize("reader", READERS, ids=lambda reader: f"{reader.language}-{reader.unit}")
def test_a_test_cut_is_kept_as_its_page_fills_it_in(client: TestClient, reader: Preferences) -> None:
    read_by(client, reader)
    sent = Fields(client.get("/jobs/1/trial").text).sent
    assert sent["height_shown"]
    answer = client.post("/jobs/1/trial", data={**sent, "seen": "tight"})
    assert answer.status_code == 200
