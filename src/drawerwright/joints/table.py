"""The router table: what it can take, and how far its gauges may be trusted."""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics import usual
from drawerwright.basics.lengths import Mm
from drawerwright.basics.uncertain import Estimate


@dataclass(frozen=True, slots=True)
class RouterTable:
    """Limits and gauges of a router table.

    tallest_upright: tallest piece that can be run standing on its end (mm), None when unknown.
    height_gauge, fence_gauge: what the gauge shows less what is true (mm), with its standard uncertainty; add
        it to the wanted value to get the reading to dial in.
    largest_fence_setting: as far as the cutter can stand out of the fence (mm): its opening, an insert ring or the
        guard ends there; None when unknown.
    repeatability: standard deviation with which a setting can be dialled in again (mm), None when nobody has said.
    speeds: spindle speeds that can be chosen (1/min), slowest first.
    """

    tallest_upright: Mm | None = None
    height_gauge: Estimate = usual.UNKNOWN_GAUGE
    fence_gauge: Estimate = usual.UNKNOWN_GAUGE
    largest_fence_setting: Mm | None = None
    repeatability: Mm | None = None
    speeds: tuple[float, ...] = ()

    @property
    def dialling(self) -> Estimate:
        """How far a setting that is dialled in is off (mm)."""
        return Estimate.given(0.0, self.repeatability, usual=usual.REPEATABILITY)

    def height_reading(self, bit_height: Mm) -> Mm:
        """What the height gauge has to show for this bit height (mm)."""
        return bit_height + self.height_gauge.value

    def fence_reading(self, fence_setting: Mm) -> Mm:
        """What the fence scale has to show for this fence setting (mm)."""
        return fence_setting + self.fence_gauge.value
