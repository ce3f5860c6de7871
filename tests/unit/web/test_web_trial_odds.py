"""The Test cut page says of the first cut what the Corner page, the plan and the cards say."""

from __future__ import annotations

from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.kept_settings import Tried, keep_settings
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.first_cut_odds import corner_odds, job_odds
from drawerwright.job.planning.odds_words import cut_words
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of

DESK = "http://127.0.0.1:8744"


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    shop = Shop(tmp_path)
    yield shop
    shop.close()


@pytest.fixture
def client(shop: Shop) -> TestClient:
    app = app_of(shop)
    return TestClient(app, base_url=DESK, client=("127.0.0.1", 5), headers={"Origin": DESK})


def test_the_first_cut_has_the_odds_that_the_plan_gives_it(shop: Shop, client: TestClient) -> None:
    shop.jobs.add("example", example_text())
    job = read_job(example_text())
    odds = job_odds(draft_job(job))
    assert len(odds.corners) > 1
    for corner, of_corner in odds.corners:
        gauge = job.table.height_reading(of_corner.aimed_height)
        words = cut_words(of_corner, f"the height gauge at {gauge:.2f} mm")
        page = unescape(client.get(f"/jobs/1/trial?corner={corner.key.token}").text).replace("\xa0", " ")
        assert f"<strong data-announce>{words}</strong>" in page


def test_one_corner_is_judged_as_within_its_job() -> None:
    draft = draft_job(read_job(example_text()))
    for corner, of_job in job_odds(draft, tries=2000).corners:
        assert corner_odds(draft, corner, tries=2000).odds == of_job.odds


def test_the_first_cut_is_dialled_in_at_the_height_that_the_job_keeps(shop: Shop, client: TestClient) -> None:
    job = read_job(example_text())
    corner = draft_job(job).corners[0]
    setting = corner.setting
    kept = setting.bit_height - 0.2
    text = keep_settings(example_text(), corner.key, Tried(kept, setting.fence_flat, setting.fence_upright))
    shop.jobs.add("example", text)
    page = client.get("/jobs/1/trial").text.replace("\xa0", " ")
    assert f"<dt>Height gauge shows</dt><dd>{job.table.height_reading(kept):.2f} mm</dd>" in page


def test_without_any_doubt_stated_no_odds_are_promised(shop: Shop, client: TestClient) -> None:
    text = example_text()
    for known, exact in (
        ("5.65 ± 0.05", "5.65 ± 0"),
        ("0.05 ± 0.05", "0.05 ± 0"),
        ("ability: 0.03", "ability: 0"),
    ):
        assert known in text
        text = text.replace(known, exact)
    shop.jobs.add("example", text)
    page = client.get("/jobs/1/trial").text
    assert "<strong data-announce>There are no odds to give" in page
    assert "Expected misfit" not in page
