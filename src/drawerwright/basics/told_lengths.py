"""Lengths among the values of a phrase that are told in a way of their own: runs, rough lengths, sizes of sheets."""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics.lengths import MM_PER_INCH, LengthStyle, Mm, fixed, show_run


@dataclass(frozen=True, slots=True)
class WrittenRun:
    """A long run (mm), as of routing, among the values of a phrase: in metres or feet, with so many decimals.

    >>> from drawerwright.basics.phrases import phrase
    >>> phrase("{run} of edging", run=WrittenRun(12_100))
    '12.1 m of edging'
    """

    length: Mm
    digits: int = 1

    def __str__(self) -> str:
        return show_run(self.length, digits=self.digits)

    def __format__(self, wanted: str) -> str:
        return format(str(self), wanted)

    def written_for(self, reader: LengthStyle) -> str:
        """The run in the reader's unit and decimal sign."""
        return show_run(self.length, reader.unit, decimal_sign=reader.decimal_sign, digits=self.digits)


@dataclass(frozen=True, slots=True)
class RoughLength:
    """A length that is meant roughly, as each unit's readers say it, among the values of a phrase."""

    metric: str
    imperial: str

    def __str__(self) -> str:
        return self.metric

    def written_for(self, reader: LengthStyle) -> str:
        """The length as the reader says it."""
        said = self.metric if reader.unit == "mm" else self.imperial
        return said.replace(".", reader.decimal_sign)


@dataclass(frozen=True, slots=True)
class SizeWords:
    """The size of a sheet (mm) among the values of a phrase, as the trade names it: length first in millimetres, the
    shorter side first in inches.

    >>> str(SizeWords(2500, 1250)), SizeWords(2438.4, 1219.2).written_for(LengthStyle("in"))
    ('2500 x 1250', '48 × 96 in')
    """

    length: Mm
    width: Mm

    def __str__(self) -> str:
        return f"{self.length:g} x {self.width:g}"

    def written_for(self, reader: LengthStyle) -> str:
        """The size in the reader's unit and decimal sign."""
        if reader.unit == "mm":
            return f"{self.length:g} × {self.width:g} mm".replace(".", reader.decimal_sign)
        sides = sorted(side / MM_PER_INCH for side in (self.length, self.width))
        shown = " × ".join(fixed(side, 3).rstrip("0").rstrip(".") for side in sides)
        return f"{shown} in".replace(".", reader.decimal_sign)


DOUBT_EXAMPLE = RoughLength("5.65 ± 0.05", "0.222 ± 0.002")
"""A measure of a cutter with its uncertainty, as somebody might write it."""
GAUGE_EXAMPLE = RoughLength("0 ± 0.05", "0 ± 0.002")
"""The same for how far a gauge is off."""
