"""Figures that no end of a line parts."""

from __future__ import annotations

import re
from functools import lru_cache

_NUMBER = r"\d[\d.,]*(?:/\d+)?(?: \d+/\d+)?"
_UNIT = r"(?: (?:mm|cm|in|m|ft|m²|ft²|kg|lb|g|oz|h|min|s|%|N|1/min|m/s|kB)(?!\w))?"
_FIGURE = re.compile(rf"(?<!\w)[+−±]? ?{_NUMBER}{_UNIT}(?: [+−±] {_NUMBER}{_UNIT})?")
NO_BREAK = "\N{NO-BREAK SPACE}"
REMEMBERED = 4096
"""Texts: a page says most of its own again and again, a slider several times a second."""


@lru_cache(maxsize=REMEMBERED)
def unbroken(text: str) -> str:
    """The same words, with no break inside a figure: its whole, its fraction, its unit, its doubt.

    >>> unbroken("of 18 39/64 in ± 0.003 or 5 mm").split(" ")
    ['of', '18\\xa039/64\\xa0in\\xa0±\\xa00.003', 'or', '5\\xa0mm']
    """
    return _FIGURE.sub(lambda found: _whole(found[0]), text)


def _whole(figure: str) -> str:
    """What stands before a figure stays apart from it."""
    kept = figure.lstrip(" ")
    return figure[: len(figure) - len(kept)] + kept.replace(" ", NO_BREAK)
