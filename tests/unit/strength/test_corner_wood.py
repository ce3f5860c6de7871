"""The strength of wood in a corner, with its sources."""

import pytest

from drawerwright.strength.corner_wood import corner_wood
from drawerwright.wood.sourced import Provenance, least_sure
from drawerwright.wood.species import find_species
from drawerwright.wood.thickness import Panel


@pytest.mark.parametrize(
    ("name", "across", "along", "bending", "modulus"),
    [
        ("yellow birch", 6.3, 13.0, 114, 13.9),
        ("northern red oak", 5.5, 12.3, 99, 12.5),
        ("Douglas-fir, coast", 2.3, 7.8, 85, 13.4),
    ],
)
def test_likely_end_is_the_published_mean(name, across, along, bending, modulus):
    """Source: USDA Wood Handbook FPL-GTR-190, 2010, Table 5-3a, 12 %; modulus in GPa, a tenth more without shear."""
    wood = corner_wood(Panel.SOLID, find_species(name))
    assert wood.tension_across.high == pytest.approx(across)
    assert wood.shear_along.high == pytest.approx(along)
    assert wood.tension_along.high == pytest.approx(bending)
    assert wood.modulus == pytest.approx(1100 * modulus)
    assert wood.in_newtons


def test_what_was_not_tested_is_marked_assumed():
    """The table has no tension across the grain of sugar maple."""
    maple = corner_wood(Panel.SOLID, find_species("sugar maple"))
    assert least_sure(*maple.sources) is Provenance.ASSUMED
    assert 0.2 < maple.tension_across.low / 16.1 < maple.tension_across.high / 16.1 < 0.6
    birch = corner_wood(Panel.SOLID, find_species("yellow birch"))
    assert least_sure(*birch.sources) is Provenance.MEMORY


def test_wood_that_nobody_named_may_be_any():
    unnamed = corner_wood(Panel.SOLID)
    for name in ("yellow birch", "western redcedar", "sugar maple"):
        known = corner_wood(Panel.SOLID, find_species(name))
        assert unnamed.shear_along.low <= known.shear_along.low
        assert known.tension_across.high <= unnamed.tension_across.high


def test_plywood_is_assumed_and_boards_without_grain_are_unknown():
    assert not corner_wood(Panel.BIRCH_PLYWOOD).in_newtons
    assert corner_wood(Panel.MDF) is None
