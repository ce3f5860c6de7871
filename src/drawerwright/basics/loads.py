"""Loads as people write and read them: kilograms inside, pounds at the edge for who reads inches."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Literal, TypeAlias

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.phrases import Phrase, phrase, with_decimal_sign
from drawerwright.basics.typed_lengths import LONGEST_WRITTEN, in_any_case, shortened

Kg: TypeAlias = float
"""What weighs so many kilograms."""

LoadUnit: TypeAlias = Literal["kg", "lb"]
LOAD_UNITS: dict[Literal["mm", "in"], LoadUnit] = {"mm": "kg", "in": "lb"}
"""The unit of a bare load beside each unit of bare lengths."""
KG_PER_POUND = 0.45359237
"""Exact, by definition of the international pound (1959)."""
GRAMS_PER_OUNCE = 1000 * KG_PER_POUND / 16
"""Exact, by definition of the ounce avoirdupois."""
SQUARE_METRES_PER_FOOT = 0.3048**2
"""Exact, by definition of the international foot (1959)."""
NEWTONS_PER_POUND_FORCE = KG_PER_POUND * 9.80665
"""Exact, by the standard acceleration of gravity (3rd CGPM, 1901)."""
JOULES_PER_FOOT_POUND = NEWTONS_PER_POUND_FORCE * 0.3048
HEAVIEST: Kg = 10_000.0
"""No drawer carries ten tonnes: what does is a slip of the finger."""

_LOAD = re.compile(
    r"\s*(?P<number>[-−]?(?:\d+(?:[.,]\d+)?|[.,]\d+))\s*(?P<unit>kg|lbs?|pounds?)?\s*", re.IGNORECASE
)


LOAD_PATTERN = rf"^\s*(?:\d+(?:[.,]\d+)?|[.,]\d+)\s*(?:{in_any_case('kg|lbs?|pounds?')})?\s*$"
"""What a load looks like in writing, as a regular expression that editors know too."""


def parse_load(text: str | float, *, default_unit: LoadUnit = "kg") -> Kg:
    """Read a load and return it in kilograms; a bare number is in `default_unit`.

    Raises:
        InvalidValueError: the text is no load, or heavier than anything a drawer carries.

    >>> parse_load("45 kg"), round(parse_load("100 lb"), 2)
    (45.0, 45.36)
    >>> round(parse_load("100", default_unit="lb"), 2)
    45.36
    """
    match = _LOAD.fullmatch(str(text)) if _may_be_one(text) else None
    if match is None or isinstance(text, bool):
        raise InvalidValueError(
            phrase(
                "cannot read {given!r} as a load: write it like 45, 45 kg or 100 lb", given=shortened(text)
            )
        )
    load = float(match["number"].replace(",", ".").replace("−", "-"))
    if load < 0:
        raise InvalidValueError(phrase("a load must be 0 or more, not {given}", given=shortened(text)))
    if (match["unit"] or default_unit).lower() != "kg":
        load *= KG_PER_POUND
    if not math.isfinite(load) or load > HEAVIEST:
        raise InvalidValueError(
            phrase(
                "{given!r} is heavier than {heaviest:g} kg, the limit for a load: check its digits and its unit",
                given=shortened(text),
                heaviest=HEAVIEST,
            )
        )
    return load


def _may_be_one(text: object) -> bool:
    return isinstance(text, int | float) or (isinstance(text, str) and len(text) <= LONGEST_WRITTEN)


def show_load(load: Kg, style: LengthStyle) -> str:
    """Write a load for a reader, in pounds for one who reads inches.

    >>> show_load(45.36, LengthStyle()), show_load(45.36, LengthStyle("in"))
    ('45.4 kg', '100 lb')
    """
    if style.unit == "mm":
        return with_decimal_sign(f"{load:.1f}".removesuffix(".0") + " kg", style.decimal_sign)
    return f"{load / KG_PER_POUND:.0f} lb"


@dataclass(frozen=True, slots=True)
class WrittenLoad:
    """A load among the values of a phrase; each reader gets it in their own unit."""

    load: Kg

    def __str__(self) -> str:
        return show_load(self.load, LengthStyle())

    def __format__(self, wanted: str) -> str:
        return format(str(self), wanted)

    def written_for(self, reader: LengthStyle) -> str:
        """The load in the reader's unit and decimal sign."""
        return show_load(self.load, reader)


@dataclass(frozen=True, slots=True)
class WrittenGrams:
    """A small weight (g) among the values of a phrase: in grams, or in ounces for who reads inches.

    >>> str(WrittenGrams(45)), WrittenGrams(45).written_for(LengthStyle("in"))
    ('45 g', '1.6 oz')
    """

    grams: float

    def __str__(self) -> str:
        return f"{self.grams:g} g"

    def __format__(self, wanted: str) -> str:
        return format(str(self), wanted)

    def written_for(self, reader: LengthStyle) -> str:
        """The weight in the reader's unit and decimal sign."""
        if reader.unit == "mm":
            return with_decimal_sign(str(self), reader.decimal_sign)
        ounces = self.grams / GRAMS_PER_OUNCE
        return f"{ounces:.{1 if ounces >= 1 else 2}f} oz"


@dataclass(frozen=True, slots=True)
class WrittenSpread:
    """So many grams per square metre among the values of a phrase; ounces on a square foot for who reads inches.

    >>> str(WrittenSpread(180)), WrittenSpread(180).written_for(LengthStyle("in"))
    ('180 g per square metre', '0.59 oz per square foot')
    """

    grams: float

    @property
    def _metric(self) -> Phrase:
        return phrase("{grams:.0f} g per square metre", grams=self.grams)

    def __str__(self) -> str:
        return str(self._metric)

    def __format__(self, wanted: str) -> str:
        return format(str(self), wanted)

    def written_for(self, reader: LengthStyle) -> str:
        """The same in the reader's units and language."""
        if reader.unit == "mm":
            return reader.say(self._metric)
        ounces = self.grams / GRAMS_PER_OUNCE * SQUARE_METRES_PER_FOOT
        return reader.say(phrase("{ounces:.2f} oz per square foot", ounces=ounces))


@dataclass(frozen=True, slots=True)
class InPounds:
    """Beside a range of forces (N) or energies (J) in a phrase: the same in pounds for who reads inches, else nothing.

    >>> InPounds(120, 340).written_for(LengthStyle("in")), InPounds(120, 340).written_for(LengthStyle())
    (' (27–76 lbf)', '')
    >>> InPounds(4, 9.5, is_energy=True).written_for(LengthStyle("in"))
    ' (3–7 ft·lbf)'
    >>> InPounds(120, 120.1).written_for(LengthStyle("in"))
    ' (27 lbf)'
    """

    low: float
    high: float
    is_energy: bool = False

    def __str__(self) -> str:
        return ""

    def __format__(self, wanted: str) -> str:
        return format(str(self), wanted)

    def written_for(self, reader: LengthStyle) -> str:
        """With two digits that count, as an estimate deserves."""
        if reader.unit == "mm":
            return ""
        one = JOULES_PER_FOOT_POUND if self.is_energy else NEWTONS_PER_POUND_FORCE
        low, high = (f"{float(f'{value / one:.2g}'):g}" for value in (self.low, self.high))
        return f" ({low if low == high else f'{low}–{high}'} {'ft·lbf' if self.is_energy else 'lbf'})"
