"""What is tried at a corner stays in the address; its drawings have one lettering; its sliders are rules, and what they
come to is drawn ahead."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page, Route, expect

from served_app import Served

SIZES_OF_DRAWINGS = """() => [...document.querySelectorAll(".corner-drawings svg")].map((drawing) => {
    const letter = drawing.querySelector("text.lettering");
    const size = Number(letter.getAttribute("font-size"));
    return size * drawing.getBoundingClientRect().width / drawing.viewBox.baseVal.width;
})"""


def test_what_is_tried_survives_reload_and_coming_back(desk: Page, served: Served) -> None:
    desk.goto(f"{served.url}/corner")
    desk.locator("#bit_height").fill("12.3")
    desk.locator("#lip").fill("7")
    expect(desk.locator("#verdict")).to_contain_text("Stands proud 0.30 mm")
    expect(desk).to_have_url(re.compile(r"bit_height=12\.3mm&lip=7mm"))
    desk.reload()
    expect(desk.locator("#bit_height")).to_have_value("12.3")
    expect(desk.locator("#verdict")).to_contain_text("Stands proud 0.30 mm")
    desk.goto(f"{served.url}/devices")
    desk.go_back()
    expect(desk.locator("#lip")).to_have_value("7")
    expect(desk.locator("#verdict")).to_contain_text("Stands proud 0.30 mm")
    desk.get_by_role("button", name="Back to the recommended settings").click()
    expect(desk).not_to_have_url(re.compile("bit_height"))


def test_a_late_answer_leaves_the_slider_where_its_field_is(desk: Page, served: Served) -> None:
    """The page's first answer tells what the address asked for; by then another height has been typed."""
    held: list[Route] = []
    desk.route("**/corner/section*", lambda route: route.continue_() if held else held.append(route))
    desk.goto(f"{served.url}/corner?bit_height=12.3mm")
    desk.locator("#bit_height").fill("11.7")
    held[0].continue_()
    expect(desk.locator("#verdict")).to_contain_text("0.30 mm play")
    expect(desk.locator("#bit_height-slider")).to_be_enabled()
    expect(desk.locator("#bit_height-slider")).to_have_value("11.7")


def test_an_address_means_the_same_in_another_unit(desk: Page, served: Served) -> None:
    desk.context.add_cookies(
        [{"name": "drawerwright_reader", "value": "en|in/64|point|system", "url": served.url}]
    )
    desk.goto(f"{served.url}/corner?bit_height=12.3mm")
    expect(desk.locator("#bit_height")).to_have_value("0.484")  # 12.3 / 25.4
    expect(desk.locator("#verdict")).to_contain_text("Stands proud")


@pytest.mark.parametrize("height", ["11.8", "12.3"])
def test_all_drawings_of_a_corner_have_one_lettering(desk: Page, served: Served, height: str) -> None:
    """13 px is the small print of the pages (css/tokens.css)."""
    for width in (390, 1366, 1920):
        desk.set_viewport_size({"width": width, "height": 800})
        desk.goto(f"{served.url}/corner?bit_height={height}mm")
        expect(desk.locator("#verdict")).to_be_visible()
        sizes = desk.evaluate(SIZES_OF_DRAWINGS)
        assert len(sizes) == (3 if height == "11.8" else 2)
        assert sizes == pytest.approx([13.0] * len(sizes), abs=0.1)


def test_a_slider_shows_what_is_recommended_and_what_fits(desk: Page, served: Served) -> None:
    """A play of 0 to 0.15 mm fits (docs/job-file.md): 12.00 down to 11.85 of a rule from 10.9 to 12.9."""
    desk.goto(f"{served.url}/corner")
    expect(desk.locator("#verdict")).to_be_visible()
    rule = desk.locator(".rule").first
    marks = [
        rule.evaluate(f"(rule) => rule.style.getPropertyValue('--{name}')")
        for name in ("low", "notch", "high")
    ]
    assert marks == ["47.50%", "50.00%", "55.00%"]
    expect(desk.locator("[data-off=bit_height]")).to_have_text("as recommended")
    desk.locator("#bit_height-slider").press("ArrowRight")
    expect(desk.locator("#bit_height")).to_have_value("11.91")
    expect(desk.locator("[data-off=bit_height]")).to_have_text("0.01 mm above")


