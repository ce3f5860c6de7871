"""Who goes away: what waits still arrives, links wait only as long as somebody would, a deleted job says so."""

from __future__ import annotations

import re
import time
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from .conftest import Served, job_text, type_into

WIDTH = "#banks-0-opening-width"
OUTER = "#boxes-0-outer-width"
SLOW = {"offline": False, "latency": 600, "downloadThroughput": -1, "uploadThroughput": -1}

COUNT_LINKS_FOLLOWED = """() => {
    window.linksFollowed = 0;
    const count = () => { window.linksFollowed += 1; };
    for (const kind of ["click", "beforeunload"]) window.addEventListener(kind, count, true);
}"""


def slow_down(page: Page) -> None:
    """Every answer takes its time, as on a phone at the far end of the shop."""
    page.context.new_cdp_session(page).send("Network.emulateNetworkConditions", SLOW)


def comes_true(what: Callable[[], bool], seconds: float = 20.0) -> bool:
    """Whether something comes true within a time."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if what():
            return True
        time.sleep(0.05)
    return what()


def steps_ticked(server: Served, path: str) -> list[int]:
    """Which steps are ticked, as the server tells whoever comes anew."""
    boxes = re.findall(r'<input[^>]*id="tick-\d+"[^>]*>', server.text(f"{path}/run"))
    assert boxes
    return [int(box.split('id="tick-')[1].split('"')[0]) for box in boxes if "checked" in box]


def test_what_waits_arrives_when_a_phone_closes_the_page(phone: Page, served: Served) -> None:
    path = served.add_example()
    phone.goto(f"{served.url}{path}/run")
    expect(phone.locator("#tick-3")).to_be_visible(timeout=30_000)
    slow_down(phone)
    for number in (0, 1, 2, 3):
        phone.locator(f"#tick-{number}").check()
    phone.locator("#tick-1").uncheck()
    phone.close()
    assert comes_true(lambda: steps_ticked(served, path) == [0, 2, 3])


def test_what_waits_arrives_in_its_order(phone: Page, drawers: Page, served: Served) -> None:
    """One entry three times, the list, and what is still being typed: nothing is taken for somebody else's."""
    phone.goto(drawers.url)
    expect(phone.locator(WIDTH)).to_have_value("462")
    slow_down(phone)
    for width in ("470", "480", "490"):
        type_into(phone, WIDTH, width)
    phone.get_by_role("button", name="Add a box").click()
    phone.locator(".in-brief a", has_text="Orchestra parts").click()
    phone.locator("#banks-1-opening-width").fill("505")
    phone.close()
    assert comes_true(lambda: "width: 505" in job_text(drawers, served))
    text = job_text(drawers, served)
    assert "width: 490" in text
    assert text.count("Reed tray 4") == 1
    expect(drawers.locator("#history")).to_contain_text("revision 6")


def test_a_job_deleted_elsewhere_is_said_once_and_no_longer_asked_for(trays: Page, served: Served) -> None:
    job = trays.url.split("/jobs/")[1].split("/")[0]
    assert trays.request.post(f"{served.url}/jobs/{job}/delete", headers={"Origin": served.url}).ok
    said = trays.locator("#job-deleted")
    expect(said).to_be_visible()
    expect(trays.locator("#link-state")).to_be_hidden()
    trays.evaluate("performance.clearResourceTimings()")
    time.sleep(3)  # so long nothing is asked
    assert trays.evaluate("performance.getEntriesByType('resource').length") == 0
    expect(said).to_contain_text("This job has been deleted")
    trays.reload()
    expect(trays.get_by_role("main")).to_contain_text("no job")


def test_a_page_that_comes_back_to_a_deleted_job_says_so(trays: Page, other: Page, served: Served) -> None:
    """The news were missed: the connection was away when the job was deleted."""
    trays.context.set_offline(True)
    trays.evaluate("window.dispatchEvent(new Event('offline'))")
    other.goto(served.url)
    job = trays.url.split("/jobs/")[1].split("/")[0]
    other.locator(f"form[action='/jobs/{job}/delete'] button").click()
    other.get_by_role("button", name="Undo").wait_for()
    trays.context.set_offline(False)
    expect(trays.locator("#job-deleted")).to_be_visible()
    expect(trays.locator("#link-state")).to_be_hidden()


@pytest.mark.alone
def test_a_link_is_not_followed_minutes_after_it_was_clicked(trays: Page, served: Served) -> None:
    served.kill()
    type_into(trays, OUTER, "480")
    expect(trays.locator("#link-state")).to_be_visible()
    trays.get_by_role("link", name="Papers").click()
    expect(trays.get_by_role("alert")).to_contain_text("link was not followed")
    trays.evaluate(COUNT_LINKS_FOLLOWED)
    served.start(served.port)
    expect(trays.locator("#link-state")).to_be_hidden()
    expect(trays.locator("#history")).to_contain_text("revision 2")
    expect(trays.locator(".htmx-request")).to_have_count(
        0
    )  # a link that waits is followed when all is answered
    assert trays.evaluate("window.linksFollowed") == 0
    assert trays.url.endswith("/drawers")
    expect(trays.get_by_role("alert")).to_have_count(0)
    trays.get_by_role("link", name="Papers").click()
    trays.wait_for_url("**/papers")


@pytest.mark.alone
def test_a_link_that_waits_is_given_up_when_the_connection_goes(trays: Page, served: Served) -> None:
    trays.route("**/entry", lambda route: None)  # on its way, and no answer yet
    type_into(trays, OUTER, "480")
    trays.locator(f"{OUTER}.htmx-request").wait_for(state="attached")
    trays.get_by_role("link", name="Papers").click()
    served.kill()
    expect(trays.get_by_role("alert")).to_contain_text("link was not followed")
    trays.unroute("**/entry")
    served.start(served.port)
    expect(trays.locator("#link-state")).to_be_hidden()
    assert re.search("/drawers$", trays.url)
