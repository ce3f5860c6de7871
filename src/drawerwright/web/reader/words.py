"""Every text of the pages in the reader's language: one gettext catalogue."""

from __future__ import annotations

import gettext as _gettext_library
from collections.abc import Iterable
from contextvars import ContextVar
from functools import cache, partial
from pathlib import Path

from drawerwright.basics.phrases import Wording

DOMAIN = "drawerwright"
LOCALE_FOLDER = Path(__file__).parents[1] / "locale"
LANGUAGES = {"en": "English", "de": "Deutsch"}
"""Languages with a complete catalogue; English is the language of the source."""

_language: ContextVar[str] = ContextVar("language", default="en")


@cache
def _catalogue(language: str) -> _gettext_library.NullTranslations:
    return _gettext_library.translation(DOMAIN, LOCALE_FOLDER, [language], fallback=language == "en")


def use_language(language: str) -> None:
    """Set the language for what the present request renders."""
    _language.set(language if language in LANGUAGES else "en")


def language() -> str:
    """The language of the present request."""
    return _language.get()


@cache
def wording(language: str) -> Wording:
    """The catalogue of a language, for texts that are made below the pages."""
    catalogue = _catalogue(language)
    return Wording(language, partial(_say, catalogue), catalogue.ngettext)


def gettext(message: str) -> str:
    """A text in the language of the present request."""
    return _say(_catalogue(_language.get()), message)


def _say(catalogue: _gettext_library.NullTranslations, message: str) -> str:
    # A catalogue answers the empty text with its own head.
    return catalogue.gettext(message) if message else ""


def ngettext(one: str, many: str, count: int) -> str:
    """A text that depends on a count."""
    return _catalogue(_language.get()).ngettext(one, many, count)


def best_language(accepted: str) -> str:
    """The first language of an Accept-Language header with a catalogue.

    >>> best_language("fr;q=0.9, de-AT, en;q=0.5")
    'de'
    """
    for tag in _by_preference(accepted):
        if tag in LANGUAGES:
            return tag
    return "en"


def _by_preference(accepted: str) -> Iterable[str]:
    wanted = []
    for index, part in enumerate(accepted.split(",")):
        tag, _, weight = part.partition(";")
        try:
            quality = float(weight.strip().removeprefix("q=") or 1)
        except ValueError:
            quality = 0.0
        wanted.append((-quality, index, tag.strip().lower().split("-")[0]))
    return (tag for _, _, tag in sorted(wanted))
