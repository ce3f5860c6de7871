"""Lengths as the shop reads them.

Inside the program a length is a plain float in millimetres. This module is the edge where `show_length` gives what a
person reads; `typed_lengths` takes what a person typed.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Literal, TypeAlias

from drawerwright.basics.phrases import Wording, said, with_decimal_sign
from drawerwright.basics.sixty_fourths import about_64th, as_fraction, is_64th, is_shown_as, nearest_64th

Mm: TypeAlias = float
"""A length in millimetres."""
Degrees: TypeAlias = float
"""An angle in degrees."""
Unit: TypeAlias = Literal["mm", "in", "in/64"]
"""How lengths are shown: millimetres, decimal inches, or sixty-fourths of an inch where they are some."""

PaperName: TypeAlias = Literal["a4", "letter"]
"""A size of paper that a packet is printed on."""

MM_PER_INCH = 25.4
"""Exact, by definition of the international inch (1959)."""
INCHES_PER_FOOT = 12
MM_PER_FOOT = MM_PER_INCH * INCHES_PER_FOOT
SIZE_STEP: dict[Literal["mm", "in"], Mm] = {"mm": 0.1, "in": 0.005 * MM_PER_INCH}
"""Sizes are cut and shown in steps of this (mm), where nobody says another: what a saw can be set to (common practice,
no source)."""
FINE_MM: Mm = 0.01
FINE_INCH = 0.001
"""Settings and readings are shown as finely as this, in mm and in inches."""
SMALL_INCH = 0.01
"""Doubts below this get a digit more in inches: half a thousandth is a usual one."""

KEPT_STEPS = 1000
"""Reckoned lengths that are compared are kept to so many steps a millimetre: finer than anything is set in a shop,
coarser than what reckoning leaves in the last digits."""
OFF_THE_MIDDLE = 1e-6
"""How far (in steps) the bound between two steps lies off their middle: no length that somebody writes lies just
there, so what reckoning leaves never parts two lengths that are one."""
BOUGHT_DIGITS = ".3g"
"""The format of millimetres that asks for a size as a thing is sold."""
SAW_DIGITS = ".1f"
"""The format of millimetres that asks for a size as it is cut."""


def kept_length(length: Mm) -> Mm:
    """A calculated length on the grid of `KEPT_STEPS` (mm), so that equal lengths compare equal.

    >>> kept_length(7.5), kept_length(417.6 - 410.1), kept_length(-0.0001)
    (7.5, 7.5, 0.0)
    """
    return math.floor(length * KEPT_STEPS + 0.5 + OFF_THE_MIDDLE) / KEPT_STEPS


@dataclass(frozen=True, slots=True)
class LengthStyle:
    """How lengths, and the words around them, are written for one reader.

    The unit, the sign between whole and part, and the catalogue of the reader's language.
    """

    unit: Unit = "mm"
    decimal_sign: Literal[".", ","] = "."
    wording: Wording = field(default_factory=Wording)
    step: Mm | None = None
    """In which steps sizes are shown; None for the usual ones of the unit."""
    stated_paper: PaperName | None = None
    """What is printed on; None for what is usual where this unit is."""

    @property
    def paper(self) -> PaperName:
        """The size of paper that is printed on."""
        return self.stated_paper or ("a4" if self.unit == "mm" else "letter")

    def for_reader(self, reader: LengthStyle) -> LengthStyle:
        """How a job of this style is written for a reader with a style of their own: the job's steps and paper stay,
        the steps where both read in one unit."""
        is_same = self.typed_unit == reader.typed_unit
        return replace(reader, step=self.step if is_same else reader.step, stated_paper=self.stated_paper)

    @property
    def size_step(self) -> Mm:
        """In which steps sizes are cut and shown (mm)."""
        return SIZE_STEP[self.typed_unit] if self.step is None else self.step

    @property
    def typed_unit(self) -> Literal["mm", "in"]:
        """The unit of a bare number that this reader types or sees under a column's head."""
        return "mm" if self.unit == "mm" else "in"

    def in_a_row(self, lengths: Iterable[Mm]) -> LengthStyle:
        """For lengths beside each other: decimals of an inch for all where one is no sixty-fourth."""
        if self.unit != "in/64" or all(is_64th(length / MM_PER_INCH) for length in lengths):
            return self
        return replace(self, unit="in")

    def say(self, text: str) -> str:
        """A text in this reader's language, unit and decimal sign."""
        return said(text, self)

    def written(self, length: Mm, *, fine: bool = False) -> WrittenLength:
        """A length (mm) to put into a phrase: written in this style here, and in each reader's own later."""
        return WrittenLength(length, fine, self.show(length, fine=fine))

    def bought(self, length: Mm) -> WrittenLength:
        """The size of a tool (mm) to put into a phrase: as it was bought, not in the steps to which a saw is set."""
        made = WrittenLength(length, fine=True, plain="", digits=BOUGHT_DIGITS)
        return replace(made, plain=made.written_for(self))

    def typed(self, length: Mm) -> str:
        """A setting or a reading (mm) as a field holds it: decimals of `typed_unit`, as calipers show them."""
        return show_length(
            length, self.typed_unit, fine=True, with_unit=False, decimal_sign=self.decimal_sign
        )

    def beside(self, length: Mm) -> str:
        """What stands small beside a setting in decimals (mm): the nearest sixty-fourth, for who reads those."""
        return about_64th(length / MM_PER_INCH) if self.unit == "in/64" else ""

    def show_setting(self, length: Mm) -> str:
        """Write what a saw is set to (mm): decimals of an inch all to the thousandth, as a digital scale shows them."""
        return (
            self.show(to_step(length, self.size_step), fine=True) if self.unit == "in" else self.show(length)
        )

    def show_run(self, length: Mm) -> str:
        """Write a long run (mm), in metres or feet."""
        return show_run(length, self.unit, decimal_sign=self.decimal_sign)

    def show_area(self, area: float) -> str:
        """Write an area of sheets (mm²), in square metres or square feet."""
        return show_area(area, self.unit, decimal_sign=self.decimal_sign)

    def show_small_area(self, area: float) -> str:
        """Write an area of a gap (mm²), in square millimetres or square inches."""
        text = f"{area:.2f} mm²" if self.unit == "mm" else f"{area / MM_PER_INCH**2:.5f} in²"
        return text.replace(".", self.decimal_sign)

    def show_doubt(self, length: Mm, *, with_unit: bool = True, digits: int = 2) -> str:
        """Write an uncertainty or another small length (mm), with so many decimals of mm; in inches with one more where
        it is small, so that what is more than nothing is not shown as nothing."""
        if self.unit == "mm":
            text, unit = fixed(length, digits), "mm"
        else:
            is_small = 0 < abs(length) < SMALL_INCH * MM_PER_INCH
            text, unit = fixed(length / MM_PER_INCH, 4 if is_small else 3), "in"
            text = text.removesuffix("0") if is_small else text
        text = text.replace(".", self.decimal_sign)
        return f"{text} {unit}" if with_unit else text

    def show(self, length: Mm, *, fine: bool = False, with_unit: bool = True) -> str:
        """Write `length` (mm). `fine` is for machine settings and readings (0.01 mm or 0.001 in)."""
        return show_length(
            length,
            self.unit,
            fine=fine,
            with_unit=with_unit,
            decimal_sign=self.decimal_sign,
            step=self.step,
        )

    def number(self, length: Mm, *, fine: bool = False) -> float:
        """What `show` writes of `length` (mm), as a number of `typed_unit`.

        >>> LengthStyle().number(6.524999999999999), LengthStyle("in").number(96.00000000000001, fine=True)
        (6.5, 3.78)
        >>> LengthStyle("in/64").number(28.6)
        1.125
        """
        if self.typed_unit == "mm":
            return round(length, 2) if fine else round(to_step(length, self.size_step), 4)
        if fine:
            return round(length / MM_PER_INCH, 3)
        inches = to_step(length, self.size_step) / MM_PER_INCH
        nearest = nearest_64th(inches)
        if self.unit == "in/64" and is_shown_as(nearest, inches):
            return float(nearest)
        return round(inches, 4)


