"""A jig and what it cuts, as strips to draw at true size: lay the wood on them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase
from drawerwright.joints.section_marks import Span


class StripPart(StrEnum):
    """What a stretch of a strip is."""

    WOOD = "wood"
    NOTCH = "notch"
    PIN = "pin"
    CUTTER = "cutter"


@dataclass(frozen=True, slots=True)
class Stretch:
    """From here to there along the strip (mm), and what it is."""

    start: Mm
    end: Mm
    part: StripPart


@dataclass(frozen=True, slots=True)
class JigStrip:
    """The jig along its fence, or an edge of a piece from its lower end: its name, stretches and dimensions."""

    name: Phrase
    stretches: tuple[Stretch, ...]
    spans: tuple[Span, ...] = ()
