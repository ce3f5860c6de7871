"""Bottoms and their grooves.

::

    side, seen from inside            captured: groove all round, back as high as the front
    +--------------------------+      slid:     groove in front and sides; the back ends above it
    |                          |      fixed:    no groove; screwed to the lower edges
    |==========================|  groove: `groove_width` wide, `groove_depth` deep
    |                          |  ^ `groove_height` from the lower edge to the groove
    +--------------------------+  v
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics.lengths import Mm
from drawerwright.wood.stock import Stock


class BottomStyle(StrEnum):
    CAPTURED = "captured"
    SLID = "slid"
    FIXED = "fixed"


@dataclass(frozen=True, slots=True)
class Groove:
    """A groove along the inside of a part (mm): its lower edge above the part's lower edge, width, depth."""

    height: Mm
    width: Mm
    depth: Mm


@dataclass(frozen=True, slots=True)
class Bottom:
    """How a box is closed below.

    `clearance` is what the bottom is smaller than the room it gets, in all, in each direction;
    `groove_play` what the groove is wider than the bottom is thick.
    """

    style: BottomStyle
    stock: Stock
    groove_depth: Mm = 6.0
    groove_height: Mm = 10.0
    groove_play: Mm = 0.2
    clearance: Mm = 1.5

    @property
    def groove(self) -> Groove | None:
        """The groove, None where the bottom is fixed from below."""
        if self.style is BottomStyle.FIXED:
            return None
        return Groove(self.groove_height, self.stock.thickness.value + self.groove_play, self.groove_depth)

    def back_height(self, side_height: Mm) -> Mm:
        """Height of the back (mm): it ends above the groove where the bottom slides in under it."""
        if self.style is not BottomStyle.SLID:
            return side_height
        groove = self.groove
        assert groove is not None
        return side_height - groove.height - groove.width

    def size(
        self, inside_width: Mm, inside_depth: Mm, side_thickness: Mm, front_thickness: Mm, back_thickness: Mm
    ) -> tuple[Mm, Mm]:
        """Width and depth of the bottom (mm) in a box with this inside.

        Captured: into all four grooves. Slid: into three grooves and flush with the back's outer face, where
        it is screwed. Fixed: as large as the box, so the outer sizes count.
        """
        match self.style:
            case BottomStyle.CAPTURED:
                width, depth = inside_width + 2 * self.groove_depth, inside_depth + 2 * self.groove_depth
            case BottomStyle.SLID:
                width = inside_width + 2 * self.groove_depth
                depth = inside_depth + self.groove_depth + back_thickness
            case BottomStyle.FIXED:
                width = inside_width + 2 * side_thickness
                depth = inside_depth + front_thickness + back_thickness
        return width - self.clearance, depth - self.clearance