@dataclass(frozen=True, slots=True)
class WrittenLength:
    """A length among the values of a phrase.

    `plain` is how it reads where no reader is known; `digits` the format of its millimetres, where the text
    asks for another than is usual for its use. Without its unit it stands before another length that has one.
    A limit to follow is rounded to its safe side: `safe` is -1 where less is safe, 1 where more is.
    """

    length: Mm
    fine: bool
    plain: str
    digits: str | None = None
    with_unit: bool = True
    safe: Literal[-1, 0, 1] = 0

    def __str__(self) -> str:
        return self.plain

    def written_for(self, reader: LengthStyle) -> str:
        """The length in the reader's unit and decimal sign."""
        if self.safe:
            return reader.show(_safe_step(self.length, reader.size_step, self.safe), with_unit=self.with_unit)
        if self.digits is not None and self.digits != SAW_DIGITS and reader.unit == "mm":
            return with_decimal_sign(_in_mm(self.length, self.digits, self.with_unit), reader.decimal_sign)
        is_bought = self.digits == BOUGHT_DIGITS and reader.unit != "mm"
        is_typed = self.digits == "g" and reader.unit == "in/64"
        if (is_bought or is_typed) and is_64th(self.length / MM_PER_INCH):
            return replace(reader, unit="in/64", step=None).show(self.length, with_unit=self.with_unit)
        if self.digits == "g" and 0 < abs(self.length) < SMALL_INCH * MM_PER_INCH:
            return reader.show_doubt(self.length, with_unit=self.with_unit)
        if self.digits == "g" and reader.unit != "mm":  # as it would be typed: 21 in, 1.5 in
            text = fixed(self.length / MM_PER_INCH, 3).rstrip("0").rstrip(".")
            return text.replace(".", reader.decimal_sign) + (" in" if self.with_unit else "")
        return reader.show(self.length, fine=self.fine, with_unit=self.with_unit)


