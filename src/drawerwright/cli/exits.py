"""Exit codes, and how arguments become values."""

from __future__ import annotations

import argparse

DONE = 0
BAD_INPUT = 2


def length(text: str) -> float:
    """argparse type of a length argument."""
    from drawerwright.basics.errors import InvalidValueError
    from drawerwright.basics.lengths import parse_length

    try:
        return parse_length(text)
    except InvalidValueError as error:
        raise argparse.ArgumentTypeError(str(error)) from None
