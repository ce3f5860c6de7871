"""The saw: what it takes of a sheet, and how many sheets it cuts at once. Here the kerf enters; the planner counts it
between any two neighbours."""

from __future__ import annotations

from dataclasses import dataclass, replace

from drawerwright.basics.lengths import Mm

ONE_AT_A_TIME = 1
"""So many sheets are cut at once where nobody says otherwise."""
HEIGHT_SLACK: Mm = 1e-6


@dataclass(frozen=True, slots=True)
class Saw:
    """What the saw and the first cuts take: kerf between neighbours, trim off every edge of a new sheet.

    `stack` is how many equal sheets are laid on each other and cut at once, at the most; `cutting_height` (mm) how
    thick a stack the blade cuts through, None where that is not known.
    """

    kerf: Mm
    trim: Mm = 0.0
    stack: int = ONE_AT_A_TIME
    cutting_height: Mm | None = None

    def stack_of(self, thickness: Mm) -> int:
        """How many sheets so thick (mm) are cut at once, at the most."""
        if self.cutting_height is None:
            return self.stack
        return max(min(self.stack, int((self.cutting_height + HEIGHT_SLACK) // thickness)), ONE_AT_A_TIME)

    def at(self, thickness: Mm) -> Saw:
        """This saw for sheets so thick (mm)."""
        return replace(self, stack=self.stack_of(thickness))
