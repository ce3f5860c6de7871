"""One catalogue, complete in German: checked with Babel, the library that reads gettext files."""

from __future__ import annotations

import io
import re
from pathlib import Path
from typing import Any

import pytest
from babel.messages.catalog import Catalog, Message
from babel.messages.extract import DEFAULT_KEYWORDS, extract_from_dir
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

from drawerwright.web.reader import words

ROOT = Path(__file__).parents[3]
PACKAGE = ROOT / "src" / "drawerwright"
WEB = PACKAGE / "web"
JINJA = {"trim_blocks": "true", "lstrip_blocks": "true", "newstyle_gettext": "true"}
TEXTS = [("**.py", "python"), ("**/templates/**.html", "jinja2")]


@pytest.fixture(scope="module")
def german() -> Catalog:
    with (words.LOCALE_FOLDER / "de" / "LC_MESSAGES" / "drawerwright.po").open("rb") as file:
        return read_po(file, locale="de")


KEYWORDS = {**DEFAULT_KEYWORDS, "phrase": None, "plural": (1, 2)}


def used_texts() -> set[str]:
    """Every text of the pages, and every phrase of the rooms below them."""
    found = extract_from_dir(str(PACKAGE), TEXTS, {"**/templates/**.html": JINJA}, KEYWORDS)
    return {text[0] if isinstance(text, tuple) else text for _file, _line, text, *_rest in found}


def strings(message: Message) -> tuple[str, ...]:
    text: Any = message.string
    return text if isinstance(text, tuple) else (text,)


def test_every_text_of_the_pages_has_its_german(german: Catalog) -> None:
    used = used_texts()
    assert len(used) > 400
    translated = {
        message.id[0] if isinstance(message.id, tuple) else message.id
        for message in german
        if message.id and all(strings(message)) and not message.fuzzy
    }
    assert used - translated == set()


def test_placeholders_are_kept(german: Catalog) -> None:
    faults = [str(error) for message in german if message.id for error in message.check()]
    assert faults == []
    for message in german:
        identities = message.id if isinstance(message.id, tuple) else (message.id,)
        for identity, text in zip(identities, strings(message), strict=True):
            assert set(_fields(text)) == set(_fields(str(identity))), text


def _fields(text: str) -> list[str]:
    """Placeholders of either kind: `%(num)d` in templates, `{height}` in phrases."""
    percent = [part.split(")")[0] for part in text.split("%(")[1:]]
    return percent if percent else re.findall(r"\{[^{}]*\}", text)


def test_compiled_catalogue_is_up_to_date(german: Catalog) -> None:
    """`make words` compiles it; the pages read the compiled one."""
    compiled = io.BytesIO()
    write_mo(compiled, german)
    assert (
        words.LOCALE_FOLDER / "de" / "LC_MESSAGES" / "drawerwright.mo"
    ).read_bytes() == compiled.getvalue()


def test_german_pages_speak_german(german: Catalog) -> None:
    words.use_language("de")
    try:
        assert words.gettext("Drawers") == "Schubladen"
        assert words.ngettext("%(num)d fault", "%(num)d faults", 2) == "%(num)d Fehler"
    finally:
        words.use_language("en")


def test_templates_hold_no_text_outside_the_catalogue() -> None:
    """Letters between tags that no `_()` wraps would stay English everywhere."""
    stray = {}
    for path in sorted((WEB / "templates").glob("*.html")):
        plain = path.read_text(encoding="utf-8")
        for pattern in (r"\{#.*?#\}", r"\{%.*?%\}", r"\{\{.*?\}\}", r"<[^>]*>"):
            plain = re.sub(pattern, " ", plain, flags=re.DOTALL)
        left = {word for word in plain.split() if len(word) > 2 and word.isalpha()} - {"SVG", "DXF"}
        if left:
            stray[path.name] = sorted(left)
    assert stray == {}


def test_an_empty_text_stays_empty_in_every_language() -> None:
    for language in words.LANGUAGES:
        words.use_language(language)
        assert words.gettext("") == words.wording(language).gettext("") == ""
    words.use_language("en")


def shunned_german() -> dict[str, str]:
    """Words that docs/words.md sets aside, with those that stand for them."""
    table = (ROOT / "docs" / "words.md").read_text("utf-8").split("| word | German | and not |")[1]
    rows = re.findall(r"^\| (?!-)[^|]+ \| ([^|]+) \| ([^|]+) \|$", table, re.MULTILINE)
    return {word.strip(): instead for instead, words in rows for word in words.split(" (")[0].split(",")}


def test_the_german_catalogue_keeps_to_one_word_for_one_thing(german: Catalog) -> None:
    shunned = shunned_german()
    assert shunned["Lippe"] == "Überstand"
    found = {
        text: instead
        for message in german
        if message.id
        for text in strings(message)
        for word, instead in shunned.items()
        if re.search(rf"\b{word}\b", text)
    }
    assert found == {}


ADDRESSED = re.compile(
    r"(?<![.:!?] )(?<!^)\b(?:Sie|Ihnen|Ihrem?|Ihren)\b|\b(?:du|dich|dein\w*|nimm|gib|wähle|miss)\b"
)
"""A *Sie* within a sentence, or a word of *du*; at its head *Sie* may be a thing."""


def test_the_german_reader_is_addressed_in_one_way(german: Catalog) -> None:
    assert ADDRESSED.search("Hier wählen Sie etwas")
    found = [text for message in german if message.id for text in strings(message) if ADDRESSED.search(text)]
    assert found == []
