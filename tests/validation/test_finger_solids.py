"""Both pieces of a finger corner as solids of our own: blocks less a block for every notch, by manifold3d alone.

The row tells where notches are; that they interlock is told by the volumes of boolean operations.

Source: solid geometry by the library manifold3d, on blocks made here.
"""

from __future__ import annotations

import pytest
from manifold3d import Manifold

from drawerwright.joints.kinds.finger.finger_row import FingerRow

FLAT, UPRIGHT, LONG = 14.6, 12.2, 60.0


def block(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]) -> Manifold:
    size = tuple(high - low for low, high in (x, y, z))
    return Manifold.cube(size).translate((x[0], y[0], z[0]))


def combs(row: FingerRow, shift: float = 0.0) -> tuple[Manifold, Manifold]:
    """The flat piece along x with its outer face at y = FLAT, the upright one along -y with its outer face at x = 0."""
    flat = block((0, LONG), (0, FLAT), (0, row.width))
    for low, high in row.notches_between:
        flat -= block((-1, UPRIGHT), (-1, FLAT + 1), (low, high))
    upright = block((0, UPRIGHT), (-LONG, FLAT), (0, row.width))
    for low, high in row.notches_at_ends:
        upright -= block((-1, UPRIGHT + 1), (0, FLAT + 1), (low - (low == 0), high + (high == row.width)))
    return flat, upright.translate((0.0, 0.0, shift))


@pytest.mark.parametrize("width", [19.0, 57.0, 100.0, 104.5, 110.0, 233.3])
@pytest.mark.parametrize("clearance", [0.0, 0.1])
def test_the_combs_interlock_without_sharing_wood(width: float, clearance: float) -> None:
    """Source: boolean operations of manifold3d on blocks made here."""
    row = FingerRow(width, 9.5, clearance)
    flat, upright = combs(row)
    assert (flat ^ upright).volume() == pytest.approx(0.0, abs=1e-6)
    # The corner block is filled but for half the clearance at either flank of each of the upright piece's fingers.
    flanks = 2 * (row.fingers - 1)
    corner = block((0, UPRIGHT), (0, FLAT), (0, width))
    left = (corner - (flat + upright)).volume()
    assert left == pytest.approx(flanks * clearance / 2 * FLAT * UPRIGHT, rel=1e-6, abs=1e-6)


def test_without_clearance_the_flanks_touch_all_over() -> None:
    """Pushed along the edge by a hair, every flank on one side bites: their area is what is glued.

    Source: boolean operations of manifold3d on blocks made here.
    """
    row, hair = FingerRow(110.0, 9.5), 1e-3
    flat, upright = combs(row, hair)
    assert (flat ^ upright).volume() / hair == pytest.approx(row.glued(FLAT, UPRIGHT) / 2, rel=1e-3)


def test_with_clearance_it_moves_by_half_of_it_either_way_and_no_further() -> None:
    """Source: boolean operations of manifold3d on blocks made here."""
    row = FingerRow(110.0, 9.5, 0.1)
    for shift, clashes in ((0.0499, False), (-0.0499, False), (0.0501, True), (-0.0501, True)):
        flat, upright = combs(row, shift)
        assert ((flat ^ upright).volume() > 1e-4) == clashes
