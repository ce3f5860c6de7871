"""A test piece as it lies on the bench after its cut, and where its readings are taken."""

from __future__ import annotations

from dataclasses import dataclass, field

from drawerwright.basics.lengths import Degrees
from drawerwright.basics.phrases import Phrase
from drawerwright.joints.corner import Outline
from drawerwright.joints.section_marks import Spans


@dataclass(frozen=True, slots=True)
class LoosePiece:
    """In section, or seen from its inside face where the cut differs along the edge (mm of wood).

    outline: begins with the edge where the drawing stops. fibre: direction of its grain in the drawing.
    spans: where calipers are held; each is named as its reading is for commands.
    """

    name: Phrase
    outline: Outline
    fibre: Degrees
    spans: Spans = field(default_factory=Spans)
