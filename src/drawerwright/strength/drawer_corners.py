"""What a drawer bears at its corners: pulled off, racked, and stopped with its load.

Each force has its line of action, without which it says nothing:

- pull off: along the sides, shared by both, on their centre lines; the corners are free to turn.
- racking: sideways at one end while the other is held; all four corners bend alike, and two of them open. The bottom
  helps in truth, which is not counted.
- drop: the energy of a load that is stopped by the end piece until this comes off. It presses evenly along the piece,
  which bends between the sides; the corners are free to turn. Wood is elastic, nothing else gives way.
"""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics.lengths import Mm
from drawerwright.strength.bounds import Bounds
from drawerwright.strength.corner_strength import CornerStrength

CORNERS_AT_AN_END = 2
CORNERS = 4


@dataclass(frozen=True, slots=True)
class DrawerEnd:
    """The front or the back of a drawer and its two corners.

    width: between the centre lines of the sides (mm). depth: between those of front and back. height: of the corners.
    end_thickness, side_thickness: of the pieces. end_modulus, side_modulus: along their grain (MPa). end_bending: what
    the end piece bears in bending (MPa).
    """

    width: Mm
    depth: Mm
    height: Mm
    end_thickness: Mm
    side_thickness: Mm
    end_modulus: float
    side_modulus: float
    end_bending: Bounds
    corner: CornerStrength

    @property
    def pull_off(self) -> Bounds:
        """Force along the sides that pulls this end off (N)."""
        return self.corner.pull * (CORNERS_AT_AN_END * self.height)

    @property
    def pull_off_unglued(self) -> Bounds | None:
        """As `pull_off`, once the glue no longer helps; None where nothing else holds (N)."""
        bare = self.corner.unglued
        return None if bare is None else bare * (CORNERS_AT_AN_END * self.height)

    @property
    def racking(self) -> Bounds:
        """Sideways force at one end that opens a corner, the other end held (N): a frame of four alike corners, each of
        which bears a quarter of force times depth."""
        return self.corner.turn * (self.height * CORNERS / self.depth)

    @property
    def drop(self) -> Bounds:
        """Energy of a load that takes this end off, or breaks its piece, whichever comes first (J)."""
        ends = self.pull_off
        return Bounds(*(_energy(min(force, self._breaks), self._give) for force in (ends.low, ends.high)))

    @property
    def _breaks(self) -> float:
        """The load along the end piece that breaks it, its ends free to turn (N)."""
        return 8 * self.end_bending.high * self.height * self.end_thickness**2 / 6 / self.width

    @property
    def _give(self) -> float:
        """How far the load moves for each N (mm), as twice its energy over its square: the piece bent by an even load,
        both sides stretched, both corners."""
        bent = self.width**3 / (120 * self.end_modulus * self.height * self.end_thickness**3 / 12)
        stretched = self.depth / (self.side_modulus * self.side_thickness * self.height)
        return bent + (stretched + self.corner.give / self.height) / CORNERS_AT_AN_END


def _energy(force: float, give: float) -> float:
    """Energy of an elastic force (N, mm/N) in J."""
    return force**2 * give / 2 / 1000
