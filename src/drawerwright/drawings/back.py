"""A back with the notches and holes that its runners need, seen from behind the drawer, where it is bored."""

from __future__ import annotations

from collections.abc import Sequence

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import phrase, plural
from drawerwright.drawers.parts import Part
from drawerwright.drawings.dimensioning import Dimension, Side, dimension_rows
from drawerwright.drawings.hatching import face_items
from drawerwright.drawings.lettering import CAP_HEIGHT
from drawerwright.drawings.scales import fitting_scale, scale_name
from drawerwright.drawings.scene import (
    Circle,
    Fill,
    Ink,
    Item,
    Layer,
    Point,
    Scene,
    Strokes,
    Text,
    extent,
    framed,
)
from drawerwright.run.boring import hole_from_behind, notch_from_behind

ROOM: tuple[Mm, Mm] = (150.0, 60.0)
"""Paper that the back itself may take."""


def draw_back(alike: Sequence[Part], *, style: LengthStyle | None = None) -> Scene:
    """Backs that are cut alike, seen from behind: the outline with its notches, the holes, and where they are."""
    style = style or LengthStyle()
    part = alike[0]
    scale = fitting_scale(part.length, part.width, *ROOM)
    outline = tuple((x * scale, y * scale) for x, y in _outline(part))
    items = face_items(outline, 0.0 if part.stock.has_grain else None, 2.6)
    holes = [hole_from_behind(hole, part) for hole in part.holes]
    for hole in holes:
        items += _hole((hole.along * scale, hole.across * scale), hole.diameter * scale / 2)
    notches = sorted((notch_from_behind(each, part) for each in part.notches), key=lambda each: each.begin)
    below = [Dimension(0.0, part.length * scale, style.show(part.length))]
    heights = [Dimension(0.0, part.width * scale, style.show(part.width))]
    if notches:
        first, last = notches[0], notches[-1]
        below += [
            Dimension(0.0, first.begin * scale, style.show(first.begin)),
            Dimension(last.begin * scale, last.end * scale, style.show(last.end - last.begin)),
        ]
        heights.append(Dimension(0.0, last.height * scale, style.show(last.height), None, last.end * scale))
    items += dimension_rows(below, Side.BELOW, 0.0)
    items += dimension_rows(heights, Side.RIGHT, part.length * scale)
    across = [
        Dimension(0.0, hole.along * scale, style.show(hole.along), None, hole.across * scale)
        for hole in holes
    ]
    items += dimension_rows(across, Side.ABOVE, part.width * scale)
    levels = [
        Dimension(0.0, hole.across * scale, style.show(hole.across), None, hole.along * scale)
        for hole in holes[-1:]
    ]
    items += dimension_rows(levels, Side.LEFT, 0.0)
    lines: list[str] = [
        phrase(
            "Back of {drawers} from behind · scale {scale}",
            drawers=names_in_row([each.drawer for each in alike]),
            scale=scale_name(scale, style.decimal_sign),
        )
    ]
    if holes:
        depth = holes[0].depth
        diameter = style.bought(holes[0].diameter)
        lines.append(
            phrase("drill {diameter} through", diameter=diameter)
            if depth is None
            else phrase("drill {diameter}, {depth} deep", diameter=diameter, depth=style.written(depth))
        )
    level = extent(items)[3] + 4.0 * len(lines)
    for number, line in enumerate(lines):
        at = (part.length * scale / 2, level - 4.0 * number - CAP_HEIGHT)
        items.append(Text(at, style.say(line), 3.0 if not number else 2.2, "middle", bold=not number))
    return framed(
        style.say(phrase("Back for the runners")),
        items,
        scale=scale,
        description=style.say(
            plural(
                "Back of {drawers} from behind: {length} long, {height} high, with {count} notch and {holes} holes.",
                "Back of {drawers} from behind: {length} long, {height} high, with {count} notches and {holes} holes.",
                len(part.notches),
                drawers=names_in_row([each.drawer for each in alike]),
                length=style.written(part.length),
                height=style.written(part.width),
                holes=len(holes),
            )
        ),
    )


def _outline(part: Part) -> list[Point]:
    """From the lower left corner along the lower edge with its notches, and round."""
    points: list[Point] = [(0.0, 0.0)]
    for notch in sorted(
        (notch_from_behind(each, part) for each in part.notches), key=lambda each: each.begin
    ):
        points += [
            (notch.begin, 0.0),
            (notch.begin, notch.height),
            (notch.end, notch.height),
            (notch.end, 0.0),
        ]
    return [*points, (part.length, 0.0), (part.length, part.width), (0.0, part.width)]


def _hole(at: Point, radius: Mm) -> tuple[Item, ...]:
    (x, y), arm = at, max(radius, 0.5) + 0.8
    return (
        Circle(at, max(radius, 0.4), Ink.FINE, Layer.MACHINE, Fill.DAYLIGHT),
        Strokes((((x - arm, y), (x + arm, y)), ((x, y - arm), (x, y + arm))), Ink.FINE, Layer.MACHINE),
    )
