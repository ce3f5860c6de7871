"""Time limits, ports, shares and temperatures on the command line."""

from __future__ import annotations

import argparse
import math

LONGEST_SEARCH = 86_400.0
"""Seconds that a search may take: a day."""
MOST_DIGITS = 9
"""Of a count."""
LAST_PORT = 65_535


def seconds(text: str) -> float:
    """argparse type of a time limit."""
    try:
        found = float(text)
    except ValueError:
        found = math.nan
    if not 0 < found <= LONGEST_SEARCH:  # not a number is neither
        raise argparse.ArgumentTypeError(
            f"must be more than 0 and at most {LONGEST_SEARCH:g} seconds, not {text}"
        )
    return found


def percent(text: str) -> float:
    """argparse type of a share in percent: `7`, `7,5` or `7 %`."""
    return _number(text.strip().removesuffix("%"), text, "a figure in percent, such as 7 or 7.5 %")


def degrees(text: str) -> float:
    """argparse type of a temperature in °C: `21`, `21,1 °C`, or `70 F`, which is converted."""
    plain = text.strip().upper().replace("°", "")
    if plain.endswith("F"):
        return round((_number(plain[:-1], text, _DEGREES) - 32) / 1.8, 2)
    return _number(plain.removesuffix("C"), text, _DEGREES)


_DEGREES = "a temperature, such as 21 or 70 F"


def _number(digits: str, text: str, wanted: str) -> float:
    try:
        found = float(digits.strip().replace(",", "."))
    except ValueError:
        found = math.nan
    if not math.isfinite(found):
        raise argparse.ArgumentTypeError(f"must be {wanted}, not {text!r}")
    return found


def whole(text: str) -> int:
    """argparse type of a count."""
    if not (text.isascii() and text.isdecimal() and len(text) <= MOST_DIGITS):
        raise argparse.ArgumentTypeError(f"must be a whole number of 0 or more, not {text!r}")
    return int(text)


def port(text: str) -> int:
    """argparse type of a port to listen on."""
    if not (text.isascii() and text.isdecimal() and len(text) <= 5 and int(text) <= LAST_PORT):
        raise argparse.ArgumentTypeError(f"must be a port from 0 to {LAST_PORT}, not {text}")
    return int(text)
