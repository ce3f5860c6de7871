"""Whether a profile is three straight lines, and its points if it is not."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np

from drawerwright.basics.lengths import Mm
from drawerwright.joints.scan.outline_points import thinned
from drawerwright.joints.scan.pixels import Row

STRAIGHT: Mm = 0.035
"""A profile most of which lies nearer to three straight lines than this is straight: a chip is the smaller part."""
MOST = 0.8


def curved_points(
    profile: Sequence[Row], per_mm: float, top: float, deep: float, lines: Row, unsure: Mm = 0.0
) -> tuple[Row, float] | None:
    """Points of a curved profile, depth and inset (mm), and the uncertainty of one; None where it is straight.

    Args:
        profile: points of its pieces in the frame of the fitted faces (pixels).
        per_mm: pixels to a millimetre.
        top: where depths count from, `deep`: where insets do (pixels).
        lines: corners of the straight profile, depth and inset (mm).
        unsure: by how much all points of a straight piece may be off together.
    """
    if sum(len(piece) for piece in profile) < 30:
        return None
    points, scatter = thinned(profile, per_mm)
    points = points - np.array([top, deep]) / per_mm
    away = np.min([_distance(points, a, b) for a, b in itertools.pairwise(lines)], axis=0)
    straight = math.hypot(STRAIGHT, 3 * unsure)
    return None if float(np.quantile(away, MOST)) < straight else (points, scatter)


def _distance(points: Row, a: Row, b: Row) -> Row:
    run = b - a
    share = np.clip(((points - a) @ run) / max(float(run @ run), 1e-12), 0, 1)
    return np.asarray(np.hypot(*(points - a - share[:, None] * run).T))
