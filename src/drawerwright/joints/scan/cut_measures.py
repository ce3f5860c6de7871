"""The measures of a cut, read from the section of a test piece: in millimetres, each with its doubt.

A doubt has three parts: the scatter of the points, which is this picture's own; the scanner's carriage, which does not
run evenly; and the scale, in which all lengths of a picture are wrong together.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Degrees, Mm, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.scan.by_hand import HandEdit
from drawerwright.joints.scan.curved import curved_points
from drawerwright.joints.scan.ground import DEEP_SHADOW
from drawerwright.joints.scan.instrument import EDGE_SHIFT, SCANNER, Instrument, ScaleSource
from drawerwright.joints.scan.mitre import SeenMitre
from drawerwright.joints.scan.picture_scale import QUARREL, PictureScale, settled_scale
from drawerwright.joints.scan.pixels import Row
from drawerwright.joints.scan.section import SeenSection, face_words, in_frame, see_section, turned_back
from drawerwright.joints.scan.side_walls import SeenWalls

SHALLOW_CHIP: Mm = 0.005
"""Standard uncertainty of a wall of the cut from chips so wide and shallow that they look like a part of it
(assumed)."""
SHORT: Mm = 1.5
"""On a wall shorter than this such a chip is a larger part, and the uncertainty of it grows as it is shorter
(assumed)."""
CHIP_EDGE: Mm = 0.1
"""How far what is left of chips may turn the slope's ends, if all of it is left out (assumed)."""
SHADOW_SHIFT = 0.7
"""By how many pixels a shadow beside the wood may shift a face (assumed)."""
CURVE_SLOPE: Degrees = 3.0
"""Standard uncertainty of the slope of a curve, which has none (assumed)."""
MEASURES = ("mid_depth", "step", "slope", "bit_height", "fence", "thickness")
LENGTHS = tuple(name for name in MEASURES if name != "slope")


@dataclass(frozen=True, slots=True)
class Measured:
    """A measure (mm or degrees) with the two parts of its standard uncertainty: the picture's own, and what it has in
    common with everything measured at one scale."""

    value: float
    own: float
    common: float = 0.0

    @property
    def uncertainty(self) -> float:
        return math.hypot(self.own, self.common)

    @property
    def estimate(self) -> Estimate:
        return Estimate(self.value, self.uncertainty)


@dataclass(frozen=True, slots=True)
class LeftOut:
    """How much of a face was left out (share): chips, fuzz, dust, or what could not be seen."""

    face: Phrase
    share: float


@dataclass(frozen=True, slots=True)
class SectionReading:
    """What one picture says. `points` are depth and inset (mm) along the profile."""

    is_flat: bool
    measures: Mapping[str, Measured]
    points: tuple[tuple[Mm, Mm], ...]
    point_uncertainty: Mm
    scale: PictureScale
    left_out: tuple[LeftOut, ...]
    doubts: tuple[Phrase, ...]
    seen: SeenSection | SeenMitre
    is_curved: bool = False
    """Whether the profile is no straight slope between two straight walls, so that its points tell more than mid depth,
    step and slope."""


