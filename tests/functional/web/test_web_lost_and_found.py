"""Two devices in step; the server killed while typing; the network gone and back."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from .conftest import Served, job_text

WIDTH = "#banks-0-opening-width"


def steps_done(count: int) -> re.Pattern[str]:
    """What the run says when so many steps are ticked, however many there are."""
    return re.compile(rf"^{count} of \d+ steps done")


def test_two_devices_stay_in_step(desk: Page, phone: Page, served: Served) -> None:
    path = served.add_example()
    for page in (desk, phone):
        page.goto(f"{served.url}{path}/run")
        expect(page.get_by_text(steps_done(0))).to_be_visible(timeout=30_000)
    phone.locator("#tick-0").check()
    expect(desk.locator("#tick-0")).to_be_checked()
    expect(desk.get_by_text(steps_done(1))).to_be_visible()
    desk.locator("#more-step-3 > summary").click()
    desk.locator("#notes-2 summary").click()
    desk.locator("#note-2").fill("blade is dull")
    desk.locator("#note-2").press("Tab")
    expect(phone.locator("#note-2")).to_have_value("blade is dull")
    desk.locator("#tick-0").uncheck()
    expect(phone.locator("#tick-0")).not_to_be_checked()


def test_one_step_on_the_screen(phone: Page, served: Served) -> None:
    path = served.add_example()
    phone.goto(f"{served.url}{path}/run?view=one")
    expect(phone.locator(".step")).to_have_count(1, timeout=30_000)
    phone.locator("#tick-0").check()
    expect(phone.get_by_text(steps_done(1))).to_be_visible()
    expect(phone.locator("#step-1")).to_be_visible()  # a tick does not turn the page
    phone.get_by_role("link", name="Next").click()
    expect(phone.locator("#step-2")).to_be_visible()
    phone.goto(f"{served.url}{path}/run?view=one")
    expect(phone.locator("#step-2")).to_be_visible()


@pytest.mark.alone
def test_progress_survives_sleep_reload_and_restart(phone: Page, served: Served) -> None:
    path = served.add_example()
    phone.goto(f"{served.url}{path}/run")
    phone.locator("#tick-1").check(timeout=30_000)
    expect(phone.get_by_text(steps_done(1))).to_be_visible()
    served.kill()
    expect(phone.locator("#link-state")).to_be_visible()
    phone.locator("#tick-2").check()
    served.start(served.port)
    expect(phone.locator("#link-state")).to_be_hidden()
    expect(phone.get_by_text(steps_done(2))).to_be_visible(timeout=30_000)
    phone.reload()
    expect(phone.locator("#tick-2")).to_be_checked(timeout=30_000)


@pytest.mark.alone
def test_a_server_killed_while_typing_loses_nothing(desk: Page, served: Served) -> None:
    path = served.add_example()
    desk.goto(f"{served.url}{path}/drawers")
    desk.locator(WIDTH).fill("480")
    desk.locator(WIDTH).press("Tab")
    expect(desk.locator("#history")).to_contain_text("revision 2")
    served.kill()
    expect(desk.locator("#link-state")).to_be_visible()
    desk.locator("#banks-1-opening-width").fill("500")
    desk.locator("#banks-1-opening-width").press("Tab")
    expect(desk.locator("#banks-1-opening-width")).to_have_value("500")
    served.start(served.port)
    expect(desk.locator("#link-state")).to_be_hidden()
    expect(desk.locator("#history")).to_contain_text("revision 3")
    text = job_text(desk, served)
    assert "width: 480" in text
    assert "width: 500" in text


def test_offline_and_back(desk: Page, served: Served) -> None:
    path = served.add_example()
    desk.goto(f"{served.url}{path}/drawers")
    expect(desk.locator(WIDTH)).to_be_visible()
    desk.context.set_offline(True)
    desk.locator(WIDTH).fill("481")
    desk.locator(WIDTH).press("Tab")
    expect(desk.locator("#link-state")).to_be_visible()
    desk.context.set_offline(False)
    expect(desk.locator("#link-state")).to_be_hidden()
    expect(desk.locator("#history")).to_contain_text("revision 2")
    assert "width: 481" in job_text(desk, served)


def test_sliders_move_the_drawing_and_the_last_one_wins(desk: Page, served: Served) -> None:
    desk.goto(f"{served.url}/corner")
    verdict = desk.locator("#verdict")
    expect(verdict).to_have_text("Closes, with 0.10 mm play")
    seated = desk.locator("[data-piece=seated] svg").first
    seated.evaluate("drawing => { drawing.stays = drawing.getAttribute('viewBox'); }")
    slider = desk.locator("#bit_height-slider")
    slider.evaluate(
        """(slider) => { for (const height of [12.4, 12.2, 11.5, 11.8]) {
        slider.value = height; slider.dispatchEvent(new Event("input", {bubbles: true})); } }"""
    )
    # Height 2 m - x gives play x (joint-law.md): 12 - 11.8.
    expect(verdict).to_have_text("Closes, with 0.20 mm play")
    expect(desk.locator("#bit_height")).to_have_value("11.80")
    # Only what differs was put into the drawing, which keeps its place and size.
    assert seated.evaluate("drawing => drawing.stays === drawing.getAttribute('viewBox')")
    desk.locator("#bit_height").fill("12.3")
    # Height 2 m + x stands proud by x run / rise; the slope is 45 degrees.
    expect(verdict).to_contain_text("Stands proud 0.30 mm")
    expect(desk.locator("[data-off=bit_height]")).to_contain_text(
        "0.40 mm above"
    )  # said once the slider rests
    desk.locator("#bit_height").fill("tall")
    expect(desk.locator("#fault-bit_height")).to_contain_text("cannot read 'tall' as a length")
    expect(desk.locator("#bit_height")).to_have_attribute("aria-invalid", "true")
    desk.get_by_role("button", name="Back to the recommended settings").click()
    expect(verdict).to_have_text("Closes, with 0.10 mm play")
    expect(desk.locator("#fault-bit_height")).to_have_text("")


def test_the_drawing_that_stays_the_same_is_not_sent_again(desk: Page, served: Served) -> None:
    desk.goto(f"{served.url}/corner")
    expect(desk.locator("#verdict")).to_be_visible()
    wanted = desk.locator("[data-piece=meant]")
    wanted.evaluate("(figure) => { figure.isTheFirst = true; }")
    with desk.expect_response("**/corner/section*") as answered:
        desk.locator("#bit_height").fill("11.8")
    expect(desk.locator("#verdict")).to_have_text("Closes, with 0.20 mm play")
    assert answered.value.text().count("<svg") == 2  # pressed home and pulled
    assert wanted.evaluate("(figure) => figure.isTheFirst")
    with desk.expect_response("**/corner/section*") as answered:
        desk.locator("#flat").fill("14")  # the recommended corner is another one now
    expect(wanted).to_contain_text("14.00 mm")
    assert answered.value.text().count("<svg") == 3


def test_a_failed_drawing_is_asked_for_again(desk: Page, served: Served) -> None:
    desk.goto(f"{served.url}/corner")
    expect(desk.locator("#verdict")).to_be_visible()
    desk.route("**/corner/section*", lambda route: route.abort())
    desk.locator("#bit_height").fill("11.9")
    expect(desk.locator("#link-state")).to_be_visible()
    desk.unroute("**/corner/section*")
    expect(desk.locator("#verdict")).to_have_text("Closes, with 0.10 mm play")
    expect(desk.locator("#link-state")).to_be_hidden()


def test_units_language_and_theme_per_reader(desk: Page, phone: Page, served: Served) -> None:
    path = served.add_example()
    desk.goto(f"{served.url}/reader")
    desk.get_by_label("Show lengths in").select_option("in")
    desk.get_by_label("Light or dark").select_option("dark")
    desk.get_by_role("button", name="Keep").click()
    desk.goto(f"{served.url}{path}/drawers")
    expect(desk.locator(WIDTH)).to_have_value("18.189 in")
    desk.locator(WIDTH).fill("18 1/4")
    desk.locator(WIDTH).press("Tab")
    expect(desk.locator(WIDTH)).to_have_value("18 1/4 in")
    phone.goto(f"{served.url}{path}/drawers")
    expect(phone.locator(WIDTH)).to_have_value("18 1/4 in")
    expect(phone.locator("figure").first).to_contain_text("463.6 mm")
    assert desk.evaluate("getComputedStyle(document.documentElement).colorScheme") == "dark"
