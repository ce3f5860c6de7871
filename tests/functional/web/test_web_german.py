"""Every page in German on a phone: nothing that the catalogue translates is shown in English, nothing overflows, and
the typeface has every sign. What pages say after something was done: tests/unit/web/test_web_german_answers.py."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from german_texts import english_among

from .conftest import COLD_MS, PATIENCE_MS, SIZES, Served
from .test_web_every_page import PAGES
from .typeface import texts_in_other_typefaces

TEXTS = """() => {
    const found = [];
    const walker = document.createTreeWalker(document.documentElement, NodeFilter.SHOW_TEXT);
    while (walker.nextNode()) {
        const node = walker.currentNode;
        if (!node.parentElement.closest("script, style, textarea, [lang]:not(html)")) found.push(node.data);
    }
    for (const name of ["aria-label", "title", "placeholder", "alt"])
        for (const element of document.querySelectorAll(`[${name}]`)) found.push(element.getAttribute(name));
    return [...new Set(found.map(text => text.replace(/\\s+/g, " ").trim()).filter(text => text))];
}"""
"""Every text that a page shows or reads out, without what stands in a field."""


@pytest.fixture(scope="module")
def reader(browser: Browser) -> Iterator[Page]:
    """A page of a phone whose owner reads German."""
    context = browser.new_context(viewport=SIZES["phone"], locale="de-DE")
    context.set_default_timeout(PATIENCE_MS)
    context.set_default_navigation_timeout(COLD_MS)
    yield context.new_page()
    context.close()


def visit(page: Page, server: Served, path: str) -> None:
    page.goto(server.url + path)
    expect(page.locator(".htmx-request, #planned progress:not([max])")).to_have_count(0, timeout=30_000)
    if "/corner" in path and "print" not in path:
        page.locator("#verdict").wait_for()


@pytest.mark.parametrize("name", PAGES)
def test_a_page_speaks_german_alone(reader: Page, shared: Served, example_job: str, name: str) -> None:
    reader.set_viewport_size(SIZES["phone"])
    visit(reader, shared, PAGES[name].format(job=example_job))
    assert reader.locator("html").get_attribute("lang") == "de"
    assert english_among(reader.evaluate(TEXTS)) == []
    for width in (390, 360):
        reader.set_viewport_size({"width": width, "height": 740})
        assert reader.evaluate("document.documentElement.scrollWidth") <= width
    assert texts_in_other_typefaces(reader) == []
