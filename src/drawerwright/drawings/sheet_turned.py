"""A sheet turned by a quarter, for a picture that stands: what was left is above, what was below is left."""

from __future__ import annotations

from dataclasses import replace

from drawerwright.basics.lengths import Mm
from drawerwright.sheets.patterns import Cut, Offcut, PlacedBand, PlacedLoose, SheetLayout


def quarter_turned(layout: SheetLayout) -> SheetLayout:
    """The same pieces and cuts, with the sheet's length upright."""
    length = layout.size.length
    return replace(
        layout,
        size=replace(layout.size, length=layout.size.width, width=length),
        bands=tuple(_band(band, length) for band in layout.bands),
        loose=tuple(_loose(part, length) for part in layout.loose),
        offcuts=tuple(_offcut(offcut, length) for offcut in layout.offcuts),
        cuts=tuple(_cut(cut, length) for cut in layout.cuts),
        first_cuts_across=not layout.first_cuts_across,
    )


def _band(band: PlacedBand, length: Mm) -> PlacedBand:
    strips, sacrificial = band.strips, band.sacrificial
    if band.turned:  # its strips lay side by side along the length, which now counts from the top
        strips = tuple(
            replace(strip, offset=band.width - strip.offset - strip.height) for strip in reversed(strips)
        )
        sacrificial = tuple((band.width - offset - width, width) for offset, width in reversed(sacrificial))
    return replace(
        band,
        x=band.y,
        y=length - band.x - band.x_extent,
        turned=not band.turned,
        strips=strips,
        sacrificial=sacrificial,
    )


def _loose(part: PlacedLoose, length: Mm) -> PlacedLoose:
    return replace(part, x=part.y, y=length - part.x - part.x_extent, turned=not part.turned)


def _offcut(offcut: Offcut, length: Mm) -> Offcut:
    return replace(
        offcut,
        x=offcut.y,
        y=length - offcut.x - offcut.length,
        length=offcut.width,
        width=offcut.length,
    )


def _cut(cut: Cut, length: Mm) -> Cut:
    return replace(cut, x0=cut.y0, x1=cut.y1, y0=length - cut.x1, y1=length - cut.x0)
