"""The corner that somebody wants, and how to set it."""

from __future__ import annotations

from dataclasses import field, replace

from drawerwright.basics import usual
from drawerwright.basics.lengths import Mm
from drawerwright.basics.measures import Measure, holds_measures, measure
from drawerwright.joints.bit_heights import BitHeights
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.doubts import Board, CutCorner, FirstCut
from drawerwright.joints.fence_marks import fences_on_marks
from drawerwright.joints.readings import FitRange
from drawerwright.joints.setting import CornerGeometry, CornerSetting, FenceRule, set_corner
from drawerwright.joints.table import RouterTable


@holds_measures
class Wanted:
    """The corner that is to be made: thicknesses of the stock, lip, how the fence sum is shared, what fits.

    A thickness is an estimate (mm), or a plain number with the usual doubt of a caliper reading.
    """

    flat_thickness: Measure = measure(usual=usual.CALIPER_READING)
    upright_thickness: Measure = measure(usual=usual.CALIPER_READING)
    lip: Mm = 0.0
    fence: FenceRule | Mm = FenceRule.ONE
    fit: FitRange = field(default_factory=FitRange)

    @property
    def corner(self) -> CornerGeometry:
        return CornerGeometry(self.flat_thickness.value, self.upright_thickness.value, self.lip)

    def tight(self, cutter: Cutter) -> CornerSetting:
        """The settings of the law, as they would be on gauges without marks."""
        return set_corner(cutter, self.corner, self.fence)

    def recommended(self, cutter: Cutter, table: RouterTable) -> CornerSetting:
        """The settings to dial in: the height with the best odds of the wanted play, and the truest lip, each as the
        gauges of the table can show it."""
        height = BitHeights(self.fit, table).of(cutter, self.flat_thickness.value)
        return replace(fences_on_marks(self.tight(cutter), table), bit_height=height)

    def cut(self, cutter: Cutter, table: RouterTable) -> FirstCut:
        """What is known before the first cut. Its thicknesses are taken as they were given, calipers and all."""
        return FirstCut(cutter, table, self.fit)

    def as_set(self, setting: CornerSetting) -> CutCorner:
        """The corner at a setting, with what is known of its stock."""
        return CutCorner(
            setting,
            Board("the flat piece", self.flat_thickness, by_calipers=False),
            Board("the upright piece", self.upright_thickness, by_calipers=False),
        )
