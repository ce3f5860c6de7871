"""A jig and the edges that it cuts, one strip under the other at true size."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawings.corner_section import NAME_SIZE
from drawerwright.drawings.dimensioning import Dimension, Side, dimension_rows
from drawerwright.drawings.hatching import grain, waste
from drawerwright.drawings.scene import Fill, Ink, Item, Layer, Path, Scene, Text, box, extent, framed, moved
from drawerwright.joints.jigs import JigStrip, Stretch, StripPart

HIGH: Mm = 9.0
"""How high a strip is on paper."""
APART: Mm = 6.0
MOST: Mm = 150.0
"""A longer edge is broken off here: the rest repeats."""


def draw_jig(strips: Sequence[JigStrip], title: str, style: LengthStyle | None = None) -> Scene:
    """All strips of a jig; its scale is 1."""
    style = style or LengthStyle()
    items: list[Item] = []
    top = 0.0
    for strip in strips:
        drawn = _strip(strip, style)
        _, _, _, high = extent(drawn)
        items += moved(drawn, 0.0, top - high)
        _, low, _, _ = extent(items)
        top = low - APART
    words = [
        phrase("{name}: {count} stretches.", name=strip.name, count=len(strip.stretches)) for strip in strips
    ]
    return framed(style.say(title), items, scale=1.0, description=" ".join(style.say(each) for each in words))


def _strip(strip: JigStrip, style: LengthStyle) -> list[Item]:
    far = max(stretch.end for stretch in strip.stretches)
    end = min(far, MOST)
    items: list[Item] = []
    for stretch in strip.stretches:
        if stretch.start < end:
            items += _stretch(replace(stretch, end=min(stretch.end, end)))
    if far > MOST:
        items.append(Path(((end, -1.0), (end - 1.0, 3.0), (end + 1.0, 6.0), (end, HIGH + 1.0)), Ink.FINE))
    measures = [
        Dimension(
            span.start,
            span.end,
            f"{style.say(span.name)} {style.show(span.end - span.start, fine=True)}".strip(),
        )
        for span in strip.spans
    ]
    items += dimension_rows(measures, Side.BELOW, 0.0, first=4.5)
    items.append(Text((0.0, HIGH + 2.0), style.say(strip.name), NAME_SIZE, bold=True))
    return items


def _stretch(stretch: Stretch) -> list[Item]:
    outline = box(stretch.start, 0.0, stretch.end, HIGH)
    match stretch.part:
        case StripPart.WOOD:
            return [
                Path(outline, Ink.NONE, closed=True, fill=Fill.WOOD),
                grain(outline, 90.0),
                Path(outline, closed=True),
            ]
        case StripPart.NOTCH:
            return [Path(outline, Ink.FINE, Layer.GAP, closed=True, fill=Fill.DAYLIGHT)]
        case StripPart.PIN:
            return [Path(outline, Ink.OUTLINE, Layer.MACHINE, closed=True, fill=Fill.STEEL)]
        case StripPart.CUTTER:
            return [
                Path(outline, Ink.OUTLINE, Layer.MACHINE, closed=True, fill=Fill.PAPER),
                waste(outline, 1.6, Layer.SAW),
            ]