def read_section(
    picture: NDArray[np.uint8],
    *,
    is_flat: bool,
    per_mm: float | None = None,
    source: ScaleSource = ScaleSource.FILE,
    thickness: Estimate | None = None,
    instrument: Instrument = SCANNER,
    edits: Sequence[HandEdit] = (),
) -> SectionReading:
    """The measures of a drawer-lock cut in a picture of its section.

    Args:
        picture: rows and columns, grey or of three colours (8 bits), square pixels.
        is_flat: the piece that was cut flat, or else the upright one.
        per_mm: pixels to a millimetre, as file or user say; None where nobody does.
        source: who says so.
        thickness: of the piece, by caliper (mm); it checks the scale, or sets it.
        instrument: what the picture was taken with.
        edits: what was changed by hand.

    Raises:
        InvalidValueError: no section is seen, too little of one, or its scale is not known.
    """
    seen = see_section(picture, is_flat=is_flat, walls=instrument.walls, edits=edits)
    found = _in_pixels(seen)
    walls = instrument.walls and _walls_by_scale(found["thickness"], per_mm, thickness, instrument)
    if walls is not instrument.walls:
        seen = see_section(picture, is_flat=is_flat, walls=walls, edits=edits)
        found = _in_pixels(seen)
    scale, doubts = settled_scale(found["thickness"], per_mm, source, thickness, instrument)
    shaded = SHADOW_SHIFT / scale.per_mm if seen.shadow > DEEP_SHADOW else 0.0
    # The caliper tells the scale along the thickness; how far it holds across, the instrument has to say.
    along = {"thickness", "bit_height", "mid_depth"} if is_flat else {"thickness", "fence", "step"}
    stretch = instrument.stretch if thickness is not None else 0.0
    short = min(seen.points[wall].face.length for wall in "DS") / scale.per_mm
    chipped = SHALLOW_CHIP * max(1.0, SHORT / max(short, 0.1))
    measures = {}
    for name, (value, fit) in found.items():
        if name == "slope":
            run = math.hypot(seen.notch.step, seen.notch.slope[1] - seen.notch.slope[0]) / scale.per_mm
            side = seen.points["L"].unsure / scale.per_mm  # what a camera sees of it differs along it
            chips = CHIP_EDGE * (1 - seen.slope.kept.mean())
            ends = math.hypot(2 * instrument.wobble, math.sqrt(2) * SHALLOW_CHIP, shaded, side, chips)
            own = math.hypot(fit, math.degrees(ends / max(run, 0.1)))
            measures[name] = Measured(value, own, math.degrees(instrument.stretch / 2))
        else:
            shift = EDGE_SHIFT / scale.per_mm if name == "thickness" else 0.0
            chip = chipped if name in ("mid_depth", "step", "fence") else 0.0
            own = math.hypot(fit / scale.per_mm, math.sqrt(2) * instrument.wobble, chip, shift, shaded)
            share = scale.share if name in along else math.hypot(scale.share, stretch)
            measures[name] = Measured(value / scale.per_mm, own, value / scale.per_mm * share)
    if scale.source is ScaleSource.THICKNESS and thickness is not None:
        measures["thickness"] = Measured(thickness.value, thickness.uncertainty)
    points, doubt = _profile_points(seen, scale, instrument.wobble, measures)
    curve = _curve(seen, scale)
    if curve is not None:
        line, scatter = curve
        doubt = math.hypot(scatter, instrument.wobble)
        measures["slope"] = replace(measures["slope"], own=math.hypot(measures["slope"].own, CURVE_SLOPE))
        least = float(line[:, 1].min())
        points = tuple((max(z, 0.0), c - least) for z, c in line.tolist())
        doubts = [
            *doubts,
            phrase(
                "the profile is no straight slope between two straight walls: look at its points, which tell "
                "more than the three measures."
            ),
        ]
    return SectionReading(
        is_flat,
        measures,
        points,
        doubt,
        scale,
        _left_out(seen),
        (*instrument.doubts, *doubts, *_doubts(seen, measures, scale, instrument)),
        seen,
        curve is not None,
    )


def _walls_by_scale(
    seen: tuple[float, float], per_mm: float | None, thickness: Estimate | None, instrument: Instrument
) -> SeenWalls | None:
    """What a camera sees of the wood's sides, known better where the thickness tells how high the slice is."""
    walls = instrument.walls
    if walls is None or per_mm is None or thickness is None or thickness.value <= 0:
        return walls
    share = math.hypot(
        instrument.stretch, thickness.uncertainty / thickness.value, math.hypot(seen[1], EDGE_SHIFT) / seen[0]
    )
    return walls.by_scale(seen[0] / thickness.value / per_mm, share)


