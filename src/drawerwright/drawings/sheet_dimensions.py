"""The sizes around a sheet: the sheet itself, and the pieces that its first cuts part."""

from __future__ import annotations

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.drawings.dimensioning import Dimension, Side, dimension_rows
from drawerwright.drawings.scene import Extent, Item, together
from drawerwright.sheets.patterns import SheetLayout

LEAST_PIECE: Mm = 15.0
"""Narrower stretches between first cuts are trim: nobody sets a stop for them."""


def _pieces_along(layout: SheetLayout, stage: int, *, along_x: bool) -> list[tuple[Mm, Mm]]:
    """Stretches between the trims and the cuts of a stage, along the way that they divide."""
    whole = layout.size.length if along_x else layout.size.width
    spans = sorted(
        (cut.x0, cut.x1) if along_x else (cut.y0, cut.y1)
        for cut in layout.cuts
        if cut.stage in (0, stage) and not cut.ripping and cut.runs_along_x != along_x
    )
    pieces, at = [], 0.0
    for low, high in spans:
        if low - at > 0.05:
            pieces.append((at, low))
        at = max(at, high)
    if whole - at > 0.05:
        pieces.append((at, whole))
    return pieces


CLEAR: Mm = 4.0
"""Between what is drawn and the first line of dimensions, with its lettering."""
RINGS: Mm = 9.0
"""Paper that the rings of cuts take at least between the sheet and its dimensions."""


def sheet_dimensions(
    layout: SheetLayout, scale: float, style: LengthStyle, drawn: Extent = (0.0, 0.0, 0.0, 0.0)
) -> tuple[Item, ...]:
    """Rows of dimensions outside all that is `drawn`; where a first rip leaves one piece to crosscut, its too."""
    length, width = layout.size.length, layout.size.width
    left, low, _, top = together((0.0, 0.0, length * scale, width * scale), drawn)
    beside, below, above = (max(RINGS, outside + CLEAR) for outside in (-left, -low, top - width * scale))

    def pieces(stage: int, *, along_x: bool) -> list[Dimension]:
        return [
            Dimension(low * scale, high * scale, style.show(high - low))
            for low, high in _pieces_along(layout, stage, along_x=along_x)
            if high - low >= LEAST_PIECE
        ]

    whole_length = Dimension(0.0, length * scale, style.show(length))
    whole_width = Dimension(0.0, width * scale, style.show(width))
    if layout.first_cuts_across:
        return (
            *dimension_rows(pieces(1, along_x=True), Side.ABOVE, width * scale, first=above),
            *dimension_rows([whole_length], Side.BELOW, 0.0, first=below),
            *dimension_rows([whole_width], Side.LEFT, 0.0, first=beside),
        )
    rows = {(cut.y0, cut.y1) for cut in layout.cuts if cut.stage == 2 and not cut.ripping}
    columns = pieces(2, along_x=True) if len(rows) == 1 else []
    return (
        *dimension_rows([*pieces(1, along_x=False), whole_width], Side.LEFT, 0.0, first=beside),
        *dimension_rows([*columns, whole_length], Side.BELOW, 0.0, first=below),
    )
