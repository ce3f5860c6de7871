"""The saw: what it takes of a sheet, and how many sheets it cuts at once. Here the kerf enters; the planner counts it
between any two neighbours."""

from __future__ import annotations

from dataclasses import dataclass, replace

from drawerwright.basics.lengths import Mm
from drawerwright.sheets.kerf_test import KerfTest
from drawerwright.sheets.sheet_stock import SheetSize

ONE_AT_A_TIME = 1
"""So many sheets are cut at once where nobody says otherwise."""
USUAL_TOLERANCE: Mm = 0.3
"""How far a part comes out off its size, either way (common practice, no source)."""
HEIGHT_SLACK: Mm = 1e-6


@dataclass(frozen=True, slots=True)
class Saw:
    """What the saw and the first cuts take: kerf between neighbours, trim off every edge of a new sheet.

    `stack` is how many equal sheets are laid on each other and cut at once, at the most; `cutting_height` (mm) how
    thick a stack the blade cuts through, None where that is not known. `kerf_test` is what the kerf was measured by.
    `tolerance`: how far a part may come out off its size, either way (mm).
    """

    kerf: Mm
    trim: Mm = 0.0
    stack: int = ONE_AT_A_TIME
    cutting_height: Mm | None = None
    kerf_test: KerfTest | None = None
    tolerance: Mm = USUAL_TOLERANCE

    def stack_of(self, thickness: Mm) -> int:
        """How many sheets so thick (mm) are cut at once, at the most."""
        if self.cutting_height is None:
            return self.stack
        return max(min(self.stack, int((self.cutting_height + HEIGHT_SLACK) // thickness)), ONE_AT_A_TIME)

    def trimmed(self, size: SheetSize) -> tuple[Mm, Mm]:
        """What is left of a sheet's length and width once its edges are trimmed (mm); offcuts are taken as they are."""
        off = 0.0 if size.is_offcut else 2 * self.trim
        return size.length - off, size.width - off

    def at(self, thickness: Mm) -> Saw:
        """This saw for sheets so thick (mm)."""
        return replace(self, stack=self.stack_of(thickness))
