"""A drawer from above as it is glued up: where glue goes, how it is clamped, and its diagonals."""

from __future__ import annotations

import math
from collections.abc import Sequence

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.parts import PartKind, Role
from drawerwright.drawings.axonometric.hidden_lines import lines_of
from drawerwright.drawings.axonometric.viewpoint import FROM_ABOVE
from drawerwright.drawings.dimensioning import arrow
from drawerwright.drawings.lettering import text_width
from drawerwright.drawings.scales import fitting_scale, scale_name
from drawerwright.drawings.scene import (
    Fill,
    Ink,
    Item,
    Layer,
    Path,
    Point,
    Scene,
    Strokes,
    Text,
    extent,
    framed,
)
from drawerwright.drawings.solids import PartSolid

ARROW: Mm = 9.0
LETTERS: Mm = 2.6
AROUND: Mm = 36.0
"""Paper for arrows and words on both sides of a drawer together."""


def draw_glue_up(
    drawer: AssembledDrawer,
    parts: Sequence[PartSolid],
    names: str,
    room: tuple[Mm, Mm],
    style: LengthStyle,
    *,
    is_hooked: bool,
) -> Scene:
    """The drawer from above, its front below. `is_hooked`: its corners hold each other from front to back, so that it
    is clamped across the sides only."""
    lines = lines_of(
        [part.triangles() for part in parts if part.kind is not PartKind.APPLIED_FRONT], FROM_ABOVE
    )
    box = drawer.box
    near = drawer[PartKind.FRONT].bounds[0][1]
    far = drawer[PartKind.BACK].bounds[1][1]
    scale = fitting_scale(box.width + sum(box.lips), far - near, room[0] - AROUND, room[1] - AROUND)

    def on_paper(x: Mm, y: Mm) -> Point:
        return x * scale, y * scale

    def all_on_paper(segments: Sequence[tuple[Point, Point]]) -> tuple[tuple[Point, Point], ...]:
        return tuple((on_paper(*start), on_paper(*end)) for start, end in segments)

    corners = [on_paper(x, y) for x in (0.0, box.width) for y in (near, far)]
    items: list[Item] = [
        Strokes(all_on_paper(lines.folds), Ink.FINE, Layer.WOOD),
        Strokes(all_on_paper(lines.outlines), Ink.OUTLINE, Layer.WOOD),
        Path((corners[0], corners[3]), Ink.AXIS, Layer.DIMENSION),
        Path((corners[1], corners[2]), Ink.AXIS, Layer.DIMENSION),
    ]
    items += _glued(drawer, scale)
    middle = on_paper(box.width / 2, (near + far) / 2)
    length = style.written(math.hypot(box.width, far - near))
    told = [style.say(phrase("both diagonals {length}", length=length))]
    inside = (box.width - 2 * box.side.thickness.value) * scale - 2.0
    if text_width(told[0], LETTERS) > inside:
        told = [style.say(phrase("both diagonals")), style.say(Phrase("{length}", {"length": length}))]
    for number, line in enumerate(told):
        level = middle[1] + 4.0 - number * LETTERS * 1.4
        items.append(Text((middle[0], level), line, LETTERS, "middle", halo=Fill.PAPER))
    for end in (0.0, box.width):
        way = -1.0 if end == 0.0 else 1.0
        for share in (0.15, 0.85):
            x, y = on_paper(end, near + share * (far - near))
            items += arrow((x + way * (ARROW + 2.0), y), (x + way * 2.0, y), ink=Ink.OUTLINE)
    if not is_hooked:
        for at, way in ((near, -1.0), (far, 1.0)):
            for share in (0.1, 0.9):
                x, y = on_paper(share * box.width, at)
                items += arrow((x, y + way * (ARROW + 2.0)), (x, y + way * 2.0), ink=Ink.OUTLINE)
    left, bottom, right, _top = extent(items)
    title = phrase("{title} · {scale}", title=names, scale=scale_name(scale, style.decimal_sign))
    items.append(
        Text(((left + right) / 2, bottom - 2.0), style.say(title), LETTERS, "middle", "top", bold=True)
    )
    return framed(
        style.say(names),
        items,
        scale=scale,
        margin=1.0,
        description=style.say(
            phrase("Drawer {names} from above with its clamps and diagonals.", names=names)
        ),
    )


def _glued(drawer: AssembledDrawer, scale: float) -> list[Item]:
    """A heavy line over each end that gets glue."""
    items: list[Item] = []
    for placed in drawer.placed:
        if not placed.part.ends or placed.part.ends[0].role is not Role.UPRIGHT:
            continue
        (x0, y0, _), (x1, y1, _) = placed.bounds
        is_side = placed.kind in (PartKind.LEFT, PartKind.RIGHT)
        for end in (0, 1):
            if is_side:
                level = (y0, y1)[end] * scale
                line = ((x0 * scale, level), (x1 * scale, level))
            else:
                level = (x0, x1)[end] * scale
                line = ((level, y0 * scale), (level, y1 * scale))
            items.append(Path(line, Ink.MARK, Layer.CONTACT))
    return items
