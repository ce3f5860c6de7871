"""Test cuts of a job with two stocks: each counts for the corner that it was made for, and none is lost."""

from __future__ import annotations

import re
from html import unescape

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.building import read_job
from drawerwright.job.planning.draft import Corner, draft_job
from drawerwright.store import ShelfKind
from drawerwright.web.fields import job_text
from drawerwright.web.server.shop import Shop

SHEETS = "sheets: [{length: 2500, width: 1250}]"
TWO_STOCKS = f"""\
format: 1
job: two stocks
cutter: {{name: lock cutter, mid_depth: 5.4 ± 0.05, step: 3.7 ± 0.03, slope: 50}}
machine: {{router_table: {{repeatability: 0.03}}}}
stock:
  ash15: {{nominal: 15, measured: [14.6], {SHEETS}}}
  beech15: {{nominal: 15, measured: [14.6], {SHEETS}}}
boxes:
  - {{name: music, lip: 6, outer: {{width: 320, depth: 260, height: 80}}, box: {{all: ash15}}}}
  - {{name: strings, lip: 6, outer: {{width: 320, depth: 260, height: 80}}, box: {{all: beech15}}}}
"""
CUT = {
    "height_shown": "10.8",
    "fence_flat_shown": "12.15",
    "fence_upright_shown": "12.15",
    "flat": "14.6",
    "upright": "14.6",
    "roof": "3.9",
}
SO_FAR = "Cuts so far"
NONE_OF_THEM = "Test cuts that count for no corner of this job"


def corners(shop: Shop) -> dict[str, Corner]:
    """The corners at the front by their stock."""
    found = draft_job(read_job(shop.jobs.load(2).text)).corners
    return {corner.key.flat: corner for corner in found if corner.key.lip}


@pytest.fixture
def ash(shop: Shop) -> Corner:
    shop.jobs.add("two stocks", TWO_STOCKS)
    return corners(shop)["ash15"]


@pytest.fixture
def beech(shop: Shop, ash: Corner) -> Corner:
    return corners(shop)["beech15"]


def page(client: TestClient, corner: Corner) -> str:
    return unescape(client.get(f"/jobs/2/trial?corner={corner.key.token}").text)


def save(client: TestClient, corner: Corner) -> int:
    return client.post("/jobs/2/trial", data=CUT | {"corner": corner.key.token}).status_code


def edit(shop: Shop, was: str, now: str) -> None:
    job = shop.jobs.load(2)
    assert was in job.text
    shop.jobs.save(2, job.text.replace(was, now), title="two stocks", base=job.revision.number)


def test_a_cut_counts_for_its_own_corner_only(
    client: TestClient, shop: Shop, ash: Corner, beech: Corner
) -> None:
    assert save(client, ash) == 200
    assert SO_FAR in page(client, ash)
    assert SO_FAR not in page(client, beech)
    assert NONE_OF_THEM not in page(client, beech)
    # What it taught is accepted for its own corner, and the other corner's cuts stay open.
    assert save(client, beech) == 200
    assert client.post(f"/jobs/2/trial/accept?corner={ash.key.token}").is_success
    assert SO_FAR not in page(client, ash)
    assert SO_FAR in page(client, beech)


def test_a_cut_is_saved_for_the_corner_that_was_shown_whatever_others_did_meanwhile(
    client: TestClient, shop: Shop, ash: Corner, beech: Corner
) -> None:
    """Another box came first meanwhile, so that the corners have other places in the job."""
    low = "{name: low, outer: {width: 300, depth: 200, height: 60}, box: {all: beech15}}"
    edit(shop, "boxes:\n", f"boxes:\n  - {low}\n")
    assert save(client, beech) == 200
    assert SO_FAR in page(client, corners(shop)["beech15"])
    assert SO_FAR not in page(client, corners(shop)["ash15"])


def test_a_cut_for_a_corner_that_is_gone_is_refused(client: TestClient, shop: Shop, ash: Corner) -> None:
    edit(shop, "lip: 6", "lip: 7")
    assert save(client, ash) == 422
    assert shop.shelf.list(ShelfKind.TRIAL_CUT) == ()


