"""The jig of a finger row and both edges, as strips at true size."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.joints.jigs import JigStrip, Stretch, StripPart
from drawerwright.joints.kinds.finger.finger_row import FingerRow
from drawerwright.joints.section_marks import Span


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


def _stretches(notches: Sequence[tuple[Mm, Mm]], width: Mm) -> Iterator[Stretch]:
    reached = 0.0
    for low, high in notches:
        if low > reached:
            yield Stretch(reached, low, StripPart.WOOD)
        yield Stretch(low, high, StripPart.NOTCH)
        reached = high
    if width > reached:
        yield Stretch(reached, width, StripPart.WOOD)
