"""The edge that corners are drawn and seated with, from readings of a profile.

Readings scatter, wood cut by a smooth edge does not: taken as they are, the two highest readings would meet first and
keep every corner open. So scatter is taken out before anything is seated. Where a symmetric shape explains the
readings, it is the edge (`drawerwright.joints.shapes`); else the chain of the fewest straight pieces that does
(`drawerwright.joints.roughness`), and what is in doubt about that chain is room that its seat has.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from drawerwright.basics.lengths import Mm
from drawerwright.joints.cutter import MeasuredEdge
from drawerwright.joints.mate import Mate, find_middle
from drawerwright.joints.profile import GIVE, Point, Profile
from drawerwright.joints.roughness import without_scatter

ON_THE_TOOTH = 4.0
"""Readings no more than so many standard uncertainties below zero say that zero is the tooth."""
SURE = 2.0
"""So many standard uncertainties of the sum of two insets are room: 95 %."""


def seated_edge(
    points: Sequence[Point], mate: Mate, uncertainty: Mm, through: Mm | None = None
) -> MeasuredEdge:
    """The edge behind readings, with the middle and step that it has itself.

    Args:
        points: depth, inset (mm), from the top down.
        mate: what `find_middle` says of them.
        uncertainty: standard uncertainty of each inset (mm); zero takes the points as the edge.
        through: thickness of the stock, for a cutter that goes through it (mm).

    Raises:
        InvalidValueError: the points reach no middle.
    """
    if mate.smoothed is not None:
        return MeasuredEdge(mate.smoothed, mate.mid_depth.value, mate.step.value)
    profile, give = plain_edge(points, uncertainty)
    own = find_middle(profile.points, thickness=through)
    return MeasuredEdge(profile, own.mid_depth.value, own.step.value, own.residual.value, give)


def plain_edge(points: Sequence[Point], uncertainty: Mm) -> tuple[Profile, Mm]:
    """The edge behind readings, symmetric or not, and what is in doubt about the depth of its seats (mm)."""
    if uncertainty == 0:
        return Profile.measured(points), GIVE
    smooth = without_scatter(points, uncertainty)
    line = smooth.points
    if min(inset for _, inset in line) > -ON_THE_TOOTH * uncertainty:
        # The gauge was set to zero on the tooth: what lies below is scatter, and lifting it would lift all.
        line = tuple((depth, max(inset, 0.0)) for depth, inset in line)
    return Profile.measured(line), max(GIVE, SURE * math.sqrt(2) * smooth.uncertainty)
