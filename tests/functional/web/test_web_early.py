"""What is done on a page before its scripts are there is done once they are: nothing is lost for a quick hand."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, Route, expect

from .conftest import Served, job_text
from .test_web_lost_and_found import steps_done

Held = Callable[[str], Callable[[], None]]


@pytest.fixture
def opened_early(desk: Page, served: Served) -> Held:
    """Opens a page whose scripts do not come before they are let in."""

    def open_early(path: str) -> Callable[[], None]:
        held: list[Route] = []
        desk.route("**/htmx.min.js*", lambda route: held.append(route))
        desk.goto(f"{served.url}{path}", wait_until="commit")

        def let_in() -> None:
            desk.wait_for_function("document.querySelector('body > #announce')")
            assert held
            assert desk.evaluate("typeof window.htmx") == "undefined"
            held[0].continue_()
            desk.unroute("**/htmx.min.js*")

        return let_in

    return open_early


def test_an_early_tick_is_kept_and_counts_once(desk: Page, served: Served, opened_early: Held) -> None:
    path = served.add_example()
    desk.goto(f"{served.url}{path}/run")
    expect(desk.get_by_text(steps_done(0))).to_be_visible(timeout=30_000)
    let_in = opened_early(f"{path}/run")
    desk.locator("#tick-1").check()
    let_in()
    expect(desk.get_by_text(steps_done(1))).to_be_visible()
    expect(desk.locator("#step-2.done")).to_be_visible()  # as the server drew it anew
    expect(desk.get_by_text(steps_done(1))).to_be_visible()


def test_who_changes_a_field_early_and_leaves_by_a_link_leaves_after_the_change(
    desk: Page, served: Served, opened_early: Held
) -> None:
    path = served.add_example()
    let_in = opened_early(f"{path}/stock")
    desk.locator("#machine-saw-kerf").fill("3.35")
    desk.locator("#page-cutter").click()
    let_in()
    desk.wait_for_url(re.compile("/cutter$"))
    assert "kerf: 3.35" in job_text(desk, served)


def test_a_form_that_a_script_sends_is_sent(desk: Page, served: Served, opened_early: Held) -> None:
    let_in = opened_early(f"{served.add_example()}/stock")
    desk.locator("#new-stock-name").fill("ash9")
    desk.locator("#new-stock-nominal").fill("9")
    desk.get_by_role("button", name="Add this stock").click()
    let_in()
    expect(desk.locator("textarea[name=name]", has_text="ash9")).to_be_visible()


def test_an_early_press_on_help_shows_the_help(desk: Page, served: Served, opened_early: Held) -> None:
    let_in = opened_early(f"{served.add_example()}/drawers")
    desk.locator("button[popovertarget=help]").first.click()
    let_in()
    expect(desk.locator("#help .help-text h1, #help .help-text h2").first).to_be_visible()
