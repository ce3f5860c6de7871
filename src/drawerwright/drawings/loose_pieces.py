"""Both test pieces of a joint that no self-mating cutter makes, loose, with a letter wherever calipers are held."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.drawings.corner_section import FULL_SIZE, piece
from drawerwright.drawings.dimensioning import Dimension, Side
from drawerwright.drawings.scene import Fill, Scene, side_by_side
from drawerwright.drawings.test_pieces import with_readings
from drawerwright.joints.loose_piece import LoosePiece

ROOM: Mm = 30.0
"""Paper for the width of one piece; a wider one is drawn smaller."""
BETWEEN: Mm = 3.0


def span_letters(pieces: Sequence[LoosePiece]) -> dict[str, str]:
    """The letter of each reading that calipers take on such pieces, by its name for commands."""
    spans = (
        span
        for each in pieces
        for side in (each.spans.left, each.spans.above, each.spans.below)
        for span in side
    )
    names = dict.fromkeys(span.name for span in spans)
    return {name: chr(ord("a") + place) for place, name in enumerate(names)}


def draw_loose_pieces(pieces: Sequence[LoosePiece], title: str, style: LengthStyle) -> Scene:
    """Side by side at one scale, the full size where they have room."""
    letters = span_letters(pieces)
    wide = max(max(x for x, _ in each.outline) - min(x for x, _ in each.outline) for each in pieces)
    scale = min(FULL_SIZE, ROOM / wide)
    return side_by_side(
        style.say(title), [_drawn(each, letters, scale, style) for each in pieces], gap=BETWEEN
    )


def _drawn(each: LoosePiece, letters: Mapping[str, str], scale: float, style: LengthStyle) -> Scene:
    spans = each.spans
    sides = {
        side: [
            Dimension(
                span.start * scale,
                span.end * scale,
                letters[span.name],
                *(None if foot is None else foot * scale for foot in span.feet),
            )
            for span in some
        ]
        for side, some in (
            (Side.LEFT, spans.left),
            (Side.ABOVE, spans.above),
            (Side.BELOW, spans.below),
            (Side.RIGHT, spans.right),
        )
    }
    wood = piece(each.outline, scale, Fill.WOOD_BEHIND if each.fibre else Fill.WOOD, each.fibre)
    return with_readings(style.say(each.name), wood, sides, each.outline, scale, "")
