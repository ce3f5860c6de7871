"""Once a test cut is accepted, every page shows the next setting and calls no cut the first."""

from __future__ import annotations

import re
import time
from html import unescape

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.building import read_job
from drawerwright.job.planning.draft import draft_job
from drawerwright.web.server.shop import Shop

PAGES = ("trial", "corner", "run", "cutter")
MARKS = {"corner": 'id="odds-head"', "run": 'class="step-title"'}
"""What stands on a page whose plan is made."""
PATIENCE = 60.0
"""Seconds until a test gives up."""


def page(client: TestClient, name: str) -> str:
    """A page of the job; one that shows its plan once there is one."""
    until = time.monotonic() + PATIENCE
    while True:
        html = unescape(client.get(f"/jobs/1/{name}").text)
        if MARKS.get(name, "") in html or time.monotonic() > until:
            return html
        time.sleep(0.2)


def shown(html: str, label: str) -> str:
    found = re.search(rf"<dt>{label}</dt><dd>([^<]+)</dd>", html)
    assert found is not None, label
    return found[1]


def test_pages_show_the_next_setting_after_a_test_cut_was_accepted(client: TestClient, shop: Shop) -> None:
    corner = draft_job(read_job(shop.jobs.load(1).text)).corners[0]
    before = page(client, "trial")
    assert "For the first cut" in before
    cut = {"corner": corner.key.token, "height_shown": "11.25", "fence_flat_shown": "16.50"}
    cut |= {"fence_upright_shown": "9.05", "flat": "14.6", "upright": "14.6", "play": "0.30", "lip": "7.65"}
    answered = unescape(client.post("/jobs/1/trial", data=cut).text)
    height = shown(answered, "Height gauge shows")
    fences = [shown(answered, f"Fence scale, {piece} piece") for piece in ("flat", "upright")]
    assert height != shown(before, "Height gauge shows")
    assert client.post(f"/jobs/1/trial/accept?corner={corner.key.token}").is_success
    after = page(client, "trial")
    assert "For the next cut" in after
    assert shown(after, "Height gauge shows") == height
    assert [shown(after, f"Fence scale, {piece} piece") for piece in ("flat", "upright")] == fences
    run = page(client, "run")
    assert {height} == set(re.findall(r"<dt>Height gauge shows</dt><dd>([^<]+)</dd>", run))
    assert set(fences) <= set(re.findall(r"<dt>Fence scale shows</dt><dd>([^<]+)</dd>", run))
    for name in PAGES:
        assert "first cut" not in page(client, name).lower(), name


@pytest.mark.parametrize("name", ["corner", "trial"])
def test_before_that_the_first_cut_is_called_so(client: TestClient, name: str) -> None:
    assert "the first cut" in page(client, name)
