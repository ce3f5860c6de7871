"""A block of known size in a scan: how many pixels its sides are apart, across and along the scanner's carriage."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Degrees
from drawerwright.basics.phrases import phrase
from drawerwright.joints.scan.edge_points import SectionFace, edge_points
from drawerwright.joints.scan.face_lines import LinePoints, fit_faces
from drawerwright.joints.scan.ground import tell_wood
from drawerwright.joints.scan.instrument import EDGE_SHIFT
from drawerwright.joints.scan.notch import main_direction
from drawerwright.joints.scan.pixels import Row

MOST_ASKEW: Degrees = 3.0
CORNER = 0.08
"""This share of each side is left out at both ends."""
LEAST_SHARE = 0.6
"""Of a side so much has to be seen."""


@dataclass(frozen=True, slots=True)
class SeenBlock:
    """Widths in pixels with their standard uncertainties: across the picture, and along it."""

    across: tuple[float, float]
    along: tuple[float, float]


def see_block(picture: NDArray[np.uint8]) -> SeenBlock:
    """The block in a picture of a plain ground.

    Raises:
        InvalidValueError: none is there, or it lies askew.
    """
    told = next(tell_wood(picture))
    angle = main_direction(told)
    if angle is None:
        raise InvalidValueError(_no_block())
    askew = (math.degrees(angle) + 45) % 90 - 45
    if abs(askew) > MOST_ASKEW:
        raise InvalidValueError(
            phrase(
                "the block lies {askew:.1f}° askew, and the limit is {most:g}°: lay it along the edge of "
                "the glass",
                askew=abs(askew),
                most=MOST_ASKEW,
            )
        )
    turn = math.radians(askew)
    right, down = np.array([math.cos(turn), math.sin(turn)]), np.array([-math.sin(turn), math.cos(turn)])
    outline = (told.outline + 0.5) * told.factor - 0.5
    u, v = outline @ right, outline @ down
    (left, far), (top, low) = ((np.quantile(side, 0.02), np.quantile(side, 0.98)) for side in (u, v))

    def side(name: str, a: tuple[float, float], b: tuple[float, float], outward: Row) -> SectionFace:
        start, end = (at[0] * right + at[1] * down for at in (a, b))
        return SectionFace(name, start + CORNER * (end - start), end - CORNER * (end - start), outward)

    sides = (
        side("top", (left, top), (far, top), -down),
        side("low", (left, low), (far, low), down),
        side("left", (left, top), (left, low), -right),
        side("far", (far, top), (far, low), right),
    )
    lines = {}
    for one in sides:
        seen, _ = edge_points(told.contrast, one, max(6.0, 3.0 * told.factor))
        if len(seen.points) < LEAST_SHARE * max(seen.sought, 1):
            raise InvalidValueError(_no_block())
        is_level = one.name in ("top", "low")
        x, y = seen.points @ right, seen.points @ down
        lines[one.name] = LinePoints(x if is_level else y, y if is_level else x, is_level, seen.unsure)
    fitted = fit_faces(lines, 8.0)

    def apart(low_name: str, high_name: str) -> tuple[float, float]:
        row = np.zeros(len(fitted.values))
        row[fitted.index(high_name)], row[fitted.index(low_name)] = 1, -1
        doubt = math.sqrt(float(row @ fitted.covariance @ row))
        return float(row @ fitted.values), math.hypot(doubt, EDGE_SHIFT)

    return SeenBlock(apart("left", "far"), apart("top", "low"))


def _no_block() -> str:
    return phrase(
        "no block with four straight sides is found: lay one whole block on the glass, on a plain ground much "
        "darker or "
        "lighter than it"
    )
