"""How far a bottom sags: seen from the front between the sides, the sag drawn deeper than it is, its limit beside it.

::

        |#|                     |#|
        |#|=__               __=|#|
        |#|   '''--._____.--'''  |#|
              - - - - - - - -  limit 1.9 mm
                 sags 1.2 mm
"""

from __future__ import annotations

import math

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawings.hatching import grain
from drawerwright.drawings.scene import Fill, Ink, Item, Layer, Path, Point, Scene, Text, box, framed
from drawerwright.strength.bottom_load import LoadedBottom

WIDTH: Mm = 80.0
SIDE: Mm = 3.5
HIGH: Mm = 9.0
"""How much of the sides is shown above the bottom."""
THICK: Mm = 2.2
DEEPEST: Mm = 9.0
"""The greater of sag and limit is drawn so deep."""
STEPS = 24
LETTERS: Mm = 2.8


def draw_sag(bottom: LoadedBottom, *, style: LengthStyle | None = None) -> Scene:
    """A bottom under its load."""
    style = style or LengthStyle()
    scale = DEEPEST / max(bottom.deflection, bottom.sag_limit)
    sag, limit = bottom.deflection * scale, bottom.sag_limit * scale

    def hangs(level: Mm) -> tuple[Point, ...]:
        shares = (step / STEPS for step in range(STEPS + 1))
        return tuple((WIDTH * share, level - sag * math.sin(math.pi * share)) for share in shares)

    items: list[Item] = []
    for left in (-SIDE, WIDTH):
        wood = box(left, -3 * THICK, left + SIDE, HIGH)
        items += [Path(wood, closed=True, fill=Fill.WOOD), grain(wood, 90.0)]
    strip = (*hangs(0.0), *reversed(hangs(-THICK)))
    items.append(Path(strip, Ink.MARK if bottom.sags else Ink.OUTLINE, closed=True, fill=Fill.WOOD_BEHIND))
    low, beside = -THICK - limit, WIDTH + SIDE + 2.0
    items.append(Path(((WIDTH * 0.15, low), (beside, low)), Ink.HIDDEN, Layer.DIMENSION))
    says = style.say(phrase("limit {limit}", limit=style.written(bottom.sag_limit)))
    items.append(Text((beside + 1.0, low), says, LETTERS, "start", "middle", layer=Layer.DIMENSION))
    words = style.say(phrase("sags {sag}", sag=style.written(bottom.deflection)))
    below = -THICK - max(sag, limit) - 2.0
    items.append(Text((WIDTH / 2, below), words, LETTERS, "middle", "top", bold=True))
    return framed(
        style.say(phrase("Bottom under its load")),
        items,
        description=style.say(
            phrase(
                "the bottom sags {sag}, drawn deeper than it is; the limit is {limit}",
                sag=style.written(bottom.deflection),
                limit=style.written(bottom.sag_limit),
            )
        ),
    )
