"""The pages of a job with corners that no cutter makes: beside routed ones, and alone."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

from drawerwright.job.file.first_jobs import example_text
from drawerwright.joints.registry import forget, register
from drawerwright.web.server.shop import Shop
from screwed_butt import SCREWED_BUTT

PAGES = ("drawers", "cutter", "corner", "trial", "sheets", "run", "papers", "stock")
pytestmark = pytest.mark.usefixtures("screwed_butt_known")
ALONE = """
format: 1
job: Reed trays
stock:
  poplar: {nominal: 15, measured: [15.2], sheets: [{length: 2400, width: 1200}]}
boxes:
  - name: Tray
    joint: screwed-butt
    outer: {width: 420, depth: 310, height: 130}
    box: {all: poplar}
"""


@pytest.fixture
def jobs(shop: Shop) -> tuple[str, str]:
    """Where the pages of two such jobs begin: with other corners, and with none."""
    mixed = example_text().replace("  - name: Reed tray", "  - name: Reed tray\n    joint: screwed-butt", 1)
    assert mixed != example_text()
    for number, text in ((2, mixed), (3, ALONE)):
        shop.jobs.add("trays", text, "")
        assert shop.plans.ask(text, 60.0, number).made is not None
    return "/jobs/2", "/jobs/3"


def test_no_page_stumbles(client: TestClient, jobs: tuple[str, str]) -> None:
    """One test: to plan the two jobs takes longer than to look at all their pages."""
    for page in PAGES:
        beside, alone = (client.get(f"{job}/{page}") for job in jobs)
        assert beside.status_code == 200, beside.text[:500]
        assert alone.status_code == 200, alone.text[:500]
        assert ("No cutter makes the corners of this job" in alone.text) == (page in ("corner", "trial")), (
            page
        )
    assert all("butt joint: glue and screws" in client.get(f"{job}/drawers").text for job in jobs)
    for job, drawer in zip(jobs, ("Reed tray 1", "Tray"), strict=True):
        answer = client.get(f"{job}/drawer.glb", params={"drawer": drawer})
        assert answer.status_code == 200, answer.text[:300]


@pytest.mark.parametrize(
    ("page", "figure"),
    [("corner", r"<dt>jig pitch</dt><dd>19\.0"), ("trial", r"<dt>From pin to cutter</dt><dd>9\.45")],
)
def test_a_job_without_a_cutter_shows_the_figures_of_its_corners(
    client: TestClient, shop: Shop, page: str, figure: str
) -> None:
    """A faultless job: nothing to undo. Its pitch is a finger and a gap of 9.5 mm each; a notch is wider by half the
    clearance, and what is left between pin and cutter narrower."""
    shop.jobs.add("trays", ALONE.replace("screwed-butt", "{kind: finger, finger: 9.5, clearance: 0.1}"), "")
    number = 2
    answer = client.get(f"/jobs/{number}/{page}")
    assert answer.status_code == 200
    assert "cannot be shown" not in answer.text
    assert "Undo the last change" not in answer.text
    assert "<svg" in answer.text
    assert re.search(figure, answer.text)


def test_what_is_not_installed_is_not_offered(client: TestClient) -> None:
    forget(SCREWED_BUTT.name)
    page = client.get("/jobs/1/drawers").text
    register(SCREWED_BUTT)
    assert "Joint without a cutter" in page
    assert "finger joint: notched edges" in page
    assert "butt joint: glue and screws" not in page
