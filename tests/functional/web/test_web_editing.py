"""Typing into a job: saved at once, undone across reloads, never overwritten unseen, refused where it stands."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page, expect

from .conftest import Served, job_text, new_context, type_into

WIDTH = "#banks-0-opening-width"
OUTER = "#boxes-0-outer-width"


def test_an_entry_is_saved_at_once_and_undone_after_reload(drawers: Page, served: Served) -> None:
    before = job_text(drawers, served)
    type_into(drawers, WIDTH, "480")
    expect(drawers.locator("#history")).to_contain_text("revision 2")
    assert job_text(drawers, served) == before.replace("width: 462", "width: 480", 1), "nothing else changed"
    expect(drawers.locator("figure").first).to_contain_text("480.0 mm")
    drawers.reload()
    expect(drawers.locator(WIDTH)).to_have_value("480")
    drawers.get_by_role("button", name="Undo").click()
    expect(drawers.locator(WIDTH)).to_have_value("462")
    assert job_text(drawers, served) == before
    drawers.reload()
    drawers.get_by_role("button", name="Redo").click()
    expect(drawers.locator(WIDTH)).to_have_value("480")


def test_bad_input_stays_in_its_field_with_the_words_of_the_reader(desk: Page, served: Served) -> None:
    """Here two fields as the browser shows them; tests/unit/web/test_web_bad_input.py tries every field."""
    desk.goto(f"{served.url}{served.add_example()}/stock")
    for field, typed, words in (
        ("#stock-birch15-measured", "99", "cannot belong to stock of 15 mm"),
        ("#stock-birch15-sheets-0-on_hand", "-1", "must be 0 or more"),
    ):
        type_into(desk, field, typed)
        expect(desk.get_by_text(words).first).to_be_visible()
        expect(desk.locator(field)).to_have_value(typed)


def test_a_fault_is_marked_on_its_field_and_goes_when_mended(drawers: Page) -> None:
    type_into(drawers, WIDTH, "wide")
    expect(drawers.locator(WIDTH)).to_have_attribute("aria-invalid", "true")
    expect(drawers.get_by_text("Drawn from the last state without faults")).to_be_visible()
    drawers.reload()
    expect(drawers.locator(WIDTH)).to_have_value("wide")
    type_into(drawers, WIDTH, "470,5")
    expect(drawers.locator(WIDTH)).not_to_have_attribute("aria-invalid", "true")
    expect(drawers.locator("figure").first).to_contain_text("470.5 mm")


def test_arrows_move_and_a_paste_fills_the_table(drawers: Page) -> None:
    drawers.locator("#banks-0-opening-width").focus()
    drawers.keyboard.press("ArrowDown")
    expect(drawers.locator("#banks-1-opening-width")).to_be_focused()
    drawers.keyboard.press("ArrowRight")
    expect(drawers.locator("#banks-1-opening-height")).to_be_focused()
    drawers.keyboard.press("Enter")
    drawers.keyboard.press("ArrowUp")
    drawers.locator("#boxes-0-name").evaluate(
        """(cell) => { const data = new DataTransfer();
        data.setData("text/plain", "Mute box\\t2\\t310\\t220\\t80\\nRosin box\\t1\\t120\\t90\\t50\\n");
        cell.dispatchEvent(new ClipboardEvent("paste", {clipboardData: data, bubbles: true, cancelable: true})); }"""
    )
    expect(drawers.locator("#boxes-1-name")).to_have_value("Rosin box")
    expect(drawers.locator("#boxes-0-outer-width")).to_have_value("310")
    expect(drawers.locator("#boxes-1-outer-height")).to_have_value("50")


def test_rows_are_added_and_taken_out(trays: Page) -> None:
    trays.get_by_role("button", name="Add a box").click()
    expect(trays.locator("#boxes-1-name")).to_have_value("Reed tray 4")
    trays.get_by_role("button", name="Remove Reed tray", exact=True).click()
    expect(trays.locator("#boxes-0-name")).to_have_value("Reed tray 4")
    expect(trays.locator("#boxes-1-name")).to_have_count(0)


def test_two_people_never_overwrite_each_other_unseen(trays: Page, served: Served, other: Page) -> None:
    other.goto(trays.url)
    # The second person does not hear of the first one's change: the news is cut off, as by a bad network.
    other.route("**/events", lambda route: route.abort())
    other.reload()
    type_into(trays, OUTER, "480")
    expect(trays.locator("#history")).to_contain_text("revision 2")
    type_into(other, "#boxes-0-outer-height", "500")
    expect(other.locator("#history")).to_contain_text("revision 3")
    expect(other.locator(OUTER)).to_have_value("480")
    assert "width: 480" in job_text(trays, served)
    expect(trays.locator("#boxes-0-outer-height")).to_have_value("500")
    other.route("**/drawers?part=entries*", lambda route: route.abort())
    type_into(trays, OUTER, "481")
    expect(trays.locator("#history")).to_contain_text("revision 4")
    type_into(other, OUTER, "490")
    box = other.locator("#messages")
    expect(box).to_contain_text("now says “481”; you typed “490”")
    assert "width: 481" in job_text(trays, served)
    box.get_by_role("button", name="Use mine: 490").click()
    expect(trays.locator(OUTER)).to_have_value("490")


def test_whole_text_conflict_shows_both(trays: Page, other: Page) -> None:
    text_url = trays.url.replace("/drawers", "/text")
    other.goto(text_url)
    trays.goto(text_url)
    for page, comment in ((trays, "# mine"), (other, "# theirs")):
        area = page.locator("#job-text")
        area.fill(area.input_value() + comment + "\n")
        page.get_by_role("button", name="Save", exact=True).click()
    expect(other.get_by_role("alert")).to_contain_text("Someone else saved meanwhile")
    expect(other.locator(".difference")).to_contain_text("-# mine")
    expect(other.locator("#job-text")).to_have_value(other.locator("#job-text").input_value())
    other.get_by_role("button", name="Save mine over theirs").click()
    other.wait_for_url("**/text")
    assert "# theirs" in other.locator("#job-text").input_value()


@pytest.mark.alone
def test_what_the_shop_has_learnt_is_offered_and_taken_over(
    desk: Page, served: Served, browser: Browser
) -> None:
    cutter = f"{served.url}{served.add_example()}/cutter"
    desk.goto(cutter)
    desk.get_by_role("button", name="Put it on the shelf").click()
    expect(desk.get_by_text("Same as on the shop's shelf.")).to_be_visible()
    second = served.add_example()
    desk.goto(f"{served.url}{second}/cutter")
    type_into(desk, "#cutter-mid_depth", "5.7 ± 0.02")
    desk.get_by_role("button", name="Put this job's values on the shelf").click()
    expect(desk.get_by_text("Same as on the shop's shelf.")).to_be_visible()
    desk.goto(cutter)
    expect(desk.get_by_text("Mid depth: 5.65 ± 0.05 → 5.7 ± 0.02")).to_be_visible()
    before = job_text(desk, served)
    desk.get_by_role("button", name="Use the shelf's values").click()
    expect(desk.locator("#cutter-mid_depth")).to_have_value("5.7 ± 0.02")
    after = job_text(desk, served)
    # The comment behind the value stays in its column.
    assert after == before.replace("mid_depth: 5.65 ± 0.05 ", "mid_depth: 5.7 ± 0.02  ")


def test_a_drawer_in_3d(drawers: Page) -> None:
    drawers.get_by_role("button", name="Show", exact=True).click()
    expect(drawers.locator("[data-names] button")).to_have_count(5, timeout=20_000)
    drawers.get_by_role("button", name="A1 left side").click()
    expect(drawers.locator("[data-state]")).to_have_text("A1 left side")
    drawers.get_by_label("Cut open at half height").check()
    expect(drawers.locator("[data-state]")).to_contain_text("Drag to turn it")
    drawers.get_by_label("Taken apart").fill("70")
    drawers.locator("#viewer-drawer").select_option("B5")
    expect(drawers.get_by_role("button", name="B5 applied front")).to_be_visible(timeout=20_000)


def test_a_drawer_in_3d_shows_itself_where_it_is_seen(browser: Browser, served: Served) -> None:
    context = new_context(browser, "phone", has_graphics_card=True)
    page = context.new_page()
    page.set_viewport_size({"width": 390, "height": 320})
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(f"{served.url}{served.add_example()}/drawers")
    viewer = page.locator(".viewer")
    expect(viewer).not_to_be_in_viewport()
    expect(page.locator("#viewer-drawer option")).not_to_have_count(0)
    assert not any("/vendor/three/" in url for url in asked)
    viewer.scroll_into_view_if_needed()
    expect(viewer.locator("canvas")).to_be_visible(timeout=20_000)
    expect(viewer.locator("[data-names] button")).to_have_count(5, timeout=20_000)
    expect(viewer.get_by_role("button", name="Show", exact=True)).to_have_count(0)
    context.close()
