"""The piece in the picture: a front is gone to, its height typed at it or dragged by its edge."""

from __future__ import annotations

from base64 import b64encode

from playwright.sync_api import Page, expect

from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.file.reading import entries_of

from .conftest import Served, job_text


def test_a_front_opens_its_row_and_is_the_drawer_in_3d(drawers: Page) -> None:
    drawers.locator("#piece .at-desk [data-region='B2']").click(position={"x": 40, "y": 18})
    expect(drawers.locator("#more-banks-1")).to_have_attribute("open", "")
    expect(drawers.locator("#more-banks-0")).not_to_have_attribute("open", "")
    expect(drawers.locator("#viewer-drawer")).to_have_value("B2")
    expect(drawers.locator("#piece .at-desk [aria-current]")).to_have_attribute("data-region", "B2")
    drawers.locator("#piece .at-desk [data-region='Reed tray 3']").focus()
    drawers.keyboard.press("Enter")
    expect(drawers.locator("#more-boxes-0")).to_have_attribute("open", "")
    expect(drawers.locator("#viewer-drawer")).to_have_value("Reed tray 3")


def test_on_a_phone_each_front_has_a_button_of_a_thumb_s_width(phone: Page, served: Served) -> None:
    phone.goto(f"{served.url}{served.add_example()}/drawers")
    front = phone.locator(".front-heights [data-region='B2']")
    box = front.bounding_box()
    assert box is not None
    assert min(box["width"], box["height"]) >= 44
    front.click()
    expect(phone.locator("#more-banks-1")).to_have_attribute("open", "")
    expect(phone.locator("#more-banks-1 > summary")).to_be_in_viewport()
    expect(phone.locator("#viewer-drawer")).to_have_value("B2")


def test_an_edge_is_dragged_in_inches_too(drawers: Page, served: Served) -> None:
    drawers.context.add_cookies(
        [{"name": "drawerwright_reader", "value": "en|in/64|point|system", "url": served.url}]
    )
    drawers.reload()
    expect(drawers.locator("#height-B2")).to_have_value("5.26")
    edge = drawers.locator("[data-for='height-B2']")
    box = edge.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    drawers.mouse.move(x, y)
    drawers.mouse.down()
    drawers.mouse.move(x, y + 12, steps=4)
    drawers.mouse.up()
    expect(drawers.locator("#history")).to_contain_text("revision 2")
    assert 5.4 < float(drawers.locator("#height-B2").input_value()) < 7


def test_an_address_may_name_the_drawer(drawers: Page) -> None:
    drawers.goto(drawers.url + "?drawer=B4")
    expect(drawers.locator("#more-banks-1")).to_have_attribute("open", "")
    expect(drawers.locator("#viewer-drawer")).to_have_value("B4")


def test_a_height_typed_at_its_front_moves_the_lowest(drawers: Page, served: Served) -> None:
    drawers.locator("#height-A3").fill("120")
    drawers.locator("#height-A3").press("Enter")
    expect(drawers.locator("#height-A3")).to_have_value("120.0")
    expect(drawers.locator("#height-A7")).to_have_value("86.5")
    heights = entries_of(job_text(drawers, served))["banks"][0]["fronts"]["heights"]
    assert heights == {"given": [103.1, 103.1, 120, 103.1, 103.1, 103.1, "rest"]}
    drawers.locator("#undo").click()
    expect(drawers.locator("#height-A3")).to_have_value("103.1")


def test_an_edge_is_dragged(drawers: Page) -> None:
    edge = drawers.locator("[data-for='height-B2']")
    box = edge.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    drawers.mouse.move(x, y)
    drawers.mouse.down()
    drawers.mouse.move(x, y + 12, steps=4)
    dragged = drawers.locator("#height-B2").input_value()
    assert float(dragged) > 134
    drawers.mouse.up()
    expect(drawers.locator("#history")).to_contain_text("revision 2")
    expect(drawers.locator("#height-B2")).to_have_value(f"{float(dragged):.1f}")
    expect(drawers.locator("#height-B3")).to_have_value("149.2")


def test_the_piece_stays_in_sight_beside_what_is_typed(drawers: Page) -> None:
    for width, height in ((1366, 860), (1920, 1080)):
        drawers.set_viewport_size({"width": width, "height": height})
        drawers.evaluate("scrollTo(0, 0)")
        drawers.locator("#banks-0-bottom-clearance").scroll_into_view_if_needed()
        drawers.mouse.wheel(0, 600)
        drawers.wait_for_timeout(300)
        picture = drawers.locator("#piece .at-desk svg").bounding_box()
        assert picture is not None
        assert picture["y"] >= 0
        assert picture["y"] + picture["height"] <= height
        panel = drawers.locator("#more-banks-0").bounding_box()
        assert panel is not None
        assert picture["x"] + picture["width"] <= panel["x"], (
            "details stand beside the picture, not in the table"
        )


