"""What is done quickly, one thing after another, arrives in that order and all of it."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, Route, expect

from .conftest import TRAYS, Served, job_text, type_into

WIDTH = "#banks-0-opening-width"
OUTER = "#boxes-0-outer-width"
UNDO = "button[hx-post$='/undo']"
REDO = "button[hx-post$='/redo']"


def press_quickly(page: Page, button: str, times: int) -> None:
    """Press a button as often as it takes before any answer can be back."""
    page.evaluate(
        "([button, times]) => { for (let n = 0; n < times; n += 1) document.querySelector(button).click(); }",
        [button, times],
    )


def test_no_undo_is_lost_however_quickly_it_is_pressed(trays: Page, served: Served) -> None:
    before = job_text(trays, served)
    for number, width in enumerate((470, 471, 472, 473, 474), 2):
        type_into(trays, OUTER, str(width))
        expect(trays.locator("#history")).to_contain_text(f"revision {number}")
        expect(trays.locator(OUTER)).to_have_attribute("value", str(width))
    press_quickly(trays, UNDO, 5)
    expect(trays.locator(OUTER)).to_have_value("268")
    assert job_text(trays, served) == before
    expect(trays.locator(UNDO)).to_be_disabled()
    press_quickly(trays, REDO, 3)
    expect(trays.locator(OUTER)).to_have_value("472")
    expect(trays.locator(UNDO)).to_be_enabled()


@pytest.mark.alone
def test_a_button_waits_for_what_was_typed_before_it(desk: Page, served: Served) -> None:
    desk.goto(f"{served.url}{served.add_job(TRAYS)}/cutter")
    shelf = desk.get_by_role("button", name="Put it on the shelf")
    held: list[Route] = []
    sent: list[str] = []
    desk.on("request", lambda request: sent.append(request.url) if request.method == "POST" else None)
    desk.route("**/entry", lambda route: held.append(route))
    desk.locator("#cutter-mid_depth").fill("5.8")
    shelf.click()
    desk.locator("#cutter-mid_depth.htmx-request").wait_for(state="attached")
    assert [url.rsplit("/", 1)[1] for url in sent] == ["entry"]
    held[0].continue_()
    expect(desk.get_by_text("Same as on the shop's shelf.")).to_be_visible()
    assert [url.rsplit("/", 1)[1] for url in sent] == ["entry", "put"]


@pytest.mark.alone
def test_a_button_pressed_slowly_is_not_drawn_anew_under_the_finger(desk: Page, served: Served) -> None:
    desk.goto(f"{served.url}{served.add_job(TRAYS)}/cutter")
    box = desk.get_by_role("button", name="Put it on the shelf").bounding_box()
    assert box is not None
    desk.locator("#cutter-mid_depth").fill("5.8")
    desk.mouse.move(box["x"] + 5, box["y"] + 5)
    with desk.expect_response("**/cutter?part=plan"):
        desk.mouse.down()
    expect(desk.locator("#history")).to_contain_text("revision 2")
    desk.mouse.up()
    expect(desk.get_by_text("Same as on the shop's shelf.")).to_be_visible()


def test_nobody_is_in_their_own_way(trays: Page, served: Served) -> None:
    """Typing into a field again before the page has heard of the first change."""
    trays.route("**/drawers?part=entries*", lambda route: None)
    type_into(trays, OUTER, "480,5")
    expect(trays.locator("#history")).to_contain_text("revision 2")
    type_into(trays, OUTER, "490")
    expect(trays.locator("#history")).to_contain_text("revision 3")
    expect(trays.locator("#messages")).to_be_empty()
    assert "width: 490" in job_text(trays, served)


@pytest.mark.alone
def test_a_button_keeps_the_focus_when_the_page_is_drawn_anew(trays: Page) -> None:
    trays.get_by_role("button", name="Add a box").press("Enter")
    expect(trays.locator("#boxes-1-name")).to_be_visible()
    expect(trays.get_by_role("button", name="Add a box")).to_be_focused()
    trays.goto(trays.url.replace("/drawers", "/cutter"))
    trays.get_by_role("button", name="Put it on the shelf").press("Enter")
    expect(trays.get_by_text("Same as on the shop's shelf.")).to_be_visible()
    expect(trays.locator("#shelf-cutter")).to_be_focused()


def test_every_new_row_comes_however_quickly_they_are_asked_for(trays: Page) -> None:
    press_quickly(trays, "#add-boxes", 3)
    expect(trays.locator("#history")).to_contain_text("revision 4")
    expect(trays.locator("#boxes-3-name")).to_have_value("Reed tray 6")  # the three trays count from 1
    expect(trays.locator("#messages")).to_be_empty()


def test_a_link_waits_for_what_was_typed_before_it(trays: Page, served: Served) -> None:
    held: list[Route] = []
    trays.route("**/entry", lambda route: held.append(route))
    type_into(trays, OUTER, "480")
    type_into(trays, "#boxes-0-outer-height", "500")
    trays.get_by_role("link", name="Papers").click()
    trays.locator(".htmx-request").first.wait_for(state="attached")
    assert trays.url.endswith("/drawers")
    trays.unroute("**/entry")
    trays.wait_for_url("**/papers")
    text = job_text(trays, served)
    assert "width: 480" in text
    assert "height: 500" in text


def test_what_others_wrote_while_one_types_is_not_overwritten(
    drawers: Page, served: Served, other: Page
) -> None:
    drawers.locator(WIDTH).press_sequentially("9")
    other.goto(drawers.url)
    type_into(other, WIDTH, "480")
    expect(drawers.locator("#history")).to_contain_text("revision 2")
    expect(drawers.locator("figure").first).to_contain_text("480.0 mm")
    drawers.locator(WIDTH).fill("490")
    drawers.locator(WIDTH).press("Tab")
    expect(drawers.locator("#messages")).to_contain_text("now says “480”; you typed “490”")
    assert "width: 480" in job_text(drawers, served)
    drawers.get_by_role("button", name="Keep theirs: 480").click()
    expect(drawers.locator(WIDTH)).to_have_value("480")


def test_undo_takes_nothing_back_that_nobody_here_has_seen(trays: Page, served: Served, other: Page) -> None:
    other.route("**/events", lambda route: None)  # no news, and no word that there is none
    other.goto(trays.url)
    type_into(trays, OUTER, "480")
    expect(trays.locator("#history")).to_contain_text("revision 2")
    type_into(trays, OUTER, "481")
    expect(trays.locator("#history")).to_contain_text("revision 3")
    other.locator("#undo").evaluate("(button) => { button.disabled = false; button.click(); }")
    expect(other.locator(OUTER)).to_have_value("481")
    expect(other.locator("#history")).to_contain_text("revision 3")
    assert "width: 481" in job_text(trays, served)
    other.locator("#undo").click()
    expect(trays.locator(OUTER)).to_have_value("480")


@pytest.mark.alone
def test_changes_made_without_a_connection_come_in_their_order(trays: Page, served: Served) -> None:
    served.kill()
    for width in ("480", "490", "470"):
        type_into(trays, OUTER, width)
    expect(trays.locator("#link-state")).to_be_visible()
    served.start(served.port)
    expect(trays.locator("#link-state")).to_be_hidden()
    expect(trays.locator("#history")).to_contain_text("revision 4")
    assert "width: 470" in job_text(trays, served)
    press_quickly(trays, UNDO, 1)
    expect(trays.locator(OUTER)).to_have_value("490")


def test_two_rows_are_taken_out_however_quickly(trays: Page) -> None:
    """The second button still stands where the page drew it, one row further down than its row is by then."""
    press_quickly(trays, "#add-boxes", 3)
    expect(trays.locator("#boxes-3-name")).to_have_value("Reed tray 6")
    trays.evaluate(
        """() => { for (const name of ["Reed tray", "Reed tray 4"])
        document.querySelector(`[aria-label="Remove ${name}"]`).click(); }"""
    )
    expect(trays.locator("#boxes-0-name")).to_have_value("Reed tray 5")
    expect(trays.locator("#boxes-1-name")).to_have_value("Reed tray 6")
    expect(trays.locator("#boxes-2-name")).to_have_count(0)
    expect(trays.locator("#messages")).to_be_empty()


def test_what_is_typed_into_a_row_that_others_took_out_is_said(
    trays: Page, served: Served, other: Page
) -> None:
    trays.get_by_role("button", name="Add a box").click()
    expect(trays.locator("#boxes-1-name")).to_have_value("Reed tray 4")
    other.route("**/events", lambda route: None)  # no news
    other.goto(trays.url)
    trays.get_by_role("button", name="Remove Reed tray", exact=True).click()
    expect(trays.locator("#boxes-1-name")).to_have_count(0)
    before = job_text(trays, served)
    type_into(other, "#boxes-0-outer-width", "250")
    expect(other.locator("#messages")).to_contain_text("Outer width (Reed tray) has been removed meanwhile")
    expect(other.locator("#messages")).to_contain_text("You typed “250”")
    expect(other.locator("#boxes-0-name")).to_have_value("Reed tray 4")
    expect(other.locator("#boxes-0-outer-width")).to_have_value("268")
    assert job_text(trays, served) == before


def test_typing_follows_its_row_when_others_take_out_one_above(trays: Page, other: Page) -> None:
    """Where the last row stood there is none any more when the page is drawn anew."""
    trays.get_by_role("button", name="Add a box").click()
    expect(trays.locator("#boxes-1-name")).to_have_value("Reed tray 4")
    other.goto(trays.url)
    trays.locator("#boxes-1-outer-width").fill("")
    trays.locator("#boxes-1-outer-width").press_sequentially("25")
    other.get_by_role("button", name="Remove Reed tray", exact=True).click()
    expect(trays.locator("#boxes-0-name")).to_have_value("Reed tray 4")
    expect(trays.locator("#boxes-0-outer-width")).to_have_value("25")
    expect(other.locator("#boxes-0-outer-width")).to_have_value("25")


def test_a_field_that_the_keyboard_came_to_stays_marked_when_the_page_is_drawn_anew(trays: Page) -> None:
    """So that going through the fields with Tab, what is typed replaces what stood there."""
    held: list[Route] = []
    trays.route("**/drawers?part=entries*", lambda route: held.append(route))
    type_into(trays, OUTER, "480")
    expect(trays.locator("#boxes-0-outer-depth")).to_be_focused()
    expect(trays.locator("#history")).to_contain_text("revision 2")
    trays.locator(".htmx-request").first.wait_for(state="attached")
    for route in held:
        route.continue_()
    expect(trays.locator(OUTER)).to_have_attribute("value", "480")
    trays.keyboard.type("700")
    expect(trays.locator("#boxes-0-outer-depth")).to_have_value("700")
    trays.locator("#boxes-0-outer-depth").evaluate("field => field.setSelectionRange(1, 1)")
    trays.keyboard.type("5")
    expect(trays.locator("#boxes-0-outer-depth")).to_have_value("7500")


def test_a_choice_made_the_moment_its_row_is_drawn_anew_is_sent(drawers: Page, served: Served) -> None:
    """A hand may be that quick: what was just drawn must not lie dead until the page has settled."""
    drawers.evaluate(
        """() => { let isChosen = false; document.body.addEventListener("htmx:afterSwap", (event) => {
          const choice = document.getElementById("banks-0-fronts-heights");
          if (isChosen || event.detail.target.id !== "entries" || choice.value !== "geometric") return;
          isChosen = true;
          setTimeout(() => {
            choice.value = "given";
            for (const kind of ["input", "change"]) choice.dispatchEvent(new Event(kind, { bubbles: true }));
          });
        }); }"""
    )
    drawers.locator("#banks-0-fronts-heights").select_option("geometric")
    expect(drawers.locator("#banks-0-fronts-heights-given")).to_be_visible()
    assert "geometric" not in job_text(drawers, served)
