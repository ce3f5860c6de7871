"""What the hatchings and lines of a sheet's drawing stand for."""

from __future__ import annotations

from collections.abc import Sequence

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawings.dimensioning import arrow
from drawerwright.drawings.hatching import end_grain, waste
from drawerwright.drawings.lettering import text_width
from drawerwright.drawings.scene import Circle, Fill, Ink, Item, Layer, Path, Point, Text, box
from drawerwright.sheets.patterns import SheetLayout


def sheet_key(
    layout: SheetLayout,
    level: Mm,
    width: Mm,
    style: LengthStyle,
    grain: Sequence[Item],
    *,
    size: Mm,
    edges: bool,
) -> tuple[list[Item], Mm]:
    """Samples of what the hatchings and lines mean, those that occur, in words of a `size`, and the level of their
    last line; `edges`: bands show which are routed."""
    samples: list[tuple[str, list[Item]]] = []

    def sample() -> tuple[Point, ...]:
        return box(0.0, -0.6, 7.0, 2.4)

    samples.append(
        (
            phrase("saw cut, numbered in order"),
            [
                Path(((0.0, 0.9), (7.0, 0.9)), layer=Layer.SAW),
                Circle((3.5, 0.9), 1.5, Ink.FINE, Layer.SAW, Fill.PAPER),
            ],
        )
    )
    if edges and layout.bands:
        samples.append((phrase("edge to rout"), [Path(((0.0, 0.9), (7.0, 0.9)), Ink.MARK, Layer.NAME)]))
    if any(cut.ripping for cut in layout.cuts):
        samples.append(
            (phrase("ripped after routing"), [Path(((0.0, 0.9), (7.0, 0.9)), Ink.HIDDEN, Layer.SAW)])
        )
    if any(band.sacrificial for band in layout.bands):
        samples.append(
            (phrase("sacrificial strip"), [Path(sample(), Ink.FINE, closed=True), end_grain(sample(), 1.5)])
        )
    if layout.kept_offcuts:
        samples.append(
            (phrase("offcut to keep"), [Path(sample(), Ink.FINE, Layer.OFFCUT, closed=True), waste(sample())])
        )
    if len(layout.kept_offcuts) < len(layout.offcuts):
        samples.append((phrase("too small to keep"), [Path(sample(), Ink.FINE, Layer.OFFCUT, closed=True)]))
    if grain:
        samples.append((phrase("grain"), list(grain)))
    items: list[Item] = []
    at = 0.0
    for text, drawn in samples:
        words = style.say(text)
        long = 8.5 + text_width(words, size)
        if at and at + long > width:
            at, level = 0.0, level - 4.6
        items += [item.moved(at, level) for item in drawn]
        items.append(Text((at + 8.5, level), words, size))
        at += long + 6.0
    return items, level


def grain_sample(is_standing: bool) -> tuple[Item, ...]:
    """An arrow with two heads, along the grain."""
    ends = ((3.5, -0.8), (3.5, 2.6)) if is_standing else ((0.0, 0.9), (7.0, 0.9))
    return (*arrow(*ends, layer=Layer.GRAIN), *arrow(*ends[::-1], layer=Layer.GRAIN))
