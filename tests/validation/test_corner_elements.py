"""The corner by finite elements: balance of forces, which no mesh changes, and what a finer mesh changes."""

import math
from functools import cache

import pytest
from corner_elements import NEAR_SHARE, CornerElements, Glue, Load
from derive_corner_factors import FINE, THICK, WOODS, Case

from drawerwright.joints.holding import PlaneName

SQUARE = Case("hardwood", mid=0.42, step=0.27, neck=0.5, flank=0.0, roof=0.5)
SLOPED = Case("hardwood", mid=0.42, step=0.27, neck=0.5, flank=1.0, roof=0.5)


@cache
def solved(case, glue, fine=FINE):
    return CornerElements(case.made, WOODS[case.wood], fine).solve(glue)


def mean(case, glue, load, name, part=1.0, fine=FINE):
    found = solved(case, glue, fine)
    plane = next(plane for plane in found.corner.hook.planes if plane.name is name)
    average = found.average(plane, found.shares(load), part)
    return average.normal * plane.length, average.shear * plane.length


@pytest.mark.parametrize("glue", [Glue.ALL, Glue.SHOULDER_OPEN])
def test_glue_carries_the_load(glue):
    """Source: balance of the flat piece."""
    found = solved(SLOPED, glue)
    assert found.glue_force(found.shares(Load.PULL)) == pytest.approx([0, 1], abs=1e-9)
    assert found.glue_force(found.shares(Load.PULL_FLAT)) == pytest.approx([1, 0], abs=1e-9)


@pytest.mark.parametrize(("case", "thrust"), [(SQUARE, 0.0), (SLOPED, 1.0)])
def test_without_glue_the_head_hangs_on_its_plane_alone(case, thrust):
    """Source: balance of the overhang. All of the pull goes through its plane, and the thrust of a slope without
    friction, the pull times rise over run."""
    normal, shear = mean(case, Glue.NONE, Load.PULL, PlaneName.HEAD)
    assert shear == pytest.approx(1.0, abs=1e-3)
    assert normal == pytest.approx(-thrust, abs=0.012)  # a square ledge leans by half a degree


@pytest.mark.parametrize(
    ("glue", "load", "name"),
    [
        (Glue.ALL, Load.PULL, PlaneName.SHOULDER),
        (Glue.SHOULDER_OPEN, Load.PULL, PlaneName.NECK_ROOT),
        (Glue.NONE, Load.PULL, PlaneName.HOOK),
    ],
)
@pytest.mark.parametrize("part", [NEAR_SHARE, 1.0])
def test_a_mesh_twice_as_fine_says_the_same(glue, load, name, part):
    """Source: the same on half the mesh; averages stand although stress has no bound at an inner corner."""
    coarse, fine = (math.hypot(*mean(SQUARE, glue, load, name, part, each)) for each in (FINE, FINE / 2))
    assert coarse == pytest.approx(fine, rel=0.03)


def test_eccentric_neck_bends_as_a_bar_would():
    """Source: by hand, the force enters below on the upright's middle and above over the whole head; the glue along the
    neck takes some of the moment over, so a little less than half of what the neck is thinner than the piece."""
    found = solved(SQUARE, Glue.SHOULDER_OPEN)
    neck = next(plane for plane in found.corner.hook.planes if plane.name is PlaneName.NECK)
    arm = (THICK - neck.length) / 2
    assert 0.75 * arm < found.neck_moment(neck, found.shares(Load.PULL)) < 1.1 * arm


def test_elements_lie_on_one_side_of_the_cut():
    """Source: areas of both sections by hand: nothing is lost at the slope."""
    corner = solved(SLOPED, Glue.ALL).corner
    made, hook = SLOPED.made, corner.hook
    pieces = []
    for body in (corner.flat, corner.upright):
        (x0, y0), (x1, y1), (x2, y2) = (body.mesh.p[:, body.mesh.t[k]] for k in range(3))
        pieces.append(0.5 * abs((x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)).sum())
    thick, cut = made.corner.flat_thickness, made.bit_height
    removed = cut * (hook.neck + hook.head) / 2
    assert pieces[0] == pytest.approx(corner.far * thick - removed)
    assert pieces[1] == pytest.approx(-corner.foot * THICK + removed)
