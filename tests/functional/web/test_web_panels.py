"""Entries beyond the tables, findings beside their fields, and cells pasted by two people.

What such entries, stock and machines become: tests/unit/web/test_web_hands.py.
"""

from __future__ import annotations

import re
from pathlib import Path

from playwright.sync_api import Locator, Page, expect

from .conftest import Served, job_text, type_into

TWO_CUTTERS = Path(__file__).parents[3] / "examples" / "trays-and-chest.yaml"


def paste_at(cell: Locator, text: str) -> None:
    cell.evaluate(
        """(cell, text) => { const data = new DataTransfer(); data.setData("text/plain", text);
        cell.dispatchEvent(new ClipboardEvent("paste", {clipboardData: data, bubbles: true, cancelable: true})); }""",
        text,
    )


def test_a_fault_stands_below_the_hint_of_its_field(desk: Page, served: Served) -> None:
    desk.goto(f"{served.url}{served.add_example()}/cutter")
    type_into(desk, "#cutter-mid_depth", "wide")
    fault = desk.locator("#fault-cutter-mid_depth")
    expect(fault).to_contain_text("cannot read 'wide' as a length")
    hint = desk.locator(".field", has=fault).get_by_text("you may add an uncertainty")
    for width in (1366, 390):
        desk.set_viewport_size({"width": width, "height": 844})
        above, below = hint.bounding_box(), fault.bounding_box()
        assert above is not None
        assert below is not None
        assert above["y"] + above["height"] <= below["y"]


def test_the_tables_of_a_job_with_two_cutters_fit_the_desk(desk: Page, served: Served) -> None:
    """1366 px: a common laptop; German words are longer, and so is the name of a drawer's contents."""
    text = TWO_CUTTERS.read_text(encoding="utf-8")
    assert text.count("name: Chest\n") == 1
    job = served.add_job(text.replace("name: Chest\n", "name: Chest of seeds by the year of harvest\n"))
    for language in ("en|mm|point", "de|mm|comma"):
        desk.context.add_cookies(
            [{"name": "drawerwright_reader", "value": f"{language}|system", "url": served.url}]
        )
        desk.goto(f"{served.url}{job}/drawers")
        expect(desk.locator("html")).to_have_attribute("lang", language[:2])
        tables = desk.locator("table.grid")
        expect(tables).to_have_count(2)
        for table in tables.all():
            wide, room = table.evaluate("table => [table.scrollWidth, table.parentElement.clientWidth]")
            assert wide <= room


def test_the_open_details_are_those_of_the_row_that_is_typed_in(drawers: Page) -> None:
    first, second = drawers.locator("#more-banks-0"), drawers.locator("#more-banks-1")
    drawers.get_by_role("link", name="More about Choir scores").press("Enter")
    expect(first).to_have_attribute("open", "")
    drawers.locator("#banks-1-name").click()
    expect(second).to_have_attribute("open", "")
    expect(first).not_to_have_attribute("open", "")
    expect(drawers.locator("tr.chosen")).to_have_count(1)
    expect(drawers.locator("#banks-1-name")).to_be_focused()
    second.locator("> summary").click()
    drawers.locator("#banks-0-name").click()
    expect(drawers.locator(".row-panel[open]")).to_have_count(0)  # closed details stay closed


def test_a_panel_by_keyboard_keeps_comments(drawers: Page, served: Served) -> None:
    before = job_text(drawers, served)
    drawers.get_by_role("link", name="More about Choir scores").press("Enter")
    expect(drawers.locator("#banks-0-fronts-style-lipped")).to_be_focused()
    # From the reveal a term of the glossary comes first, then the entry that it is of.
    drawers.locator("#banks-0-fronts-reveal").focus()
    drawers.keyboard.press("Tab")
    drawers.keyboard.press("Tab")
    expect(drawers.locator("#banks-0-fronts-overlay-sides")).to_be_focused()
    drawers.keyboard.type("9")
    drawers.keyboard.press("Tab")
    expect(drawers.locator("#history")).to_contain_text("revision 2")
    after = job_text(drawers, served)
    assert after == before.replace("overlay: {sides: 7}", "overlay: {sides: 9}", 1)
    assert "# above and below, the fronts sit inside the opening" in after
    expect(drawers.locator("#banks-0-fronts-overlay-left")).to_be_focused()  # after the panel was drawn anew


