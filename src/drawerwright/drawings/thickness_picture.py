"""How thick stock is on one scale: the published range hatched, nominal, every reading, and what is reckoned with.

::

               14.61 mm reckoned
                 |
              o oo            sheet 2
               oooo           sheet 1
        -------########|##########------
            14.30      |      15.30
                    nominal 15
"""

from __future__ import annotations

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import joined, phrase
from drawerwright.drawings.hatching import waste
from drawerwright.drawings.scene import (
    Circle,
    Ink,
    Item,
    Layer,
    Path,
    Scene,
    Text,
    box,
    framed,
)
from drawerwright.wood.thickness import Thickness

WIDTH: Mm = 90.0
RANGE_HEIGHT: Mm = 4.0
ROW: Mm = 2.6
"""From one sheet's readings to the next one's."""
DOT: Mm = 0.8
LETTERS: Mm = 3.7
"""On a phone the picture is four fifths of its size."""
BELOW: Mm = 2.0 + LETTERS
"""From the line to below the figures of the published range."""
MARGIN = 0.08
"""Of what is shown, left free at either end."""
LEAST_SHOWN: Mm = 0.2
"""A scale finer than this would make much of what calipers cannot tell."""


def draw_thickness(thickness: Thickness, *, style: LengthStyle | None = None) -> Scene | None:
    """One stock's thickness against its nominal and its published range; None where nothing but the nominal is
    known."""
    if thickness.is_provisional and thickness.published is None:
        return None
    style = style or LengthStyle()
    published, sheets = thickness.published, [sheet for sheet in thickness.readings if sheet]
    known = [thickness.nominal, thickness.value, *(value for sheet in sheets for value in sheet)]
    if published is not None:
        known += [published.low, published.high]
    middle, shown = (min(known) + max(known)) / 2, max(max(known) - min(known), LEAST_SHOWN)
    start = middle - shown * (0.5 + MARGIN)
    scale = WIDTH / (shown * (1 + 2 * MARGIN))

    def at(value: Mm) -> Mm:
        return (value - start) * scale

    top = RANGE_HEIGHT + ROW * (len(sheets) + 1)
    items: list[Item] = [Path(((0.0, 0.0), (WIDTH, 0.0)), Ink.FINE, Layer.DIMENSION)]
    if published is not None:
        outline = box(at(published.low), 0.0, at(published.high), RANGE_HEIGHT)
        items += [
            Path(outline, Ink.FINE, Layer.DIMENSION, closed=True),
            waste(outline, layer=Layer.DIMENSION),
        ]
        for limit, anchor in ((published.low, "end"), (published.high, "start")):
            figure = style.show(limit, fine=True)
            items.append(Text((at(limit), -2.0), figure, LETTERS, anchor, "top", layer=Layer.DIMENSION))  # type: ignore[arg-type]
    items.append(
        Path(
            ((at(thickness.nominal), -BELOW), (at(thickness.nominal), RANGE_HEIGHT)),
            Ink.OUTLINE,
            Layer.DIMENSION,
        )
    )
    nominal = style.say(phrase("nominal {size}", size=style.written(thickness.nominal)))
    items.append(
        Text((at(thickness.nominal), -BELOW - 1.0), nominal, LETTERS, "middle", "top", layer=Layer.DIMENSION)
    )
    for number, sheet in enumerate(sheets, start=1):
        level = RANGE_HEIGHT + ROW * number
        items += [Circle((at(value), level), DOT, Ink.FINE, Layer.DIMENSION) for value in sheet]
    reckoned, size = at(thickness.value), style.written(thickness.value, fine=True)
    words = style.say(
        phrase("not measured yet: using {size}", size=size)
        if thickness.is_provisional
        else phrase("{size} used", size=size)
    )
    items.append(Path(((reckoned, 0.0), (reckoned, top)), Ink.MARK, Layer.CONTACT))
    items.append(Text((reckoned, top + 1.0), words, LETTERS, "middle", bold=True))
    return framed(style.say(phrase("Thickness")), items, description=_in_words(thickness, style))


def _in_words(thickness: Thickness, style: LengthStyle) -> str:
    said = [
        phrase(
            "nominal {nominal}, {value} used",
            nominal=style.written(thickness.nominal),
            value=style.written(thickness.value, fine=True),
        )
    ]
    if thickness.spread is not None:
        low, high = thickness.spread
        said.append(
            phrase(
                "readings from {low} to {high}",
                low=style.written(low, fine=True),
                high=style.written(high, fine=True),
            )
        )
    if thickness.published is not None:
        said.append(
            phrase(
                "published range {low} to {high}",
                low=style.written(thickness.published.low, fine=True),
                high=style.written(thickness.published.high, fine=True),
            )
        )
    return style.say(joined(said, "; "))
