"""A drawer from the front and from the side, what lies behind dashed, with its sizes."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.parts import PartKind
from drawerwright.drawings.axonometric.hidden_lines import lines_of
from drawerwright.drawings.axonometric.viewpoint import BEFORE, FROM_THE_RIGHT, Viewpoint
from drawerwright.drawings.dimensioning import Dimension, Side, dimension_rows
from drawerwright.drawings.scales import fitting_scale, scale_name
from drawerwright.drawings.scene import Ink, Item, Layer, Scene, Segment, Strokes, Text, extent, framed
from drawerwright.drawings.solids import PartSolid

BESIDE: Mm = 14.0
BELOW: Mm = 24.0
"""Paper that the dimensions on one side of a view and below it take."""
LETTERS: Mm = 2.6
SHORT: Mm = 1.6
"""Shorter dashed pieces (mm of paper) only blur: the joint has a section of its own."""


def draw_drawer_front(
    drawer: AssembledDrawer, parts: Sequence[PartSolid], room: tuple[Mm, Mm], style: LengthStyle
) -> Scene:
    """From before: widths of front and box, heights of front and sides, and where the groove begins."""
    front_low, front_high = drawer.shown_front.bounds
    side = drawer[PartKind.LEFT]
    widths = [(front_low[0], front_high[0]), (0.0, drawer.box.width)]
    heights = [(front_low[2], front_high[2])]
    return _view(
        parts,
        BEFORE,
        phrase("Front"),
        room,
        style,
        below=widths,
        right=heights,
        left=[(side.bounds[0][2], side.bounds[1][2]), *_groove(drawer)],
    )


def draw_drawer_side(
    drawer: AssembledDrawer, parts: Sequence[PartSolid], room: tuple[Mm, Mm], style: LengthStyle
) -> Scene:
    """From the right: depth of the box and over all, heights of sides and back."""
    near = min(placed.bounds[0][1] for placed in drawer.placed)
    box_near = drawer[PartKind.FRONT].bounds[0][1]
    far = max(placed.bounds[1][1] for placed in drawer.placed)
    back = drawer[PartKind.BACK]
    return _view(
        parts,
        FROM_THE_RIGHT,
        phrase("Right side"),
        room,
        style,
        below=[(box_near, far), (near, far)],
        right=[(back.bounds[0][2], back.bounds[1][2])],
        left=[],
    )


def _groove(drawer: AssembledDrawer) -> list[tuple[Mm, Mm]]:
    """From the sides' lower edges up to the groove's lower edge."""
    bottom = drawer.box.bottom
    groove = None if bottom is None else bottom.groove
    return [] if groove is None else [(0.0, groove.height)]


def _view(
    parts: Sequence[PartSolid],
    viewpoint: Viewpoint,
    title: str,
    room: tuple[Mm, Mm],
    style: LengthStyle,
    *,
    below: Sequence[tuple[Mm, Mm]],
    right: Sequence[tuple[Mm, Mm]],
    left: Sequence[tuple[Mm, Mm]],
) -> Scene:
    lines = lines_of([part.triangles() for part in parts], viewpoint)
    points = np.array([point for line in lines.visible for point in line])
    low, high = points.min(axis=0), points.max(axis=0)
    scale = fitting_scale(
        float(high[0] - low[0]),
        float(high[1] - low[1]),
        room[0] - BESIDE * (2 if left else 1),
        room[1] - BELOW,
    )

    def on_paper(segments: Sequence[Segment]) -> tuple[Segment, ...]:
        return tuple(((x0 * scale, y0 * scale), (x1 * scale, y1 * scale)) for (x0, y0), (x1, y1) in segments)

    dashed = tuple(
        segment
        for segment in on_paper(lines.hidden)
        if abs(segment[0][0] - segment[1][0]) + abs(segment[0][1] - segment[1][1]) > SHORT
    )
    items: list[Item] = [
        Strokes(dashed, Ink.HIDDEN, Layer.WOOD),
        Strokes(on_paper(lines.folds), Ink.FINE, Layer.WOOD),
        Strokes(on_paper(lines.outlines), Ink.OUTLINE, Layer.WOOD),
    ]
    for spans, where, edge in (
        (below, Side.BELOW, low[1]),
        (right, Side.RIGHT, high[0]),
        (left, Side.LEFT, low[0]),
    ):
        measures = [
            Dimension(start * scale, end * scale, style.show(end - start))
            for start, end in dict.fromkeys((round(start, 6), round(end, 6)) for start, end in spans)
        ]
        items += dimension_rows(measures, where, float(edge) * scale)
    words = phrase("{title} · {scale}", title=title, scale=scale_name(scale, style.decimal_sign))
    middle = float(low[0] + high[0]) / 2 * scale
    items.append(Text((middle, extent(items)[3] + 2.0), style.say(words), LETTERS, "middle", bold=True))
    return framed(style.say(title), items, scale=scale, margin=1.0, description=style.say(title))