OPENS_AROUND = """
field => { for (let at = field.closest("details"); at; at = at.parentElement.closest("details")) at.open = true; }
"""


def test_bad_input_stays_in_its_field_of_a_panel(drawers: Page) -> None:
    """Of a bank, in folds of its panel; tests/unit/web/test_web_bad_input.py tries every field."""
    bad = {
        "banks-1-side_height": ("tall", "cannot read 'tall' as a length"),
        "banks-1-fronts-heights-arithmetic-smallest": ("low", "cannot read 'low' as a length"),
        "banks-1-runner-length": ("long", "cannot read 'long' as a length"),
    }
    drawers.get_by_role("link", name="More about Orchestra parts").click()
    for field, (typed, words) in bad.items():
        drawers.locator(f"#{field}").evaluate(OPENS_AROUND)
        type_into(drawers, f"#{field}", typed)
        place = drawers.locator(f"#fault-{field}")
        expect(place).to_contain_text(words)
        expect(place).to_be_visible()
        expect(drawers.locator(f"#{field}")).to_have_value(typed)
        expect(drawers.locator(f"#{field}")).to_have_attribute("aria-invalid", "true")
        assert f"fault-{field}" in (drawers.locator(f"#{field}").get_attribute("aria-describedby") or "")
    drawers.reload()
    for field in bad:
        # The panel stands open where something in it is wrong.
        expect(drawers.locator(f"#fault-{field}")).to_be_visible()


def test_findings_have_rows_of_their_own_linked_with_their_fields(drawers: Page) -> None:
    drawers.get_by_role("link", name="More about Orchestra parts").click()
    # More than half of 14.6 mm, and more than the cutter leaves uncut.
    type_into(drawers, "#banks-1-bottom-groove_depth", "12")
    row = drawers.locator(".finding-rows li", has_text="takes away more than half of 14.6")
    expect(row).to_contain_text("B1–B5:")
    number = (row.locator("[id^=finding-]").get_attribute("id") or "").removeprefix("finding-")
    field = drawers.locator("#banks-1-bottom-groove_depth")
    assert f"finding-{number}" in (field.get_attribute("aria-describedby") or "").split()
    # The number stands again at the field and in the picture, and both ways lead to the other.
    expect(drawers.locator(f"#more-banks-1 a.balloon[href='#finding-{number}']").first).to_be_visible()
    expect(drawers.locator("#piece .at-desk text", has_text=re.compile(f"^{number}$"))).to_be_visible()
    row.get_by_role("link").click()
    expect(field).to_be_in_viewport()


def test_a_paste_overwrites_nothing_that_others_changed(drawers: Page, served: Served, other: Page) -> None:
    other.goto(drawers.url)
    other.route("**/events", lambda route: route.abort())
    other.route("**/drawers?part=entries*", lambda route: route.abort())
    other.reload()
    type_into(drawers, "#banks-0-opening-width", "480")
    type_into(drawers, "#banks-1-opening-height", "800")
    expect(drawers.locator("#history")).to_contain_text("revision 3")
    paste_at(other.locator("#banks-0-opening-width"), "500\t760\n600\t810\n")
    box = other.locator("#messages")
    expect(box).to_contain_text("Opening width (Choir scores) now says “480”; you typed “500”")
    expect(box).to_contain_text("Opening height (Orchestra parts) now says “800”; you typed “810”")
    # What nobody else had touched is saved.
    expect(drawers.locator("#banks-0-opening-height")).to_have_value("760")
    expect(drawers.locator("#banks-1-opening-width")).to_have_value("600")
    expect(drawers.locator("#banks-0-opening-width")).to_have_value("480")
    box.get_by_role("button", name="Keep theirs: 800").click()
    box.get_by_role("button", name="Use mine: 500").click()
    expect(drawers.locator("#banks-0-opening-width")).to_have_value("500")
    expect(drawers.locator("#banks-1-opening-height")).to_have_value("800")
    expect(box.locator("form")).to_have_count(0)
