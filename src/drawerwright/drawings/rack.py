"""What is on the rack of one stock, at one scale: new sheets and offcuts, each with its size and how many there are."""

from __future__ import annotations

from collections.abc import Sequence

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawings.dimensioning import FIGURE_SIZE
from drawerwright.drawings.hatching import grain
from drawerwright.drawings.lettering import text_width
from drawerwright.drawings.scales import fitting_scale
from drawerwright.drawings.scene import Fill, Ink, Item, Path, Scene, Text, box, framed
from drawerwright.sheets.sheet_stock import SheetSize

ROOM: tuple[Mm, Mm] = (66.0, 26.0)
"""Paper for one row of pieces: how long it is, and how high the widest may be."""
LARGEST: Mm = 36.0
"""How long the longest piece is drawn at the most: about two of them stand beside each other."""
GAP: Mm = 4.0
LINE: Mm = 3.6
FIBRES: Mm = 3.2


def draw_rack(sizes: Sequence[SheetSize], *, style: LengthStyle, is_grained: bool = True) -> Scene | None:
    """Sheets and offcuts as they lie on the rack, their lengths level; None where there are none.

    Args:
        sizes: of one stock.
        style: how lengths are written.
        is_grained: whether grain is drawn, along their lengths.
    """
    if not sizes:
        return None
    scale = fitting_scale(
        max(size.length for size in sizes), max(size.width for size in sizes), LARGEST, ROOM[1]
    )
    items: list[Item] = []
    left, floor, tallest = 0.0, 0.0, 0.0
    for size in sizes:
        words = [style.say(line) for line in _words(size, style)]
        long, high = size.length * scale, size.width * scale
        room = max(long, *(text_width(line, FIGURE_SIZE) for line in words))
        if left and left + room > ROOM[0]:
            left, floor, tallest = 0.0, floor - tallest - GAP, 0.0
        items += _piece(left, floor, long, high, size, is_grained=is_grained)
        below = floor - high
        for line in words:
            below -= LINE
            items.append(Text((left, below), line, FIGURE_SIZE))
        left += room + GAP
        tallest = max(tallest, floor - below)
    return framed(style.say(phrase("Sheets and offcuts of this stock")), items, scale=scale)


def _piece(left: Mm, top: Mm, long: Mm, high: Mm, size: SheetSize, *, is_grained: bool) -> list[Item]:
    """One piece with its upper left corner at a point; an offcut is darker, as a piece that was cut before."""
    outline = box(left, top - high, left + long, top)
    fill = Fill.WOOD_BEHIND if size.is_offcut else Fill.WOOD
    fibres: list[Item] = [grain(outline, 0.0, FIBRES)] if is_grained else []
    return [Path(outline, Ink.NONE, closed=True, fill=fill), *fibres, Path(outline, closed=True)]


def _words(size: SheetSize, style: LengthStyle) -> list[str]:
    """What stands below a piece: its size, and how many there are."""
    measure = f"{style.show(size.length, with_unit=False)} × {style.show(size.width)}"
    if size.is_offcut:
        count = phrase("offcut") if size.on_hand == 1 else phrase("{count} offcuts", count=size.on_hand)
    elif size.on_hand is None:
        count = phrase("to buy")
    else:
        count = phrase("{count} on hand", count=size.on_hand)
    return [measure, count]
