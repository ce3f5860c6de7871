"""Every row of the tables of wood and panels, typed in again from what is named, against what the program works with.

The rows are in `data/published_woods.csv` and `data/published_panels.csv`. "Read" is mostly second-hand: page texts,
and copies that name the table.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from drawerwright.strength.corner_strength import SELF_HOLDING
from drawerwright.strength.corner_wood import corner_wood
from drawerwright.wood.board import board_bending, board_density
from drawerwright.wood.movement import PLYWOOD_IN_PLANE, PLYWOOD_THICKNESS, Sawn, species_swelling
from drawerwright.wood.species import find_species
from drawerwright.wood.thickness import Panel, published_range

DATA = Path(__file__).parent / "data"
LAST_DIGIT = 1e-9


def woods_with(*columns: str) -> tuple[object, ...]:
    """Rows that have these figures, each by the name of its species."""
    rows = csv.DictReader((DATA / "published_woods.csv").read_text("utf-8").splitlines())
    return tuple(
        pytest.param(row["species"], *(float(row[column]) for column in columns), id=row["species"])
        for row in rows
        if all(row[column] for column in columns)
    )


def panels() -> tuple[object, ...]:
    """Kind, nominal thickness, least, typical (None where the table has none) and most."""
    rows = csv.DictReader((DATA / "published_panels.csv").read_text("utf-8").splitlines())
    return tuple(
        pytest.param(
            row["panel"],
            float(row["nominal_mm"]),
            float(row["low_mm"]),
            float(row["typical_mm"]) if row["typical_mm"] else None,
            float(row["high_mm"]),
            id=f"{row['panel']}-{row['nominal_mm']}",
        )
        for row in rows
    )


@pytest.mark.parametrize(
    ("species", "radial", "tangential"), woods_with("coefficient_radial", "coefficient_tangential")
)
def test_coefficient_of_every_species(species: str, radial: float, tangential: float) -> None:
    """Source: USDA Wood Handbook, FPL-GTR-190, 2010, Table 13-5, p. 13-17 (hardwoods read, most softwoods from memory);
    European species DIN 68100:2010 (from memory)."""
    known = find_species(species)
    assert species_swelling(known, Sawn.RADIAL).coefficient == pytest.approx(radial, abs=LAST_DIGIT)
    assert species_swelling(known, Sawn.TANGENTIAL).coefficient == pytest.approx(tangential, abs=LAST_DIGIT)


@pytest.mark.parametrize(
    ("species", "radial", "tangential"), woods_with("shrinkage_radial", "shrinkage_tangential")
)
def test_shrinkage_of_every_species(species: str, radial: float, tangential: float) -> None:
    """Source: USDA Wood Handbook, FPL-GTR-190, 2010, Table 4-3, p. 4-6, and FPL-GTR-282, 2021, p. 4-8 (25 rows read,
    the others from memory; imported woods Table 4-4, from memory), from green to ovendry: 100 mm lose so many, as Eq.
    (4-9) has it."""
    known = find_species(species)
    for cut, lost in ((Sawn.RADIAL, radial), (Sawn.TANGENTIAL, tangential)):
        assert species_swelling(known, cut).movement(100, 30, 0).change == pytest.approx(-lost)


@pytest.mark.parametrize(
    ("species", "gravity", "bending", "modulus", "shear"),
    woods_with("gravity", "bending_kPa", "modulus_MPa", "shear_kPa"),
)
def test_strength_of_every_species(
    species: str, gravity: float, bending: float, modulus: float, shear: float
) -> None:
    """Source: USDA Wood Handbook, FPL-GTR-190, 2010, Table 5-3a (metric), pp. 5-5 to 5-8, 12 % (read); European species
    DIN 68364 (from memory). The modulus without shear is a tenth more (ch. 5, read)."""
    known = find_species(species)
    wood = corner_wood(Panel.SOLID, known)
    assert wood is not None
    assert wood.shear_along.high == pytest.approx(shear / 1000)
    assert wood.tension_along.high == pytest.approx(bending / 1000)
    assert wood.modulus == pytest.approx(1.1 * modulus)
    assert board_density(Panel.SOLID, 15, known, 12).value == pytest.approx(1120 * gravity)


@pytest.mark.parametrize(("species", "tension"), woods_with("tension_kPa"))
def test_tension_across_the_grain(species: str, tension: float) -> None:
    """Source: USDA Wood Handbook, FPL-GTR-190, 2010, Table 5-3a (metric), 12 % (read)."""
    wood = corner_wood(Panel.SOLID, find_species(species))
    assert wood is not None
    assert wood.tension_across.high == pytest.approx(tension / 1000)


def test_rolling_shear() -> None:
    """Source: USDA Wood Handbook, FPL-GTR-190, 2010, ch. 5, p. 5-15 (from memory): 18 to 28 % of the shear along the
    grain, alike in both planes. Of birch plywood 2.3 N/mm² across and 2.7 along its face, characteristic, 9 to 18 mm
    (Handbook of Finnish Plywood, from memory), lie in what is assumed of its veneers. The rolling shear modulus (30 to
    80 N/mm² in softwood) has no test: bottoms are too thin for their span to shear."""
    maple = corner_wood(Panel.SOLID, find_species("maple, sugar"))
    assert maple is not None
    assert maple.rolling.low / maple.shear_along.low == pytest.approx(0.18)
    assert maple.rolling.high / maple.shear_along.high == pytest.approx(0.28)
    birch = corner_wood(Panel.BIRCH_PLYWOOD)
    assert birch is not None
    assert birch.rolling.low <= 2.3 <= 2.7 <= birch.rolling.high


def test_friction_of_wood() -> None:
    """Source: USDA Wood Handbook, FPL-GTR-190, 2010, ch. 4: smooth dry wood on a hard smooth surface 0.3 to 0.5 (from
    memory). Older editions have 0.6 for wood on wood at rest, EN 1995-2 has 0.17 for planed timber (both from memory):
    a hook holds by friction at a slope near the lower end of what dry wood shows. Wood on steel has no test: no corner
    has any."""
    assert 0.3 <= SELF_HOLDING <= 0.5


def test_plywood_moves_little_in_its_plane() -> None:
    """Source: Handbook of Finnish Plywood 2002/2007 (from memory): 0.015 % of its length and 0.35 % of its thickness
    for a point of moisture."""
    assert PLYWOOD_IN_PLANE.movement(1000, 8, 12).change == pytest.approx(0.6)
    assert PLYWOOD_THICKNESS.movement(18, 8, 12).change == pytest.approx(0.252)


@pytest.mark.parametrize("cut", Sawn)
@pytest.mark.parametrize(
    (
        "species",
        "tangential",
        "radial",
        "shear_tangential",
        "shear_radial",
        "poisson_tangential",
        "poisson_radial",
    ),
    woods_with("ET_EL", "ER_EL", "GLT_EL", "GLR_EL", "nu_LT", "nu_LR"),
)
def test_elastic_ratios_of_every_species(
    species: str,
    tangential: float,
    radial: float,
    shear_tangential: float,
    shear_radial: float,
    poisson_tangential: float,
    poisson_radial: float,
    cut: Sawn,
) -> None:
    """Source: USDA Wood Handbook, FPL-GTR-282, 2021, Tables 5-1 and 5-2 (about half of the values read, the rest from
    memory)."""
    board = board_bending(Panel.SOLID, 15, find_species(species), cut)
    assert board is not None
    is_flat = cut is Sawn.TANGENTIAL
    assert board.across / board.along == pytest.approx(tangential if is_flat else radial)
    assert board.shear / board.along == pytest.approx(shear_tangential if is_flat else shear_radial)
    assert board.poisson == pytest.approx(poisson_tangential if is_flat else poisson_radial)


@pytest.mark.parametrize(
    ("plies", "along", "across"),
    [
        (3, 16471, 1029),
        (5, 12737, 4763),
        (7, 11395, 6105),
        (9, 10719, 6781),
        (11, 10316, 7184),
        (13, 10048, 7452),
        (15, 9858, 7642),
        (17, 9717, 7783),
    ],
)
def test_stiffness_of_birch_plywood(plies: int, along: float, across: float) -> None:
    """Source: Handbook of Finnish Plywood 2002/2007, mechanical properties (from memory), and laminate theory, which
    gives the same to 1 N/mm²: veneers of 1.4 mm, 17,500 N/mm² along and nothing across, the faces sanded to 1.1 mm."""
    edges, at = [], 0.0
    for ply in range(plies):
        thick = 1.1 if ply in (0, plies - 1) else 1.4
        edges.append((at, at + thick))
        at += thick
    middle = at / 2
    stiff = [sum((b - middle) ** 3 - (a - middle) ** 3 for a, b in edges[odd::2]) / 3 for odd in (0, 1)]
    whole = at**3 / 12
    assert 17500 * stiff[0] / whole == pytest.approx(along, abs=1)
    assert 17500 * stiff[1] / whole == pytest.approx(across, abs=1)
    board = board_bending(Panel.BIRCH_PLYWOOD, at)
    assert board is not None
    assert (board.along, board.across) == pytest.approx((along, across), abs=1)


@pytest.mark.parametrize(("panel", "nominal", "low", "typical", "high"), panels())
def test_published_thickness_of_every_panel(
    panel: str, nominal: float, low: float, typical: float | None, high: float
) -> None:
    """Source: a published birch plywood datasheet, average / lower / upper limits, and US Voluntary Product Standard
    PS 1, thickness table (both read)."""
    limits = published_range(Panel(panel), nominal)
    assert limits is not None
    assert (limits.low, limits.high) == (low, high)
    assert typical is None or limits.typical == typical