def millimetres(length: Mm, digits: str = ".2f", *, with_unit: bool = True) -> WrittenLength:
    """A length (mm) to put into a phrase; `digits` formats it for readers in millimetres.

    >>> from drawerwright.basics.phrases import phrase
    >>> phrase("a lip of {lip} chips easily.", lip=millimetres(0.5))
    'a lip of 0.50 mm chips easily.'
    """
    plain = _in_mm(length, digits, with_unit)
    return WrittenLength(length, digits in ("g", ".2f", ".3f"), plain, digits, with_unit)


def assumed_doubt(doubt: Mm, *, with_unit: bool = True) -> WrittenLength:
    """The uncertainty (mm) that stands in where nobody has stated one: no finer than a thousandth of an inch.

    >>> str(assumed_doubt(0.1)), assumed_doubt(0.1).written_for(LengthStyle("in"))
    ('0.1 mm', '0.004 in')
    """
    return WrittenLength(doubt, True, _in_mm(doubt, "g", with_unit), ".2g", with_unit)


def at_most(length: Mm) -> WrittenLength:
    """A size (mm) to keep below: rounded down in each reader's steps, so that who cuts what is written keeps to it.

    >>> str(at_most(7.85)), at_most(7.85).written_for(LengthStyle("in"))
    ('7.8 mm', '0.305 in')
    """
    return _limit(length, -1)


def at_least(length: Mm) -> WrittenLength:
    """A size (mm) not to stay below, rounded up.

    >>> str(at_least(13.02)), str(at_least(13.1))
    ('13.1 mm', '13.1 mm')
    """
    return _limit(length, 1)


def _limit(length: Mm, safe: Literal[-1, 1]) -> WrittenLength:
    plain = _in_mm(_safe_step(length, SIZE_STEP["mm"], safe), SAW_DIGITS, with_unit=True)
    return WrittenLength(length, fine=False, plain=plain, digits=SAW_DIGITS, safe=safe)


def _safe_step(length: Mm, step: Mm, safe: Literal[-1, 1]) -> Mm:
    """The multiple of `step` next to `length` on its safe side (mm); what reckoning leaves moves it by no step."""
    steps = length / step
    return step * (math.floor(steps + OFF_THE_MIDDLE) if safe < 0 else math.ceil(steps - OFF_THE_MIDDLE))


def _in_mm(length: Mm, digits: str, with_unit: bool) -> str:
    """As typed (`g`) it goes to the hundredth, which is what inches have more of."""
    if digits == "g" and abs(length) >= 1:
        length = round(length, 2)
    return f"{length:{digits}}" + (" mm" if with_unit else "")


