"""What the terminal can write, and what becomes of what nobody can read any more."""

from __future__ import annotations

import codecs
import contextlib
import io
import os
import sys

PLAIN_LETTERS = {
    "″": '"',
    "′": "'",
    "×": "x",
    "±": "+/-",
    "–": "-",
    "−": "-",
    "…": "...",
    "→": "->",
    "°": " deg",
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "\u00a0": " ",
    "“": '"',
    "”": '"',
    "‘": "'",
    "’": "'",
    "•": "*",
    "·": ".",
    "─": "-",
    "━": "-",
    "│": "|",
    "≥": ">=",
    "≤": "<=",
}
"""What stands for the signs of this program where a terminal has no others than those of ASCII."""


def write_whatever_it_can() -> None:
    """A sign that the terminal cannot write, such as ″, becomes plain letters and ends nothing."""
    codecs.register_error("in plain letters", _in_plain_letters)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="in plain letters")


def write_nothing_more() -> None:
    """What is still to be written to the output goes nowhere, so that nothing is said of it at the end."""
    with contextlib.suppress(OSError, ValueError):  # no file behind it where it is caught
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _in_plain_letters(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    signs = error.object[error.start : error.end]
    return "".join(PLAIN_LETTERS.get(sign, "?") for sign in signs), error.end
