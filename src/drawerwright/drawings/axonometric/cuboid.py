"""A board as a solid: the simplest thing that stands in a picture."""

from __future__ import annotations

from itertools import product

import numpy as np

from drawerwright.basics.lengths import Mm
from drawerwright.drawings.axonometric.viewpoint import Vectors


def cuboid(low: tuple[Mm, Mm, Mm], high: tuple[Mm, Mm, Mm]) -> Vectors:
    """A box along the axes as twelve triangles, counter-clockwise from outside; shape (12, 3, 3)."""
    triangles = []
    for axis, is_far in product(range(3), (False, True)):
        across, up = (axis + 1) % 3, (axis + 2) % 3
        quad = []
        for far_across, far_up in ((0, 0), (1, 0), (1, 1), (0, 1)):
            place = [0.0, 0.0, 0.0]
            place[axis] = (low, high)[is_far][axis]
            place[across] = (low, high)[far_across][across]
            place[up] = (low, high)[far_up][up]
            quad.append(place)
        if not is_far:
            quad.reverse()
        triangles += [[quad[0], quad[1], quad[2]], [quad[0], quad[2], quad[3]]]
    return np.array(triangles)
