"""From where a thing is looked at, in parallel projection."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import Degrees

Vectors: TypeAlias = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Viewpoint:
    """Directions of the paper in space (unit vectors): its right and its up; the viewer stands before it.

    In the drawer's frame: x across, y back, z up.
    """

    right: tuple[float, float, float]
    up: tuple[float, float, float]

    @property
    def toward(self) -> tuple[float, float, float]:
        """From the thing to the viewer."""
        x, y, z = np.cross(self.right, self.up)
        return float(x), float(y), float(z)

    def seen(self, places: Vectors) -> Vectors:
        """Places on paper, with how near they are to the viewer as third: shape (..., 3)."""
        return np.asarray(places @ np.array([self.right, self.up, self.toward]).T)


def from_above(turn: Degrees, rise: Degrees) -> Viewpoint:
    """Looked at from before, the viewer gone round to the right by `turn` and up by `rise`."""
    a, b = math.radians(turn), math.radians(rise)
    return Viewpoint(
        (math.cos(a), math.sin(a), 0.0),
        (-math.sin(a) * math.sin(b), math.cos(a) * math.sin(b), math.cos(b)),
    )


ISOMETRIC = from_above(45.0, math.degrees(math.atan(1 / math.sqrt(2))))
"""All three edges of a cube are drawn equally long, two of them rising by 30° (ISO 5456-3)."""
FORESHORTENED = math.sqrt(2 / 3)
"""How long an edge is drawn in isometric projection."""
BEFORE = Viewpoint((1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
FROM_THE_RIGHT = Viewpoint((0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
"""Looked at from the right, the front at the left."""
FROM_ABOVE = Viewpoint((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
"""Looked at from above, the front below."""
