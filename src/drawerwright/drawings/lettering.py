"""How much room words take: the widths of the one typeface that all drawings and papers are set in.

The typeface is B612 (SIL Open Font License, files in `drawings/fonts`), drawn to be read at a glance in poor
light; its letters lie on a grid of fortieths, so that its widths fit in a small table and no font has to be
opened to place a word.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from drawerwright.basics.lengths import Mm

FONT_FOLDER = Path(__file__).parent / "fonts"
"""Where the font files lie that papers and pages load."""
FONT_FAMILY = "B612"
FALLBACK_FAMILIES = "DejaVu Sans, Verdana, sans-serif"
"""What a viewer without the typeface takes instead: as wide or a little wider."""

CAP_HEIGHT = 0.75
"""Height of a capital or a figure, as a share of the size."""
DESCENT = 0.25
"""How far a letter reaches below its line, as a share of the size."""

_TWENTIETHS = {
    4: "'|",
    5: ",;·′",
    6: ".:Iij°²³",
    7: " !l‘’",
    8: '"frt″',
    9: "()-J[s",
    10: "=]cz“”„↑↓≈",
    10.5: "aç",
    11: "$*/?FLS\\_`ekvxyäéèáàå–−☐✓",
    12: "+CEKPTYZbdghnopqu}öüñø±δ•",
    13: "{0123456789<>ABDGRVXÄßµ≤≥",
    14: "&HUÜ",
    15: "N^w~½¼¾…⅛⅜⅝⅞→←Δ",
    16: "OQÖ×Ø",
    17: "#",
    18: "%Mm",
    19: "W",
    20: "@",
    21: "—",
}
_WIDTHS = {letter: twentieths / 20 for twentieths, letters in _TWENTIETHS.items() for letter in letters}
_UNKNOWN = 0.8
"""A letter that is not in the table counts as wide as a wide one."""


@lru_cache(maxsize=65_536)
def text_width(text: str, size: Mm) -> Mm:
    """How long a line of text is (mm) at a size (mm).

    >>> text_width("12.5 mm", 2.0)
    8.8
    """
    return round(size * sum(_WIDTHS.get(letter, _UNKNOWN) for letter in text), 3)
