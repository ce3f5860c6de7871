"""What the pages say of themselves, and the glossary: the text of the docs, in the reader's language.

`docs/help` holds a folder for each language with a text for each page; the glossary is a table in `words.md`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from html import escape
from pathlib import Path

from markdown_it import MarkdownIt

_PACKAGED = Path(__file__).parents[1] / "help"
_DOCS = Path(__file__).parents[4] / "docs"
_ROW = re.compile(r"^\| (?!-)([^|]+) \| ([^|]+) \|$", re.MULTILINE)
_PLAIN = {
    "en": frozenset(
        {
            "contents",
            "corner",
            "fault",
            "fence",
            "finding",
            "flat",
            "head",
            "id",
            "load",
            "movement",
            "packet",
            "papers",
            "pass",
            "proud",
            "rack",
        }
        | {"run", "sheet", "shelf", "stock", "strip"}
    ),
    "de": frozenset({"Arbeiten", "Durchgang", "Kopf", "Stand", "Streifen"}),
}
"""Words that mostly stand in their everyday sense: explained only where the help emphasises them."""
_EMPHASIS = re.compile(r"<em>([^<]+)</em>")


def _file(language: str, name: str) -> Path:
    """A text of the help, from the package or from the source tree that the package lies in."""
    if _PACKAGED.is_dir():
        return _PACKAGED / language / name
    if (language, name) == ("en", "words.md"):
        return _DOCS / name
    return _DOCS / "help" / language / name


@cache
def pages(language: str) -> frozenset[str]:
    """The pages that have a text."""
    return frozenset(path.stem for path in _file(language, "start.md").parent.glob("*.md")) - {"words"}


@cache
def glossary(language: str) -> Mapping[str, str]:
    """Each word of the glossary with its meaning. Of several in one row each has its own, or all share one.

    >>> glossary("en")["lip"]
    "how far a front's end stands beyond the side's outer face"
    """
    table = _file(language, "words.md").read_text(encoding="utf-8").split("\n\n", 2)[1]
    found: dict[str, str] = {}
    for row, meaning in _ROW.findall(table)[1:]:
        words, meanings = [word.strip() for word in row.split(",")], meaning.split("; ")
        each = meanings if len(meanings) == len(words) else [meaning] * len(words)
        found.update(zip(words, each, strict=True))
    return found


@cache
def help_text(language: str, page: str) -> str:
    """The text of a page as HTML; what it emphasises is explained where the glossary has it."""
    text = _file(language, f"{page}.md").read_text(encoding="utf-8")
    html = MarkdownIt("commonmark", {"html": False}).render(text)
    return _EMPHASIS.sub(lambda found: _term(language, found[1]) or found[0], html)


def explained(language: str, text: str, known: set[str]) -> str:
    """A text as HTML with the first word of the glossary in it explained; none that is in `known`, which it joins."""
    found = _pattern(language).search(text)
    word = _word(language, found[0]) if found else None
    if found is None or word is None or word in known:
        return escape(text)
    known.add(word)
    return escape(text[: found.start()]) + _term(language, found[0]) + escape(text[found.end() :])


@cache
def _pattern(language: str) -> re.Pattern[str]:
    """Any word of the glossary that means nothing else as it stands in a text, longer ones first."""
    words = sorted(set(glossary(language)) - _PLAIN[language], key=len, reverse=True)
    return re.compile(r"\b(?:" + "|".join(map(re.escape, words)) + r")\b", re.IGNORECASE)


def _word(language: str, written: str) -> str | None:
    """The word of the glossary that is written here, whatever its capitals, one or several."""
    forms = (written.casefold(), written.casefold().removesuffix("s"))
    return next((word for word in glossary(language) if word.casefold() in forms), None)


def _term(language: str, written: str) -> str:
    """A word that explains itself; empty where the glossary does not have it."""
    word = _word(language, written)
    if word is None:
        return ""
    meaning = escape(glossary(language)[word], quote=True)
    return f'<dfn tabindex="0" data-meaning="{meaning}">{escape(written)}</dfn>'
