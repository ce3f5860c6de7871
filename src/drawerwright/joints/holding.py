"""What holds a corner together: glued faces, and planes through the wood that part before it comes apart.

A kind of joint says it of its own section (`Joint.holding`); how much that carries is reckoned in
`drawerwright.strength`, for every kind alike. Places are in the frame of `drawerwright.joints.law`, in mm. A corner is
as strong as it is high, so areas are given for each mm of height.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints.profile import Point


class PullOff(StrEnum):
    """Which way a corner is pulled apart."""

    ALONG_UPRIGHT = "along-upright"
    """The flat piece is pulled off the upright's end: a front that lies flat for its cut."""
    ALONG_FLAT = "along-flat"
    """The upright piece is pulled off the flat piece's end: a front that stands for its cut."""


class Bond(StrEnum):
    """Which wood a glue line holds."""

    CROSSED = "crossed"
    """Face grain on face grain, the fibres crossing: those of one piece roll before the glue gives way."""
    END = "end"
    """End grain on face grain: the glue line holds far less than the wood."""


@dataclass(frozen=True, slots=True)
class GluedFace:
    """A glued face of a corner.

    where: what it is called.
    area: how much of it there is for each mm of the corner's height (mm²).
    bond: which wood it holds.
    turn: how much it resists being turned open: moment over the greatest stress, for each mm of height (mm²); 0 where
        it does not help.
    line: where to draw it in the section.
    """

    where: Phrase
    area: float
    bond: Bond
    turn: float
    line: tuple[Point, ...]


class PlaneName(StrEnum):
    """The planes through the wood of a hooked corner."""

    SHOULDER = "shoulder"
    """The flat piece's inner face over the shoulder, peeled off its fibres."""
    NECK_ROOT = "neck-root"
    """The upright piece splits along its fibres below the neck."""
    NECK = "neck"
    """The upright piece tears across its fibres at its thinnest part."""
    HEAD = "head"
    """The head's overhang shears off along the upright's fibres."""
    HOOK = "hook"
    """The flat piece splits along its fibres behind its hook."""

    @property
    def words(self) -> Phrase:
        """The plane in the reader's language."""
        return _WORDS[self]


_WORDS = {
    PlaneName.SHOULDER: phrase("glue line at the shoulder"),
    PlaneName.NECK_ROOT: phrase("split below the neck"),
    PlaneName.NECK: phrase("neck torn across"),
    PlaneName.HEAD: phrase("head sheared off along the neck's line"),
    PlaneName.HOOK: phrase("split behind the hook"),
}


@dataclass(frozen=True, slots=True)
class WoodPlane:
    """A plane through the wood, as a line of the section from where the stress is greatest; `along` its fibres or
    across them."""

    name: PlaneName
    on_upright: bool
    start: Point
    end: Point
    along: bool = True

    @property
    def length(self) -> Mm:
        """How long it is in the section (mm)."""
        return abs(self.end[0] - self.start[0]) + abs(self.end[1] - self.start[1])


@dataclass(frozen=True, slots=True)
class Hook:
    """A hooked corner in section, pressed home, as read off the upright's cut face.

    outer, inside, neck, head: x of the upright's outer and inside face, of its face at the neck and at the tip.
    shoulder, foot, top, tip: y of the shoulder, of where the slope leaves the neck and meets the head, and of the tip.
    roof: what is left of the flat piece above the tip.
    """

    outer: Mm
    inside: Mm
    neck: Mm
    head: Mm
    shoulder: Mm
    foot: Mm
    top: Mm
    tip: Mm
    roof: Mm

    @property
    def thickness(self) -> Mm:
        """Of the upright piece."""
        return self.inside - self.outer

    @property
    def middle(self) -> Mm:
        """How far the middle of the slope lies above the shoulder."""
        return (self.foot + self.top) / 2 - self.shoulder

    @property
    def step(self) -> Mm:
        """How far the head stands out beyond the neck."""
        return self.head - self.neck

    @property
    def flank(self) -> float:
        """Run over rise of the slope as a slope's rise over its step: 0 is square, 1 is 45 degrees."""
        return (self.top - self.foot) / self.step

    @property
    def neck_share(self) -> float:
        """The neck as a share of what the step leaves of the upright: 1 where the head is as thick as the piece."""
        return (self.neck - self.outer) / (self.thickness - self.step)

    @property
    def planes(self) -> tuple[WoodPlane, ...]:
        """The planes that can part."""
        across = (self.shoulder + self.foot) / 2
        return (
            WoodPlane(PlaneName.SHOULDER, False, (self.inside, self.shoulder), (self.neck, self.shoulder)),
            WoodPlane(
                PlaneName.NECK_ROOT,
                True,
                (self.neck, self.shoulder),
                (self.neck, self.shoulder - self.middle),
            ),
            WoodPlane(PlaneName.NECK, True, (self.neck, across), (self.outer, across), along=False),
            WoodPlane(PlaneName.HEAD, True, (self.neck, self.foot), (self.neck, self.tip)),
            WoodPlane(PlaneName.HOOK, False, (self.head, self.top), (self.head + self.middle, self.top)),
        )


LEVEL_SHARE = 0.02
"""A measured edge is level up to this share of the step: what a slope is told from."""


def hook_of(face: Iterable[Point], outer: Mm, inside: Mm, roof: Mm) -> Hook | None:
    """The hook that an upright's cut face makes, from its shoulder to its tip; None where it makes none, because the
    piece is no thicker at its tip than below."""
    points = list(face)
    tip_x, least = points[-1][0], min(x for x, _ in points)
    step = tip_x - least
    neck_at = max(y for x, y in points if x <= least + LEVEL_SHARE * step)
    top = min((y for x, y in points if y >= neck_at and x >= tip_x - LEVEL_SHARE * step), default=neck_at)
    shoulder, tip = points[0][1], points[-1][1]
    if step <= 0 or least <= outer or top >= tip or least >= inside:
        return None
    return Hook(outer, inside, least, tip_x, shoulder, neck_at, top, tip, roof)


@dataclass(frozen=True, slots=True)
class Holding:
    """What holds a corner when it is pulled one way.

    faces: its glued faces, each for itself.
    hook: where one piece is undercut behind the other. Against a pull along the upright it holds without glue as well.
    """

    faces: tuple[GluedFace, ...]
    hook: Hook | None = None


def end_glued(outer: Mm, thickness: Mm, tip: Mm) -> Holding:
    """An upright piece glued by its end: x of its outer face, its thickness, y of its tip (mm)."""
    line = ((outer, tip), (outer + thickness, tip))
    face = GluedFace(phrase("end of the upright piece"), thickness, Bond.END, thickness**2 / 6, line)
    return Holding((face,))


def cut_face_glued(face: Sequence[Point], outer: Mm, thickness: Mm) -> Holding:
    """An upright piece glued all along its cut face, its outer face at x (mm). The cut crosses the fibres of both
    pieces at some angle, which counts as end grain."""
    line = ((outer + thickness, face[0][1]), *face, (outer, face[-1][1]))
    length = sum(math.dist(start, end) for start, end in itertools.pairwise(line))
    across = math.dist(line[0], line[-1])
    return Holding((GluedFace(phrase("cut faces"), length, Bond.END, across**2 / 6, line),))


def turned_flank(one: Mm, other: Mm) -> float:
    """What a glued flank of these sides resists of a turn in its own plane: moment over the greatest shear, at its
    corners (mm³), as of any area about its middle, ``a b √(a² + b²) / 6``."""
    return one * other * math.hypot(one, other) / 6
