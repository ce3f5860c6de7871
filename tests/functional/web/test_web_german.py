"""Every page in German: nothing that the catalogue translates is shown in English, nothing overflows a phone, and the
typeface has every sign."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from babel.messages.pofile import read_po
from playwright.sync_api import Browser, BrowserContext, Page, expect

from drawerwright.web.reader.words import LOCALE_FOLDER

from .conftest import COLD_MS, PATIENCE_MS, SIZES, Served, example_corner
from .test_web_every_page import PAGES
from .typeface import texts_in_other_typefaces

EXAMPLE = Path(__file__).parents[3] / "examples" / "music-school.yaml"
LEAST_WORDS = 3
"""A text within another must have so many English words to be told from somebody's own."""

TELL_TALE = re.compile(
    r"\b(the|and|with|must|is|are|not|from|of|to|for|cut|sheets?|drawers?|fence)\b", re.IGNORECASE
)
"""Words that no German text has, for texts that never came to the catalogue."""

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


@cache
def english_patterns() -> list[tuple[str, re.Pattern[str]]]:
    """What every English text of the catalogue would look like, whatever stands in its placeholders.

    With each the longest of its words in a row: where these do not stand, the pattern need not be tried.
    """
    with (LOCALE_FOLDER / "de" / "LC_MESSAGES" / "drawerwright.po").open("rb") as file:
        catalogue = read_po(file, locale="de")
    found = []
    for message in catalogue:
        english = message.id if isinstance(message.id, tuple) else (message.id,)
        german = message.string if isinstance(message.string, tuple) else (message.string,)
        for text in english:
            if text and text not in german:
                literal = re.split(r"%\(\w+\)\w|\{[^}]*\}", text.replace("%%", "%"))
                words = len(re.findall(r"[A-Za-z]{2,}", " ".join(literal)))
                if len(literal) > 1 and words < LEAST_WORDS - 1:
                    continue  # a word or none between two values: anything may look like it
                pattern = ".+?".join(re.escape(bit) for bit in literal)
                whole = re.compile(pattern if words >= LEAST_WORDS else f"^{pattern}$")
                found.append((max(literal, key=len), whole))
    return found


def german_phone(browser: Browser) -> BrowserContext:
    """A phone whose owner reads German."""
    context = browser.new_context(viewport=SIZES["phone"], locale="de-DE")
    context.set_default_timeout(PATIENCE_MS)
    context.set_default_navigation_timeout(COLD_MS)
    return context


@pytest.fixture
def visitor(browser: Browser) -> Iterator[Page]:
    """A page of a phone of the test's own."""
    context = german_phone(browser)
    yield context.new_page()
    context.close()


@pytest.fixture(scope="module")
def reader(browser: Browser) -> Iterator[Page]:
    """One page for all tests that only look."""
    context = german_phone(browser)
    yield context.new_page()
    context.close()


def english_on(page: Page) -> list[str]:
    patterns = english_patterns()
    assert len(patterns) > 500
    texts: list[str] = page.evaluate(TEXTS)
    assert len(texts) > 3
    own = sorted(set(re.findall(r"(?:job|name|label): *([^,}\n]+)", EXAMPLE.read_text("utf-8"))), key=len)
    found = []
    for text in texts:
        rest = text
        for name in reversed(own):
            rest = rest.replace(name.partition("  ")[0].strip(), "")
        if any(words in text and pattern.search(text) for words, pattern in patterns) or TELL_TALE.search(
            rest
        ):
            found.append(text)
    return found


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
    assert english_on(reader) == []
    for width in (390, 360):
        reader.set_viewport_size({"width": width, "height": 740})
        assert reader.evaluate("document.documentElement.scrollWidth") <= width
    assert texts_in_other_typefaces(reader) == []


def _replaced(text: str, *changes: tuple[str, str]) -> str:
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return text


def test_faults_and_findings_are_said_in_german(visitor: Page, served: Served) -> None:
    """A job with every common kind of fault, and one that is doubtful from end to end."""
    text = EXAMPLE.read_text(encoding="utf-8")
    faulty = _replaced(text, ("kerf: 2.8", "kerf: much, colour: red"), ("equal: 7", "equal: 0"))
    faulty = _replaced(faulty, ("style: slid", "style: round"), ("{all: birch15}", "{all: oak}"))
    doubtful = _replaced(
        text, ("groove_depth: 6", "groove_depth: 12"), ("max_speed: 16000", "max_speed: 900")
    )
    doubtful = _replaced(
        doubtful, ("[6.38, 6.42, 6.35]", "[6.38, 6.92, 6.05]"), ("upright: 620", "upright: 90")
    )
    for name, content, pages in (
        ("faulty", faulty, ("drawers", "stock", "cutter", "text", "run", "papers")),
        ("doubtful", doubtful, ("drawers", "stock", "corner", "sheets", "run", "papers")),
    ):
        job = served.add_job(content)
        for page in pages:
            visit(visitor, served, f"{job}/{page}")
            assert english_on(visitor) == [], (name, page)


