"""Which bit height a corner is cut at: the recommended one, of kept heights the nearest to it, or the tight one.

At the tight height, which the law gives, nothing moves; whatever is then a little too high keeps the corner open. In
the middle of the wanted play an error may go either way. What the height gauge can show next to that is recommended.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import lru_cache

from drawerwright.basics.lengths import Mm
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.chances import ARITHMETIC
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.doubts import Board, CutCorner, FirstCut
from drawerwright.joints.readings import FitRange, height_for_misfit, misfit
from drawerwright.joints.setting import CornerGeometry, CornerSetting, set_corner
from drawerwright.joints.table import RouterTable

SAME_ODDS = 1e-9
"""Odds that differ by less are the same."""


@dataclass(frozen=True, slots=True)
class BitHeights:
    """The rule for the bit height of each corner.

    fit: the play that is wanted; None asks for the tight height. table: whose height gauge it is dialled in with.
    kept: the only heights to use (mm), where there are any; each corner takes the nearest to the recommended one.
    """

    fit: FitRange | None = None
    table: RouterTable = field(default_factory=RouterTable)
    kept: tuple[Mm, ...] = ()

    def of(self, cutter: Cutter, flat_thickness: Mm) -> Mm:
        """Bit height for a corner of this cutter in a flat piece of this thickness (mm)."""
        right = (
            cutter.bit_height(flat_thickness)
            if self.fit is None
            else recommended_height(FirstCut(cutter, self.table, self.fit), flat_thickness)
        )
        return min(self.kept, key=lambda height: abs(height - right), default=right)

    def engagement(self, cutter: Cutter, corner: CornerGeometry) -> Mm:
        """How far the upright piece of a corner reaches into the flat piece, cut at that height (mm)."""
        return cutter.engagement(self.of(cutter, corner.flat_thickness))

    @property
    def unforced(self) -> BitHeights:
        """The rule as it would be if no height were kept."""
        return replace(self, kept=())

    def serves_wanted_play(self, cutter: Cutter, flat_thickness: Mm) -> bool:
        """Whether a mark of the height gauge gives the wanted play, where there is any to choose."""
        if self.fit is None:
            return True
        cut = FirstCut(cutter, self.table, self.fit)
        return not cut.has_play or bool(_marks_that_fit(cut, _tight(cutter, flat_thickness)))


BY_LAW = BitHeights()
"""Every corner tight."""


@lru_cache(maxsize=256)
def recommended_height(cut: FirstCut, flat_thickness: Mm) -> Mm:
    """The bit height with the best odds of the wanted play, of those that the height gauge can show (mm).

    Where no mark of the gauge gives the wanted play it is the middle of it, between two marks. Of two marks with the
    same odds it is the one nearer to the middle, then the lower one: it closes more often. A cutter that goes through
    the stock has no play to choose, and what its height is off counts twice at the tip: there it is the tight height.
    """
    tight = _tight(cut.cutter, flat_thickness)
    if not cut.has_play:
        return tight.bit_height
    low, high = cut.fit.misfits(cut.cutter.mating)
    board = Board("", Estimate(flat_thickness))
    spread = cut.propagated(CutCorner(tight, board, board), "misfit").uncertainty

    def worth(height: Mm) -> tuple[float, Mm, Mm]:
        known = Estimate(misfit(replace(tight, bit_height=height)), spread)
        odds = known.chance(low - ARITHMETIC, high + ARITHMETIC)
        return round(odds / SAME_ODDS), -round(abs(height - middle), 6), -height

    middle = _middle(cut, tight)
    return max(_marks_that_fit(cut, tight), key=worth, default=middle)


def _tight(cutter: Cutter, flat_thickness: Mm) -> CornerSetting:
    """A corner at its tight height; the upright piece does not bear on it."""
    return set_corner(cutter, CornerGeometry(flat_thickness, flat_thickness))


def _middle(cut: FirstCut, tight: CornerSetting) -> Mm:
    """The bit height in the middle of the wanted play (mm)."""
    return height_for_misfit(tight, cut.fit.best_misfit(cut.cutter.mating))


def _marks_that_fit(cut: FirstCut, tight: CornerSetting) -> tuple[Mm, ...]:
    """Of the bit heights at the height gauge's marks around the middle (mm) those that have the wanted play.

    What test cuts have settled goes before other marks, as long as it has.
    """
    low, high = cut.fit.misfits(cut.cutter.mating)
    fresh = replace(cut.table, settled=None)
    for table in dict.fromkeys((cut.table, fresh)):
        marks = tuple(
            height
            for height in table.height_marks(_middle(cut, tight))
            if low - ARITHMETIC <= misfit(replace(tight, bit_height=height)) <= high + ARITHMETIC
        )
        if marks:
            return marks
    return ()
