"""What is written along the routed edges of a band: its number, its ends, the face that is up.

::

    |¦ front end · band 4 · 432.0 × 560.8 mm                    inside face up |
    |¦  <- ticked: the marked front edge; left and right the heavy edges        |
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.drawings.lettering import text_width
from drawerwright.drawings.scene import Fill, Ink, Item, Layer, Path, Point, Strokes, Text

NAME: Mm = 1.9
"""Size of the line that names the band, which is looked for at every machine; it is bold."""
SMALL: Mm = 1.6
BESIDE_CUT: Mm = 0.6
"""A heavy edge keeps so far from the line of the saw cut that makes it."""
MARGIN_AT_ENDS: Mm = 4.2
"""Room along the routed edges of a band for these marks."""


@dataclass(frozen=True, slots=True)
class BandEnds:
    """What has to be written on a band before it is routed.

    `low_end` is the routed edge at the lower coordinate (left, or bottom for a turned band), `high_end` the
    other one; `face_up` says which face looks at the reader. `marked` names the edge that carries the ticked
    mark, None for none. Both edges are drawn heavy where they `are_shown`.
    """

    low_end: str = ""
    high_end: str = ""
    face_up: str = ""
    marked: str | None = None
    are_shown: bool = True


def band_marks(
    corners: Sequence[Point],
    turned: bool,
    ends: BandEnds | None,
    named: Sequence[str],
    style: LengthStyle,
    size: Mm = NAME,
) -> tuple[list[Item], bool]:
    """The marks of a band, and whether there was room for its name.

    Args:
        corners: of the band on paper (mm).
        turned: whether its routed edges run along x.
        ends: what its ends are called; None where nothing is known of them.
        named: the band's name, the fullest first.
        style: the words of its ends are written in.
        size: of the line that names the band.
    """
    (left, bottom), (right, top) = corners[0], corners[2]
    ends = ends or BandEnds()
    items: list[Item] = []
    low_end, high_end = style.say(ends.low_end), style.say(ends.high_end)
    low_texts = [f"{low_end} · {name}" for name in named if low_end] + list(named)
    high_texts = [" · ".join(filter(None, (high_end, style.say(ends.face_up)))), high_end]
    is_named = False
    for end, texts, letters, is_high in (
        (low_end, low_texts, size, False),
        (high_end, high_texts, SMALL, True),
    ):
        inward = -1.0 if is_high else 1.0
        edge = (top if is_high else bottom) if turned else (right if is_high else left)
        is_marked = ends.marked is not None and end == style.say(ends.marked)
        if is_marked or ends.are_shown:
            line = edge + inward * BESIDE_CUT
            span = ((left, line), (right, line)) if turned else ((line, bottom), (line, top))
            items.append(Path(span, Ink.MARK, Layer.NAME))
            if is_marked:
                items.append(Strokes(_edge_ticks(span, inward), Ink.MARK, Layer.NAME))
        room = (right - left if turned else top - bottom) - 2.0
        text = next((text for text in texts if text and text_width(text, letters) <= room), None)
        if text is None:
            continue
        is_named = is_named or not is_high
        at = edge + inward * 2.9
        middle = (left + right) / 2 if turned else (bottom + top) / 2
        place = (middle, at) if turned else (at, middle)
        angle = 0.0 if turned else 90.0
        items.append(Text(place, text, letters, "middle", "middle", angle, bold=not is_high, halo=Fill.WOOD))
    return items, is_named


def _edge_ticks(span: tuple[Point, Point], inward: float) -> tuple[tuple[Point, Point], ...]:
    (x0, y0), (x1, y1) = span
    level = y0 == y1
    length = abs(x1 - x0) + abs(y1 - y0)
    count = max(int(length / 6), 1)
    ticks = []
    for n in range(count):
        share = (n + 0.5) / count
        x, y = x0 + (x1 - x0) * share, y0 + (y1 - y0) * share
        ticks.append(((x, y), (x, y + inward * 0.9) if level else (x + inward * 0.9, y)))
    return tuple(ticks)