def _in_pixels(seen: SeenSection) -> dict[str, tuple[float, float]]:
    """Measures in pixels (slope in degrees), each with the standard uncertainty of the fit alone."""
    faces, slope = seen.faces, seen.slope
    place = {name: float(faces.values[i]) for i, name in enumerate(faces.names)}

    def of(name: str, sums: Mapping[str, float]) -> tuple[float, float]:
        row = np.zeros(len(faces.values))
        for face, factor in sums.items():
            row[faces.index(face)] = factor
        return float(row @ faces.values), float(math.sqrt(row @ faces.covariance @ row))

    step, u_step = of("step", {"S": 1, "D": -1})
    height, u_height = of("height", {"H": 1, "A": -1})
    fence, u_fence = of("fence", {"G": 1, "D": -1})
    thick = {"H": 1.0, "O": -1.0} if seen.notch.is_flat else {"G": 1.0, "O": -1.0}
    thickness, u_thickness = of("thickness", thick)
    middle = (place["S"] + place["D"]) / 2
    rise_per_run = slope.direction[0] / max(slope.direction[1], 1e-9)
    at = slope.z + (middle - slope.w) * rise_per_run
    row = np.zeros(len(faces.values))
    row[faces.index("A")] = -1
    row[faces.index("S")] = row[faces.index("D")] = rise_per_run / 2
    u_mid = math.sqrt(
        float(row @ faces.covariance @ row)
        + (math.hypot(slope.across, seen.points["L"].unsure) / max(slope.direction[1], 1e-9)) ** 2
        + ((middle - slope.w) / slope.direction[1] ** 2 * slope.angle) ** 2
    )
    turn = math.sqrt(float(faces.covariance[-1, -1]))
    degrees = math.degrees(math.atan2(slope.direction[1], slope.direction[0]))
    return {
        "mid_depth": (at - place["A"], u_mid),
        "step": (step, u_step),
        "slope": (degrees, math.degrees(math.hypot(slope.angle, turn))),
        "bit_height": (height, u_height),
        "fence": (fence, u_fence),
        "thickness": (thickness, u_thickness),
    }


