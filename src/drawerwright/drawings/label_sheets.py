"""Labels for parts on self-adhesive sheets: what stands on a label."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawings.label_grids import LabelGrid
from drawerwright.drawings.lettering import CAP_HEIGHT, text_width
from drawerwright.drawings.paper import PAPERS
from drawerwright.drawings.qr_code import qr_items
from drawerwright.drawings.scene import Fill, Ink, Item, Layer, Path, Point, Scene, Text

EDGE: Mm = 2.5
"""Kept free inside a label: sheets are fed a little askew."""
LARGEST: Mm = 5.0
SMALL: Mm = 2.4
QR_SIDE: Mm = 17.0
LOW: Mm = 25.0
"""A label lower than this has room for its name, its mark and its size only."""


@dataclass(frozen=True, slots=True)
class PartLabel:
    """What stands on a label: the part's name, its size, which edge is up, what lies at the left and right end, on
    which face it is stuck, and an address to open."""

    name: str
    size: str
    up: Phrase
    left: Phrase | None = None
    right: Phrase | None = None
    face: Phrase | None = None
    address: str = ""


def label_scenes(
    labels: Sequence[PartLabel], grid: LabelGrid, style: LengthStyle, used: int = 0
) -> tuple[Scene, ...]:
    """Sheet after sheet of labels, each scene as large as its paper; the first `used` places stay free."""
    places = (*(None for _ in range(used)), *labels)
    paper = PAPERS[grid.paper]
    title = phrase(
        "Labels: {count} of {width} × {height}",
        count=grid.count,
        width=style.bought(grid.width),
        height=style.bought(grid.height),
    )
    scenes = []
    for first in range(0, len(places), grid.count):
        some = places[first : first + grid.count]
        items = [
            item
            for place, label in zip(grid.places, some, strict=False)
            if label is not None
            for item in _label(label, place, grid, style)
        ]
        words = phrase("Labels for {names}", names=", ".join(label.name for label in some if label))
        scenes.append(
            Scene(
                style.say(title),
                tuple(items),
                0.0,
                0.0,
                paper.width,
                paper.height,
                description=style.say(words),
            )
        )
    return tuple(scenes)


def _label(label: PartLabel, corner: Point, grid: LabelGrid, style: LengthStyle) -> Iterator[Item]:
    x0, y0 = corner[0] + EDGE, corner[1] + EDGE
    x1, y1 = corner[0] + grid.width - EDGE, corner[1] + grid.height - EDGE
    is_low = grid.height < LOW
    middle = (x0 + x1) / 2
    small = min(SMALL, (y1 - y0) / 6) if is_low else SMALL
    yield from _up(style.say(label.up), middle, y1, small)
    top = y1 - small * 1.5
    right = x1
    if label.address and not is_low:
        side = min(QR_SIDE, top - y0)
        yield from qr_items(label.address, (x1 - side, y0), side)
        right = x1 - side
    name = style.say(label.name)
    size = min(LARGEST, LARGEST * (right - x0) / text_width(name, LARGEST), (top - y0) * 0.45)
    level = top - size * 1.15
    yield Text((x0, level), name, size, "start", bold=True)
    lines = [style.say(label.size)]
    if not is_low:
        lines += [style.say(words) for words in (label.face,) if words is not None]
    ends = [("◂ ", label.left), (" ▸", label.right)]
    shown = [style.say(words) for _sign, words in ends if words is not None]
    for number, line in enumerate(lines):
        fitted = min(small, small * (right - x0) / max(text_width(line, small), 0.1))
        yield Text((x0, level - (number + 1) * small * 1.5), line, fitted)
    if shown and not is_low:
        yield from _ends(label, x0, right, y0, small, style)


def _up(words: str, middle: Mm, top: Mm, size: Mm) -> Iterator[Item]:
    """A triangle that points to the edge that is up, and what that edge is."""
    wide = text_width(words, size)
    left = middle - wide / 2 - size
    tip = (left - size * 0.2, top)
    foot = top - CAP_HEIGHT * size
    yield Path(
        (tip, (tip[0] - size * 0.5, foot), (tip[0] + size * 0.5, foot)),
        Ink.NONE,
        Layer.NAME,
        closed=True,
        fill=Fill.INK,
    )
    yield Text((middle - wide / 2, foot), words, size)


def _ends(label: PartLabel, left: Mm, right: Mm, low: Mm, size: Mm, style: LengthStyle) -> Iterator[Item]:
    """What lies at the left and at the right end, each with an arrow to it."""
    half = CAP_HEIGHT * size / 2
    for words, edge, way in ((label.left, left, -1), (label.right, right, 1)):
        if words is None:
            continue
        tip = (edge, low + half)
        foot = edge - way * size * 0.8
        yield Path(
            (tip, (foot, low), (foot, low + 2 * half)), Ink.NONE, Layer.NAME, closed=True, fill=Fill.INK
        )
        at = edge - way * size * 1.2
        yield Text((at, low), style.say(words), size, "start" if way < 0 else "end")
