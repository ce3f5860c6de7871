"""A bar of known length, so that a printed page can be checked before anything is laid on it."""

from __future__ import annotations

from drawerwright.basics.lengths import MM_PER_INCH, LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawings.scene import Fill, Ink, Item, Layer, Path, Scene, Strokes, Text, box, framed

BAR_LENGTH: Mm = 100.0
INCHES = 4
BETWEEN: Mm = 9.0
"""From one bar to the next."""


def draw_check_bar(length: Mm = BAR_LENGTH, *, style: LengthStyle | None = None) -> Scene:
    """A bar of `length` (mm) with a tick every 10 mm, black and white by turns; for readers of inches one of 4 in
    above it."""
    style = style or LengthStyle()
    metric = phrase("{length:g} mm", length=length)
    in_inches = phrase("{length} in", length=INCHES)
    if style.unit == "mm":
        items = _bar(0.0, 10.0, int(length // 10))
        words = phrase(
            "This bar must measure {length} on paper. If it does not, print again at 100 %.", length=metric
        )
        described = phrase("A bar {length} long.", length=metric)
    else:
        items = [*_bar(0.0, 10.0, int(length // 10)), *_bar(BETWEEN, MM_PER_INCH, INCHES)]
        items += [
            Text(
                (INCHES * MM_PER_INCH + 2.0, level + 1.0),
                style.say(name),
                2.3,
                "start",
                "middle",
                layer=Layer.DIMENSION,
            )
            for name, level in ((metric, 0.0), (in_inches, BETWEEN))
        ]
        words = phrase(
            "These bars must measure {inches} and {length} on paper. If they do not, print again at 100 %.",
            inches=in_inches,
            length=metric,
        )
        described = phrase("A bar {inches} and a bar {length} long.", inches=in_inches, length=metric)
    items.append(Text((length / 2, -2.4), style.say(words), 2.3, "middle", "top", layer=Layer.DIMENSION))
    return framed(style.say(phrase("Check bar")), items, margin=1.0, description=style.say(described))


def _bar(level: Mm, field: Mm, fields: int) -> list[Item]:
    """A bar of so many fields (mm), black and white by turns, its lower edge at `level`."""
    end, top = field * fields, level + 2.0
    return [
        *(
            Path(
                box(field * n, level, field * (n + 1), top),
                Ink.NONE,
                Layer.DIMENSION,
                closed=True,
                fill=Fill.INK,
            )
            for n in range(0, fields, 2)
        ),
        Path(box(0.0, level, end, top), Ink.FINE, Layer.DIMENSION, closed=True),
        Strokes(
            (((0.0, level - 1.5), (0.0, level + 3.5)), ((end, level - 1.5), (end, level + 3.5))),
            Ink.FINE,
            Layer.DIMENSION,
        ),
    ]
