"""Which joint: asked for on *Drawers*, compared in the background, taken with one tap."""

from __future__ import annotations

import html
import json
import re
import time

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.building import read_job
from drawerwright.web.server.shop import Shop

JOB = """
format: 1
job: Score chest
cutter: {mid_depth: 5.6, step: 3.4, diameter: 40}
stock:
  maple: {nominal: 15, measured: [15.2], panel: solid, species: "maple, sugar", sheets: [{length: 2400, width: 1200}]}
boxes:
  - name: Scores
    count: 2
    use: heavy
    outer: {width: 500, depth: 450, height: 142.5}
    box: {all: maple}
"""


@pytest.fixture
def page(client: TestClient, shop: Shop) -> str:
    shop.jobs.add("scores", JOB, "")
    for _try in range(100):
        text = client.get("/jobs/2/joints").text
        if "<progress" not in text:
            return text
        time.sleep(0.1)
    raise AssertionError("not compared in time")


def test_it_is_offered_beside_the_drawers(client: TestClient) -> None:
    assert "/jobs/1/joints" in client.get("/jobs/1/drawers").text


def test_a_tap_takes_what_is_recommended(client: TestClient, shop: Shop, page: str) -> None:
    assert "finger joint" in page
    assert "No load is stated: in heavy use the joint that bears most" in page
    assert "no joint was tested" in page
    assert re.search(r"hx-post=\"/jobs/2/joints/take\"", page)
    (sent,) = re.findall(r'joints/take" hx-swap="none" hx-vals="([^"]*)"', page)[:1]
    values = json.loads(html.unescape(html.unescape(sent)))
    assert json.loads(values["changes"]) == [{"drawers": ["Scores 1", "Scores 2"], "joint": "finger"}]
    answer = client.post("/jobs/2/joints/take", data=values)
    assert answer.status_code in (200, 204), answer.text[:300]
    assert read_job(shop.jobs.load(2).text).boxes[0].joint == "finger"


@pytest.mark.parametrize("sent", ["", '["A1"]', '[{"joint": "finger"}]'])
def test_what_is_no_list_of_changes_is_refused(client: TestClient, sent: str) -> None:
    answer = client.post("/jobs/1/joints/take", data={"changes": sent})
    assert answer.status_code == 422, answer.text[:200]


def test_what_is_routed_is_in_the_unit_of_the_reader(client: TestClient, page: str) -> None:
    """1 ft = 0.3048 m."""
    metres = [float(run) for run in re.findall(r">([0-9.]+)\xa0m</td>", page)]
    inches = client.get("/jobs/2/joints", headers={"Cookie": "drawerwright_reader=en|in|point|light"}).text
    feet = [float(run) for run in re.findall(r">([0-9.]+)\xa0ft</td>", inches)]
    assert metres
    assert feet == [pytest.approx(run / 0.3048, abs=0.05 / 0.3048 + 0.05) for run in metres]


def test_a_joint_chosen_on_the_page_shows_its_own_measures(client: TestClient, shop: Shop) -> None:
    shop.jobs.add("scores", JOB.replace("    count: 2\n", "    count: 2\n    cutter: cutter\n"), "")

    def type_in(path: str, typed: str, was: str) -> None:
        fields = {"base": str(shop.jobs.load(2).revision.number), "path": path, "value": typed, "was": was}
        kind = "choice" if typed in ("finger", "rebate") else "length"
        answer = client.post("/jobs/2/entry", data={**fields, "kind": kind})
        assert answer.status_code in (200, 204), answer.text[:300]

    type_in('["boxes", 0, "joint"]', "finger", "")
    assert read_job(shop.jobs.load(2).text).boxes[0].joint == "finger"
    assert "cutter: cutter" not in shop.jobs.load(2).text
    assert "finger width" in client.get("/jobs/2/drawers").text
    type_in('["boxes", 0, "joint", "finger"]', "12", "")
    assert dict(read_job(shop.jobs.load(2).text).boxes[0].corners[0].key.measures) == {"finger": 12.0}
    type_in('["boxes", 0, "joint", "kind"]', "rebate", "finger")
    assert read_job(shop.jobs.load(2).text).boxes[0].joint == "rebate"
