"""What is tried at a corner stays in the address; its drawings have one lettering; its sliders are rules."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, Route, expect

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
