"""A bar of known length, so that a printed page can be checked before anything is laid on it."""

from __future__ import annotations

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawings.scene import Fill, Ink, Item, Layer, Path, Scene, Strokes, Text, box, framed

BAR_LENGTH: Mm = 100.0


def draw_check_bar(length: Mm = BAR_LENGTH, *, style: LengthStyle | None = None) -> Scene:
    """A bar of `length` (mm) with a tick every 10 mm, black and white by turns."""
    style = style or LengthStyle()
    fields = int(length // 10)
    items: list[Item] = [
        Path(box(10.0 * n, 0.0, 10.0 * n + 10.0, 2.0), Ink.NONE, Layer.DIMENSION, closed=True, fill=Fill.INK)
        for n in range(0, fields, 2)
    ]
    items.append(Path(box(0.0, 0.0, length, 2.0), Ink.FINE, Layer.DIMENSION, closed=True))
    items.append(
        Strokes((((0.0, -1.5), (0.0, 3.5)), ((length, -1.5), (length, 3.5))), Ink.FINE, Layer.DIMENSION)
    )
    items.append(
        Text(
            (length / 2, -1.2),
            style.say(
                phrase(
                    "This bar must measure {length:g} mm on paper. If it does not, print again at 100 %.",
                    length=length,
                )
            ),
            2.3,
            "middle",
            "top",
            layer=Layer.DIMENSION,
        )
    )
    return framed(
        style.say(phrase("Check bar")),
        items,
        margin=1.0,
        description=style.say(phrase("A bar {length:g} mm long.", length=length)),
    )
