"""The wood of a virtual shop: pieces that keep the directions in which they lay on their sheet, and what was cut into
them.

x points along the sheet, y up its drawing, z out of it. Directions are those of the piece itself: it is turned at a
machine as a whole, so what a machine does to its right or below is found by the right hand.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field

from drawerwright.drawers.parts import PartEnd, Role
from drawerwright.sheets.patterns import Cut

Direction = tuple[int, int, int]
UP: Direction = (0, 0, 1)
NEAR = 2e-3
"""Lengths closer than this are one: twice the finest grid of a saw (mm)."""


def cross(one: Direction, other: Direction) -> Direction:
    """The direction square to two others, by the right hand."""
    (a, b, c), (d, e, f) = one, other
    return (b * f - c * e, c * d - a * f, a * e - b * d)


def back(direction: Direction) -> Direction:
    """The opposite direction."""
    x, y, z = direction
    return (-x, -y, -z)


@dataclass(frozen=True)
class Routed:
    """One pass past the cutter as it really stood."""

    role: Role
    bit_height: float
    fence: float
    cutter: str | None
    """What it is called; None for the only one of a shop."""


@dataclass(frozen=True)
class Grooved:
    """A groove in the inside face: along which edge, its near side above it, width, depth."""

    edge: Direction
    height: float
    width: float
    depth: float


@dataclass(frozen=True)
class Hole:
    """A hole through a part: from its left edge seen from outside, above its lower edge, and where these are."""

    left: Direction
    lower: Direction
    from_left: float
    above_lower: float
    diameter: float


@dataclass
class Piece:
    """A piece of wood. `along` points from its first drawn end to the other, `inside` out of its inside face."""

    stock: str
    along: Direction
    across: Direction
    length: float
    width: float
    front: Direction | None = None
    """Towards the end that is marked as the front one."""
    routed: dict[Direction, list[Routed]] = field(default_factory=dict)
    grooves: list[Grooved] = field(default_factory=list)
    holes: list[Hole] = field(default_factory=list)
    notches: list[tuple[float, float, float]] = field(default_factory=list)
    """In the lower edge: where each begins and ends from the left as seen from outside, and how high it is."""
    lower: Direction | None = None
    """Towards the lower edge, once something has made it that."""
    banded: Counter[Direction] = field(default_factory=Counter)

    inside = UP

    def size(self, direction: Direction) -> float:
        """How long the piece is in a direction."""
        return self.length if direction in (self.along, back(self.along)) else self.width


@dataclass
class Band(Piece):
    """A band: what is left of it between `low` and `high` on its drawn width, what is crossed out at its ends."""

    low: float = 0.0
    high: float = 0.0
    crossed: tuple[float, float] = (0.0, 0.0)
    torn: tuple[bool, bool] = (False, False)
    marked: PartEnd | None = None
    """What the edge is marked as that has a mark."""
    begins_high: bool | None = None
    """Which end runs along the fence, once the ripping has begun."""


@dataclass
class Slab:
    """A rectangle of a sheet on the saw."""

    x0: float
    y0: float
    x1: float
    y1: float

    def is_at(self, x: float, y: float, x_extent: float, y_extent: float) -> bool:
        wanted = (x, y, x + x_extent, y + y_extent)
        return all(
            abs(a - b) < NEAR for a, b in zip((self.x0, self.y0, self.x1, self.y1), wanted, strict=True)
        )

    def holds(self, cut: Cut) -> bool:
        return (
            self.x0 - NEAR < cut.x0
            and self.y0 - NEAR < cut.y0
            and cut.x1 < self.x1 + NEAR
            and cut.y1 < self.y1 + NEAR
        )
