"""The corner in section: as the settings mean it to be, with the names of its places and its dimensions."""

from __future__ import annotations

from collections.abc import Sequence

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawings.dimensioning import Dimension, Side, dimension_rows, note
from drawerwright.drawings.hatching import grain
from drawerwright.drawings.lettering import text_width
from drawerwright.drawings.scene import Fill, Ink, Item, Layer, Path, Point, Scene, Text, framed
from drawerwright.joints.corner import Cuts, Gap, flat_section, upright_section
from drawerwright.joints.joint import Span, joint_of
from drawerwright.joints.setting import CornerSetting

FULL_SIZE = 1.0
ENLARGED = 4.0
"""Paper per thing at which the places of a corner in common stock have room for their names."""
NAME_SIZE: Mm = 2.8

CORNER = phrase("Corner")
FLAT_PIECE = phrase("flat piece")
UPRIGHT_PIECE = phrase("upright piece")


def draw_corner(
    setting: CornerSetting,
    *,
    scale: float = ENLARGED,
    annotated: bool = True,
    style: LengthStyle | None = None,
    flat_name: str = FLAT_PIECE,
    upright_name: str = UPRIGHT_PIECE,
    title: str = CORNER,
) -> Scene:
    """A corner at its settings.

    Args:
        setting: cutter, thicknesses and machine settings.
        scale: paper per thing; 1 prints at full size.
        annotated: with names and dimensions, which need a scale of about 3 and more in common stock; without
            them the drawing is clean enough to lay the wood on.
        style: how lengths and words are written.
        flat_name, upright_name: what the pieces are in this corner (front, side).
    """
    style = style or LengthStyle()
    cuts = Cuts.of(setting)
    shown = _ShownLengths.of(cuts, setting, 1.2 if annotated else 0.7)
    upright = upright_section(cuts, setting.seated_lip, setting.engagement, shown.upright)
    items = [
        *piece(flat_section(cuts, shown.flat), scale, Fill.WOOD, 0.0),
        *piece(upright, scale, Fill.WOOD_BEHIND, 90.0),
    ]
    if annotated:
        items += _dimensions(setting, shown, scale, style)
        items += _names(setting, shown, scale, style, (flat_name, upright_name))
    return framed(
        style.say(title),
        items,
        scale=scale,
        description=style.say(
            phrase(
                "Section of a corner. {flat_name} {flat} thick, {upright_name} {upright} thick, bit height {height}, "
                "engagement {engagement}, lip {lip}.",
                flat_name=flat_name,
                flat=style.written(setting.corner.flat_thickness, fine=True),
                upright_name=upright_name,
                upright=style.written(setting.corner.upright_thickness, fine=True),
                height=style.written(setting.bit_height, fine=True),
                engagement=style.written(setting.engagement, fine=True),
                lip=style.written(setting.seated_lip, fine=True),
            )
        ),
    )


class _ShownLengths:
    """How much of both pieces is drawn (mm of wood)."""

    def __init__(self, flat: Mm, upright: Mm) -> None:
        self.flat = flat
        self.upright = upright

    @classmethod
    def of(cls, cuts: Cuts, setting: CornerSetting, more: float) -> _ShownLengths:
        """Enough for the joint, and `more` thicknesses beyond it."""
        reach = max(cuts.fence_flat, setting.lip + cuts.upright_thickness)
        return cls(reach + more * cuts.flat_thickness, cuts.bit_height + more * cuts.upright_thickness)


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
    setting: CornerSetting, shown: _ShownLengths, scale: float, style: LengthStyle
) -> tuple[Item, ...]:
    lip, tip = setting.seated_lip, setting.engagement
    flat, upright = setting.corner.flat_thickness, setting.corner.upright_thickness
    inside, far, foot = lip + upright, shown.flat * scale, (tip - shown.upright) * scale

    def measure(span: Span) -> Dimension:
        figure = style.show(abs(span.end - span.start), fine=True)
        feet = (None if foot is None else foot * scale for foot in span.feet)
        return Dimension(
            span.start * scale, span.end * scale, f"{style.say(span.name)} {figure}".strip(), *feet
        )

    spans = joint_of(setting.cutter).spans(setting)
    lips = (Span(0.0, lip, phrase("lip")),) if abs(lip) > 0.005 else ()
    low = min(0.0, lip) * scale
    return (
        *dimension_rows([*map(measure, (*spans.above, *lips))], Side.ABOVE, flat * scale),
        *dimension_rows([*map(measure, (Span(lip, inside), *spans.below))], Side.BELOW, foot),
        *dimension_rows([*map(measure, spans.left)], Side.LEFT, low),
        *dimension_rows([measure(Span(0.0, flat))], Side.RIGHT, far),
    )


def _names(
    setting: CornerSetting, shown: _ShownLengths, scale: float, style: LengthStyle, names: tuple[str, str]
) -> list[Item]:
    lip, tip = setting.seated_lip, setting.engagement
    flat, upright = setting.corner.flat_thickness, setting.corner.upright_thickness
    inside = lip + upright
    reach = max(setting.fence_flat, inside)
    foot = tip - shown.upright
    items: list[Item] = [
        Text(
            ((reach + shown.flat) / 2 * scale + 1, flat * scale * 0.62),
            style.say(names[0]),
            NAME_SIZE,
            "middle",
            "middle",
            bold=True,
            halo=Fill.WOOD,
        ),
        Text(
            ((lip + inside) / 2 * scale, (foot + min(tip - setting.bit_height, 0.0)) / 2 * scale),
            style.say(names[1]),
            NAME_SIZE,
            "middle",
            "middle",
            90.0,
            bold=True,
            halo=Fill.WOOD_BEHIND,
        ),
    ]
    outside = (inside * scale + 8, -7.0)
    for place in joint_of(setting.cutter).places(setting):
        word, (x, y), (room_x, room_y) = style.say(place.name), place.middle, place.room
        wood = Fill.WOOD_BEHIND if place.on_upright else Fill.WOOD
        fits = text_width(word, NAME_SIZE) + 1 <= room_x * scale and room_y * scale >= NAME_SIZE
        if fits:
            items.append(Text((x * scale, y * scale), word, NAME_SIZE, "middle", "middle", halo=wood))
        else:
            items += note(word, outside, (x * scale, y * scale), size=NAME_SIZE)
            outside = (outside[0], outside[1] - 5.0)
    return items
