"""Texts that remember how they were made, so that a page can say them in its reader's language."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any


class Phrase(str):
    """An English text with its template and values; everywhere else it is a plain `str`."""

    template: str
    values: dict[str, Any]

    def __new__(cls, template: str, values: dict[str, Any]) -> Phrase:
        """Fill `template` with `values`; both are kept."""
        made = super().__new__(cls, template.format(**values))
        made.template = template
        made.values = values
        return made

    def __getnewargs__(self) -> tuple[str, dict[str, Any]]:  # type: ignore[override]
        """What a copy or a pickle is made from."""
        return self.template, self.values


def phrase(template: str, **values: Any) -> Phrase:
    """A text from a template in the manner of `str.format`.

    >>> phrase("{width:.1f} mm wide", width=3)
    '3.0 mm wide'
    """
    return Phrase(template, values)


def said(text: str, translate: Callable[[str], str]) -> str:
    """`text` in another language: its template and the phrases among its values go through `translate`.

    A plain string is somebody's own word, such as a drawer's name, and stays.
    """
    if not isinstance(text, Phrase):
        return text
    values = {
        name: said(value, translate) if isinstance(value, str) else value
        for name, value in text.values.items()
    }
    return translate(text.template).format(**values)
