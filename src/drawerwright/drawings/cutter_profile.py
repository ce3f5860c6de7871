"""A cutter's profile, with the two measures that every setting follows from.

::

        ______   ---      <- top of the cutter, depth 0
              |   |
              |   | mid depth      the edge at its largest radius: inset 0
        - - - / - - - - - <- the middle, about which the profile is the same when turned over
            |
        ____|             inset: how far the edge lies inside the largest radius
            |-|
            step
"""

from __future__ import annotations

from collections.abc import Sequence

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawings.dimensioning import Dimension, Side, dimension_rows
from drawerwright.drawings.scene import Circle, Fill, Ink, Item, Layer, Path, Point, Scene, Text, framed

SCALE = 5.0
BODY: Mm = 5.0
"""How much of the cutter is drawn inside of its deepest inset (mm of the thing)."""
DOT: Mm = 0.5
MANY_POINTS = 60
"""Beyond this many, points run into each other and only the line is drawn."""


def draw_profile(
    points: Sequence[Point],
    mid_depth: Mm,
    step: Mm,
    *,
    style: LengthStyle | None = None,
    scale: float = SCALE,
    dots: bool = True,
    figures: bool = True,
) -> Scene:
    """The profile, and where mid depth and step are measured.

    Args:
        points: depth below the cutter's top and inset (mm), from the top down.
        mid_depth, step: what the points were found to mean (mm).
        style: how lengths are written.
        scale: paper per thing.
        dots: whether each point is marked: readings are, the corners of an ideal profile are not.
        figures: whether mid depth and step say how large they are; only of a cutter that somebody has measured.
    """
    style = style or LengthStyle()
    line = [(-inset * scale, -depth * scale) for depth, inset in points]
    inside = min(x for x, _ in line) - BODY * scale
    low, right = line[-1][1], max(x for x, _ in line)
    outline = ((inside, line[0][1]), *line, (inside, low))
    middle = -mid_depth * scale
    items: list[Item] = [
        Path(outline, Ink.OUTLINE, Layer.MACHINE, closed=True, fill=Fill.STEEL),
        Path(((inside, middle), (right + 4.0, middle)), Ink.AXIS, Layer.MACHINE),
        Text((inside + 1.5, middle + 1.8), style.say(phrase("middle"))),
    ]
    if dots and len(line) <= MANY_POINTS:
        items += [Circle(point, DOT, Ink.FINE, Layer.MACHINE, Fill.MARK) for point in line]
    depth, size = style.written(mid_depth, fine=True), style.written(step, fine=True)
    along = style.say(phrase("mid depth {depth}", depth=depth) if figures else phrase("mid depth"))
    items += dimension_rows([Dimension(middle, line[0][1], along)], Side.RIGHT, right)
    across = style.say(phrase("step {size}", size=size) if figures else phrase("step"))
    items += dimension_rows([Dimension(right - step * scale, right, across)], Side.BELOW, low)
    return framed(
        style.say(phrase("Profile of the cutter")),
        items,
        scale=scale,
        description=style.say(
            phrase(
                "Edge of the cutter through {count} points, its middle at a depth of {depth}, step {step}.",
                count=len(points),
                depth=depth,
                step=size,
            )
            if figures
            else phrase("Profile of the cutter")
        ),
    )
