"""What typing means: a figure as it was typed, as the entry of a file whose bare numbers are in the typist's unit."""

from __future__ import annotations

import re

from drawerwright.basics.typed_lengths import at_plus_minus

BARE = re.compile(r"[+-]?(?:\d+(?:[.,]\d+)?|[.,]\d+)")
"""A number without a unit."""
SEPARATOR = ";"
"""Between the members of a list in one field; a comma may be a decimal sign."""


def figure_entry(typed: str) -> int | float | str:
    """A bare number becomes a number; anything else stays text, which the reader of the file judges.

    >>> figure_entry("14,65"), figure_entry("600"), figure_entry("3/4 in"), figure_entry("5,65 +- 0,05")
    (14.65, 600, '3/4 in', '5.65 ± 0.05')
    """
    bits = at_plus_minus(typed)
    if len(bits) > 1:
        return " ± ".join(with_point(bit) for bit in bits)
    if BARE.fullmatch(typed):
        number = float(typed.replace(",", "."))
        return int(number) if number.is_integer() else number
    return typed


def with_point(typed: str) -> str:
    """A bare number with the decimal sign of files; anything else as it is."""
    return typed.replace(",", ".") if BARE.fullmatch(typed) else typed


def figure_entries(typed: str) -> list[int | float | str]:
    """The members of a list.

    >>> figure_entries("14.6; 14,7;")
    [14.6, 14.7]
    """
    return [figure_entry(bit.strip()) for bit in typed.split(SEPARATOR) if bit.strip()]
