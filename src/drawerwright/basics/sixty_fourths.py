"""Sixty-fourths of an inch: when a size is one, and how it is written."""

from __future__ import annotations

from fractions import Fraction

HALF_A_STEP = 0.0025 + 1e-6
"""Of a size in inches: what it is rounded by at the most."""
ROUNDED = 0.02
"""How far (in 64ths of an inch) a size may lie off the fraction that it is."""
LEAST_SHOWN = 0.0005
"""Inches that are shown as more than nothing."""


def is_64th(inches: float) -> bool:
    """Whether it is a fraction of an inch, as things are sold.

    >>> is_64th(0.375), is_64th(0.38)
    (True, False)
    """
    return abs((inches * 64 + 0.5) % 1 - 0.5) < ROUNDED


def nearest_64th(inches: float) -> Fraction:
    return Fraction(round(inches * 64), 64)


def is_shown_as(nearest: Fraction, inches: float) -> bool:
    """Whether a size is the sixty-fourth next to it, but for what rounding leaves; a small one is no 0."""
    return abs(inches - nearest) <= HALF_A_STEP and (nearest != 0 or abs(inches) < LEAST_SHOWN)


def as_fraction(inches: Fraction) -> str:
    """An amount of whole inches and a part.

    >>> as_fraction(Fraction(9, 8)), as_fraction(Fraction(-3, 4)), as_fraction(Fraction(0))
    ('1 1/8', '−3/4', '0')
    """
    sign = "−" if inches < 0 else ""
    return sign + (" ".join(str(bit) for bit in divmod(abs(inches), 1) if bit) or "0")


def about_64th(inches: float) -> str:
    """The sixty-fourth next to a setting or a reading, to find it on a rule.

    >>> about_64th(0.375), about_64th(0.368)
    ('3/8 in', '≈ 3/8 in')
    """
    return f"{'' if is_64th(inches) else '≈ '}{as_fraction(nearest_64th(inches))} in"
