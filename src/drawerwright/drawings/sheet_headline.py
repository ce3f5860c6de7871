"""What stands above a sheet: what it is called, its scale, and where its grain runs."""

from __future__ import annotations

from collections.abc import Callable

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import joined, phrase
from drawerwright.drawings.dimensioning import arrow
from drawerwright.drawings.lettering import text_width
from drawerwright.drawings.scales import scale_name
from drawerwright.drawings.scene import Item, Layer, Text
from drawerwright.sheets.patterns import SheetLayout

LARGE: Mm = 2.6
LEAST_START, LEAST_END = 20, 18
"""Letters that stay of a name."""


def sheet_headline(
    layout: SheetLayout,
    called: str,
    scale: float,
    is_grained: bool,
    style: LengthStyle,
    level: Mm,
    length: Mm,
) -> list[Item]:
    """The line, its foot at `level`, above a sheet drawn `length` long (mm of paper)."""

    def line(name: str) -> str:
        scaled = phrase("{name} · scale {scale}", name=name, scale=scale_name(scale, style.decimal_sign))
        return style.say(joined((called, scaled), " · ") if called else scaled)

    grain_text = style.say(phrase("grain") if is_grained else phrase("no grain"))
    room = length - 34.0 - text_width(grain_text, LARGE)
    words = _short_enough(style.say(layout.size.label), line, room)
    items: list[Item] = [Text((0.0, level), words, 3.0, bold=True)]
    at = max(length - 22.0, text_width(words, 3.0) + 12.0 + text_width(grain_text, LARGE))
    items.append(Text((at, level), grain_text, LARGE, "end"))
    if is_grained:
        items += arrow((at + 2.0, level + 1.0), (at + 20.0, level + 1.0), layer=Layer.GRAIN)
        items += arrow((at + 20.0, level + 1.0), (at + 2.0, level + 1.0), layer=Layer.GRAIN)
    return items


def _short_enough(name: str, line: Callable[[str], str], room: Mm) -> str:
    """The line with as much of a very long name as there is room for: its beginning, and its end with the size."""
    words = line(name)
    ends = name[-LEAST_END:]
    for kept in range(len(name) - LEAST_END - 2, LEAST_START - 1, -1):
        if text_width(words, 3.0) <= room:
            break
        words = line(f"{name[:kept].rstrip()} … {ends.lstrip()}")
    return words
