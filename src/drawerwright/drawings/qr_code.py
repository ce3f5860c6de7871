"""A QR code as shapes. The only door to segno."""

from __future__ import annotations

from itertools import groupby

from drawerwright.basics.lengths import Mm
from drawerwright.drawings.scene import Fill, Ink, Item, Layer, Path, Point, box

QUIET = 4
"""Modules that stay white around a code (ISO/IEC 18004)."""


def qr_items(text: str, corner: Point, side: Mm) -> list[Item]:
    """A code of `side` (mm) with its quiet zone, its lower left corner at `corner`; error correction of level M."""
    import segno

    rows = [list(row) for row in segno.make(text, error="m", micro=False).matrix]
    module = side / (len(rows) + 2 * QUIET)
    x0, y0 = corner[0] + QUIET * module, corner[1] + side - QUIET * module
    items: list[Item] = []
    for number, row in enumerate(rows):
        at = 0
        for is_dark, run in groupby(row, key=bool):
            count = len(list(run))
            if is_dark:
                edges = box(
                    x0 + at * module,
                    y0 - (number + 1) * module,
                    x0 + (at + count) * module,
                    y0 - number * module,
                )
                items.append(Path(edges, Ink.NONE, Layer.NAME, closed=True, fill=Fill.INK))
            at += count
    return items
