"""Lengths as people type them, with or without a unit."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from typing import Literal

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import INCHES_PER_FOOT, Mm
from drawerwright.basics.phrases import phrase

LONGEST: Mm = 100_000.0
"""No board and no room of a shop is longer than 100 m: what is, is a slip of the finger or a wrong unit."""
LONGEST_REPEATED = 40
"""Characters of what was typed that a message repeats."""
PLUS_MINUS = re.compile(r"±|\+/-|\+-")
"""Between a figure and how far it may be off."""
ACCEPTED = phrase("14.65 or 14.65 mm, 3/4 in, 1 1/8\", 0.720in or 2'")
"""Examples of what is accepted, for messages."""

_NUMBER = r"\d+(?:[.,]\d+)?|[.,]\d+"
_FEET = r"ft|feet|foot|'|′|’"
_UNIT = rf"mm|cm|in(?:ch(?:es)?)?|\"|″|”|''|{_FEET}"
_SEVERAL = re.compile(
    rf"(?=.*[.,]\d)\s*(?:{_NUMBER})(?:\s*(?:{_UNIT}))?(?:,?\s+(?:{_NUMBER})(?:\s*(?:{_UNIT}))?)+\s*"
)
_LENGTH = re.compile(
    rf"""\s*(?P<sign>[-+−]?)\s*
    (?:
        (?P<whole>\d+)(?:\s+|\s*-\s*)(?P<num_after_whole>\d+)\s*/\s*(?P<den_after_whole>\d+)
      | (?P<num>\d+)\s*/\s*(?P<den>\d+)
      | (?P<number>{_NUMBER})
    )
    \s*(?P<unit>{_UNIT})?\s*""",
    re.VERBOSE | re.IGNORECASE,
)
_FEET_AND_INCHES = re.compile(rf"(?P<feet>\s*\d+\s*(?:{_FEET}))[\s-]+(?P<rest>.*\d.*)", re.IGNORECASE)
_IN_THOUSANDS = re.compile(
    rf"\s*(?P<whole>\d{{1,3}}(?:(?P<mark>[.,'’  ])\d{{3}})(?:(?P=mark)\d{{3}})*)"
    rf"(?P<rest>(?:[.,]\d+)?(?:\s*(?:{_UNIT}))?)\s*",
    re.IGNORECASE,
)
_VULGAR = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
LONGEST_WRITTEN = 100
"""Characters of a length as somebody writes it; what is longer is none, and is not looked at any closer."""


def length_pattern(*, signed: bool = False, positive: bool = False) -> str:
    """What a length looks like in writing, as a regular expression that editors know too: no named group, no flag.

    It says nothing of how long the length may be, nor of a fraction over 0.

    >>> bool(re.fullmatch(length_pattern(), "2' 3½ IN")), re.fullmatch(length_pattern(), "-1")
    (True, None)
    >>> re.fullmatch(length_pattern(positive=True), "0,0 mm")
    """
    units, feet = (in_any_case(names.replace("\\", "")) for names in (_UNIT, _FEET))
    vulgar = "".join(_VULGAR)
    fraction = rf"(?:\d+(?:\s+|\s*-\s*))?\d+\s*/\s*\d+|(?:\d+(?:\s*-)?\s*)?[{vulgar}]"
    one = rf"(?:{fraction}|{_NUMBER})\s*(?:{units})?"
    sign = r"[+−-]?\s*" if signed else r"(?:\+\s*)?"
    more_than_0 = rf"(?=\s*\+?[^±+]*[1-9{vulgar}])" if positive else ""
    return rf"^{more_than_0}\s*(?:\d+\s*(?:{feet})[\s-]+{one}|{sign}{one})\s*$"


def in_any_case(words: str) -> str:
    """A pattern of plain words that takes capitals as well.

    >>> in_any_case("mm|in")
    '[mM][mM]|[iI][nN]'
    """
    return re.sub("[a-z]", lambda letter: f"[{letter[0]}{letter[0].upper()}]", words)


def with_doubt(pattern: str, doubt: str) -> str:
    """The pattern of a figure, after which ± and how far it may be off may stand."""
    return rf"{pattern[:-1]}(?:(?:{PLUS_MINUS.pattern}){doubt[1:-1]})?$"


def parse_length(text: str | float, *, default_unit: Literal["mm", "in"] = "mm") -> Mm:
    """Read a length and return it in millimetres.

    Args:
        text: what was typed, or a number already. Bare numbers are in `default_unit`; bare fractions too.
        default_unit: the unit of a number that names none.

    Raises:
        InvalidValueError: the text is not a length, or longer than anything in a shop; the message repeats it and
            says what is accepted.

    >>> parse_length("14,65")
    14.65
    >>> parse_length('1 1/8"')
    28.575
    >>> parse_length("2' 3 1/2 in")
    698.5
    """
    if isinstance(text, bool) or not isinstance(text, str | int | float):
        raise _not_a_length(text)
    if isinstance(text, int | float):
        if isinstance(text, float) and not math.isfinite(text):
            raise _not_a_length(text)
        return _within_reach(Fraction(text) * _mm_per(default_unit), f"{text} {default_unit}")
    if len(text) > LONGEST_WRITTEN:
        raise _not_a_length(text)
    plain = _plain_fractions(text)
    if (both := _FEET_AND_INCHES.fullmatch(plain)) is not None:
        rest = both["rest"]
        if rest.lstrip()[:1] in "+-−":
            raise _not_a_length(text)
        return parse_length(both["feet"]) + parse_length(rest, default_unit="in")
    match = _LENGTH.fullmatch(plain)
    if match is None:
        raise _not_a_length(text)
    try:
        value = _magnitude(match)
    except (ZeroDivisionError, ValueError):  # more digits than Python makes a number of
        raise _not_a_length(text) from None
    if match["sign"] in ("-", "−"):
        value = -value
    said = text if match["unit"] else f"{text.strip()} {default_unit}"
    return _within_reach(value * _mm_per(match["unit"] or default_unit), said)


def unit_named(text: str) -> Literal["mm", "in", ""] | None:
    """Whether a length as typed names a metric unit, or inches or feet; "" where it names none, None for no length.

    >>> unit_named("1 1/8"), unit_named("0.72in"), unit_named("2 cm"), unit_named("rest")
    ('', 'in', 'mm', None)
    """
    if len(text) > LONGEST_WRITTEN:
        return None
    plain = _plain_fractions(text)
    if _FEET_AND_INCHES.fullmatch(plain) is not None:
        return "in"
    match = _LENGTH.fullmatch(plain)
    if match is None:
        return None
    unit = (match["unit"] or "").lower()
    return "mm" if unit in ("mm", "cm") else "in" if unit else ""


def at_plus_minus(text: str) -> list[str]:
    """What stands before and after each ±, without the blanks around it.

    >>> at_plus_minus("5.65 ± 0.05"), at_plus_minus("14")
    (['5.65', '0.05'], ['14'])
    """
    return [bit.strip() for bit in PLUS_MINUS.split(text)]


def _plain_fractions(text: str) -> str:
    for sign, fraction in _VULGAR.items():
        text = text.replace(sign, f" {fraction}")
    return text


def _within_reach(value: Fraction, given: object) -> Mm:
    if abs(value) > LONGEST:
        raise InvalidValueError(
            phrase(
                "{given!r} is longer than {longest:g} m, the limit for a length: check its "
                "digits and its unit",
                given=shortened(given),
                longest=LONGEST / 1000,
            )
        )
    return float(value)


def _magnitude(match: re.Match[str]) -> Fraction:
    if match["whole"]:
        return int(match["whole"]) + Fraction(int(match["num_after_whole"]), int(match["den_after_whole"]))
    if match["num"]:
        return Fraction(int(match["num"]), int(match["den"]))
    return Fraction(match["number"].replace(",", "."))


def _mm_per(unit: str) -> Fraction:
    unit = unit.lower()
    if unit == "mm":
        return Fraction(1)
    if unit == "cm":
        return Fraction(10)
    inch = Fraction("25.4")
    if unit in {"ft", "feet", "foot", "'", "′", "’"}:
        return inch * INCHES_PER_FOOT
    return inch


def _not_a_length(given: object) -> InvalidValueError:
    if isinstance(given, str) and (grouped := _IN_THOUSANDS.fullmatch(given[:LONGEST_WRITTEN])):
        return InvalidValueError(
            phrase(
                "cannot read {given!r} as a length: leave out what groups the thousands, as in {plain}",
                given=shortened(given),
                plain=re.sub(r"\D", "", grouped["whole"]) + grouped["rest"],
            )
        )
    if isinstance(given, str) and _SEVERAL.fullmatch(given[:LONGEST_WRITTEN]):
        return InvalidValueError(
            phrase(
                "{given!r} is more than one length: where several may stand, a semicolon parts them, as in 14.65; 14.7",
                given=shortened(given),
            )
        )
    return InvalidValueError(
        phrase(
            "cannot read {given!r} as a length: write it like {examples}",
            given=shortened(given),
            examples=ACCEPTED,
        )
    )


def shortened(given: object) -> object:
    """What was given, as a message repeats it."""
    try:
        text = str(given)
    except ValueError:  # more digits than Python writes
        return "…"
    return given if len(text) <= LONGEST_REPEATED else f"{text[:LONGEST_REPEATED]}…"
