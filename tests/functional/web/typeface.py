"""Whether a page is set in the one typeface: no sign is missing from the font files."""

from __future__ import annotations

from playwright.sync_api import Page

TYPED = ("textarea", "pre", "code")
"""What is set like a typewriter on purpose."""
MARK_SIGNS = """async typed => {
    document.body.replaceWith(document.body.cloneNode(true)); // nothing draws a copy anew meanwhile
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


def texts_in_other_typefaces(page: Page) -> list[tuple[str, str]]:
    """Texts of a page with the font that one of their signs came from, where it is another; the page is spent.

    Chromium itself says with which fonts it drew a text (DevTools protocol, CSS.getPlatformFontsForNode). Every text
    names the typeface first; Chromium is asked about one element for each sign beyond ASCII.
    """
    foreign = page.evaluate(MARK_SIGNS, list(TYPED))
    found = [(text, "not asked for") for text in foreign]
    session = page.context.new_cdp_session(page)
    session.send("DOM.enable")
    session.send("CSS.enable")
    root = session.send("DOM.getDocument", {"depth": 0})["root"]["nodeId"]
    texts = session.send("DOM.querySelectorAll", {"nodeId": root, "selector": "[data-signs]"})["nodeIds"]
    looked = 0
    for node in texts:
        for font in session.send("CSS.getPlatformFontsForNode", {"nodeId": node})["fonts"]:
            looked += 1
            if not (font["isCustomFont"] and font["familyName"].startswith("B612")):
                text = session.send("DOM.getOuterHTML", {"nodeId": node})["outerHTML"]
                found.append((text[:120], font["familyName"]))
    session.detach()
    assert looked or not texts, "Chromium has told with which fonts it drew"
    return found
