"""What a picture was taken with: how well it keeps lengths, and what it adds to where a face seems to be."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints.scan.side_walls import SeenWalls

SCANNER_SCALE = 0.0012
"""Standard uncertainty of what a flatbed scanner makes of a length, as a share of it, where nobody has calibrated it
(assumed; published work finds 0.05 mm on parts of some ten millimetres)."""
SCANNER_WOBBLE: Mm = 0.006
"""Standard uncertainty of a single face's place from the uneven run of the carriage, and from a glue line that the cut
lays bare (assumed)."""
EDGE_SHIFT = 0.15
"""By how many pixels wood may look wider than it is, all over: light creeps (assumed)."""


class ScaleSource(StrEnum):
    """Where a scale is from."""

    FILE = "file"
    GIVEN = "given"
    THICKNESS = "thickness"
    CALIBRATION = "calibration"
    SHEET = "sheet"


FLAT_ON_GLASS = phrase("lay the slice flat on the glass and scan at 300 dpi or more")


@dataclass(frozen=True, slots=True)
class Instrument:
    """What a picture was taken with.

    Attributes:
        share: standard uncertainty of the scale that it tells, as a share.
        stretch: of lengths along one side of the picture beside those along the other, as a share.
        wobble: of a single face's place (mm).
        walls: what is seen of the wood's sides; None where they cannot be seen.
        is_assumed: whether all that is the usual and not known of this one.
        is_photo: whether the thickness by caliper has to be given.
        to_sharpen: what helps against a blurred picture.
        doubts: what is to be said of how it was taken.
    """

    share: float = SCANNER_SCALE
    stretch: float = SCANNER_SCALE
    wobble: Mm = SCANNER_WOBBLE
    walls: SeenWalls | None = None
    is_assumed: bool = True
    is_photo: bool = False
    to_sharpen: Phrase = FLAT_ON_GLASS
    doubts: tuple[Phrase, ...] = ()


SCANNER = Instrument()
"""A flatbed scanner that nobody has calibrated."""