@pytest.mark.parametrize("what", ["stock", "cutter"])
def test_cuts_stay_with_a_corner_whose_stock_or_cutter_is_renamed(
    client: TestClient, shop: Shop, ash: Corner, what: str
) -> None:
    save(client, ash)
    if what == "stock":
        wish = {"old": "ash15", "name": "ash from the loft", "base": "1"}
        assert client.post("/jobs/2/stock/rename", data=wish).status_code == 204
    else:
        wish = {"path": '["cutter", "name"]', "kind": "text", "value": "blue", "base": "1"}
        assert client.post("/jobs/2/entry", data=wish).status_code == 204
    assert SO_FAR in page(client, ash)
    cutter = unescape(client.get("/jobs/2/cutter").text)
    assert ("ash from the loft 14.60 mm; ash from the loft 14.60 mm" in cutter) is (what == "stock")
    assert "front corner, lip 6.0 mm, ash15" in cutter


def test_cuts_of_a_corner_that_is_no_more_are_shown_and_can_be_counted_for_another(
    client: TestClient, shop: Shop, ash: Corner
) -> None:
    save(client, ash)
    (entry,) = shop.shelf.list(ShelfKind.TRIAL_CUT)
    edit(shop, "lip: 6", "lip: 7")
    wider, beech = corners(shop)["ash15"], corners(shop)["beech15"]
    for corner in (wider, beech):
        shown = page(client, corner)
        assert NONE_OF_THEM in shown
        assert SO_FAR not in shown
        assert "front corner, lip 6.0 mm, ash15" in shown
    claimed = client.post(f"/jobs/2/trial/{entry.id}/claim?corner={wider.key.token}")
    assert "The test cut now counts for this corner." in claimed.text
    assert SO_FAR in page(client, wider)
    assert NONE_OF_THEM not in page(client, beech)
    assert client.post(f"/jobs/2/trial/{entry.id}/release?corner={wider.key.token}").is_success
    assert SO_FAR not in page(client, wider)
    assert job_text.data_of(shop.shelf.load(entry.id).text) == job_text.data_of(entry.text)
    # The corner as it was comes back, and so does its cut.
    edit(shop, "lip: 7", "lip: 6")
    assert SO_FAR in page(client, ash)


def test_a_cut_with_readings_of_another_joint_is_not_counted(
    client: TestClient, shop: Shop, ash: Corner
) -> None:
    text = (
        "job: 2\nheight_shown: 18\nfence_shown: 20\nflat: 14.6\nupright: 14.6\nreadings: {turn_over: 0.1}\n"
    )
    entry = shop.shelf.add(ShelfKind.TRIAL_CUT, "of a lock-mitre", text)
    assert NONE_OF_THEM in page(client, ash)
    answer = client.post(f"/jobs/2/trial/{entry.id}/claim?corner={ash.key.token}")
    assert answer.status_code == 422
    assert "another kind of joint" in answer.text
    assert shop.shelf.load(entry.id) == entry


def test_a_cut_of_another_job_is_no_business_of_this_one(client: TestClient, shop: Shop, ash: Corner) -> None:
    save(client, ash)
    (entry,) = shop.shelf.list(ShelfKind.TRIAL_CUT)
    own = draft_job(read_job(shop.jobs.load(1).text)).corners[0].key.token
    assert client.post(f"/jobs/1/trial/{entry.id}/claim?corner={own}").status_code == 404
    assert client.post(f"/jobs/1/trial/{entry.id}/release?corner={own}").status_code == 404


def test_pages_name_corners_by_tokens_that_no_change_of_the_job_moves(
    client: TestClient, shop: Shop, ash: Corner, beech: Corner
) -> None:
    for place in ("trial", "corner"):
        for corner in (ash, beech):
            shown = client.get(f"/jobs/2/{place}?corner={corner.key.token}&part=1").text
            (here,) = re.findall(
                r'<a href="[^"]*corner=(\w+)" aria-current="true">.*?<span>(.*?)</span>', shown, re.S
            )
            name = unescape(here[1]).replace("\N{NO-BREAK SPACE}", " ")
            assert (here[0], name) == (corner.key.token, corner.name)


def test_the_papers_say_that_a_test_cut_asks_for_other_settings(
    client: TestClient, shop: Shop, ash: Corner
) -> None:
    """The cards are made of what the job has; the cut's settings are at the machine."""
    words = "asks for other settings than the cards of the packet have"
    plan = shop.plans.ask(shop.jobs.load(2).text, 60.0, 2)
    assert plan.made is not None
    assert words not in client.get("/jobs/2/papers").text
    save(client, ash)
    shown = unescape(client.get("/jobs/2/papers").text)
    assert words in shown
    assert f'href="/jobs/2/trial?corner={ash.key.token}"' in shown