def test_a_drawer_taken_apart_stays_in_its_frame(drawers: Page) -> None:
    drawers.get_by_role("button", name="Show", exact=True).click()
    expect(drawers.locator("[data-names] button").first).to_be_visible(timeout=30_000)
    drawers.locator("[data-apart]").fill("100")
    drawers.wait_for_timeout(500)
    picture = b64encode(drawers.locator(".room canvas").screenshot()).decode()
    # What stands at the edge of the picture is the ground alone.
    colours = drawers.evaluate(
        """async (picture) => {
        const image = new Image();
        image.src = `data:image/png;base64,${picture}`;
        await image.decode();
        const canvas = new OffscreenCanvas(image.width, image.height);
        const pen = canvas.getContext("2d");
        pen.drawImage(image, 0, 0);
        const found = new Set();
        for (let x = 2; x < image.width - 2; x += 1) for (const y of [2, image.height - 3])
            found.add(pen.getImageData(x, y, 1, 1).data.join());
        for (let y = 2; y < image.height - 2; y += 1) for (const x of [2, image.width - 3])
            found.add(pen.getImageData(x, y, 1, 1).data.join());
        return [...found]; }""",
        picture,
    )
    assert len(colours) == 1


def test_another_kind_takes_out_what_was_of_the_one_before_and_undo_brings_it_back(
    drawers: Page, served: Served
) -> None:
    drawers.locator("#more-banks-1").evaluate(
        "panel => { panel.open = true; panel.dataset.touched = 'yes'; }"
    )
    drawers.locator("#banks-1-fronts-style-lipped").check(force=True)
    said = drawers.locator("#messages")
    expect(said).to_contain_text("no longer applies")
    expect(said).to_contain_text("Cut side by side, so the figure runs through (Orchestra parts)")
    expect(drawers.locator("#banks-1-fronts-match")).to_have_count(0)
    assert "match" not in job_text(drawers, served)
    said.get_by_role("button", name="Undo").click()
    expect(drawers.locator("#banks-1-fronts-style-applied")).to_be_checked()
    expect(drawers.locator("#banks-1-fronts-match")).to_have_value("yes")
    assert "match: true" in job_text(drawers, served)


GIVEN = "heights: {given: [2 15/16 in, 3 1/8 in, 3 5/16 in, 3 1/2 in, 3 11/16 in, 3 7/8 in, rest]}"


def test_nothing_that_is_typed_is_cut_and_no_table_outgrows_its_place(desk: Page, served: Served) -> None:
    """Heights one by one in 16ths of an inch, an opening in them, and a finding: what widened the table before."""
    text = (
        example_text().replace("heights: {equal: 7}", GIVEN, 1).replace("width: 462", "width: 23 15/16 in", 1)
    )
    text = text.replace("groove_depth: 6, groove_height: 9", "groove_depth: 9, groove_height: 9", 1)
    desk.goto(f"{served.url}{served.add_job(text)}/drawers")
    for width in (1366, 1920):
        desk.set_viewport_size({"width": width, "height": 860})
        cut = desk.evaluate(
            """() => [...document.querySelectorAll("table.grid input, .row-panel[open] textarea")]
            .filter((field) => field.scrollWidth > field.clientWidth).map((field) => field.value)"""
        )
        assert cut == []
        grown = desk.evaluate(
            """() => [...document.querySelectorAll(".tables .scroll, .row-panel[open] fieldset")]
            .filter((part) => part.scrollWidth > part.clientWidth + 1)
            .map((part) => part.textContent.slice(0, 40))"""
        )
        assert grown == []
        assert desk.evaluate("document.documentElement.scrollWidth") <= width


def test_the_signs_of_the_pages_follow_what_is_typed(drawers: Page) -> None:
    sign = drawers.locator("#page-drawers [role=img]")
    expect(sign).to_have_attribute("aria-label", "known")
    drawers.locator("#banks-0-bottom-groove_depth").fill("9")
    drawers.locator("#banks-0-bottom-groove_depth").press("Tab")
    expect(sign).to_have_attribute("aria-label", "doubtful")
    expect(drawers.locator("#job-pages [aria-current]")).to_have_attribute("id", "page-drawers")
