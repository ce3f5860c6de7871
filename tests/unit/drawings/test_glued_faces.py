"""Glue against the solids: the faces that a corner is glued by, measured on the mesh of the part that has them.

The mesh knows nothing of joints: what is left of a piece's surface without its own six sides was cut by the joint.
"""

from __future__ import annotations

import numpy as np
import pytest
from drawing_cases import drawer, lock_cutter

from drawerwright.drawers.assembly import assemble
from drawerwright.drawers.bottom import BottomStyle
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.parts import Role
from drawerwright.drawings.solids import drawer_solids
from drawerwright.joints.corner_key import CornerKey
from drawerwright.joints.joint import MadeCorner
from drawerwright.joints.setting import FenceRule, set_corner
from drawerwright.run.gluing import LOST, SPREAD, glue_grams, glued_area


def cut_surface(box: DrawerBox, made: dict[CornerKey, MadeCorner]) -> float:
    """Area (mm²) of what the joints cut on the upright pieces."""
    assembled = assemble(box)
    area = 0.0
    for placed, part in zip(assembled.placed, drawer_solids(assembled, made), strict=True):
        if not placed.part.ends or placed.part.ends[0].role is not Role.UPRIGHT:
            continue
        triangles = part.triangles()
        across = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
        sizes = np.linalg.norm(across, axis=1) / 2
        through = next(k for k in range(3) if placed.place.through[k])
        low, high = np.array(part.bounds[:3]), np.array(part.bounds[3:])
        own = np.zeros(len(triangles), dtype=bool)
        for axis in (through, 2):  # outer and inside face, lower and upper edge
            for level in (low[axis], high[axis]):
                own |= np.abs(triangles[:, :, axis] - level).max(axis=1) < 1e-6
        area += float(sizes[~own].sum())
    return area


@pytest.mark.parametrize("lip", [0.0, 9.0])
def test_the_cut_faces_of_a_lock_corner(lip: float) -> None:
    box = drawer(lip=lip, bottom=BottomStyle.FIXED)
    made: dict[CornerKey, MadeCorner] = {
        keyed.key: set_corner(lock_cutter(), keyed.geometry, rule)
        for keyed, rule in zip(box.corners[::2], FenceRule, strict=False)
    }
    assert glued_area(assemble(box), made) == pytest.approx(cut_surface(box, made), rel=1e-6)


def test_grams_are_area_times_what_is_spread() -> None:
    """Twice a tenth of a square metre at the stated rate, and what is lost."""
    assert glue_grams([1e5, 1e5]) == pytest.approx(0.2 * SPREAD * (1 + LOST))
