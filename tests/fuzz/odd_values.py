"""What nobody would write on purpose, in place of an entry or of a piece of text: the one list of it for all tests."""

from __future__ import annotations

from typing import Any

ODD_VALUES: tuple[Any, ...] = (
    *(None, True, 3, -1, 0, 0.5, 1e9, 1e308, float("nan"), float("inf"), 10**400),
    *("", "x", "± ±", "1 ± ", "3/0 in", "-0.0", "1e400", "٣", "\u202e12", "a\x85b", "x" * 300),
    *([], [1], [[]], [None], [["x"], 3], [{}], [[[1]]], [10**400], [1, "2 in", None]),
    *({}, {1: 2}, {"value": []}, {"uncertainty": {}}, {"value": 1, "uncertainty": []}),
)
BEYOND_DIGITS = 10**5000
"""A whole number with more digits than Python writes."""
ODD_NUMBERS = ("²", "٣", "-1", "1.5", "", "9" * 30, "9" * 5000)
"""Typed: a superscript and an Arabic digit pass for digits; SQLite counts in 64 bits; Python reads 4300 digits."""

# fmt: off
ODD_TEXTS = (
    "", " ", "\0", "\t", "\r", "\u2028", "'", '"', "{", "[", "]", "}", ":", "- ", "&a ", "*a", "!!set ", "%", "#",
    "±", "1/", "/0", "e9", "..", ",", ";", "°", "in", "mm", "−", "½", "⁄", "∞", "\ufeff", "\ud7ff", "\U0001f527",
    "../", "<b>", "%00", "&amp;", "${}", "{{7*7}}", "=1+1", "@x", "--", "\\", "0x10", "1_000", "1e5", "nan", "null",
)
# fmt: on
