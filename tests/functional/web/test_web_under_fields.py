"""What stands below a field (a fault, a finding, a hint) lies on nothing else, however wide the page."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from drawerwright.job.file.editing import set_value
from drawerwright.job.file.first_jobs import example_text

from .conftest import Served

OVERLAPS = """() => {
    const what = "#planned :is(.field p, .field label, .field input, .field select, legend, h2, h3)";
    const shown = [...document.querySelectorAll(what)].filter((element) =>
        element.checkVisibility() && (element.value !== undefined || element.textContent.trim()));
    const boxes = shown.map((element) => [element, element.getBoundingClientRect()]);
    const found = [];
    for (const [one, a] of boxes) for (const [other, b] of boxes) {
        if (one === other || one.contains(other) || other.contains(one)) continue;
        const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
        const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
        if (wide > 2 && high > 2) found.push(`${one.textContent || one.id} / ${other.textContent || other.id}`);
    }
    return found;
}"""
UNMEASURED = set_value(example_text(), ("stock", "birch6", "measured"), None)
FAULTY = set_value(
    set_value(UNMEASURED, ("machine", "router_table", "speeds"), ["8000", "fast"]),
    ("machine", "saw", "kerf"),
    "wide",
)
OUTSIDE = set_value(example_text(), ("stock", "birch15", "nominal"), 12)
"""A stock whose readings lie outside what is published for it: a finding below its thickness."""


@pytest.mark.parametrize("language", ["en", "de"])
def test_nothing_below_a_field_lies_on_anything(desk: Page, served: Served, language: str) -> None:
    sign = "comma" if language == "de" else "point"
    cookie = {"name": "drawerwright_reader", "value": f"{language}|mm|{sign}|light", "url": served.url}
    desk.context.add_cookies([cookie])  # type: ignore[list-item]
    for text, pages in ((FAULTY, ("stock", "cutter")), (UNMEASURED, ("stock",)), (OUTSIDE, ("stock",))):
        job = served.add_job(text)
        for page in pages:
            desk.goto(f"{served.url}{job}/{page}")
            expect(desk.locator("#planned")).to_be_visible()
            for width in (390, 1280, 1366):
                desk.set_viewport_size({"width": width, "height": 900})
                assert desk.evaluate(OVERLAPS) == [], width


def test_a_fault_in_one_of_several_speeds_stands_at_their_field(desk: Page, served: Served) -> None:
    job = served.add_job(FAULTY)
    desk.goto(f"{served.url}{job}/glance")
    desk.locator("a[href$='#machine-router_table-speeds']").click()
    speeds = desk.locator("#machine-router_table-speeds")
    expect(speeds).to_have_attribute("aria-invalid", "true")
    speeds.fill("8000; 12000")
    speeds.press("Tab")
    expect(speeds).not_to_have_attribute("aria-invalid", "true")
