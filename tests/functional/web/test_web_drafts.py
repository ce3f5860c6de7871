"""Forms that are sent as a whole: what is typed into them outlives the page, and goes when it has been taken."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, Route, expect

from .conftest import TRAYS, Served, change_entry, example_corner, job_text
from .test_web_whole_job import ENTRIES

NOTE = "You typed this earlier"


def test_readings_at_the_machine_outlive_the_page_until_they_are_sent(phone: Page, served: Served) -> None:
    path = served.add_example()
    trial = f"{served.url}{path}/trial?corner={example_corner(1)}"
    phone.goto(trial)
    note = phone.get_by_text(NOTE)
    expect(note).to_be_hidden()
    phone.locator("#roof").press_sequentially("3.4")
    phone.locator("[name=seen][value=play]").check()
    phone.get_by_label("The height was set with a block").check()
    phone.goto(f"{served.url}/reader")
    phone.goto(trial)
    expect(phone.locator("#roof")).to_have_value("3.4")
    expect(phone.locator("[name=seen][value=play]")).to_be_checked()
    expect(phone.get_by_label("The height was set with a block")).to_be_checked()
    expect(note).to_be_visible()
    phone.goto(f"{served.url}{path}/trial?corner={example_corner(0)}")
    expect(phone.locator("#roof")).to_have_value("")  # another corner, other readings
    phone.goto(trial)
    phone.locator("#head").fill("thick")
    phone.get_by_role("button", name="What should I change?").click()
    expect(phone.locator("#fault-head")).not_to_be_empty()
    phone.goto(trial)
    expect(phone.locator("#head")).to_have_value("thick")
    phone.locator("#head").fill("")
    phone.get_by_role("button", name="What should I change?").click()
    expect(phone.get_by_role("heading", name="Cuts so far")).to_be_visible()
    for _visit in range(2):
        expect(phone.locator("#roof")).to_have_value("")
        expect(note).to_be_hidden()
        phone.goto(trial)


@pytest.mark.alone
def test_a_form_that_was_sent_into_the_void_is_still_there(desk: Page, served: Served) -> None:
    desk.goto(f"{served.url}/jobs/new")
    for name, text in ENTRIES.items():
        desk.locator(f"#{name}").fill(text)
    served.kill()
    desk.get_by_role("button", name="Start the job").click()
    desk.wait_for_url(re.compile("chrome-error"))
    served.start(served.port)
    desk.goto(f"{served.url}/jobs/new")
    expect(desk.locator("#opening_width")).to_have_value(ENTRIES["opening_width"])
    desk.get_by_role("button", name="Start the job").click()
    expect(desk.get_by_role("heading", name="Known and missing")).to_be_visible()
    desk.goto(f"{served.url}/jobs/new")
    expect(desk.locator("#opening_width")).to_have_value("")


@pytest.mark.alone
def test_a_draft_is_forgotten_only_when_the_server_has_taken_it(phone: Page, served: Served) -> None:
    """Sent into the void, then another page, then back: that the form is not on the next page says nothing."""
    path = served.add_example()
    trial = f"{served.url}{path}/trial?corner={example_corner(1)}"
    phone.goto(trial)
    phone.locator("#roof").press_sequentially("3.4")

    def die(route: Route) -> None:
        if route.request.method == "POST":
            served.kill()
        route.continue_()

    phone.route("**/trial**", die)
    phone.get_by_role("button", name="What should I change?").click()
    phone.wait_for_url(re.compile("chrome-error"))
    phone.unroute("**/trial**")
    served.start(served.port)
    phone.goto(f"{served.url}/reader")
    phone.goto(trial)
    expect(phone.locator("#roof")).to_have_value("3.4")
    expect(phone.get_by_text(NOTE)).to_be_visible()
    phone.get_by_role("button", name="What should I change?").click()
    expect(phone.get_by_role("heading", name="Cuts so far")).to_be_visible()
    forgotten = "sessionStorage.length === 0 && !document.cookie.includes('taken')"
    for _ in range(160):  # a page that allows no eval can be asked, but not be waited for
        if phone.evaluate(forgotten):
            break
        phone.wait_for_timeout(25)
    assert phone.evaluate(forgotten)


def test_a_text_comes_back_with_the_revision_that_it_was_made_from(desk: Page, served: Served) -> None:
    text_page = f"{served.url}{served.add_job(TRAYS)}/text"
    desk.goto(text_page)
    before = job_text(desk, served)
    area = desk.locator("#job-text")
    area.fill(before + "# mine\n")
    desk.goto(f"{served.url}/reader")
    change_entry(desk, text_page, ["boxes", 0, "outer", "width"], "480")
    desk.goto(text_page)
    expect(area).to_have_value(before + "# mine\n")
    expect(desk.get_by_text(NOTE)).to_be_visible()
    desk.get_by_role("button", name="Save", exact=True).click()
    expect(desk.get_by_role("alert")).to_contain_text("Someone else saved meanwhile")
    desk.goto(text_page)
    expect(area).to_have_value(before + "# mine\n")
    desk.get_by_role("button", name="Discard it").click()
    expect(area).to_have_value(before.replace("width: 268", "width: 480", 1))
    expect(desk.get_by_text(NOTE)).to_be_hidden()
    area.fill(before + "# mine after all\n")
    desk.get_by_role("button", name="Save", exact=True).click()
    expect(desk.locator("#history")).to_contain_text("revision 3")
    desk.reload()
    expect(area).to_have_value(before + "# mine after all\n")
    expect(desk.get_by_text(NOTE)).to_be_hidden()


def test_who_goes_back_to_an_answer_finds_the_form_as_it_was_filled(desk: Page, served: Served) -> None:
    path = served.add_example()
    rows = "Drawer; Outer width; Outer depth; Height of the sides; Stock\nplane box; 412; 300; 90; Birch"
    desk.goto(f"{served.url}{path}/import")
    desk.locator("[name=table]").fill(rows)
    desk.get_by_role("button", name="Look at it").click()
    expect(desk.locator("#found-head")).to_be_visible()
    desk.get_by_role("navigation").get_by_role("link", name="Stock").click()
    expect(desk).to_have_url(re.compile("/stock$"))
    desk.go_back()
    expect(desk.locator("[name=table]")).to_have_value(rows)
    desk.reload()
    expect(desk.locator("[name=table]")).to_have_value(rows)


@pytest.mark.alone
def test_who_goes_back_from_a_new_job_finds_its_form_again(desk: Page, served: Served) -> None:
    """It was refused once, so the page that they go back to is an answer."""
    desk.goto(f"{served.url}/jobs/new")
    for name, text in ENTRIES.items():
        desk.locator(f"#{name}").fill("" if name == "count" else text)
    desk.get_by_role("button", name="Start the job").click()
    expect(desk.locator("#count")).to_have_attribute("aria-invalid", "true")
    desk.locator("#count").fill(ENTRIES["count"])
    desk.get_by_role("button", name="Start the job").click()
    expect(desk.get_by_role("heading", name="Known and missing")).to_be_visible()
    desk.go_back()
    expect(desk.get_by_role("button", name="Start the job")).to_be_visible()
