"""The corner in section: as the settings mean it to be, with the names of its places and its dimensions."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import joined, phrase
from drawerwright.drawings.dimensioning import FIGURE_SIZE, Dimension, Side, dimension_rows, note
from drawerwright.drawings.hatching import grain
from drawerwright.drawings.lettering import text_width
from drawerwright.drawings.scene import Fill, Ink, Item, Layer, Path, Point, Scene, Text, framed
from drawerwright.joints.corner import Gap, Outline
from drawerwright.joints.joint import MadeCorner, joint_named
from drawerwright.joints.section_marks import Span

FULL_SIZE = 1.0
ENLARGED = 4.0
"""Paper per thing at which the places of a corner in common stock have room for their names."""
BEYOND = 1.2
"""Thicknesses of wood drawn beyond the joint, so that it shows which way each piece runs on."""
LEAN = 0.8, 1.2
"""The same of the flat and the upright piece where width is dear and height is not."""
NAME_SIZE: Mm = FIGURE_SIZE
"""Names and figures have one size of lettering."""

NAME_CLEAR: Mm = 4.0
"""Of the flat piece's name to the joint and to the break, together."""
BELOW_FLAT: Mm = 5.0
NOTE_PITCH: Mm = 4.2
"""Names beside the upright piece: below the flat one, and above the dimensions of the upright one's thickness."""

CORNER = phrase("Corner")
FLAT_PIECE = phrase("flat piece")
UPRIGHT_PIECE = phrase("upright piece")


def draw_corner(
    made: MadeCorner,
    *,
    scale: float = ENLARGED,
    annotated: bool = True,
    beside_figures: bool = False,
    style: LengthStyle | None = None,
    flat_name: str | None = None,
    upright_name: str | None = None,
    title: str = CORNER,
    parting: Sequence[Point] = (),
) -> Scene:
    """A corner as it is made, put together.

    Args:
        made: what it is, and with a cutter the machine settings.
        scale: paper per thing; 1 prints at full size.
        annotated: with names and dimensions, which need a scale of about 3 and more in common stock; without
            them the drawing is clean enough to lay the wood on.
        beside_figures: details stand beside the drawing, and room is dear: it does without them and
            shows less of the flat piece.
        style: how lengths and words are written.
        flat_name, upright_name: what the pieces are in this corner (front, side).
        title: of the drawing.
        parting: the line along which it comes apart first, in the joint's frame (mm).
    """
    style = style or LengthStyle()
    joint = joint_named(made.kind)
    names = flat_name or joint.piece_names[0], upright_name or joint.piece_names[1]
    more_flat, more_upright = LEAN if beside_figures else (BEYOND, BEYOND) if annotated else (0.7, 0.7)
    if annotated:  # a long name keeps clear of the break
        room = (text_width(style.say(names[0]), NAME_SIZE) + NAME_CLEAR) / scale
        more_flat = max(more_flat, room / made.corner.flat_thickness)
    shown = _ShownPieces.of(made, more_flat, more_upright)
    items = [
        *piece(shown.flat, scale, Fill.WOOD, 0.0),
        *piece(shown.upright, scale, Fill.WOOD_BEHIND, 0.0 if joint.upright_lies else 90.0),
    ]
    if parting:
        line = tuple((x * scale, y * scale) for x, y in parting)
        items.append(Path(line, Ink.MARK, Layer.CONTACT))
    if annotated:
        items += _dimensions(made, shown, scale, style, with_details=not beside_figures)
        items += _names(made, shown, scale, style, names, with_details=not beside_figures)
    words = joined(joint.section_words(made, names, style), " ")
    return framed(style.say(title), items, scale=scale, description=style.say(words))


@dataclass(frozen=True, slots=True)
class _ShownPieces:
    """Both pieces as far as they are drawn (mm of wood)."""

    flat: Outline
    upright: Outline

    @classmethod
    def of(cls, made: MadeCorner, more_flat: float, more_upright: float) -> _ShownPieces:
        """Enough for the joint, and so many thicknesses beyond it."""
        joint, corner = joint_named(made.kind), made.corner
        along_flat, along_upright = joint.reaches(made)
        return cls(
            joint.flat_outline(made, along_flat + more_flat * corner.flat_thickness),
            joint.upright_outline(
                made,
                made.seated_lip,
                made.engagement,
                along_upright + more_upright * corner.upright_thickness,
            ),
        )

    @property
    def low(self) -> Point:
        """Least x and y of both."""
        both = (*self.flat, *self.upright)
        return min(x for x, _ in both), min(y for _, y in both)

    @property
    def top(self) -> Mm:
        """Greatest y of both."""
        return max(y for _, y in (*self.flat, *self.upright))

    @property
    def far(self) -> Mm:
        """Greatest x of the flat piece."""
        return max(x for x, _ in self.flat)


