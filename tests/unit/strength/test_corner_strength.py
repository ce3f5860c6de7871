"""A corner's strength by hand, against balance, scale and figures that follow from the section alone."""

import math
from dataclasses import replace

import pytest

from drawerwright.basics.phrases import phrase
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.holding import Bond, GluedFace, Holding, PullOff
from drawerwright.joints.joint import joint_of
from drawerwright.joints.setting import CornerGeometry, set_corner
from drawerwright.strength.bounds import Bounds
from drawerwright.strength.corner_strength import corner_strength
from drawerwright.strength.corner_wood import PLYWOOD, corner_wood
from drawerwright.wood.species import find_species
from drawerwright.wood.thickness import Panel

BIRCH = corner_wood(Panel.SOLID, find_species("yellow birch"))
FIR = corner_wood(Panel.SOLID, find_species("Douglas-fir, coast"))


def holding(pull=PullOff.ALONG_UPRIGHT, slope=60.0, lip=0.0, size=1.0, neck=None):
    cutter = Cutter(mid_depth=5.2 * size, step=3.4 * size, slope=slope)
    geometry = CornerGeometry(16.0 * size, 12.0 * size, lip * size)
    made = set_corner(cutter, geometry, *(() if neck is None else ((12.0 - neck) * size,)))
    return joint_of(cutter).holding(made, pull)


def strength(wood=BIRCH, pull=PullOff.ALONG_UPRIGHT, **section):
    return corner_strength(holding(pull, **section), wood, wood, pull)


def parting(corner, word):
    """Without glue."""
    return next(each for each in corner.bare if word in each.where)


def test_head_of_a_square_hook_shears_over_all_its_plane():
    """Source: balance. The whole pull goes through the head's plane and presses on it no more than it pulls, so that
    on average it takes the plane's length times the shear strength."""
    corner = strength(slope=89.5)
    length = 10.4 - 5.2
    assert parting(corner, "head").bears.high == pytest.approx(length * 13.0, rel=0.02)


def test_corner_twice_as_large_bears_twice_as_much():
    one, two = strength(), strength(size=2.0)
    assert two.pull.low == pytest.approx(2 * one.pull.low)
    assert two.turn.high == pytest.approx(4 * one.turn.high)
    assert two.give == pytest.approx(one.give)


def test_wood_twice_as_strong_bears_twice_as_much():
    doubled = replace(
        BIRCH,
        **{
            name: getattr(BIRCH, name) * 2
            for name in ("tension_across", "shear_along", "rolling", "tension_along")
        },
    )
    assert strength(doubled).pull.high == pytest.approx(2 * strength().pull.high)


def test_neck_in_tension_bends():
    """Source: a bar pulled off its middle, F / x (1 + 6 e / x); the moment is what the table gives of e."""
    neck = 4.3
    corner = strength(slope=89.5, neck=neck)
    found = parting(corner, "neck torn").bears.high
    fully_off = BIRCH.tension_along.high * neck / (1 + 6 * (12 - neck) / 2 / neck)
    assert 0.6 * fully_off < found < 1.4 * fully_off


def test_lip_does_not_matter():
    """Source: the table's rows with a lip differ by less than a hundredth; the neck is kept alike here."""
    assert strength(lip=4.0, neck=4.0).pull.low == pytest.approx(strength(lip=0.0, neck=4.0).pull.low)


def test_softwood_bears_less_and_each_band_is_in_order():
    for wood in (BIRCH, FIR, PLYWOOD):
        for pull in PullOff:
            corner = strength(wood, pull)
            assert 0 < corner.pull.low < corner.pull.high
            assert 0 < corner.turn.low < corner.turn.high
    assert strength(FIR).pull.high < strength(BIRCH).pull.high


def test_the_hook_holds_one_way_only():
    assert strength().unglued.low > 0
    assert strength(pull=PullOff.ALONG_FLAT).unglued is None
    assert strength(pull=PullOff.ALONG_FLAT).weakest.on_upright is None


def test_a_sloped_hook_slips_without_glue():
    """Source: friction of 0.35 holds a flank that rises by less than that over its run."""
    assert strength(slope=45).slips
    assert not strength(slope=80).slips


def test_a_neck_half_as_thick_is_weaker():
    assert strength(neck=2.4).pull.low < strength(neck=4.8).pull.low


def test_fingers_hold_by_area_and_rolling_shear():
    """Source: area of the cheeks, 2 t² / pitch a mm, times rolling shear of 0.18 to 0.28 of 13 MPa."""
    wide, thick = 6.0, 12.0
    area = thick * thick / wide
    face = GluedFace(
        phrase("cheeks"), area, Bond.CROSSED, 0.208 * thick**3 / wide, ((0.0, 0.0), (12.0, 12.0))
    )
    corner = corner_strength(Holding((face,)), BIRCH, BIRCH, PullOff.ALONG_UPRIGHT)
    assert corner.pull.high == pytest.approx(area * 0.28 * 13.0)
    assert corner.pull.low == pytest.approx(area * 0.18 * 13.0 * 0.86 / 1.4)
    assert corner.unglued is None


def test_a_section_beyond_the_table_says_so():
    assert not strength().outside
    assert strength(neck=1.0).outside


def test_bands_keep_their_order():
    assert Bounds.of(lambda cautious: 3.0 if cautious else 2.0) == Bounds(2.0, 3.0)
    assert Bounds(2.0, 8.0).middle == pytest.approx(math.sqrt(16))


def test_glue_helps_a_hook():
    for wood in (BIRCH, FIR, PLYWOOD):
        for slope in (45, 89.5):
            corner = strength(wood, slope=slope)
            assert corner.unglued.low < corner.pull.low
            assert corner.unglued.high < corner.pull.high
