"""The jig of a finger row and both edges, as strips at true size; and both test pieces."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints.corner import Outline
from drawerwright.joints.jigs import JigStrip, Stretch, StripPart
from drawerwright.joints.kinds.finger.finger_row import FingerRow
from drawerwright.joints.loose_piece import LoosePiece
from drawerwright.joints.section_marks import Span, Spans
from drawerwright.joints.setting import CornerGeometry


def finger_jig(row: FingerRow) -> tuple[JigStrip, ...]:
    """Pin and cutter along the jig's fence, then the edges of the flat and the upright piece."""
    pin, cutter = (0.0, row.notch), (row.pitch, row.pitch + row.notch)
    jig = JigStrip(
        phrase("Jig, along its fence"),
        (Stretch(*pin, StripPart.PIN), Stretch(*cutter, StripPart.CUTTER)),
        (
            Span(*pin, phrase("pin")),
            Span(pin[1], cutter[0], phrase("gap")),
            Span(pin[0], cutter[0], phrase("pitch")),
        ),
    )
    flat, upright = row.notches_between, row.notches_at_ends
    return (
        jig,
        JigStrip(
            phrase("Edge with a finger at either end, from its lower end"),
            tuple(_stretches(flat, row.width)),
            (Span(0.0, flat[0][0]), Span(*flat[0])),
        ),
        JigStrip(
            phrase("Edge with a notch at either end, from its lower end"),
            tuple(_stretches(upright, row.width)),
            (Span(*upright[0]), Span(upright[0][1], upright[1][0])),
        ),
    )


SHOWN = 7
"""Fingers and gaps of a test piece that are drawn: enough to tell the row from one notch."""


def loose_combs(
    row: FingerRow, corner: CornerGeometry, names: tuple[Phrase, Phrase]
) -> tuple[LoosePiece, LoosePiece]:
    """The flat and the upright test piece seen from their inside faces, their first fingers."""
    shown = replace(row, width=min(row.width, SHOWN * row.finger))
    between, at_ends = shown.notches_between, shown.notches_at_ends
    spans = Spans(
        above=(Span(*between[0], "notch"), Span(between[0][1], _next(between, shown.width), "finger")),
        below=(Span(between[0][0], between[-1][0], "row"),) if len(between) > 1 else (),
    )
    first, second = at_ends[:2]
    of_upright = Spans(above=(Span(*first, "notch"), Span(first[1], second[0], "finger")))
    return (
        LoosePiece(names[0], _comb(between, shown.width, corner.upright_thickness), 90.0, spans),
        LoosePiece(names[1], _comb(at_ends, shown.width, corner.flat_thickness), 90.0, of_upright),
    )


def _next(notches: Sequence[tuple[Mm, Mm]], width: Mm) -> Mm:
    """Where the finger behind the first notch ends."""
    return notches[1][0] if len(notches) > 1 else width


def _comb(notches: Sequence[tuple[Mm, Mm]], width: Mm, depth: Mm) -> Outline:
    """A piece that is broken off below, its fingers up."""
    points = [(0.0, -depth), (width, -depth)]
    reached = width
    for low, high in reversed(notches):
        if high < reached:
            points += [(reached, depth), (high, depth)]
        points += [(high, 0.0), (low, 0.0)]
        reached = low
    return (*points, *(((reached, depth), (0.0, depth)) if reached > 0 else ()))


def _stretches(notches: Sequence[tuple[Mm, Mm]], width: Mm) -> Iterator[Stretch]:
    reached = 0.0
    for low, high in notches:
        if low > reached:
            yield Stretch(reached, low, StripPart.WOOD)
        yield Stretch(low, high, StripPart.NOTCH)
        reached = high
    if width > reached:
        yield Stretch(reached, width, StripPart.WOOD)
