"""Texts of a page, and which of them are not German though they should be."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

from babel.messages.pofile import read_po

from drawerwright.web.reader.words import LOCALE_FOLDER

EXAMPLE = Path(__file__).parents[1] / "examples" / "music-school.yaml"
LEAST_WORDS = 3
"""A text within another must have so many English words to be told from somebody's own."""
LEAST_PATTERNS = 500
LEAST_TEXTS = 4
TELL_TALE = re.compile(
    r"\b(the|and|with|must|is|are|not|from|of|to|for|cut|sheets?|drawers?|fence)\b", re.IGNORECASE
)
"""Words that no German text has, for texts that never came to the catalogue."""
CODE = re.compile(r"\b[a-z]+(_[a-z]+)+\b|\b(drawer-lock|lock-mitre|birch-plywood)\b")
"""An entry of a file, or a value of one, as the file spells it."""
SPOKEN = ("aria-label", "title", "placeholder", "alt")
NOT_READ = ("script", "style", "textarea")
VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}
"""Elements without an end (HTML Living Standard, 13.1.2)."""


class _Texts(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self._silent: list[str] = []
        """From the element whose texts are not looked at down to where the parser is."""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        is_silent = bool(self._silent) or tag in NOT_READ or ("lang" in given and tag != "html")
        self.found += [text for name in SPOKEN if (text := given.get(name))]
        if is_silent and tag not in VOID:
            self._silent.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found += [text for name, text in attrs if name in SPOKEN and text]

    def handle_endtag(self, tag: str) -> None:
        if tag in self._silent:
            while self._silent.pop() != tag:
                pass

    def handle_data(self, data: str) -> None:
        if not self._silent:
            self.found.append(data)


def texts_of(page: str) -> list[str]:
    """Every text that a page shows or reads out, without what stands in a field or is in a language of its own."""
    reader = _Texts()
    reader.feed(page)
    return sorted({" ".join(text.split()) for text in reader.found} - {""})


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
    assert len(found) > LEAST_PATTERNS
    return found


@cache
def _own_names() -> list[str]:
    names = set(re.findall(r"(?:job|name|label): *([^,}\n]+)", EXAMPLE.read_text("utf-8")))
    return [name.partition("  ")[0].strip() for name in sorted(names, key=len, reverse=True)]


@cache
def _is_english(text: str) -> bool:
    rest = text
    for name in _own_names():
        rest = rest.replace(name, "#")  # where a value may stand, and no word
    return bool(TELL_TALE.search(rest)) or any(
        words in rest and pattern.search(rest) for words, pattern in english_patterns()
    )


def english_among(texts: Iterable[str]) -> list[str]:
    """The texts that the catalogue has a German for, or that have words which no German text has."""
    texts = list(texts)
    assert len(texts) >= LEAST_TEXTS
    return [text for text in texts if _is_english(text)]


def codes_among(texts: Iterable[str]) -> list[str]:
    """The texts that name an entry, or a value of one, as the job file spells it."""
    return [text for text in texts if CODE.search(text)]
