"""A set-up at the router table, seen along the fence: table, fence, cutter, and the piece as it leaves the cut.

::

         fence |  |  upright piece,          fence |
        ///////|  |  its inside to the      ///////|______________
        ///////|  |  fence                  ///////| flat piece,  |
        ///////|_/__  <- bit height         ///////|_/____________|  its inside on the table
        ----------------- table             ----------------------
               |--| fence setting

Where pieces go from left to right, everything is mirrored: it is always seen from where they leave.
"""

from __future__ import annotations

from collections.abc import Sequence

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.parts import Role
from drawerwright.drawings.corner_section import NAME_SIZE, piece
from drawerwright.drawings.dimensioning import CLEAR, Dimension, Side, dimension_rows
from drawerwright.drawings.hatching import waste
from drawerwright.drawings.lettering import text_width
from drawerwright.drawings.mirrored import mirrored
from drawerwright.drawings.scene import (
    Fill,
    Ink,
    Item,
    Layer,
    Path,
    Point,
    Scene,
    Segment,
    Strokes,
    Text,
    box,
    extent,
    framed,
    side_by_side,
)
from drawerwright.joints.corner import Cuts, Outline, flat_section
from drawerwright.joints.setting import CornerSetting
from drawerwright.joints.table import USUAL_FEED, Feed
from drawerwright.run.setups import SetUp

CARD_SCALE = 1.0
FENCE_WIDTH: Mm = 16.0
"""How much of the fence is drawn (mm of the thing)."""
TABLE_DEPTH: Mm = 5.0
UNKNOWN_RADIUS: Mm = 12.0
"""Half the cutter that is drawn where its diameter is not known."""
MOST_RADIUS: Mm = 14.0
"""A larger cutter is broken off here: the rest is behind the fence."""


def draw_setup(
    setup: SetUp,
    *,
    scale: float = CARD_SCALE,
    style: LengthStyle | None = None,
    title: str | None = None,
    feed: Feed = USUAL_FEED,
) -> Scene:
    """All ways a piece is held in one set-up, beside each other: flat first, then upright."""
    style = style or LengthStyle()
    return side_by_side(
        style.say(title or phrase("Set-up {number}", number=setup.number)),
        draw_passes(setup, scale=scale, style=style, feed=feed),
        gap=4.0,
    )


def draw_passes(
    setup: SetUp, *, scale: float = CARD_SCALE, style: LengthStyle | None = None, feed: Feed = USUAL_FEED
) -> tuple[Scene, ...]:
    """The ways a piece is held in one set-up, each a picture of its own: flat first, then upright."""
    return tuple(
        draw_pass(corner, role, scale=scale, style=style, feed=feed)
        for role, corner in setup.pictured.items()
    )


def draw_pass(
    corner: CornerSetting,
    role: Role,
    *,
    scale: float = CARD_SCALE,
    style: LengthStyle | None = None,
    feed: Feed = USUAL_FEED,
) -> Scene:
    """One piece at the cutter, held flat or upright, as it leaves the cut: seen from the other end of the fence where
    it is fed the other way."""
    style = style or LengthStyle()
    cuts = Cuts.of(corner)
    fence = corner.fence_flat if role is Role.FLAT else corner.fence_upright
    if role is Role.FLAT:
        reach = max(cuts.fence_flat, cuts.upright_thickness) + 1.4 * cuts.flat_thickness
        outline, fill, fibre = flat_section(cuts, reach), Fill.WOOD, 0.0
        thickness, far, top = cuts.flat_thickness, reach, cuts.flat_thickness
    else:
        top = corner.bit_height + 1.4 * cuts.upright_thickness
        outline, fill, fibre = _standing(cuts, top), Fill.WOOD_BEHIND, 90.0
        thickness, far = cuts.upright_thickness, cuts.upright_thickness
    fence_top = max(top, corner.bit_height) + (4.0 if role is Role.FLAT else -4.0)
    reach_right = far + (3.0 if role is Role.FLAT else 14.0)
    items: list[Item] = [
        *_machine(fence_top, reach_right, scale),
        *piece(outline, scale, fill, fibre),
        *_cutter(cuts, fence, corner.cutter.diameter, scale),
        *_inside_face(cuts, fence, role, (top, far), scale, style),
    ]
    items += dimension_rows(
        [
            Dimension(
                0.0,
                corner.bit_height * scale,
                style.say(phrase("height {height}", height=style.written(corner.bit_height, fine=True))),
            )
        ],
        Side.LEFT,
        -FENCE_WIDTH * scale,
        first=5.0,
    )
    items += dimension_rows(
        [
            Dimension(
                0.0, fence * scale, style.say(phrase("fence {fence}", fence=style.written(fence, fine=True)))
            )
        ],
        Side.BELOW,
        -TABLE_DEPTH * scale,
        first=5.5,
    )
    thick = Dimension(0.0, thickness * scale, style.show(thickness, fine=True))
    if role is Role.FLAT:
        items += dimension_rows([thick], Side.RIGHT, reach_right * scale, first=5.0)
    else:
        items += dimension_rows([thick], Side.ABOVE, top * scale, first=5.5)
    words = style.say(
        phrase("flat, inside face on the table")
        if role is Role.FLAT
        else phrase("upright, inside face to the fence")
    )
    left, _, _, high = extent(items)
    items.append(Text((left, high + 3.5), words, NAME_SIZE, bold=True))
    scene = framed(
        words,
        items,
        scale=scale,
        description=style.say(
            phrase(
                "Piece held {how}, fed {feed}: bit height {height}, fence setting {fence}, thickness {thickness}.",
                how=words,
                feed=feed.words,
                height=style.written(corner.bit_height, fine=True),
                fence=style.written(fence, fine=True),
                thickness=style.written(thickness, fine=True),
            )
        ),
    )
    return scene if feed is USUAL_FEED else mirrored(scene)


