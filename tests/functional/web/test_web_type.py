"""Every page in both languages is set in the one typeface: no sign is missing from the font files."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from .conftest import SIZES, Served
from .test_web_every_page import PAGES, open_page

TYPED = ("textarea", "pre", "code")
"""What is set like a typewriter on purpose."""
MARK_SIGNS = """async typed => {
    await document.fonts.ready;
    for (const part of document.querySelectorAll(typed.join())) part.remove();
    for (const fold of document.querySelectorAll("details")) fold.open = true;
    const seen = new Set(), foreign = [];
    for (const part of document.querySelectorAll("body, body *")) {
        const own = [...part.childNodes].filter((node) => node.nodeType === 3).map((node) => node.data).join("");
        const signs = [...`${own}${part.matches("select") ? part.textContent : ""}`].filter((sign) => sign > "~");
        const asked = own.trim() || part.matches("input, select");
        if (asked && !getComputedStyle(part).fontFamily.startsWith("B612")
            && !getComputedStyle(part).fontFamily.startsWith('"B612')) foreign.push(part.outerHTML.slice(0, 120));
        if (signs.every((sign) => seen.has(sign)) || !part.checkVisibility()) continue;
        for (const sign of signs) seen.add(sign);
        part.dataset.signs = "yes";
    }
    return foreign;
}"""


@pytest.mark.parametrize("language", ["en-GB", "de-DE"])
def test_no_sign_falls_back_to_another_typeface(
    browser: Browser, shared: Served, example_job: str, language: str
) -> None:
    """Chromium itself says with which fonts it drew a text (DevTools protocol, CSS.getPlatformFontsForNode).

    Every text names the typeface first; Chromium is asked about one element for each sign beyond ASCII.
    """
    context = browser.new_context(viewport=SIZES["desk"], locale=language)
    page = context.new_page()
    session = context.new_cdp_session(page)
    found: set[tuple[str, str, str]] = set()
    looked = 0
    for name, path in PAGES.items():
        open_page(page, shared, example_job, path)
        foreign = page.evaluate(MARK_SIGNS, list(TYPED))
        assert foreign == [], name
        session.send("DOM.enable")
        session.send("CSS.enable")
        root = session.send("DOM.getDocument", {"depth": 0})["root"]["nodeId"]
        texts = session.send("DOM.querySelectorAll", {"nodeId": root, "selector": "[data-signs]"})["nodeIds"]
        for node in texts:
            for font in session.send("CSS.getPlatformFontsForNode", {"nodeId": node})["fonts"]:
                looked += 1
                if not (font["isCustomFont"] and font["familyName"].startswith("B612")):
                    text = session.send("DOM.getOuterHTML", {"nodeId": node})["outerHTML"]
                    found.add((name, font["familyName"], text[:120]))
        session.send("DOM.disable")
    context.close()
    assert looked > 40
    assert found == set()
