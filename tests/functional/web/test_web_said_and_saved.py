"""Refusals that everybody sees, and typing that is not lost half way."""

from __future__ import annotations

import re
import resource

import pytest
from playwright.sync_api import Page, Route, expect

from .conftest import Served, job_text

WIDTH = "#boxes-0-outer-width"


def test_a_change_that_is_refused_is_said_on_the_page(trays: Page, served: Served) -> None:
    job = "/".join(trays.url.split("/")[:5])
    trays.route("**/events", lambda route: route.abort())
    trays.reload()
    trays.request.post(f"{job}/delete", headers={"Origin": served.url})
    trays.locator(WIDTH).fill("480")
    trays.locator(WIDTH).press("Tab")
    expect(trays.locator("#messages").get_by_role("alert")).to_contain_text("it may have been deleted")
    expect(trays.locator(WIDTH)).to_have_value("480")


@pytest.mark.alone
def test_a_disk_that_takes_no_more_is_named_and_what_was_typed_stays(trays: Page, served: Served) -> None:
    """A file that may grow no further stands for the disk: what the app writes is refused by the system."""
    pid, usual = served.process.pid, resource.prlimit(served.process.pid, resource.RLIMIT_FSIZE)
    resource.prlimit(pid, resource.RLIMIT_FSIZE, (0, usual[1]))
    trays.locator(WIDTH).fill("480")
    trays.locator(WIDTH).press("Tab")
    expect(trays.locator("#messages").get_by_role("alert")).to_contain_text("space left on it")
    expect(trays.locator(WIDTH)).to_have_value("480")
    trays.goto(trays.url.replace("/drawers", "/text"))
    area = trays.locator("#job-text")
    area.fill(f"{area.input_value()}# mine\n")
    trays.get_by_role("button", name="Save").click()
    expect(trays.get_by_role("alert")).to_contain_text("space left on it")
    expect(area).to_have_value(re.compile("# mine"))
    resource.prlimit(pid, resource.RLIMIT_FSIZE, usual)
    trays.get_by_role("button", name="Save").click()
    expect(trays.locator("#history")).to_contain_text("revision 2")
    assert "# mine" in job_text(trays, served)


def test_what_is_being_typed_is_saved_when_the_page_is_reloaded(trays: Page, served: Served) -> None:
    trays.locator(WIDTH).fill("")
    trays.locator(WIDTH).press_sequentially("481.5")
    trays.reload()
    expect(trays.locator("#history")).to_contain_text("revision 2")
    assert "width: 481.5" in job_text(trays, served)


@pytest.mark.parametrize("view", ["", "?view=one"])
def test_a_note_is_saved_when_the_phone_goes_to_sleep(phone: Page, served: Served, view: str) -> None:
    path = served.add_example()
    phone.goto(f"{served.url}{path}/run{view}")
    phone.locator("#notes-0 summary").wait_for(timeout=30_000)
    phone.locator("#notes-0").evaluate("notes => { notes.open = true; }")
    phone.locator("#note-0").press_sequentially("blade is du")
    phone.evaluate(
        """() => { Object.defineProperty(document, "hidden", {value: true});
        document.dispatchEvent(new Event("visibilitychange")); }"""
    )
    expect(phone.locator("#note-0:not([data-dirty])")).to_have_value("blade is du")
    assert "blade is du" in phone.request.get(f"{served.url}{path}/run?part=plan").text()


def test_a_refusal_is_said_with_the_signs_of_its_text(trays: Page) -> None:
    """The answer is HTML, where an apostrophe may be written as a number."""

    def from_elsewhere(route: Route) -> None:
        route.fulfill(response=route.fetch(headers={**route.request.headers, "origin": "null"}))

    trays.route("**/entry", from_elsewhere)
    trays.locator(WIDTH).fill("480")
    trays.locator(WIDTH).press("Tab")
    said = trays.locator("#messages").get_by_role("alert")
    expect(said).to_have_text(
        "This change did not come from a page of this app, so nothing was changed. "
        "Open the app's own page and make the change there."
    )
    # The page sends what was refused once more when the field is left and when it is closed.
    trays.unroute_all(behavior="ignoreErrors")


def test_a_box_that_was_not_saved_is_sent_unticked_when_the_page_goes_away(
    drawers: Page, served: Served
) -> None:
    """A fault of the server left it waiting; what an unticked box sends is nothing, not the word it stands for."""
    drawers.get_by_role("link", name="More about Orchestra parts").click()
    box = drawers.locator("#banks-1-fronts-grain_upright")
    box.check()
    expect(drawers.locator("#history")).to_contain_text("revision 2")
    drawers.route("**/entry", lambda route: route.fulfill(status=500, body="broken"))
    box.uncheck()
    expect(drawers.locator("#messages").get_by_role("alert")).to_contain_text("broken")
    drawers.unroute("**/entry")
    drawers.reload()
    expect(drawers.locator("#history")).to_contain_text("revision 3")
    assert "grain_upright" not in job_text(drawers, served)


def test_typing_left_behind_does_not_end_in_another_row(trays: Page, served: Served, other: Page) -> None:
    """Three boxes alike but for their names; somebody takes out the first while the second is typed into."""
    for row, name in ((1, "Reed tray 4"), (2, "Reed tray 5")):
        trays.get_by_role("button", name="Add a box").click()
        expect(trays.locator(f"#boxes-{row}-name")).to_have_value(name)
    other.route("**/events", lambda route: None)  # no news
    other.goto(trays.url)
    other.locator("#boxes-1-outer-width").fill("")
    other.locator("#boxes-1-outer-width").press_sequentially("250")
    trays.get_by_role("button", name="Remove Reed tray", exact=True).click()
    expect(trays.locator("#boxes-2-name")).to_have_count(0)
    other.goto(served.url)
    expect(trays.locator("#boxes-0-outer-width")).to_have_value("250")
    expect(trays.locator("#boxes-0-name")).to_have_value("Reed tray 4")
    expect(trays.locator("#boxes-1-outer-width")).to_have_value("268")
