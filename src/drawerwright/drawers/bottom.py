"""Bottoms and their grooves.

::

    side, seen from inside            captured: groove all round, back as high as the front
    +--------------------------+      slid:     groove in front and sides; the back ends above it
    |                          |      fixed:    no groove; screwed to the lower edges
    |==========================|  groove: `groove_width` wide, `groove_depth` deep
    |                          |  ^ `groove_height` from the lower edge of the side to the groove
    +--------------------------+  v
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics.lengths import Mm
from drawerwright.wood.stock import Stock

USUAL_GROOVE_HEIGHT: Mm = 10.0
"""From the sides' lower edges to the groove, where nothing asks for more (common practice, no source)."""
GROOVE_SHARE = 0.5
"""A groove takes about half the thickness at most (common practice, no source)."""


class BottomStyle(StrEnum):
    CAPTURED = "captured"
    SLID = "slid"
    FIXED = "fixed"


@dataclass(frozen=True, slots=True)
class Groove:
    """A groove along the inside of a part (mm): its lower edge above the part's own lower edge, width, depth."""

    height: Mm
    width: Mm
    depth: Mm

    @property
    def top(self) -> Mm:
        """Its upper edge above the part's own lower edge."""
        return self.height + self.width


@dataclass(frozen=True, slots=True)
class Bottom:
    """How a box is closed below.

    `groove_height` counts from the sides' lower edges; `clearance` is what the bottom is smaller than the room it
    gets, in all, in each direction; `groove_play` what the groove is wider than the bottom is thick.
    """

    style: BottomStyle
    stock: Stock
    groove_depth: Mm
    groove_height: Mm
    groove_play: Mm
    clearance: Mm
    oversize: Mm = 0.0
    """How much larger it is cut at first."""

    @property
    def groove(self) -> Groove | None:
        """The groove as a side has it, None where the bottom is fixed from below."""
        if self.style is BottomStyle.FIXED:
            return None
        return Groove(self.groove_height, self.stock.thickness.value + self.groove_play, self.groove_depth)

    @property
    def below_sides(self) -> Mm:
        """How far it hangs below the sides' lower edges (mm): as thick as it is where it is fixed from below."""
        return self.stock.thickness.value if self.style is BottomStyle.FIXED else 0.0

    @property
    def level(self) -> Mm:
        """Its lower face above the sides' lower edges (mm)."""
        return -self.below_sides if self.style is BottomStyle.FIXED else self.groove_height

    def back_height(self, side_height: Mm) -> Mm:
        """Height of the back (mm): it ends above the groove where the bottom slides in under it."""
        groove = self.groove
        if groove is None or self.style is BottomStyle.CAPTURED:
            return side_height
        return side_height - groove.top