MOVED = """(slider, heights) => heights.map((height) => {
    slider.value = height;
    slider.dispatchEvent(new Event("input", { bubbles: true }));
    return document.getElementById("verdict").textContent.replace(/\\s+/g, " ").trim();
})"""
"""Moves a slider and tells the verdict of each height before anything else happens in the page."""


def drawn_ahead(desk: Page, slider: str = "#bit_height-slider") -> Locator:
    """A slider that a pointer has come to, when its next drawings are there."""
    expect(desk.locator("#verdict")).to_be_visible()
    with desk.expect_response("**/corner/ahead*") as answered:
        desk.locator(slider).hover()
    answered.value.finished()
    desk.wait_for_timeout(100)  # until the page has read them
    return desk.locator(slider)


def test_a_drawing_is_there_before_the_slider_comes_to_it(desk: Page, served: Served) -> None:
    """Play is 2 m - x (joint-law.md): 12 - 11.92. The tables follow when the slider rests."""
    desk.goto(f"{served.url}/corner")
    slider = drawn_ahead(desk)
    asked: list[str] = []
    desk.on("request", lambda request: asked.append(request.url))
    verdicts = slider.evaluate(MOVED, ["11.92", "11.93"])
    assert verdicts == ["Closes, with 0.08 mm play", "Closes, with 0.07 mm play"]
    expect(desk.locator("[data-off=bit_height]")).to_have_text("0.03 mm above")
    assert len([url for url in asked if "/corner/section" in url]) == 1
    expect(desk.locator("#verdict")).to_have_text("Closes, with 0.07 mm play")


def test_what_was_drawn_for_another_corner_is_never_shown(desk: Page, served: Served) -> None:
    """Mid depth 7 instead of 6: at 11.92 there is a play of 14 - 11.92. What was asked for before comes late."""
    desk.goto(f"{served.url}/corner")
    slider = drawn_ahead(desk)
    held: list[Route] = []
    desk.route("**/corner/ahead*", lambda route: held.append(route))
    slider.evaluate(MOVED, ["11.92"])
    desk.wait_for_timeout(50)
    assert held
    desk.locator("#mid_depth").fill("7")
    expect(desk.locator("#verdict")).to_have_text("Closes, with 2.08 mm play")
    held.pop().continue_()
    desk.wait_for_timeout(200)
    desk.unroute("**/corner/ahead*")
    with desk.expect_response("**/corner/section*"):
        assert slider.evaluate(MOVED, ["12.97"]) == ["Closes, with 2.08 mm play"]  # not drawn yet
    expect(desk.locator("#verdict")).to_have_text("Closes, with 1.03 mm play")


def test_a_late_answer_does_not_cover_a_newer_drawing(desk: Page, served: Served) -> None:
    desk.goto(f"{served.url}/corner")
    slider = drawn_ahead(desk)
    held: list[Route] = []
    desk.route("**/corner/section*", lambda route: route.continue_() if held else held.append(route))
    verdicts = slider.evaluate(MOVED, ["10.95", "11.93"])  # the first is further than what is drawn
    assert verdicts == ["Closes, with 0.10 mm play", "Closes, with 0.07 mm play"]
    desk.wait_for_timeout(50)
    with desk.expect_response("**/corner/section*bit_height=10.95*"):
        held[0].continue_()
    desk.wait_for_timeout(50)
    assert "0.07" in desk.locator("#verdict").inner_text()
    expect(desk.locator("[data-off=bit_height]")).to_have_text("0.03 mm above")


def test_a_slider_moves_its_drawing_where_nothing_is_drawn_ahead(desk: Page, served: Served) -> None:
    desk.route("**/corner/ahead*", lambda route: route.abort())
    desk.goto(f"{served.url}/corner")
    expect(desk.locator("#verdict")).to_be_visible()
    desk.locator("#bit_height-slider").press("ArrowRight")
    expect(desk.locator("#verdict")).to_have_text("Closes, with 0.09 mm play")
    expect(desk.locator("#link-state")).to_be_hidden()