def show_length(
    length: Mm,
    unit: Unit = "mm",
    *,
    fine: bool = False,
    with_unit: bool = True,
    decimal_sign: Literal[".", ","] = ".",
    step: Mm | None = None,
) -> str:
    """Write a length (mm) for a person, with no more digits than its use deserves.

    Args:
        length: millimetres.
        unit: `mm`, `in` (decimal) or `in/64`: sizes that are sixty-fourths as such, others and all settings and
            readings in decimals, as gauges and calipers show them.
        fine: True for settings and readings (0.01 mm, 0.001 in), False for sizes, which go in steps.
        with_unit: False leaves the unit out, for a table whose head names it.
        decimal_sign: point or comma.
        step: of sizes (mm); None for the usual one of the unit (0.1 mm, 0.005 in).

    >>> show_length(14.649, fine=True)
    '14.65 mm'
    >>> show_length(114.9349, "in"), show_length(3.175, "in"), show_length(304.8, "in")
    ('4.525 in', '0.125 in', '12.00 in')
    >>> show_length(28.6, "in/64"), show_length(211, "in/64")
    ('1 1/8 in', '8.305 in')
    >>> show_length(9.35, "in/64", fine=True)
    '0.368 in'
    """
    if not fine:
        used = step or SIZE_STEP["mm" if unit == "mm" else "in"]
        length = to_step(length, used)
        digits = _digits_of(used / (1 if unit == "mm" else MM_PER_INCH))
    if unit != "mm":
        inches = length / MM_PER_INCH
        nearest = nearest_64th(inches)
        if unit == "in/64" and not fine and is_shown_as(nearest, inches):
            text = as_fraction(nearest)
        else:
            text = fixed(inches, 3) if fine else _sized(inches, digits, 2)
        suffix = " in"
    else:
        text, suffix = fixed(length, 2) if fine else _sized(length, digits, 1), " mm"
    if with_unit:
        text += suffix
    return text.replace(".", decimal_sign)


def show_run(length: Mm, unit: Unit = "mm", *, decimal_sign: Literal[".", ","] = ".", digits: int = 1) -> str:
    """Write a long run (mm), as of routing: in metres or feet.

    >>> show_run(12_100), show_run(12_100, "in")
    ('12.1 m', '39.7 ft')
    """
    text = f"{length / 1000:.{digits}f} m" if unit == "mm" else f"{length / MM_PER_FOOT:.1f} ft"
    return text.replace(".", decimal_sign)


def show_area(area: float, unit: Unit = "mm", *, decimal_sign: Literal[".", ","] = ".") -> str:
    """Write an area of sheets (mm²): in square metres or square feet.

    >>> show_area(1_230_000), show_area(1_230_000, "in")
    ('1.23 m²', '13.2 ft²')
    """
    text = f"{area / 1e6:.2f} m²" if unit == "mm" else f"{area / MM_PER_FOOT**2:.1f} ft²"
    return text.replace(".", decimal_sign)


def finest_shown(unit: Unit) -> Mm:
    """The least difference that `show_length` shows of a setting or a reading (mm)."""
    return FINE_MM if unit == "mm" else FINE_INCH * MM_PER_INCH


def to_step(length: Mm, step: Mm) -> Mm:
    """The multiple of `step` nearest to `length` (mm): a size as it is cut and shown. It is rounded once, here.

    >>> to_step(169.6333, 0.1), to_step(162.15, 0.127), to_step(162.15, 25.4)
    (169.6, 162.179, 152.4)
    """
    return round(math.floor(length / step + 0.5 + OFF_THE_MIDDLE) * step, 6)


def _digits_of(step: float) -> int:
    """How many decimals tell multiples of a step apart, no more than a ten-thousandth."""
    return next(
        (digits for digits in range(4) if abs(step * 10**digits - round(step * 10**digits)) < 1e-6), 4
    )


def _sized(value: float, digits: int, least: int) -> str:
    """A size with the decimals of its step, of which those that say nothing are left out, but for the `least`."""
    text = fixed(value, max(digits, least))
    whole, _point, decimals = text.partition(".")
    kept = decimals[:least] + decimals[least:].rstrip("0")
    return f"{whole}.{kept}"


def fixed(value: float, digits: int) -> str:
    text = f"{value:.{digits}f}"
    return text.removeprefix("-") if float(text) == 0 else text.replace("-", "−")
