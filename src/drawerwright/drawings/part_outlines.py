"""The parts of a job one by one, each as a block: its outline with notches and scoop, its grooves and its holes.

A part lies as it is marked: inside face up, its first end to the left. Grooves are cut from above, holes from below.
Parts that are cut alike are drawn once.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import LengthStyle, Mm, kept_length
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import phrase, plural
from drawerwright.drawers.assembly import PlacedPart
from drawerwright.drawers.parts import Part
from drawerwright.drawings.dimensioning import Dimension, Side, dimension_rows
from drawerwright.drawings.scales import fitting_scale, scale_name
from drawerwright.drawings.scene import (
    Block,
    Circle,
    Ink,
    Item,
    Layer,
    Path,
    PlainItem,
    Point,
    Scene,
    Text,
    extent,
    framed,
    moved,
)

ROOM: tuple[Mm, Mm] = (120.0, 60.0)
"""Paper that the largest part may take."""
ROW: Mm = 380.0
"""Parts stand beside each other up to this width of paper, then in another row."""
BETWEEN: Mm = 14.0
CAPTION: Mm = 3.0


@dataclass(frozen=True, slots=True)
class OutlinedPart:
    """Parts that are cut alike: the first of them, their labels, and whether the lower edge lies away from the worker
    when the inside face is up and the first end to the left."""

    part: Part
    labels: tuple[str, ...]
    is_turned: bool


def outlined_parts(placed: Sequence[PlacedPart]) -> tuple[OutlinedPart, ...]:
    """Every kind of part, in the order of its first one."""
    kinds: dict[tuple[object, ...], tuple[PlacedPart, list[str]]] = {}
    for each in placed:
        part = each.part
        size = kept_length(part.length), kept_length(part.width)
        groove = part.groove and tuple(
            kept_length(length) for length in (part.groove.height, part.groove.width, part.groove.depth)
        )
        cut = (part.stock.key, *size, groove, part.notches, part.holes, part.scoop)
        key = (*cut, part.is_upright, tuple((end.corner, end.role) for end in part.ends), _is_turned(each))
        kinds.setdefault(key, (each, []))[1].append(part.label)
    return tuple(
        OutlinedPart(first.part, tuple(labels), _is_turned(first)) for first, labels in kinds.values()
    )


def _is_turned(placed: PlacedPart) -> bool:
    """Seen onto the inside face, a part whose length and width run as they do seen from outside has its lower edge away
    from the worker."""
    (a, b, c), (d, e, f) = placed.place.along, placed.place.across
    facing = (b * f - c * e, c * d - a * f, a * e - b * d)
    return facing == placed.place.through


def draw_parts(placed: Sequence[PlacedPart], *, style: LengthStyle | None = None) -> Scene:
    """Every kind of part at one scale, with its sizes."""
    style = style or LengthStyle()
    kinds = outlined_parts(placed)
    scale = fitting_scale(
        max(kind.part.length for kind in kinds), max(kind.part.width for kind in kinds), *ROOM
    )
    items: list[Item] = []
    x = y = lowest = 0.0
    for kind in kinds:
        drawn = _dimensioned(kind, scale, style)
        left, bottom, right, top = extent(drawn)
        if x and x + right - left > ROW:
            x, y, lowest = 0.0, lowest - BETWEEN, 0.0
        items += moved(drawn, x - left, y - top)
        x += right - left + BETWEEN
        lowest = min(lowest or y, y - top + bottom)
    return framed(
        style.say(phrase("Parts")),
        items,
        scale=scale,
        description=style.say(
            plural(
                "{count} kind of part, inside face up and first end to the left, at scale {scale}.",
                "{count} kinds of parts, inside face up and first end to the left, at scale {scale}.",
                len(kinds),
                scale=scale_name(scale, style.decimal_sign),
            )
        ),
    )


def _dimensioned(kind: OutlinedPart, scale: float, style: LengthStyle) -> list[Item]:
    part = kind.part
    long, wide = part.length * scale, part.width * scale
    items: list[Item] = [Block(style.say(part.label), part_items(kind, scale))]

    def level(height: Mm) -> Mm:
        return (part.width - height if kind.is_turned else height) * scale

    heights = [Dimension(0.0, wide, style.show(part.width))]
    if part.groove is not None:
        groove = part.groove
        heights += [
            Dimension(level(0.0), level(groove.height), style.show(groove.height)),
            Dimension(level(groove.height), level(groove.top), style.show(groove.width)),
        ]
    heights += [
        Dimension(level(0.0), level(hole.across), style.show(hole.across), None, hole.along * scale)
        for hole in part.holes[:1]
    ]
    along = [Dimension(0.0, long, style.show(part.length))]
    along += [
        Dimension(0.0, hole.along * scale, style.show(hole.along), None, level(hole.across))
        for hole in part.holes
    ]
    along += [
        Dimension(notch.begin * scale, notch.end * scale, style.show(notch.end - notch.begin))
        for notch in part.notches
    ]
    beside = (0.0, math.inf)  # the corner between both rows is free of figures
    items += dimension_rows(along, Side.BELOW, 0.0, within=beside)
    items += dimension_rows(heights, Side.LEFT, 0.0, within=beside)
    names = [style.say(label) for label in kind.labels]
    lines = [names_in_row(names), part.stock.name]
    if part.groove is not None:
        lines.append(style.say(phrase("groove {depth} deep", depth=style.written(part.groove.depth))))
    top = wide + 3.0
    for number, line in enumerate(reversed(lines)):
        is_name = number == len(lines) - 1
        items.append(Text((0.0, top + 4.2 * number), style.say(line), CAPTION, bold=is_name))
    return items


def part_items(kind: OutlinedPart, scale: float) -> tuple[PlainItem, ...]:
    """A part alone, its lower left corner at the origin (mm of paper)."""
    part = kind.part

    def at(along: Mm, across: Mm) -> Point:
        return along * scale, (part.width - across if kind.is_turned else across) * scale

    items: list[PlainItem] = [Path(tuple(at(*point) for point in _outline(part)), closed=True)]
    if part.groove is not None:
        for level in (part.groove.height, part.groove.top):
            ends = at(0.0, level), at(part.length, level)
            items.append(Path(ends, Ink.FINE, Layer.GROOVE))
    for hole in part.holes:
        ink = Ink.FINE if hole.depth is None else Ink.HIDDEN
        items.append(Circle(at(hole.along, hole.across), hole.diameter * scale / 2, ink, Layer.HOLE))
    return tuple(items)


def _outline(part: Part) -> list[Point]:
    """Round the part from its lower edge's first end, with its notches and its scoop (mm, in the part's own frame)."""
    points: list[Point] = [(0.0, 0.0)]
    for notch in sorted(part.notches, key=lambda each: each.begin):
        begin, end, high = notch.begin, notch.end, notch.height
        points += [(begin, 0.0), (begin, high), (end, high), (end, 0.0)]
    points.append((part.length, 0.0))
    scoop = part.scoop
    if scoop is None:
        points += [(part.length, part.width), (0.0, part.width)]
    elif part.is_upright:
        # Its length stands as it hangs: the scoop is in its far end, and across the front is along its width.
        edge = [(up, across) for across, up in scoop.outline(part.width, part.length)]
        points += [*edge, (part.length, part.width), (0.0, part.width)]
    else:
        edge = list(scoop.outline(part.length, part.width))
        points += [(part.length, part.width), *reversed(edge), (0.0, part.width)]
    return list(dict.fromkeys(points))
