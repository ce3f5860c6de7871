r"""A scoop: cut out of the middle of a front's upper edge, so that it is pulled open by hand.

::

        +------\              /------+     `width` at the upper edge, `depth` at its lowest; its two lower
        |       |            |       |     corners are rounded by `radius`, and its sides are upright
        |        \__________/        |
        +----------------------------+
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeAlias

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase

Point: TypeAlias = tuple[Mm, Mm]
STEPS = 12
"""A rounded corner is drawn with so many steps."""


@dataclass(frozen=True, slots=True)
class Scoop:
    """Its size (mm).

    Raises:
        InvalidValueError: its corners have no room.
    """

    width: Mm
    depth: Mm
    radius: Mm

    def __post_init__(self) -> None:
        most = min(self.width / 2, self.depth)
        if self.radius > most:
            raise InvalidValueError(
                phrase(
                    "a radius of {radius} does not fit: at most {most}, half the width and no more than the depth",
                    radius=millimetres(self.radius, "g"),
                    most=millimetres(most, "g"),
                ),
                entry=("radius",),
            )

    def outline(self, length: Mm, height: Mm) -> tuple[Point, ...]:
        """Its edge in a front of this size, from the left end of its mouth to the right one: along the front, and above
        its lower edge (mm)."""
        left, right, low = (length - self.width) / 2, (length + self.width) / 2, height - self.depth
        r = self.radius
        turns = [math.pi / 2 * step / STEPS for step in range(STEPS + 1)] if r else [0.0]
        down = [(left + r - r * math.cos(turn), low + r - r * math.sin(turn)) for turn in turns]
        up = [(length - x, y) for x, y in reversed(down)]
        return ((left, height), *down, *up, (right, height))
