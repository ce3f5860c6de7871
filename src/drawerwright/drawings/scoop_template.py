"""The template of a scoop at full size: its edge, its middle and its depth, to prick through or to cut out."""

from __future__ import annotations

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.parts import Part
from drawerwright.drawers.scoop import Scoop
from drawerwright.drawings.dimensioning import Dimension, Side, dimension_rows
from drawerwright.drawings.lettering import CAP_HEIGHT
from drawerwright.drawings.scales import fitting_scale, scale_name
from drawerwright.drawings.scene import Fill, Ink, Item, Layer, Path, Scene, Text, extent, framed

PAPER: Mm = 172.0
"""A wider scoop does not go on a page at full size; in DXF it is so all the same."""
WOOD: Mm = 14.0
"""How much of the front is drawn round the scoop."""


def draw_scoop(scoop: Scoop, fronts: tuple[Part, ...], *, style: LengthStyle | None = None) -> Scene:
    """A scoop for these fronts, at full size where it goes on the page."""
    style = style or LengthStyle()
    wide, tall = scoop.width + 2 * WOOD, scoop.depth + WOOD
    scale = 1.0 if wide <= PAPER else fitting_scale(wide, tall, PAPER, 100.0)
    edge = [(x * scale, y * scale) for x, y in scoop.outline(wide, tall)]
    around = [(wide * scale, tall * scale), (wide * scale, 0.0), (0.0, 0.0), (0.0, tall * scale)]
    middle = wide / 2 * scale
    items: list[Item] = [
        Path((*edge, *around), Ink.OUTLINE, closed=True, fill=Fill.WOOD),
        Path(((middle, -4.0), (middle, tall * scale + 4.0)), Ink.AXIS, Layer.MACHINE),
    ]
    left, right = edge[0][0], edge[-1][0]
    items += dimension_rows([Dimension(left, right, style.show(scoop.width))], Side.ABOVE, tall * scale)
    items += dimension_rows(
        [Dimension((tall - scoop.depth) * scale, tall * scale, style.show(scoop.depth), None, middle)],
        Side.RIGHT,
        wide * scale,
    )
    lines = (
        phrase(
            "Scoop for {fronts} · scale {scale}",
            fronts=names_in_row([part.drawer for part in fronts]),
            scale=scale_name(scale, style.decimal_sign),
        ),
        phrase(
            "corners of radius {radius}; the axis on the middle of the front, the ends level with its upper edge",
            radius=style.written(scoop.radius),
        ),
    )
    level = extent(items)[3] + 8.0
    for number, line in enumerate(lines):
        at = (middle, level - 4.0 * number - CAP_HEIGHT)
        items.append(Text(at, style.say(line), 2.2 if number else 3.0, "middle", bold=not number))
    return framed(
        style.say(phrase("Scoop")),
        items,
        scale=scale,
        description=style.say(
            phrase(
                "Template of a scoop {width} wide and {depth} deep for {fronts}.",
                width=style.written(scoop.width),
                depth=style.written(scoop.depth),
                fronts=names_in_row([part.drawer for part in fronts]),
            )
        ),
    )
