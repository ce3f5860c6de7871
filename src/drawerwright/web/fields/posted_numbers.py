"""Numbers as pages send them: of a row, a revision, a corner."""

from __future__ import annotations

LARGEST = 10**18 - 1
"""The data file counts in 64 bits; no page sends a number of more than 18 digits."""


def whole_number(text: str) -> int | None:
    """The number that a text says in plain digits; None for anything else.

    >>> whole_number("12"), whole_number("-1"), whole_number("²"), whole_number("9" * 30)
    (12, None, None, None)
    """
    is_plain = text.isascii() and text.isdecimal() and len(text) <= len(str(LARGEST))
    return int(text) if is_plain else None
