"""What a picture was taken with: how well it keeps lengths, and what it adds to where a face seems to be."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints.scan.edge_points import EdgePoints, SectionFace
from drawerwright.joints.scan.pixels import Row

SCANNER_SCALE = 0.0012
"""Standard uncertainty of what a flatbed scanner makes of a length, as a share of it, where nobody has calibrated it
(assumed; published work finds 0.05 mm on parts of some ten millimetres)."""
SCANNER_WOBBLE: Mm = 0.008
"""Standard uncertainty of a single face's place from the uneven run of the carriage, and from a glue line that the cut
lays bare (assumed)."""
EDGE_SHIFT = 0.15
"""By how many pixels wood may look wider than it is, all over: light creeps (assumed)."""
WALL_LIGHT, WALL_LIGHT_DOUBT = 0.7, 0.2
"""How light the wood's side is beside its sawn face, and the standard uncertainty of that (assumed)."""


class ScaleSource(StrEnum):
    """Where a scale is from."""

    FILE = "file"
    GIVEN = "given"
    THICKNESS = "thickness"
    CALIBRATION = "calibration"
    SHEET = "sheet"


@dataclass(frozen=True, slots=True)
class SeenWalls:
    """The wood's sides as a camera sees them from above: those that look towards the point it stood over.

    `foot` is that point in pixels of the flattened picture; `rise`: the slice's height over the camera's, with the
    share of it that is in doubt; `foot_doubt` in pixels. A side adds to the wood, at the sheet's level, what it shows.
    """

    foot: Row
    rise: float
    rise_doubt: float
    foot_doubt: float

    def shown(self, place: Row, outward: Row) -> Row:
        """How much of the side is seen outside the edge (pixels), negative where it is hidden."""
        return np.asarray(self.rise * ((self.foot - place) @ outward))

    def found(self, face: SectionFace) -> SectionFace:
        """Where such a face is looked for: at the edge of its side, as far as that is seen."""
        shown = max(float(self.shown((face.start + face.end) / 2, face.outward)), 0.0)
        return replace(face, start=face.start + shown * face.outward, end=face.end + shown * face.outward)

    def without_side(self, seen: EdgePoints, blur: float) -> EdgePoints:
        """The points of a face without what its side adds to it; `blur`: how many pixels the fall to the ground
        takes."""
        outward = seen.face.outward
        shown = self.shown(seen.points, outward)
        usual = float(np.median(shown)) if len(shown) else 0.0
        unsure = math.hypot(self.rise * self.foot_doubt, max(usual, 0.0) * self.rise_doubt)
        if usual < -2 * unsure:
            return seen
        part, doubt = _added(max(usual, 0.0), blur / 2)
        moved = seen.points - part * np.maximum(shown, 0.0)[:, None] * outward
        off = math.hypot(doubt, part * unsure * (1.0 if usual > 0 else 0.6))
        return replace(seen, points=moved, unsure=math.hypot(seen.unsure, off))


def _added(shown: float, spread: float) -> tuple[float, float]:
    """What part of a side so wide moves the middle of the fall from wood to ground, and the standard uncertainty of
    that in pixels; `spread`: standard deviation of the blur (pixels)."""
    if shown <= 0.0:
        return WALL_LIGHT, 0.0

    def middle(light: float) -> float:
        low, high = 0.0, shown
        for _ in range(24):
            at = (low + high) / 2
            left = (1 - light) * _still_to_come(at / spread) + light * _still_to_come((at - shown) / spread)
            low, high = (at, high) if left > 0.5 else (low, at)
        return (low + high) / 2

    dark, usual, bright = (
        middle(light) for light in (WALL_LIGHT - WALL_LIGHT_DOUBT, WALL_LIGHT, WALL_LIGHT + WALL_LIGHT_DOUBT)
    )
    return usual / shown, (bright - dark) / 2


def _still_to_come(place: float) -> float:
    """The part of a blurred fall that lies beyond a place (in standard deviations)."""
    return 0.5 * math.erfc(place / math.sqrt(2))


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
    """

    share: float = SCANNER_SCALE
    stretch: float = SCANNER_SCALE
    wobble: Mm = SCANNER_WOBBLE
    walls: SeenWalls | None = None
    is_assumed: bool = True
    is_photo: bool = False
    to_sharpen: Phrase = FLAT_ON_GLASS


SCANNER = Instrument()
"""A flatbed scanner that nobody has calibrated."""
