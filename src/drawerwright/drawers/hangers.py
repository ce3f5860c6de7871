"""Rails that folders hang on: what the folders need of a drawer, and where the rails are in it.

::

        side |=|                       |=| side      rails seen on end: the hooks of a folder reach from one to the
             |r|-------- span ---------|r|           other, `span` between their middles
             | |  folder, `below` high | |
"""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics.lengths import MM_PER_INCH, Mm


@dataclass(frozen=True, slots=True)
class UsualRails:
    """What is taken of rails and folders where nothing else is said (mm)."""

    rail: Mm
    below: Mm
    drop: Mm


USUAL_RAILS = {
    "mm": UsualRails(rail=3.0, below=240.0, drop=12.0),
    "in": UsualRails(rail=MM_PER_INCH / 8, below=9.5 * MM_PER_INCH, drop=MM_PER_INCH / 2),
}
"""For a shop that works in millimetres and for one in inches (common practice, from memory): measure your folders."""


@dataclass(frozen=True, slots=True)
class Hangers:
    """Rails for hanging folders (mm).

    span: from the middle of one rail to that of the other. rail: thickness of each. below: how far a folder hangs below
    their upper edges. drop: how far these lie below those of the sides. is_across: folders hang from side to side, so
    that the rails are at the sides; else from front to back, and the rails are at the front and the back.
    """

    span: Mm
    rail: Mm
    below: Mm
    drop: Mm
    is_across: bool = True

    @property
    def needed(self) -> Mm:
        """What has to be clear between the pieces that the rails are fixed to (mm)."""
        return self.span + self.rail

    def placed(self, inside: tuple[Mm, Mm], height: Mm, floor: Mm) -> HungRails:
        """The rails in a drawer.

        Args:
            inside: its clear width and depth.
            height: of its sides.
            floor: upper face of its bottom, above the sides' lower edges.
        """
        between, length = inside if self.is_across else (inside[1], inside[0])
        level = height - self.drop
        return HungRails(self, between, length, (between - self.needed) / 2, level, level - floor)


@dataclass(frozen=True, slots=True)
class HungRails:
    """The rails in one drawer (mm).

    between: clear between the pieces that they are fixed to. length: of each. packing: what each is packed off with,
    below 0 where folders do not go in. level: of their upper edges above the sides' lower edges. room: from there down
    to the bottom.
    """

    hangers: Hangers
    between: Mm
    length: Mm
    packing: Mm
    level: Mm
    room: Mm
