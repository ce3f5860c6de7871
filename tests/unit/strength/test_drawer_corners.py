"""Forces on a drawer from those on its corners, against frames and beams by other means."""

import numpy as np
import pytest

from drawerwright.strength.bounds import Bounds
from drawerwright.strength.corner_strength import CornerStrength
from drawerwright.strength.drawer_corners import DrawerEnd


def end(pull=10.0, turn=80.0, give=1e-3, **sizes):
    corner = CornerStrength(Bounds(pull / 2, pull), Bounds(turn / 2, turn), give, ())
    usual = {"width": 400.0, "depth": 450.0, "height": 100.0, "end_thickness": 18.0, "side_thickness": 12.0}
    return DrawerEnd(
        **{**usual, **sizes},
        end_modulus=12000.0,
        side_modulus=11000.0,
        end_bending=Bounds(80.0, 100.0),
        corner=corner,
    )


def test_pull_off_is_shared_by_two_corners():
    assert end().pull_off == Bounds(2 * 100 * 5.0, 2 * 100 * 10.0)


def test_racking_moment_is_that_of_a_frame():
    """Source: a frame of four bars by direct stiffness: one end pushed sideways, the other held at its middle."""
    width, depth, force = 400.0, 450.0, 1.0
    stiff_end, stiff_side = 12000 * 100 * 18**3 / 12, 11000 * 100 * 12**3 / 12
    # Unknowns: sway of the front, and the turn of front and back corners; both sides alike, members do not stretch.
    k = np.zeros((3, 3))
    side = stiff_side / depth
    k[0, 0] = 2 * 12 * side / depth**2
    k[0, 1] = k[1, 0] = k[0, 2] = k[2, 0] = 2 * 6 * side / depth
    k[1, 1] = k[2, 2] = 2 * 4 * side + 6 * stiff_end / width * 2
    k[1, 2] = k[2, 1] = 2 * 2 * side
    sway, front, back = np.linalg.solve(k, [force, 0, 0])
    moment = abs(6 * side / depth * sway + 4 * side * front + 2 * side * back)
    drawer = end()
    assert drawer.racking.high * moment == pytest.approx(80.0 * 100)


def test_drop_is_the_energy_of_beam_bars_and_corners():
    """Source: strain energy of an even load on a beam, added up in slices; of two stretched bars; of two springs."""
    drawer = end()
    force = drawer.pull_off.low
    x = (np.arange(20000) + 0.5) * 400 / 20000
    moment = force / 400 * x * (400 - x) / 2
    bent = (moment**2).sum() * 400 / 20000 / (2 * 12000 * 100 * 18**3 / 12)
    bars = 2 * (force / 2) ** 2 * 450 / (2 * 11000 * 12 * 100)
    springs = 2 * (force / 2) ** 2 * 1e-3 / 100 / 2
    assert drawer.drop.low == pytest.approx((bent + bars + springs) / 1000)


def test_a_thin_front_breaks_before_it_comes_off():
    """Source: an even load breaks a beam at 8 W f / L."""
    thin = end(pull=400.0, end_thickness=9.0)
    assert thin.pull_off.high > 8 * 100 * 100 * 81 / 6 / 400
    stronger = end(pull=800.0, end_thickness=9.0)
    assert stronger.drop.high == pytest.approx(thin.drop.high)
