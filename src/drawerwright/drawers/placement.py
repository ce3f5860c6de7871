"""Where a part sits in its drawer: one corner of its outer box, and where its own directions point.

::

        z  y                     drawer frame: x across from the left side's outer face, y back from the
        ^ /                      front's inner face (the front of the box, not one that is screwed to it),
        |/                       z up from the sides' lower edges
        0---> x

A part's own frame is the one that it is marked in: along its length from its first end, across its width from
its lower edge (a bottom's front edge), and through its thickness from its inside face outwards.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from drawerwright.basics.lengths import Mm

Place: TypeAlias = tuple[Mm, Mm, Mm]
"""A place in space (mm): x, y, z of the drawer, or along, across, through of a part."""
Direction: TypeAlias = tuple[int, int, int]
"""Along one axis of the drawer, to either side."""

RIGHT: Direction = (1, 0, 0)
LEFT: Direction = (-1, 0, 0)
BACK: Direction = (0, 1, 0)
FRONT: Direction = (0, -1, 0)
UP: Direction = (0, 0, 1)
DOWN: Direction = (0, 0, -1)


@dataclass(frozen=True, slots=True)
class Placement:
    """Where a part sits.

    corner: of its outer box, where its own frame begins, in the drawer's frame (mm).
    along, across, through: where its length, its width and its thickness run from there.
    """

    corner: Place
    along: Direction
    across: Direction
    through: Direction

    def in_drawer(self, place: Place) -> Place:
        """A place of the part, told in the drawer's frame."""
        (x, y, z), (length, width, thickness) = self.corner, place
        for run, (right, back, up) in (
            (length, self.along),
            (width, self.across),
            (thickness, self.through),
        ):
            x, y, z = x + run * right, y + run * back, z + run * up
        return x, y, z

    def in_part(self, place: Place) -> Place:
        """A place of the drawer, told in the part's own frame."""
        (x, y, z), (left, near, low) = place, self.corner
        along, across, through = (
            (x - left) * right + (y - near) * back + (z - low) * up
            for right, back, up in (self.along, self.across, self.through)
        )
        return along, across, through
