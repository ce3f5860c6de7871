"""How likely a cut fits: the misfit to expect, with the range that counts as a fit.

::

               .-~~-.
            .-'|####|'-.          hatched: fits
        __.-'  |####|   '-.__
        -------+----+-------->   misfit: too low (play) to the left, too high (stands proud) to the right
"""

from __future__ import annotations

import math

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.drawings.hatching import waste
from drawerwright.drawings.scene import Fill, Ink, Item, Layer, Path, Point, Scene, Strokes, Text, framed

WIDTH: Mm = 90.0
HEIGHT: Mm = 24.0
LETTERS: Mm = 3.2
"""On a phone the picture is not quite as wide."""
REACH = 3.5
"""How many standard deviations are drawn to either side."""
STEPS = 80
NARROWEST: Mm = 0.002
"""What is known better than this is drawn as if it were known so well."""


def draw_odds(
    known: Estimate,
    low: Mm,
    high: Mm,
    *,
    style: LengthStyle | None = None,
    words: tuple[str, str] = ("", ""),
) -> Scene:
    """The distribution of a misfit or a lip (mm) and the part of it that fits.

    Args:
        known: the figure with its standard uncertainty.
        low, high: the range that fits.
        style: how lengths are written.
        words: what it means to lie below and above the range.
    """
    style = style or LengthStyle()
    spread = max(known.uncertainty, NARROWEST)
    first = min(known.value - REACH * spread, low - spread)
    last = max(known.value + REACH * spread, high + spread)
    scale = WIDTH / (last - first)

    def at(misfit: float) -> Point:
        return (misfit - first) * scale, HEIGHT * math.exp(-0.5 * ((misfit - known.value) / spread) ** 2)

    line = tuple(at(first + (last - first) * step / STEPS) for step in range(STEPS + 1))
    within = [at(low + (high - low) * step / STEPS) for step in range(STEPS + 1)]
    fitting = ((within[0][0], 0.0), *within, (within[-1][0], 0.0))
    items: list[Item] = [
        Path(fitting, Ink.FINE, Layer.CONTACT, closed=True, fill=Fill.NONE),
        waste(fitting, layer=Layer.CONTACT),
        Path(line, Ink.OUTLINE, Layer.DIMENSION),
        Path(((0.0, 0.0), (WIDTH, 0.0)), Ink.FINE, Layer.DIMENSION),
        Strokes(
            tuple(((x, -1.5), (x, 0.0)) for x in (within[0][0], within[-1][0])), Ink.OUTLINE, Layer.DIMENSION
        ),
    ]
    for limit, anchor in ((low, "end"), (high, "start")):
        x = (limit - first) * scale
        shown = style.show(limit, fine=True)
        items.append(Text((x, -2.5), shown, LETTERS, anchor, level="top", layer=Layer.DIMENSION))  # type: ignore[arg-type]
    if words[0]:
        items.append(Text((0.0, -8.0), f"← {style.say(words[0])}", LETTERS, level="top"))
    if words[1]:
        items.append(Text((WIDTH, -8.0), f"{style.say(words[1])} →", LETTERS, "end", level="top"))
    share = known.chance(low, high)
    return framed(
        style.say(phrase("Odds")),
        items,
        description=style.say(
            phrase(
                "Expected {value}, standard uncertainty {uncertainty}; {percent:.0f} percent "
                "falls in the range that fits.",
                value=style.written(known.value, fine=True),
                uncertainty=style.written(known.uncertainty, fine=True),
                percent=100 * share,
            )
        ),
    )
