"""What stands above a sheet: what it is called, its scale, and where its grain runs."""

from __future__ import annotations

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import joined, phrase
from drawerwright.drawings.dimensioning import arrow
from drawerwright.drawings.lettering import text_width
from drawerwright.drawings.scales import scale_name
from drawerwright.drawings.scene import Item, Layer, Text
from drawerwright.sheets.patterns import SheetLayout

LARGE: Mm = 2.6


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
    scaled = phrase(
        "{name} · scale {scale}", name=layout.size.label, scale=scale_name(scale, style.decimal_sign)
    )
    words = style.say(joined((called, scaled), " · ") if called else scaled)
    items: list[Item] = [Text((0.0, level), words, 3.0, bold=True)]
    grain_text = style.say(phrase("grain") if is_grained else phrase("no grain"))
    at = max(length - 22.0, text_width(words, 3.0) + 12.0 + text_width(grain_text, LARGE))
    items.append(Text((at, level), grain_text, LARGE, "end"))
    if is_grained:
        items += arrow((at + 2.0, level + 1.0), (at + 20.0, level + 1.0), layer=Layer.GRAIN)
        items += arrow((at + 20.0, level + 1.0), (at + 2.0, level + 1.0), layer=Layer.GRAIN)
    return items
