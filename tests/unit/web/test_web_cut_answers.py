"""What the page answers to a test cut: the next setting, quarrels, faults beside their fields, what to read next."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.planning.draft import draft_job

CORNER = draft_job(read_job(example_text())).corners[1].key.token


def value_of(page: str, field: str) -> str:
    """What stands in a field of the page."""
    found = re.search(rf'<input id="{field}" name="{field}" value="([^"]*)"', page)
    assert found is not None, field
    return found[1]


@pytest.fixture
def shown(client: TestClient) -> dict[str, str]:
    """What the page of the example's second corner has in its form before anything is typed."""
    page = client.get(f"/jobs/1/trial?corner={CORNER}").text
    fields = ("height_shown", "fence_flat_shown", "fence_upright_shown", "flat", "upright")
    return {"corner": CORNER} | {field: value_of(page, field) for field in fields}


def answer(client: TestClient, shown: dict[str, str], **typed: str) -> str:
    return client.post("/jobs/1/trial", data=shown | typed).text


def test_what_is_only_seen_counts_as_well(client: TestClient, shown: dict[str, str]) -> None:
    page = answer(client, shown, seen="proud")
    assert "For the next cut" in page
    assert float(value_of(page, "height_shown")) < float(shown["height_shown"]), "stands proud: cut too high"


def test_two_readings_that_contradict_each_other_are_both_named(
    client: TestClient, shown: dict[str, str]
) -> None:
    page = answer(client, shown, play="0.30", shoulder_gap="0.02")
    quarrel = page[page.index("contradict each other") :]
    assert "cut 1, play along the upright piece" in quarrel
    assert "cut 1, gap at the shoulder when pulled" in quarrel


def test_a_block_planed_to_the_height_stays_a_block(client: TestClient, shown: dict[str, str]) -> None:
    page = answer(client, shown, by_block="1", height_shown="11.30", play="0.25")
    assert "Plane a block to" in page
    assert '<input type="checkbox" name="by_block" value="1" checked>' in page
    # 0.25 mm of play where 0.075 is aimed at: a block 0.175 thicker, or a little less as the reading may be off.
    assert 11.40 < float(value_of(page, "height_shown")) < 11.48


def test_bad_readings_stay_in_their_fields(client: TestClient, shown: dict[str, str]) -> None:
    page = answer(client, shown, roof="thin", play="-0.1", head="9.03")
    for field, words in (("roof", "cannot read &#39;thin&#39; as a length"), ("play", "must be 0 or more")):
        fault = page[page.index(f'id="fault-{field}"') :].split("</p>")[0]
        assert words in fault
    assert [value_of(page, field) for field in ("roof", "play", "head")] == ["thin", "-0.1", "9.03"]


def test_the_next_reading_worth_taking_is_named(client: TestClient, shown: dict[str, str]) -> None:
    page = answer(client, shown, play="0.2")
    worth = page[page.index("Next, measure") :].split("</p>")[0]
    assert "That raises the odds of both to" in worth
    assert "play along the upright piece" not in worth, "that one has been read"
