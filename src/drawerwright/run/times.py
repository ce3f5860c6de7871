"""What the work takes: editable rates, and the comparison with routing part by part."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm
from drawerwright.drawers.parts import Part, Role
from drawerwright.joints.corner_key import CornerKey
from drawerwright.joints.joint import joint_named


@dataclass(frozen=True, slots=True)
class Rates:
    """How long things take in this shop, in minutes unless the name says otherwise.

    The standing figures are a first guess for one person (no source); measure your own and edit them.
    """

    sheet: float = 4.0
    """To fetch and lay on the saw."""
    saw_cut: float = 0.6
    saw_setting: float = 1.0
    router_setting: float = 12.0
    """To set bit height and fence, less the test cut."""
    cutter_change: float = 6.0
    """To take one cutter out and put another in, with ring, fence opening and speed."""
    test_cut: float = 8.0
    router_pass: float = 0.5
    """To take up, place and lay down one piece."""
    feed_m_per_min: float = 2.5
    groove_pass: float = 0.4
    pull_hole: float = 1.5
    """To mark and drill it."""
    back_notch: float = 1.5
    """To mark and saw one, for a runner."""
    scoop: float = 6.0
    """To mark, saw and rout one in a front."""
    glue_up: float = 9.0
    """For one drawer."""
    rail: float = 4.0
    """To cut and fix one for folders."""
    runners: float = 10.0
    """To fit one pair, in the carcase and on the drawer."""
    applied_front: float = 6.0
    banding_m_per_min: float = 1.2


@dataclass(frozen=True, slots=True)
class RoutingEffort:
    """What routing takes: trips past the cutter, metres of edge, minutes."""

    passes: int
    metres: float
    minutes: float


def routing_effort(passes: int, length: Mm, rates: Rates) -> RoutingEffort:
    """The effort of so many trips past the cutter, along `length` of edge in all (mm)."""
    metres = length / 1000
    return RoutingEffort(passes, metres, passes * rates.router_pass + metres / rates.feed_m_per_min)


def part_by_part(
    parts: Iterable[Part], depths: Mapping[tuple[CornerKey, Role], Mm], rates: Rates
) -> RoutingEffort:
    """What routing every part on its own would take; `depths` are how deep the pieces of each corner are cut (mm)."""
    trips = [
        (joint_named(end.corner.joint).passes_at(depths[end.corner, end.role]), part.cut_width)
        for part in parts
        for end in part.ends
        if end.corner.cutter
    ]
    passes = sum(times for times, _width in trips)
    return routing_effort(passes, sum(times * width for times, width in trips), rates)
