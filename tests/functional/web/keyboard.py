"""A page by keyboard alone: whether each control is reached with Tab, shows that it is, and is not covered."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page

LEAST_RING = 2
"""CSS pixels of the ring round what has the focus (WCAG 2.2, 2.4.13 asks for a perimeter of 2)."""
LEAST_CONTRAST = 3.0
"""Of the ring with what is round it (WCAG 2.2, 1.4.11)."""
CONTROLS = (
    "a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex='0'], object, iframe"
)
PASS_BY_ALIKE = f"""() => {{
    const name = (part) => `${{part?.tagName}}.${{part?.className.baseVal ?? part?.className}}[${{part?.type ?? ""}}]`;
    const alike = {{}};
    for (const control of document.querySelectorAll(`main :is({CONTROLS})`)) {{
        if (!control.checkVisibility()) continue;
        const around = [control, control.parentElement, control.parentElement.parentElement];
        (alike[around.map(name).join("<")] ??= []).push(control);
    }}
    for (const controls of Object.values(alike)) for (const control of controls.slice(2, -1)) control.tabIndex = -1;
}}"""
"""Of controls that are the same, within the same, Tab passes by all but the first two and the last: each press has the
page drawn anew."""
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


def focus_faults(page: Page) -> list[str]:
    """What is wrong with the focus of a page, by day and in the dark, where only the colours differ."""
    page.emulate_media(color_scheme="light", reduced_motion="reduce")
    page.evaluate("for (const fold of document.querySelectorAll('details:not([name])')) fold.open = true")
    page.evaluate(PASS_BY_ALIKE)
    found = walk(page)
    missed = page.evaluate(NOT_REACHED)
    page.emulate_media(color_scheme="dark", reduced_motion="reduce")
    again = page.evaluate(REACHED_AGAIN)
    assert found
    assert len(again) == len(found)
    assert {str(place["ground"]) for place in again}.isdisjoint({str(place["ground"]) for place in found})
    faults = [f"never reached: {what}" for what in missed]
    faults += [f"covered: {place['what']}" for place in found if not place["seen"]]
    for scheme, places in (("light", found), ("dark", again)):
        faults += [f"{scheme}, thin ring: {place['what']}" for place in places if place["ring"] < LEAST_RING]
        faults += [
            f"{scheme}, faint ring: {place['what']}"
            for place in places
            if contrast(place["colour"], place["ground"]) < LEAST_CONTRAST
        ]
    return faults
