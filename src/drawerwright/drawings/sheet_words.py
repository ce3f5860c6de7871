"""A sheet in words, for readers who do not see its drawing."""

from __future__ import annotations

from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.phrases import phrase
from drawerwright.sheets.patterns import SheetLayout


def sheet_in_words(layout: SheetLayout, style: LengthStyle) -> str:
    """What lies on it and what is left."""
    strips = sum(len(band.strips) for band in layout.bands)
    offcuts = ", ".join(
        f"{style.show(o.length, with_unit=False)} × {style.show(o.width)}" for o in layout.kept_offcuts
    )
    return style.say(
        phrase(
            "{label}, {length} by {width}. Bands: {bands}, with strips: {strips}. Loose parts: {loose}. Cuts: {cuts}. "
            "Offcuts: {offcuts}.",
            label=layout.size.label,
            length=style.written(layout.size.length),
            width=style.written(layout.size.width),
            bands=len(layout.bands),
            strips=strips,
            loose=len(layout.loose),
            cuts=len(layout.cuts),
            offcuts=offcuts or phrase("none"),
        )
    )
