"""Texts that remember how they were made, so that each reader gets them in their language, unit and decimal sign.

A text is made once, where it is known what to say: `phrase("only {roof} are left.", roof=millimetres(2.1))`.
There it is English. At the edge, `said` writes it anew for a reader: the template goes through the reader's
catalogue, lengths among its values through the reader's unit, other numbers through the decimal sign.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any, Protocol


class Phrase(str):
    """An English text with its template and values; everywhere else it is a plain `str`.

    Where a text depends on a count, `template` speaks of one, `many` of any other number.
    """

    template: str
    values: dict[str, Any]
    many: str | None
    how_many: int

    def __new__(
        cls, template: str, values: dict[str, Any], many: str | None = None, count: int = 1
    ) -> Phrase:
        """Fill the template with `values`; both are kept."""
        chosen = template if many is None or count == 1 else many
        made = super().__new__(cls, chosen.format(**values))
        made.template, made.values, made.many, made.how_many = template, values, many, count
        return made

    def __str__(self) -> str:
        """The phrase itself, so that `str(error)` is still a phrase when the error was raised with one."""
        return self

    def __getnewargs__(self) -> tuple[str, dict[str, Any], str | None, int]:  # type: ignore[override]
        """What a copy or a pickle is made from."""
        return self.template, self.values, self.many, self.how_many


def phrase(template: str, **values: Any) -> Phrase:
    """A text from a template in the manner of `str.format`.

    >>> phrase("{share:.1f} of the width", share=3)
    '3.0 of the width'
    """
    return Phrase(template, values)


def plural(one: str, many: str, count: int, **values: Any) -> Phrase:
    """A text that depends on a count, which both templates may name as `{count}`.

    >>> plural("{count} band", "{count} bands", 2)
    '2 bands'
    """
    return Phrase(one, {"count": count, **values}, many, count)


def joined(texts: Iterable[str], separator: str) -> Phrase:
    """Texts in a row; the phrases among them stay phrases.

    >>> joined([phrase("front"), "A1"], " ")
    'front A1'
    """
    values = {f"part{number}": text for number, text in enumerate(texts)}
    plain = separator.replace("{", "{{").replace("}", "}}")
    return Phrase(plain.join(f"{{{name}}}" for name in values), values)


def plain(text: str) -> str:
    """A text as nothing but its English, for files that keep it and for libraries that take no kin of `str`.

    >>> type(plain(phrase("front")))
    <class 'str'>
    """
    return str.__str__(text)


def _same(message: str) -> str:
    return message


def _one_or_many(one: str, many: str, count: int) -> str:
    return one if count == 1 else many


@dataclass(frozen=True, slots=True)
class Wording:
    """The catalogue of a language, as gettext reads it; English, the language of the source, by default."""

    language: str = "en"
    gettext: Callable[[str], str] = field(default=_same, compare=False)
    ngettext: Callable[[str, str, int], str] = field(default=_one_or_many, compare=False)


class Reader(Protocol):
    """Whom a text is written for."""

    @property
    def wording(self) -> Wording:
        """The catalogue of the reader's language."""

    @property
    def decimal_sign(self) -> str:
        """Point or comma."""


def said(text: str, reader: Reader) -> str:
    """`text` as `reader` reads it. A plain string is somebody's own word, such as a drawer's name, and stays."""
    if not isinstance(text, Phrase):
        return text
    if text.many is None:
        template = reader.wording.gettext(text.template)
    else:
        template = reader.wording.ngettext(text.template, text.many, text.how_many)
    return template.format(**{name: _for(reader, value) for name, value in text.values.items()})


def _for(reader: Reader, value: Any) -> Any:
    if isinstance(value, str):
        return said(value, reader)
    if isinstance(value, int | float):
        return value if isinstance(value, bool) else _Figure(value, reader.decimal_sign)
    if hasattr(value, "written_for"):  # much sooner asked than `isinstance` of a protocol
        return value.written_for(reader)
    return value


class _Figure:
    """A number that a template's format writes with the reader's decimal sign."""

    def __init__(self, value: float, decimal_sign: str) -> None:
        self.value = value
        self.decimal_sign = decimal_sign

    def __format__(self, wanted: str) -> str:
        return with_decimal_sign(format(self.value, wanted), self.decimal_sign)

    def __repr__(self) -> str:
        return repr(self.value)


def with_decimal_sign(number: str, decimal_sign: str) -> str:
    """A number as Python writes it, with the signs of a reader; the thousands get what is left.

    >>> with_decimal_sign("18,000.5", ",")
    '18.000,5'
    """
    return number.translate(_EXCHANGED) if decimal_sign == "," else number


_EXCHANGED = str.maketrans(".,", ",.")