def _profile_points(
    seen: SeenSection, scale: PictureScale, wobble: Mm, measures: Mapping[str, Measured]
) -> tuple[tuple[tuple[Mm, Mm], ...], Mm]:
    """Points of a straight profile from the top down, on the lines that were fitted, at the depths of what was seen;
    and by how much that scatters about an inset."""
    faces = seen.faces
    top = float(faces.values[faces.index("A")])
    mid, step, slope = (measures[name].value for name in ("mid_depth", "step", "slope"))
    rise = math.tan(math.radians(min(max(slope, 1.0), 89.0)))
    depths, scatters = [], []
    for name in "DLS":
        kept = seen.slope.kept if name == "L" else faces.lines[name].kept
        z, w = turned_back(faces, *in_frame(seen.notch, seen.points[name].points[kept]))
        order = np.argsort(z)
        pieces = max(1, min(12, len(order) // 4))
        for part in np.array_split(order, pieces):
            if len(part):
                depths.append(max(float(z[part].mean() - top) / scale.per_mm, 0.0))
                scatters.append(float(np.std(w[part])) / math.sqrt(len(part)))
    points = tuple((z, min(max(step / 2 + (z - mid) * rise, 0.0), step)) for z in sorted(depths))
    return points, math.hypot(float(np.median(scatters)) / scale.per_mm, wobble)


def _curve(seen: SeenSection, scale: PictureScale) -> tuple[Row, float] | None:
    """The points of the profile (mm), where it is curved, and the uncertainty of one."""
    begin, end = (level / scale.per_mm for level in seen.notch.slope)
    height, step = seen.notch.height / scale.per_mm, seen.notch.step / scale.per_mm
    lines = np.array([(0.0, 0.0), (begin, 0.0), (end, step), (height, step)])
    top, deep = (float(seen.faces.values[seen.faces.index(name)]) for name in "AD")
    unsure = max(seen.points[name].unsure for name in "DLS") / scale.per_mm
    return curved_points(seen.profile, scale.per_mm, top, deep, lines, unsure)


def _left_out(seen: SeenSection) -> tuple[LeftOut, ...]:
    found = []
    for name, points in seen.points.items():
        kept = seen.slope.kept if name == "L" else seen.faces.lines[name].kept
        found.append(
            LeftOut(face_words(name, seen.notch.is_flat), 1 - float(kept.sum()) / max(points.sought, 1))
        )
    return tuple(found)


MOST_LEFT_OUT = 0.35
MOST_SOFTNESS = 1.3
"""The fall from wood to ground at the walls of a cut that is so much wider than elsewhere is one of burned wood."""
MOST_UNLIKE = 8.0
"""A fall from wood to ground that is more unlike any other puts its face in doubt."""
LEAST_FAINT = 0.65
"""Where a tenth of the wood stands off the ground by less than this share of what wood usually does, plies are nearly
as dark or light as the ground."""
LITTLE, LITTLE_IN_PHOTO = 0.05, 0.12
"""Mid depth or step with a larger standard uncertainty (mm) is said to be little."""
LEAST_SHARP: Mm = 0.45
"""An edge that is spread over more than this is too blurred to be read."""


SLOPES = (15.0, 88.0)
"""Slopes between these can be cut and measured (degrees, common practice, no source)."""


def _doubts(
    seen: SeenSection, measures: Mapping[str, Measured], scale: PictureScale, instrument: Instrument
) -> Iterable[Phrase]:
    blur = seen.blur / scale.per_mm
    if blur > LEAST_SHARP:
        raise InvalidValueError(
            phrase(
                "the picture is blurred: its edges are {blur} wide, and at most {most} can be read: {remedy}.",
                blur=millimetres(blur),
                most=millimetres(LEAST_SHARP),
                remedy=instrument.to_sharpen,
            )
        )
    for left in _left_out(seen):
        if left.share > MOST_LEFT_OUT:
            yield phrase(
                "{share:.0f} % of the {face} was left out as chipped, frayed or hard to see: check the "
                "outline.",
                share=left.share * 100,
                face=left.face,
            )
    if seen.beside:
        yield phrase(
            "{count} more in the picture look like this piece: the clearest was read. Scan them one by one.",
            count=seen.beside,
        )
    if seen.shadow > DEEP_SHADOW:
        yield shadow_words(instrument)
    if seen.softness > MOST_SOFTNESS and not instrument.is_photo:
        yield phrase(
            "the cut's edges are softer than the others, as burned or frayed ones are, which may be deeper than they "
            "look: saw a fresh slice, or scan it on a light ground instead of a dark one."
        )
    strange = [name for name, found in seen.points.items() if found.unlike > MOST_UNLIKE]
    if strange and seen.shadow <= DEEP_SHADOW:
        yield phrase(
            "the edge along the {face} looks unlike the others, as a dirty, worn or shaded one does: "
            "check the outline, or saw a fresh slice.",
            face=face_words(max(strange, key=lambda name: seen.points[name].unlike), seen.notch.is_flat),
        )
    if seen.faint < LEAST_FAINT:
        yield phrase(
            "some of the wood is nearly as dark or as light as the ground, so its edge may be "
            "missed: lay the slice on another ground."
        )
    if not SLOPES[0] < measures["slope"].value < SLOPES[1]:
        yield phrase(
            "the slope reads {slope:.0f} degrees, which no cutter for such corners has: check the outline.",
            slope=measures["slope"].value,
        )
    if seen.notch.misfit > 0.25:
        yield phrase("the outline is not quite that of a test piece: check it.")
    for name in LENGTHS[:2]:
        if measures[name].uncertainty > (LITTLE_IN_PHOTO if instrument.is_photo else LITTLE):
            if instrument.is_photo:
                yield phrase(
                    "the photo tells little: a thinner slice, the camera straight above its middle and higher up, or a "
                    "second photo would tell more."
                )
            else:
                yield phrase("the picture shows little: a finer scan, or a second slice, would tell more.")
            break


def shadow_words(instrument: Instrument) -> Phrase:
    """What is said where a shadow blurs the wood's edge."""
    if instrument.is_photo:
        return phrase(
            "beside the wood lies something darker, its side or a shadow: photograph the slice from straight above its "
            "middle, higher up, in light from all around."
        )
    return phrase(
        "a shadow beside the wood blurs its edge: cover the slice with something black, and scan again."
    )


def combined(readings: Sequence[SectionReading], name: str) -> tuple[Measured | None, bool]:
    """One measure out of several pictures, and whether they agree: their mean by weight, with the uncertainty that it
    has."""
    values = [reading.measures[name] for reading in readings if name in reading.measures]
    if not values:
        return None, True
    weights = np.array([1 / value.own**2 for value in values])
    weights /= weights.sum()
    mean = float(weights @ [value.value for value in values])
    own = float(np.sqrt((weights**2) @ np.square([value.own for value in values])))
    common = float(weights @ [value.common for value in values])
    off = [abs(value.value - mean) / math.hypot(value.own, value.common) for value in values]
    return Measured(mean, own, common), max(off) < QUARREL