UNFOLD = """() => { for (const fold of document.querySelectorAll("main details")) {
    fold.open = true;
    fold.dataset.touched = "yes";
} }"""
"""As somebody opens what is folded; a redraw leaves it so."""
CODE = re.compile(r"\b[a-z]+(_[a-z]+)+\b|\b(drawer-lock|lock-mitre|birch-plywood)\b")
"""An entry of a file, or a value of one, as the file spells it."""


def codes_on(page: Page) -> list[str]:
    texts: list[str] = page.evaluate(TEXTS)
    return [text for text in texts if CODE.search(text)]


def test_test_cuts_are_said_in_german(visitor: Page, served: Served) -> None:
    """Readings that are impossible, that quarrel and that cannot be read; corrections, history, what was learnt."""
    job = served.add_example()
    visit(visitor, served, f"{job}/trial?corner={example_corner(1)}")
    change = visitor.get_by_role("button", name="Was ist zu ändern?")
    fields = visitor.locator("h3 ~ .pairs input").all()
    assert len(fields) > 8
    for field in fields:
        field.fill("0,3")
    change.click()
    expect(visitor.get_by_role("alert")).to_contain_text("können nicht alle stimmen")
    assert english_on(visitor) == []
    for field in visitor.locator("h3 ~ .pairs input").all():
        field.fill("")
    visitor.locator("#play").fill("0,3")
    visitor.locator("#shoulder_gap").fill("0,02")
    change.click()
    expect(visitor.get_by_text("Diese Messwerte widersprechen einander")).to_be_visible()
    assert english_on(visitor) == []
    assert codes_on(visitor) == []
    visitor.locator("#play").fill("ein wenig")
    change.click()
    expect(visitor.locator("#fault-play")).not_to_be_empty()
    assert english_on(visitor) == []
    visitor.locator("#play").fill("0,1")
    visitor.locator("[name=seen][value=play]").check()
    change.click()
    expect(visitor.locator("#cuts-head + .scroll tbody tr")).to_have_count(2)
    assert english_on(visitor) == []
    assert codes_on(visitor) == []
    visitor.get_by_role("button", name="Probefräsung 1 entfernen").click()
    assert english_on(visitor) == []
    visit(visitor, served, f"{job}/cutter")
    cuts = visitor.get_by_role("region", name="Probefräsungen mit diesem Fräser")
    expect(cuts).to_contain_text("Spiel längs des Hochkantstücks 0,10 mm")
    assert english_on(visitor) == []
    assert codes_on(visitor) == []


@pytest.mark.alone
def test_what_the_shelf_has_otherwise_is_said_in_german(visitor: Page, served: Served) -> None:
    job = served.add_example()
    for page, fields in (
        ("cutter", {"#cutter-mid_depth": "5,7 ± 0,02", "#cutter-kind": "lock-mitre"}),
        (
            "stock",
            {
                "#stock-birch15-grain": "none",
                "#stock-birch15-panel": "mdf",
                "#stock-birch15-sheets-0-price": "80",
                "#machine-router_table-speeds": "8000; 9000",
            },
        ),
    ):
        visit(visitor, served, f"{job}/{page}")
        expect(visitor.get_by_role("button", name="In die Werkstattdaten übernehmen").first).to_be_visible()
        while (put := visitor.get_by_role("button", name="In die Werkstattdaten übernehmen")).count():
            left = put.count()
            put.first.click()
            expect(put).to_have_count(left - 1)
        for group in visitor.locator("details.folded summary", has_text="Drehzahlen").all():
            group.click()
        for field, typed in fields.items():
            place = visitor.locator(field)
            visitor.evaluate(UNFOLD)
            if place.evaluate("field => field.tagName") == "SELECT":
                place.select_option(typed)
            else:
                place.fill(typed)
                place.press("Tab")
        expect(visitor.locator(".difference-line")).to_have_count(len(fields))
        assert english_on(visitor) == []
        assert codes_on(visitor) == []
    expect(visitor.get_by_text("Platte 1, Preis: ")).to_be_visible()
    visitor.get_by_role("button", name="Werte aus den Werkstattdaten übernehmen").first.click()
    expect(visitor.locator(".difference-line")).to_have_count(1)
    visit(visitor, served, f"{job}/text")
    expect(visitor.get_by_text("aus den Werkstattdaten übernommen")).to_have_count(1)
