"""A sheet so small that only its pieces are to be seen: one of a row to choose from."""

from __future__ import annotations

from drawerwright.basics.lengths import Mm
from drawerwright.drawings.scene import Fill, Ink, Item, Path, Scene, box, framed
from drawerwright.sheets.patterns import SheetLayout


def draw_sheet_outline(layout: SheetLayout, longest: Mm, room: Mm, title: str) -> Scene:
    """The sheet with its bands and loose parts.

    Args:
        layout: what is cut from the sheet.
        longest: the longest side of the sheets that it is shown with (mm), so that all have one scale.
        room: paper for that side (mm).
        title: what the sheet is called.
    """
    scale = room / longest
    pieces = [(band.x, band.y, band.x_extent, band.y_extent) for band in layout.bands]
    pieces += [(part.x, part.y, part.x_extent, part.y_extent) for part in layout.loose]
    sheet = box(0.0, 0.0, layout.size.length * scale, layout.size.width * scale)
    items: list[Item] = [Path(sheet, closed=True, fill=Fill.PAPER)]
    for x, y, wide, high in pieces:
        corners = box(x * scale, y * scale, (x + wide) * scale, (y + high) * scale)
        items.append(Path(corners, Ink.FINE, closed=True, fill=Fill.WOOD_BEHIND))
    return framed(title, items, scale=scale, margin=0.4)
