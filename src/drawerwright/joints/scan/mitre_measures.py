"""The measures of a cut through the whole thickness (lock-mitre), in millimetres, each with its doubt."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.mate import find_middle
from drawerwright.joints.scan.cut_measures import SHADOW_SHIFT, Measured, SectionReading, shadow_words
from drawerwright.joints.scan.cutout import Cutout, read_parts
from drawerwright.joints.scan.ground import DEEP_SHADOW, tell_wood
from drawerwright.joints.scan.instrument import EDGE_SHIFT, SCANNER, Instrument, ScaleSource
from drawerwright.joints.scan.mitre import SeenMitre, see_mitre
from drawerwright.joints.scan.outline_points import thinned
from drawerwright.joints.scan.picture_scale import PictureScale, settled_scale
from drawerwright.joints.scan.pixels import Row
from drawerwright.joints.scan.side_walls import SeenWalls

SHARED = 0.85
"""So much of the thickness, about the middle, has to mate: near the faces edges are knife-thin, and break off."""
LEVEL: Mm = 0.4
"""A level stretch at least so long shows that the largest radius, or the end of the board, was cut or left."""
KNIFE_EDGE: Mm = 0.3
"""Standard uncertainty of how high above the table a tip ends that is a knife edge: where the fence was set wider than
the wood is thick, nothing of it reaches the table (assumed)."""
MIDDLE: Mm = 0.03
"""Standard uncertainty of where a profile mates with itself, from chips as wide as its short pieces (assumed)."""
ENDS: Mm = 0.03
"""Standard uncertainty of the deepest cut, of which only a little is left beside the table (assumed)."""
UNSEEN_RADIUS: Mm = 0.3
"""Standard uncertainty of how far the largest radius lies below what the picture shows (assumed)."""


def read_mitre(
    picture: NDArray[np.uint8],
    *,
    is_flat: bool,
    per_mm: float | None = None,
    source: ScaleSource = ScaleSource.FILE,
    thickness: Estimate | None = None,
    bit_height: Estimate | None = None,
    instrument: Instrument = SCANNER,
) -> SectionReading:
    """As `drawerwright.joints.scan.cut_measures.read_section`, for a cutter that goes through the wood.

    `bit_height` (mm): as it was set; without it the picture does not tell the mid depth.
    """
    seen = read_parts(picture, lambda part: _seen(part, is_flat, instrument.walls))[0]
    scale, doubts = settled_scale(seen.thickness, per_mm, source, thickness, instrument)
    return _measured(seen, scale, [*instrument.doubts, *doubts], thickness, bit_height, instrument)


def _seen(part: Cutout, is_flat: bool, walls: SeenWalls | None) -> SeenMitre:
    refused: InvalidValueError | None = None
    own_walls = walls and walls.from_corner(part.corner)
    for told in tell_wood(part.pixels):
        try:
            return see_mitre(told, is_flat=is_flat, walls=own_walls, corner=part.corner)
        except InvalidValueError as error:
            refused = refused or error
    assert refused is not None
    raise refused


def _measured(
    seen: SeenMitre,
    scale: PictureScale,
    doubts: list[Phrase],
    thickness: Estimate | None,
    bit_height: Estimate | None,
    instrument: Instrument,
) -> SectionReading:
    wobble = instrument.wobble
    shaded = SHADOW_SHIFT / scale.per_mm if seen.shadow > DEEP_SHADOW else 0.0
    if shaded:
        doubts = [*doubts, shadow_words(instrument)]
    points, scatter = thinned(seen.profile, scale.per_mm)
    thick = seen.thickness[0] / scale.per_mm
    points = _run_out(seen, points, scale.per_mm, thick)
    radius = _is_level(points, at_table=True)
    deepest = float(np.median(points[points[:, 0] < LEVEL, 1]) if radius else points[:, 1].min())
    lowest = float(points[:, 0].max())
    profile = tuple((lowest - y, max(w - deepest, 0.0)) for y, w in points[::-1].tolist())
    mate = find_middle(profile, uncertainty=max(scatter, wobble), thickness=SHARED * thick)
    knife = KNIFE_EDGE if seen.is_knife else 0.0
    if seen.is_knife:
        doubts = [
            *doubts,
            phrase("the tip ends in a knife edge, whose place is only calculated: a flat piece tells more."),
        ]
    of_tip = math.hypot(mate.mid_depth.uncertainty, wobble, MIDDLE, shaded, knife)
    tip = lowest - mate.mid_depth.value
    measures = {"mid_to_tip": Measured(tip, of_tip, tip * scale.share)}
    unseen = 0.0 if radius else UNSEEN_RADIUS
    step = mate.step.value
    measures["step"] = Measured(
        step, math.hypot(mate.step.uncertainty, 2 * ENDS, shaded, 2 * unseen), step * scale.share
    )
    measures["slope"] = _slope(seen)
    if not radius:
        doubts.append(
            phrase(
                "the deepest cut runs out at the table's level, so that the largest radius may lie lower: step and "
                "fence setting count from the deepest cut that is seen."
            )
        )
    end = None if seen.inside is None else seen.inside[0] / scale.per_mm
    if seen.is_flat and not _is_level(points, at_table=False):
        end = float(points[:, 1].max())
        doubts.append(
            phrase(
                "nothing of the board's end is left: the fence setting counts from the foremost edge, where the mitre "
                "runs out."
            )
        )
        unseen = math.hypot(unseen, UNSEEN_RADIUS)
    if end is not None:
        fence = end - deepest
        measures["fence"] = Measured(
            fence, math.hypot(math.sqrt(2) * wobble, scatter, shaded, unseen), fence * scale.share
        )
    shift = math.hypot(seen.thickness[1] / scale.per_mm, math.sqrt(2) * wobble, EDGE_SHIFT / scale.per_mm)
    measures["thickness"] = Measured(thick, math.hypot(shift, shaded), thick * scale.share)
    if scale.source is ScaleSource.THICKNESS and thickness is not None:
        measures["thickness"] = Measured(thickness.value, thickness.uncertainty)
    depths: tuple[tuple[Mm, Mm], ...] = ()
    if bit_height is not None:
        measures["bit_height"] = Measured(bit_height.value, bit_height.uncertainty)
        middle = bit_height.value - tip
        measures["mid_depth"] = Measured(
            middle, math.hypot(of_tip, bit_height.uncertainty), tip * scale.share
        )
        depths = tuple((bit_height.value - lowest + depth, inset) for depth, inset in profile)
    return SectionReading(
        seen.is_flat, measures, depths, max(scatter, wobble), scale, (), tuple(doubts), seen
    )


def _run_out(seen: SeenMitre, points: Row, per_mm: float, thick: Mm) -> Row:
    """The points with where the profile leaves the wood: at the table's level, and on a flat piece at its outer
    face."""
    long = [piece / per_mm for piece in seen.profile if np.hypot(*(piece[-1] - piece[0])) / per_mm > 0.4]
    if not long:
        return points
    ends = [(min(long, key=lambda piece: float(piece[:, 0].min())), 0.0)]
    if seen.is_flat:
        ends.append((max(long, key=lambda piece: float(piece[:, 0].max())), thick))
    for piece, level in ends:
        if np.ptp(piece[:, 0]) > 0.5:
            slope, zero = np.polyfit(piece[:, 0], piece[:, 1], 1)
            points = np.vstack([points, [level, zero + slope * level]])
    inside = points[(points[:, 0] >= 0) & (points[:, 0] <= thick + 3)]
    return np.asarray(inside[np.argsort(inside[:, 0], kind="stable")])


def _is_level(points: Row, *, at_table: bool) -> bool:
    """Whether w stays the same over a stretch at the table's end of the profile, or at the other."""
    edge = points[:, 0].min() if at_table else points[:, 0].max()
    near = points[np.abs(points[:, 0] - edge) < LEVEL]
    return len(near) >= 2 and float(np.ptp(near[:, 1])) < 0.25 * float(np.ptp(near[:, 0]))


def _slope(seen: SeenMitre) -> Measured:
    """The angle of the mitre: that of the longest pieces that have one direction."""
    angles, lengths = [], []
    for piece in seen.profile:
        run = piece[-1] - piece[0]
        fit = np.linalg.svd(piece - piece.mean(axis=0))[2][0]
        fit = fit * np.sign(fit @ run)
        angles.append(math.degrees(math.atan2(fit[1] * np.sign(fit[0] or 1.0), abs(fit[0]))))
        lengths.append(float(np.hypot(*run)))
    turned, weights = np.array(angles), np.array(lengths)
    near = np.abs(turned - turned[:, None]) < 2.0
    best = int(np.argmax((near * weights).sum(axis=1)))
    same = near[best]
    mean = float(np.average(turned[same], weights=weights[same] ** 3))
    long = float(weights[same].max())
    return Measured(abs(mean), math.hypot(math.degrees(0.4 / long), 0.15))
