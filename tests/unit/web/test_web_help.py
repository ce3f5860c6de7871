"""The help of every page in every language, from the texts of the docs; words of the glossary explain themselves."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from drawerwright.web.reader import help_texts
from drawerwright.web.reader.words import LANGUAGES

DOCS = Path(__file__).parents[3] / "docs"
PAGES_OF_A_JOB = ("cutter", "stock", "drawers", "corner", "trial", "sheets", "run", "papers", "text")
OTHERS = {"/": "start", "/jobs/new": "new", "/corner": "corner", "/reader": "reader", "/devices": "devices"}


def test_every_language_helps_with_the_same_pages() -> None:
    of_each = {language: help_texts.pages(language) for language in LANGUAGES}
    assert of_each["de"] == of_each["en"]
    assert {*PAGES_OF_A_JOB, *OTHERS.values()} <= of_each["en"]


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_page_offers_its_help_and_the_help_is_there(client: TestClient, language: str) -> None:
    headers = {"Accept-Language": language}
    client.post("/jobs/example", headers={**headers, "Origin": str(client.base_url)})
    paths = OTHERS | {f"/jobs/1/{page}": page for page in PAGES_OF_A_JOB}
    for path, page in paths.items():
        assert f'hx-get="/help/{page}"' in client.get(path, headers=headers).text, path
        whole = client.get(f"/help/{page}", headers=headers)
        part = client.get(f"/help/{page}", headers={**headers, "HX-Request": "true"})
        text = (DOCS / "help" / language / f"{page}.md").read_text("utf-8")
        heading = text.splitlines()[0].removeprefix("## ")
        assert f"<h2>{heading}</h2>" in whole.text
        assert f"<h2>{heading}</h2>" in part.text
        assert "<svg" in part.text, f"{page} has no drawing"
        assert "<html" not in part.text


def test_a_help_that_is_not_there_is_not_found(client: TestClient) -> None:
    for page in ("words.md", "secret", "%2e%2e%2fwords"):
        assert client.get(f"/help/{page}").status_code == 404


@pytest.mark.parametrize("language", LANGUAGES)
def test_what_the_help_emphasises_is_a_word_of_the_page_or_of_the_glossary(
    client: TestClient, language: str
) -> None:
    """What stands in italics in the texts is either explained, or is the label of something on the pages."""
    labels = (DOCS.parent / "src/drawerwright/web/locale/de/LC_MESSAGES/drawerwright.po").read_text("utf-8")
    for page in help_texts.pages(language):
        html = help_texts.help_text(language, page)
        for word in re.findall(r"<em>([^<]+)</em>", html):
            assert f'"{unescape(word)}' in labels or word.lower() in labels, (page, word)


def test_words_of_one_row_have_each_its_own_meaning() -> None:
    words = help_texts.glossary("en")
    assert words["fence"] == "of the router table"
    assert words["rip fence"] == "of the saw"
    assert words["flat"] == words["upright piece"]


def test_a_word_is_explained_once_and_text_around_it_is_escaped() -> None:
    known: set[str] = set()
    first = help_texts.explained("en", "Mid depth <of> it", known)
    assert re.fullmatch(r'<dfn tabindex="0" data-meaning="[^"<>]+">Mid depth</dfn> &lt;of&gt; it', first), (
        first
    )
    assert help_texts.explained("en", "mid depth again", known) == "mid depth again"
    assert help_texts.explained("en", "midway", known) == "midway"
    assert help_texts.explained("en", "Tallest piece you can run upright", known).count("<dfn") == 0
    assert "Überstand</dfn>" in help_texts.explained("de", "Überstand", set())


def test_the_glossary_lists_every_word(client: TestClient) -> None:
    page = client.get("/help/words").text
    for word in help_texts.glossary("en"):
        assert f"<dt>{word}</dt>" in page


@pytest.mark.parametrize(
    "page", ["corner", "jobs/1/trial", "jobs/1/cutter", "jobs/1/stock", "jobs/1/drawers"]
)
def test_labels_explain_their_words_on_the_page(client: TestClient, page: str) -> None:
    """Whatever a label comes from, a template's own words or a list: it is escaped once, the explanation not at all."""
    client.post("/jobs/example", headers={"Origin": str(client.base_url)})
    html = client.get(f"/{page}").text
    assert re.search(r"<label[^>]*>[^<]*(<span>)?[^<]*<dfn ", html)
    assert "&lt;dfn" not in html
    assert "&amp;lt;" not in html