def _standing(cuts: Cuts, top: Mm) -> Outline:
    """The upright piece on its end, its inside at x = 0; the broken upper edge first."""
    through = cuts.upright_thickness
    cut = [
        (min(max(cuts.fence_upright - inset, 0.0), through), cuts.bit_height - depth)
        for depth, inset in cuts.profile.between(0.0, cuts.bit_height)
    ]
    points: list[Point] = [(through, top), (0.0, top), (0.0, cuts.bit_height), *cut, (through, 0.0)]
    kept = [point for point, before in zip(points, [None, *points], strict=False) if point != before]
    return tuple(kept)


def _machine(fence_top: Mm, right: Mm, scale: float) -> list[Item]:
    """Fence and table, cut through and hatched."""
    fence = _scaled(box(-FENCE_WIDTH, 0.0, 0.0, fence_top), scale)
    table = _scaled(box(-FENCE_WIDTH, -TABLE_DEPTH, right, 0.0), scale)
    return [
        Path(table, Ink.NONE, Layer.MACHINE, closed=True, fill=Fill.PAPER),
        waste(table, 1.8, Layer.MACHINE),
        Path((table[3], table[2]), Ink.OUTLINE, Layer.MACHINE),
        waste(fence, 2.4, Layer.MACHINE),
        Path((fence[0], fence[3], fence[2], fence[1]), Ink.OUTLINE, Layer.MACHINE),
    ]


def _scaled(points: Sequence[Point], scale: float) -> tuple[Point, ...]:
    return tuple((x * scale, y * scale) for x, y in points)


def _cutter(cuts: Cuts, fence: Mm, diameter: Mm | None, scale: float) -> list[Item]:
    """The half of the cutter that works, from its axis (or as much as is drawn) to its edge."""
    drawn = cuts.profile.between(0.0, cuts.bit_height + TABLE_DEPTH)
    deepest = max(inset for _, inset in drawn)
    radius = diameter / 2 if diameter else UNKNOWN_RADIUS
    back = fence - max(min(radius, MOST_RADIUS), deepest + 3.0)
    edge = [(fence - inset, cuts.bit_height - depth) for depth, inset in drawn]
    body = _scaled([(back, cuts.bit_height), *edge, (back, -TABLE_DEPTH)], scale)
    items: list[Item] = [Path(body, Ink.OUTLINE, Layer.MACHINE, closed=True, fill=Fill.STEEL)]
    if diameter and abs(fence - diameter / 2 - back) < 1e-6:
        axis = _scaled([(back, cuts.bit_height + 3.0), (back, -TABLE_DEPTH - 1.0)], scale)
        items.append(Path(axis, Ink.AXIS, Layer.MACHINE))
    return items


def _inside_face(
    cuts: Cuts, fence: Mm, role: Role, ends: tuple[Mm, Mm], scale: float, style: LengthStyle
) -> list[Item]:
    """The inside face: a ticked line in the accent colour along it, and its name inside the wood."""
    top, far = ends
    if role is Role.FLAT:
        start, end = (fence * scale + 1.0, 0.0), (far * scale, 0.0)
        where, angle = ((fence + far) / 2 * scale, cuts.flat_thickness * scale / 2), 0.0
        wood, room = Fill.WOOD, (far - fence) * scale
        ticks: tuple[Segment, ...] = tuple(((x, 0.0), (x, 1.4)) for x in _steps(start[0], end[0]))
    else:
        start, end = (0.0, cuts.bit_height * scale + 1.0), (0.0, top * scale)
        where, angle = (
            (
                cuts.upright_thickness * scale / 2,
                (cuts.bit_height + top) / 2 * scale,
            ),
            90.0,
        )
        wood, room = Fill.WOOD_BEHIND, (top - cuts.bit_height) * scale
        ticks = tuple(((0.0, y), (1.4, y)) for y in _steps(start[1], end[1]))
    items: list[Item] = [
        Path((start, end), Ink.MARK, Layer.CONTACT),
        Strokes(ticks, Ink.MARK, Layer.CONTACT),
    ]
    size, name = 2.2, style.say(phrase("inside"))
    if text_width(name, size) + 2 * CLEAR <= room:
        items.append(Text(where, name, size, "middle", "middle", angle, halo=wood))
    return items


def _steps(start: Mm, end: Mm, pitch: Mm = 3.0) -> list[Mm]:
    count = max(int((end - start) / pitch), 1)
    return [start + (end - start) * (n + 0.5) / count for n in range(count)]
