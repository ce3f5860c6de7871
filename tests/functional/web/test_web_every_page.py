"""Every page at every size: no violation that axe-core knows, nothing overflows, each control by keyboard."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, ViewportSize, expect

from .conftest import SIZES, Served, new_context
from .keyboard import focus_faults
from .typeface import texts_in_other_typefaces

AXE = Path(__file__).parents[3] / "frontend" / "node_modules" / "axe-core" / "axe.min.js"
PAGES = {
    "jobs": "/",
    "new": "/jobs/new",
    "corner": "/corner",
    "corner-print": "/corner/print?kind=drawer-lock&mid_depth=6&step=4&flat=15&upright=15&lip=0&slope=45",
    "reader": "/reader",
    "devices": "/devices",
    "pair": "/pair",
    "help": "/help/cutter",
    "words": "/help/words",
    "error": "/nothing-here",
    "job-glance": "{job}/glance",
    "job-cutter": "{job}/cutter",
    "job-stock": "{job}/stock",
    "job-drawers": "{job}/drawers",
    "job-corner": "{job}/corner",
    "job-trial": "{job}/trial",
    "job-sheets": "{job}/sheets",
    "job-run": "{job}/run",
    "job-run-one": "{job}/run?view=one&step=6",
    "job-papers": "{job}/papers",
    "job-text": "{job}/text",
}
LOOK = """axe.run(%s, {iframes: false, resultTypes: ["violations"], %s})
    .then(({passes, violations}) => ({passed: passes.length, violations}))"""
"""Where a rule holds, axe need not describe each element for which it does."""
RULES_BUT_COLOURS = LOOK % ("document", "rules: {'color-contrast': {enabled: false}}")
COLOURS = LOOK % ("[...document.querySelectorAll('[data-coloured]')]", "runOnly: ['color-contrast']")
MARK_COLOURED = """() => {
    const ground = (part) => {
        const colours = [];
        for (let at = part; at; at = at.parentElement) {
            const style = getComputedStyle(at);
            colours.push(style.backgroundColor, style.backgroundImage, style.opacity);
            if (!style.backgroundColor.startsWith("rgba")) break;
        }
        return colours;
    };
    const seen = {};
    for (const part of document.querySelectorAll("body, body *")) {
        delete part.dataset.coloured;
        const isTyped = part.matches("input, select, textarea");
        if (!isTyped && ![...part.childNodes].some((node) => node.nodeType === 3 && node.data.trim())) continue;
        if (!part.checkVisibility()) continue;
        const style = getComputedStyle(part);
        const look = [part.tagName, style.color, style.fontSize, style.fontWeight, ...ground(part)].join();
        seen[look] = (seen[look] ?? 0) + 1;
        if (seen[look] <= 2) part.dataset.coloured = "yes";
    }
    return Object.keys(seen).length;
}"""
"""Marks what is to be looked at for its colours, which axe takes most of its time for: of the texts that have the same
colours, size, weight and ground two."""
THIN_OUT = """() => {
    const shape = (part) => `${part.tagName}.${part.className.baseVal ?? part.className}[${part.type ?? ""}]`
        + `(${[...part.children].map(shape).join()})`;
    for (const parent of document.querySelectorAll("main, main *")) {
        const alike = {};
        for (const child of parent.children) (alike[shape(child)] ??= []).push(child);
        for (const children of Object.values(alike)) for (const child of children.slice(2, -1)) child.remove();
    }
}"""
"""Of rows that are built alike, the first two and the last stay: axe looks at each for itself."""
NAMED_TWICE = """() => {
    const names = [...document.querySelectorAll("[id]")].map((part) => part.id);
    return names.filter((name, place) => names.indexOf(name) !== place);
}"""
RUN_PAGES = ("job-run", "job-run-one")
LIVE = "[aria-live]:not([aria-live=off]), [role=status], [role=log]"
LEAST_TARGET = 44
"""CSS pixels, as the run pages promise (WCAG 2.5.5 asks for the same)."""


def open_page(page: Page, shared: Served, job: str, path: str) -> list[str]:
    """Open a page and say what its console complains of, and what it asks another host for."""
    complaints: list[str] = []
    ours = (shared.url, "data:", "blob:", "chrome:", "chrome-extension:")
    page.on("request", lambda request: complaints.extend([request.url] * (not request.url.startswith(ours))))
    page.on("console", lambda message: complaints.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.goto(shared.url + path.format(job=job))
    expect(page.locator(".htmx-request, #planned progress:not([max]), #stop-papers")).to_have_count(
        0, timeout=30_000
    )
    if "corner" in path and "print" not in path:
        page.locator("#verdict").wait_for()
    return complaints


TARGETS = """() => [...document.querySelectorAll("a[href], button, label.tick, textarea, summary, select")]
    .filter((target) => target.checkVisibility() && !target.matches(".skip"))
    .map((target) => { const box = target.getBoundingClientRect();
        return [target.textContent.trim().slice(0, 30), Math.round(box.width), Math.round(box.height)]; })"""


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_usable_by_everybody(looker: Page, shared: Served, example_job: str, name: str) -> None:
    """axe-core finds nothing at either size, by day or in the dark; nothing overflows; every control is reached by
    keyboard; all that is pressed at the machine is large; the console is silent; nothing comes from another host; every
    sign is in the typeface."""
    page = looker
    page.set_viewport_size(SIZES["desk"])
    page.emulate_media(color_scheme="light", reduced_motion="reduce")
    complaints = open_page(page, shared, example_job, PAGES[name])
    twice = page.evaluate(NAMED_TWICE)
    small = []
    if name in RUN_PAGES:
        for viewport in SIZES.values():
            page.set_viewport_size(ViewportSize(**viewport))
            sizes = page.evaluate(TARGETS)
            assert len(sizes) > 15
            small += [size for size in sizes if min(size[1], size[2]) < LEAST_TARGET]
    page.set_viewport_size({"width": 360, "height": 740})
    wide = page.evaluate("document.documentElement.scrollWidth")
    live = page.locator(LIVE).evaluate_all("places => places.map(place => place.id)")
    page.set_viewport_size(SIZES["desk"])
    page.evaluate(THIN_OUT)
    found = axe_violations(page)
    page.set_viewport_size(SIZES["desk"])
    unseen = focus_faults(page)
    assert found == []
    assert live == ["announce"]  # one polite place to hear results from
    assert wide <= 360
    assert unseen == []
    assert small == []
    assert twice == []
    assert texts_in_other_typefaces(page) == []
    expected = ["404"] if name == "error" else []
    assert [text for text in complaints if not any(code in text for code in expected)] == []


def axe_violations(page: Page) -> list[str]:
    """What axe-core finds. In the dark only colours differ."""
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = []
    for size, scheme, look in (
        ("desk", "dark", COLOURS),
        ("desk", "light", COLOURS),
        ("desk", "light", RULES_BUT_COLOURS),
        ("phone", "light", COLOURS),
        ("phone", "light", RULES_BUT_COLOURS),
    ):
        page.set_viewport_size(SIZES[size])
        page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
        if look is COLOURS:
            assert page.evaluate(MARK_COLOURED) > 3
        result: Any = page.evaluate(look)
        assert result["passed"] > (0 if look is COLOURS else 5), "axe has looked at the page"
        found += [
            f"{size} {scheme} {violation['id']}: {violation['help']} — {node['html'][:160]}"
            for violation in result["violations"]
            for node in violation["nodes"][:3]
        ]
    return found


def test_first_page_is_light(browser: Browser, shared: Served, example_job: str) -> None:
    """Under 150 kB before the 3-D viewer is asked for."""
    context = new_context(browser, "desk")
    page = context.new_page()
    session = context.new_cdp_session(page)
    session.send("Network.enable")
    received: list[int] = []
    session.on("Network.loadingFinished", lambda event: received.append(int(event["encodedDataLength"])))
    page.goto(shared.url)
    expect(page.locator(".thumbs svg").first).to_be_visible()
    context.close()
    assert len(received) >= 4
    assert sum(received) < 150_000
