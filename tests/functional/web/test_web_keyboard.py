"""Every page by keyboard alone: each control is reached with Tab, shows that it is, and is not covered."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Page

from .conftest import Served
from .test_web_every_page import PAGES, open_page

THIN_OUT = """() => {
    const shape = (part) => `${part.tagName}.${part.className.baseVal ?? part.className}[${part.type ?? ""}]`
        + `(${[...part.children].map(shape).join()})`;
    for (const parent of document.querySelectorAll("main, main *")) {
        const alike = {};
        for (const child of parent.children) (alike[shape(child)] ??= []).push(child);
        for (const children of Object.values(alike)) for (const child of children.slice(2, -1)) child.remove();
    }
}"""
"""Of rows that are built alike, the first two and the last stay: each press of Tab draws the page anew."""
LEAST_RING = 2
"""CSS pixels of the ring round what has the focus (WCAG 2.2, 2.4.13 asks for a perimeter of 2)."""
LEAST_CONTRAST = 3.0
"""Of the ring with what is round it (WCAG 2.2, 1.4.11)."""
CONTROLS = (
    "a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex='0'], object, iframe"
)
RING = """(active) => {
    const style = getComputedStyle(active);
    const colour = (text) => text.match(/[0-9.]+/g).map(Number);
    let ground = null;
    for (let at = active.parentElement; at && !ground; at = at.parentElement) {
        const found = colour(getComputedStyle(at).backgroundColor);
        if (found.length < 4 || found[3] > 0) ground = found;
    }
    return {
        what: active.outerHTML.slice(0, 120),
        ring: style.outlineStyle === "none" ? 0 : parseFloat(style.outlineWidth),
        colour: colour(style.outlineColor), ground,
    };
}"""
REACHED = f"""() => {{
    const active = document.activeElement;
    if (active === document.body) return null;
    active.dataset.reached = "yes";
    const box = active.getBoundingClientRect();
    const [x, y] = [box.left + Math.min(box.width / 2, 20), box.top + Math.min(box.height / 2, 10)];
    const top = document.elementFromPoint(x, y);
    const seen = Boolean(top) && (active.contains(top) || top.contains(active) || top.matches("label"));
    return {{...({RING})(active), seen}};
}}"""
REACHED_AGAIN = f"""() => [...document.querySelectorAll("[data-reached]")]
    .map((control) => {{ control.focus(); return ({RING})(document.activeElement); }})"""
"""What Tab has reached, in colours that have changed since; after a key, the focus shows wherever a script sets it."""
NOT_REACHED = f"""() => [...document.querySelectorAll(`{CONTROLS}`)]
    .filter((control) => control.checkVisibility({{ visibilityProperty: true }}) && !control.disabled
        && !control.closest("details:not([open]) > :not(summary)") && !("reached" in control.dataset)
        && control.tabIndex >= 0
        && !(control.type === "radio" && document.querySelector(`[name=${{control.name}}][data-reached]`)))
    .map((control) => control.outerHTML.slice(0, 120))"""


def contrast(one: list[float], other: list[float]) -> float:
    """Contrast ratio of two colours (WCAG 2.2, definition of relative luminance)."""
    lights = []
    for colour in (one, other):
        parts = [value / 255 for value in colour[:3]]
        linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
        lights.append(0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2] + 0.05)
    return max(lights) / min(lights)


def walk(page: Page) -> list[dict[str, Any]]:
    """What Tab reaches, one after the other, until it comes back to the first."""
    found: list[dict[str, Any]] = []
    for _press in range(600):
        page.keyboard.press("Tab")
        place = page.evaluate(REACHED)
        if place is None or (found and place["what"] == found[0]["what"]):
            break
        found.append(place)
    return found


@pytest.mark.parametrize("name", PAGES)
def test_the_focus_is_seen_on_every_control(
    looker: Page, shared: Served, example_job: str, name: str
) -> None:
    """By day and in the dark, where the colours differ and nothing else does."""
    page = looker
    page.emulate_media(color_scheme="light", reduced_motion="reduce")
    open_page(page, shared, example_job, PAGES[name])
    page.evaluate("for (const panel of document.querySelectorAll('details')) panel.open = true")
    page.evaluate(THIN_OUT)
    found = walk(page)
    missed = page.evaluate(NOT_REACHED)
    page.emulate_media(color_scheme="dark", reduced_motion="reduce")
    again = page.evaluate(REACHED_AGAIN)
    assert found
    assert len(again) == len(found)
    assert {str(place["ground"]) for place in again}.isdisjoint({str(place["ground"]) for place in found})
    for places in (found, again):
        assert [place["what"] for place in places if place["ring"] < LEAST_RING] == []
        assert [
            place["what"] for place in places if contrast(place["colour"], place["ground"]) < LEAST_CONTRAST
        ] == []
    assert [place["what"] for place in found if not place["seen"]] == []
    assert missed == []