def piece(outline: Sequence[Point], scale: float, fill: Fill, fibre: float, dx: Mm = 0.0) -> list[Item]:
    """One piece in section: filled, its fibres along `fibre` degrees, its first edge broken off.

    `outline` is in mm of wood and begins with the edge where the drawing stops, as the sections of
    `drawerwright.joints.corner` do; `dx` moves the result on paper.
    """
    points = tuple((x * scale + dx, y * scale) for x, y in outline)
    return [
        Path(points, Ink.NONE, closed=True, fill=fill),
        grain(points, fibre),
        Path((*points[1:], points[0])),
        Path(_torn(points[0], points[1]), Ink.FINE),
    ]


def _torn(start: Point, end: Point) -> tuple[Point, ...]:
    """A break line: straight with one zigzag in the middle."""
    (x0, y0), (x1, y1) = start, end
    dx, dy = x1 - x0, y1 - y0
    length = (dx * dx + dy * dy) ** 0.5 or 1.0
    swing = min(2.0, length / 8)
    ux, uy = dx / length, dy / length

    def at(along: Mm, aside: Mm) -> Point:
        return x0 + dx / 2 + along * ux - aside * uy, y0 + dy / 2 + along * uy + aside * ux

    return (start, at(-swing, 0), at(-swing / 2, swing), at(swing / 2, -swing), at(swing, 0), end)


def gap_items(gaps: Sequence[Gap], scale: float, dx: Mm = 0.0) -> list[Item]:
    """Daylight: every gap as light ground with a fine edge."""
    return [
        Path(
            tuple((x * scale + dx, y * scale) for x, y in gap.outline),
            Ink.FINE,
            Layer.GAP,
            closed=True,
            fill=Fill.DAYLIGHT,
        )
        for gap in gaps
    ]


def _dimensions(
    made: MadeCorner, shown: _ShownPieces, scale: float, style: LengthStyle, *, with_details: bool
) -> tuple[Item, ...]:
    def measure(span: Span) -> Dimension:
        figure = style.show(abs(span.end - span.start), fine=True)
        feet = (None if foot is None else foot * scale for foot in span.feet)
        return Dimension(
            span.start * scale, span.end * scale, f"{style.say(span.name)} {figure}".strip(), *feet
        )

    left, foot = shown.low
    edges = {Side.ABOVE: shown.top, Side.BELOW: foot, Side.LEFT: left, Side.RIGHT: shown.far}
    return tuple(
        item
        for side, row in _measured(made, with_details)
        for item in dimension_rows(
            [measure(span) for span in row],
            side,
            edges[side] * scale,
            # Left of the corner stand the heights.
            within=(left * scale, math.inf) if side in (Side.ABOVE, Side.BELOW) else (-math.inf, math.inf),
        )
    )


def _measured(made: MadeCorner, with_details: bool) -> list[tuple[Side, list[Span]]]:
    """What is dimensioned of a corner, by the side that it stands on."""
    spans = joint_named(made.kind).spans(made)
    rows = (
        (Side.ABOVE, spans.above),
        (Side.BELOW, spans.below),
        (Side.LEFT, spans.left),
        (Side.RIGHT, spans.right),
    )
    return [(side, [span for span in row if with_details or not span.is_detail]) for side, row in rows]


def _names(
    made: MadeCorner,
    shown: _ShownPieces,
    scale: float,
    style: LengthStyle,
    names: tuple[str, str],
    *,
    with_details: bool,
) -> list[Item]:
    """The names of pieces and places; a place too small for its own stands in its dimension, or at a leader."""
    joint, lip, tip = joint_named(made.kind), made.seated_lip, made.engagement
    flat, upright = made.corner.flat_thickness, made.corner.upright_thickness
    inside = lip + upright
    reach, height = joint.reaches(made)
    left, foot = shown.low
    middle: Point = (lip + inside) / 2 * scale, (foot + min(tip - height, 0.0)) / 2 * scale
    if joint.upright_lies:
        middle = left / 2 * scale, (tip - 0.38 * upright) * scale
    items: list[Item] = [
        Text(
            ((reach + shown.far) / 2 * scale + 1, flat * scale * 0.62),
            style.say(names[0]),
            NAME_SIZE,
            "middle",
            "middle",
            bold=True,
            halo=Fill.WOOD,
        ),
        Text(
            middle,
            style.say(names[1]),
            NAME_SIZE,
            "middle",
            "middle",
            0.0 if joint.upright_lies else 90.0,
            bold=True,
            halo=Fill.WOOD_BEHIND,
        ),
    ]
    outside = (inside * scale + 8, -BELOW_FLAT)
    measured = {style.say(span.name) for _side, row in _measured(made, with_details) for span in row}
    for place in joint.places(made):
        word, (x, y), (room_x, room_y) = style.say(place.name), place.middle, place.room
        wood = Fill.WOOD_BEHIND if place.on_upright else Fill.WOOD
        fits = text_width(word, NAME_SIZE) + 1 <= room_x * scale and room_y * scale >= NAME_SIZE
        if fits:
            items.append(Text((x * scale, y * scale), word, NAME_SIZE, "middle", "middle", halo=wood))
        elif word not in measured:
            items += note(word, outside, (x * scale, y * scale), size=NAME_SIZE)
            outside = (outside[0], outside[1] - NOTE_PITCH)
    return items
