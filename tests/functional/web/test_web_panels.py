"""Entries beyond the tables, findings beside their fields, stock and machines, and cells pasted by two people."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
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


def test_heights_by_another_rule(drawers: Page, served: Served) -> None:
    drawers.locator("#banks-0-fronts-heights").select_option("geometric")
    expect(drawers.locator("#banks-0-fronts-heights-geometric-count")).to_have_value("7")
    assert "heights: {geometric: {count: 7, ratio: 1.15}}" in job_text(drawers, served).replace(
        "\n", " "
    ) or ("ratio: 1.15" in job_text(drawers, served))
    drawers.get_by_role("link", name="More about Choir scores").click()
    type_into(drawers, "#banks-0-fronts-heights-geometric-ratio", "1.1")
    expect(drawers.locator("#history")).to_contain_text("revision 3")
    drawers.locator("#banks-0-fronts-heights").select_option("given")
    given = drawers.locator("#banks-0-fronts-heights-given")
    expect(given).to_have_value("100; 100; 100; 100; 100; 100; rest")
    type_into(drawers, "#banks-0-fronts-heights-given", "95; tall")
    expect(drawers.locator("#fault-banks-0-fronts-heights-given")).to_contain_text("tall")
    type_into(drawers, "#banks-0-fronts-heights-given", "95; rest")
    expect(drawers.locator("#height-A1")).to_have_value("95.0")
    for _undo in range(5):
        shown = drawers.locator("#history").inner_text()
        drawers.get_by_role("button", name="Undo").click()
        expect(drawers.locator("#history")).not_to_have_text(shown, use_inner_text=True)
    expect(drawers.locator("#banks-0-fronts-heights-equal")).to_have_value("7")


def test_sections_are_ticked_on_and_off(drawers: Page, served: Served) -> None:
    drawers.get_by_role("link", name="More about Choir scores").click()
    panel = drawers.locator("#more-banks-0")
    panel.get_by_text("Edge banding").click()
    drawers.locator("#banks-0-banding").check()
    expect(drawers.locator("#banks-0-banding-thickness")).to_have_value("1")
    drawers.locator("#banks-0-banding-applied_front").uncheck()
    expect(drawers.locator("#history")).to_contain_text("revision 3")
    assert "applied_front: false" in job_text(drawers, served)
    drawers.locator("#banks-0-banding").uncheck()
    expect(drawers.locator("#banks-0-banding-thickness")).to_have_count(0)
    panel.get_by_text("Pulls", exact=True).click()
    drawers.locator("#banks-0-fronts-pull").uncheck()
    expect(drawers.locator("#banks-0-fronts-pull-hole")).to_have_count(0)
    assert "pull: {below_top: 38" not in job_text(drawers, served)


def _finding_of(page: Page, field: str) -> Locator:
    """The row of a finding that leads to a field."""
    return page.locator(".finding-rows li", has=page.locator(f"a[href='{field}']"))


def test_findings_have_rows_of_their_own_linked_with_their_fields(drawers: Page) -> None:
    drawers.get_by_role("link", name="More about Orchestra parts").click()
    # More than half of 14.6 mm, and more than the cutter leaves uncut.
    type_into(drawers, "#banks-1-bottom-groove_depth", "12")
    row = drawers.locator(".finding-rows li", has_text="takes away more than half of 14.6")
    expect(row).to_contain_text("B1–B5:")
    number = (row.get_attribute("id") or "").removeprefix("finding-")
    field = drawers.locator("#banks-1-bottom-groove_depth")
    assert f"finding-{number}" in (field.get_attribute("aria-describedby") or "").split()
    # The number stands again at the field and in the picture, and both ways lead to the other.
    expect(drawers.locator(f"#more-banks-1 a.balloon[href='#finding-{number}']").first).to_be_visible()
    expect(drawers.locator("#piece .at-desk text", has_text=re.compile(f"^{number}$"))).to_be_visible()
    row.get_by_role("link").click()
    expect(field).to_be_in_viewport()
    type_into(drawers, "#boxes-0-outer-height", "45")
    expect(drawers.locator(".finding-rows li", has_text="only 45.0 mm high")).to_be_visible()
    drawers.goto(drawers.url.replace("/drawers", "/stock"))
    type_into(drawers, "#stock-birch6-measured", "")
    expect(_finding_of(drawers, "#stock-birch6-measured")).to_contain_text("not measured yet")
    drawers.goto(drawers.url.replace("/stock", "/cutter"))
    type_into(drawers, "#cutter-diameter", "")
    type_into(drawers, "#cutter-max_speed", "")
    expect(_finding_of(drawers, "#cutter-diameter")).to_contain_text("neither its diameter")


def test_stock_sheets_and_offcuts_come_and_go(drawers: Page, served: Served) -> None:
    before = job_text(drawers, served)
    drawers.goto(drawers.url.replace("/drawers", "/stock"))
    drawers.get_by_role("button", name="Add an offcut to birch6").click()
    expect(drawers.locator("#stock-birch6-offcuts-0-length")).to_have_value("600")
    type_into(drawers, "#stock-birch6-offcuts-0-label", "behind the door")
    expect(drawers.locator("#history")).to_contain_text("revision 3")
    drawers.get_by_role("button", name="Add a sheet size to birch15").click()
    expect(drawers.locator("#stock-birch15-sheets-1-width")).to_have_value("1250")
    drawers.get_by_role("button", name="Remove sheet 1 of birch15").click()
    expect(drawers.locator("#stock-birch15-sheets-1-width")).to_have_count(0)
    drawers.get_by_role("button", name="Add this stock").click()
    expect(drawers.locator("#fault-new-stock")).to_contain_text("Give the stock a name")
    drawers.locator("#new-stock-name").fill("ash20")
    drawers.locator("#new-stock-nominal").fill("thick")
    drawers.locator("#new-stock-length").fill("2400")
    drawers.locator("#new-stock-width").fill("1200")
    drawers.get_by_role("button", name="Add this stock").click()
    expect(drawers.locator("#fault-stock-ash20-nominal")).to_contain_text("cannot read 'thick' as a length")
    expect(drawers.locator("#new-stock-name")).to_have_value("")
    drawers.get_by_role("button", name="Remove stock ash20").click()
    expect(drawers.locator("#stock-ash20-nominal")).to_have_count(0)
    drawers.get_by_role("button", name="Undo").click()
    expect(drawers.locator("#stock-ash20-nominal")).to_have_value("thick")
    for _undo in range(5):
        shown = drawers.locator("#history").inner_text()
        drawers.get_by_role("button", name="Undo").click()
        expect(drawers.locator("#history")).not_to_have_text(shown, use_inner_text=True)
    expect(drawers.locator("#stock-birch6-offcuts-0-length")).to_have_count(0)
    assert job_text(drawers, served) == before


@pytest.mark.alone
def test_stock_and_machines_from_the_shelf(desk: Page, served: Served) -> None:
    stock = f"{served.url}{served.add_example()}/stock"
    desk.goto(stock)
    desk.get_by_role("region", name="Stock birch6").get_by_role("button", name="Put it on the shelf").click()
    expect(desk.get_by_text("Same as on the shop's shelf.")).to_have_count(1)
    desk.get_by_role("button", name="Remove stock birch6").click()
    expect(desk.locator("#messages")).to_contain_text("What takes its place?")
    desk.get_by_role("button", name="Replace and remove").click()
    desk.get_by_role("button", name="Use birch6 from the shelf").click()
    expect(desk.locator("#stock-birch6-nominal")).to_have_value("6.5")
    machines = desk.get_by_role("region", name="Saw and router table")
    type_into(desk, "#machine-name", "bench by the window")
    expect(desk.locator("#history")).to_contain_text("revision 4")
    machines.get_by_role("button", name="Put it on the shelf").click()
    expect(machines.get_by_text("Same as on the shop's shelf.")).to_be_visible()
    type_into(desk, "#machine-name", "big table")
    type_into(desk, "#machine-saw-kerf", "3.2")
    expect(desk.locator("#history")).to_contain_text("revision 6")
    machines.get_by_role("button", name="Put it on the shelf").click()
    machines.get_by_role("button", name="Use bench by the window instead").click()
    expect(desk.locator("#machine-saw-kerf")).to_have_value("2.8")
    expect(desk.locator("#machine-name")).to_have_value("bench by the window")
    expect(machines.get_by_role("button", name="Use big table instead")).to_be_visible()


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
