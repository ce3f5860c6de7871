"""Time limits and ports on the command line."""

from __future__ import annotations

import argparse
import math

LONGEST_SEARCH = 86_400.0
"""Seconds that a search may take: a day."""
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


def port(text: str) -> int:
    """argparse type of a port to listen on."""
    if not (text.isascii() and text.isdecimal() and len(text) <= 5 and int(text) <= LAST_PORT):
        raise argparse.ArgumentTypeError(f"must be a port from 0 to {LAST_PORT}, not {text}")
    return int(text)
