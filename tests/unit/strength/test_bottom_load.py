"""Physical sense of bottoms under load, what is asked of them, and what is said where nothing is known."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import LengthStyle
from drawerwright.job.bearing_bottom import bear, sag_limit
from drawerwright.strength.bottom_load import LoadedBottom
from drawerwright.strength.plate import Patch, Rigidity, Supports, bend
from drawerwright.strength.sag_limit import SagLimit
from drawerwright.wood.board import board_bending, board_density
from drawerwright.wood.species import every_species, find_species
from drawerwright.wood.thickness import Panel

SIZES = st.floats(200, 900)
LOADS = st.floats(0.5, 60)
THICK = st.floats(3.5, 20)
KINDS = st.sampled_from([Panel.BIRCH_PLYWOOD, Panel.PLYWOOD, Panel.MDF])
FEW = settings(max_examples=8, deadline=None)
"""Each example bends plates."""


def bottom(
    width: float, length: float, thick: float, load: float, panel: Panel = Panel.BIRCH_PLYWOOD
) -> LoadedBottom:
    board = board_bending(panel, thick)
    assert board is not None
    return LoadedBottom(width, length, thick, board, load)


@FEW
@given(SIZES, SIZES, THICK, LOADS, KINDS)
def test_a_thicker_bottom_sags_less(
    width: float, length: float, thick: float, load: float, kind: Panel
) -> None:
    thin, thicker = (bottom(width, length, size, load, kind) for size in (thick, thick + 1))
    assert thicker.deflection < thin.deflection
    assert thicker.stress_share < thin.stress_share


@FEW
@given(SIZES, SIZES, THICK, LOADS)
def test_sag_and_stress_grow_in_proportion_to_the_load(
    width: float, length: float, thick: float, load: float
) -> None:
    one = bottom(width, length, thick, load)
    two = replace(one, load=2 * load)
    assert two.deflection == pytest.approx(2 * one.deflection)
    assert two.stresses == pytest.approx([2 * stress for stress in one.stresses])
    assert two.edge_force == pytest.approx(2 * one.edge_force)


@FEW
@given(SIZES, SIZES, THICK, st.floats(0.2, 0.8))
def test_an_edge_set_free_gives_way(width: float, length: float, thick: float, share: float) -> None:
    """What is less held gives more where it is pushed (Clapeyron; any textbook of elasticity)."""
    board = board_bending(Panel.BIRCH_PLYWOOD, thick)
    assert board is not None
    rigidity = Rigidity.of(thick, board.along, board.across, board.shear, board.poisson)
    pushed = (Patch(10, width / 2, share * length, 20, 20),)
    four, three = (
        bend(width, length, rigidity, supports, pushed).sag for supports in (Supports.FOUR, Supports.THREE)
    )
    assert three > 0.995 * four


@FEW
@given(SIZES, SIZES, THICK, st.floats(1, 20))
def test_a_load_on_one_place_bends_more_than_the_same_spread(
    width: float, length: float, thick: float, load: float
) -> None:
    spread = bottom(width, length, thick, load)
    for supports in Supports:
        carried = replace(spread, supports=supports)
        standing = replace(carried, load=0.0, point=load)
        assert standing.deflection > carried.deflection
        assert standing.stress_share > carried.stress_share


@FEW
@given(SIZES, THICK, LOADS)
def test_turning_a_square_bottom_by_a_quarter_changes_nothing_but_names(
    side: float, thick: float, load: float
) -> None:
    one = bottom(side, side, thick, load)
    turned = replace(one, lengthwise=True)
    assert turned.deflection == pytest.approx(one.deflection, rel=1e-4)
    assert turned.stresses == pytest.approx(one.stresses, rel=1e-3)


@FEW
@given(SIZES, SIZES, THICK, LOADS)
def test_the_edges_carry_no_less_than_their_share(
    width: float, length: float, thick: float, load: float
) -> None:
    """The greatest force on a millimetre is at least the mean over all four edges."""
    one = bottom(width, length, thick, load)
    assert one.edge_force > 9.80665 * load / (2 * (width + length))


def test_the_limit_is_the_lesser_of_both() -> None:
    assert SagLimit().of(400) == 2.0
    assert SagLimit().of(900) == 3.0
    assert sag_limit(150, 5).of(900) == 5
    assert sag_limit(150).of(300) == 2.0
    with pytest.raises(InvalidValueError, match="more than 0"):
        sag_limit(0)


def test_a_free_back_is_judged_by_the_width_alone() -> None:
    deep = bottom(600, 300, 6.4, 5)
    assert deep.span == 300
    assert replace(deep, supports=Supports.THREE).span == 600


@pytest.mark.parametrize(
    "species", [each for each in every_species() if each.row("mechanical")], ids=lambda s: s.name
)
def test_every_tested_species_makes_a_bottom(species: object) -> None:
    name = species.name  # type: ignore[attr-defined]
    flat = bear(400, 400, 8, "solid", 10, species=name)
    quarter = bear(400, 400, 8, "solid", 10, species=name, cut="radial")
    assert 0 < flat.bottom.deflection < 3
    assert quarter.bottom.board.across > flat.bottom.board.across
    board = flat.bottom.board
    assert board.across < board.along / 5
    assert 0 < board.strength_across < board.strength_along


def test_what_the_tables_lack_is_marked() -> None:
    assert "assumed" in bear(400, 400, 8, "solid", 10, species="fir, white").text(LengthStyle())
    assert bear(400, 400, 8, "solid", 10, species="fir, white").data["provenance"] == "assumed"
    assert bear(400, 400, 8, "plywood", 10).data["provenance"] == "assumed"
    assert bear(400, 400, 8, "mdf", 10).data["provenance"] == "memory"


def test_a_sag_beyond_a_tenth_of_the_span_is_told_without_a_figure() -> None:
    """1/4, meant in inches and read as mm."""
    slip = bear(400, 500, 0.25, "birch-plywood", 10)
    said = slip.text(LengthStyle())
    assert "0.25 mm thick" in said
    assert "more than a tenth of its span" in said
    assert "does not hold" in said
    assert not [each for each in ("sags 1", "Bending uses", "stiffens") if each in said]
    assert slip.data["deflection"] == pytest.approx(slip.deflection)
    assert slip.deflection > 40
    assert "Bending uses" in bear(400, 500, 6.35, "birch-plywood", 10).text(LengthStyle())


def test_a_bottom_that_hangs_like_a_bowl_says_so() -> None:
    assert "stiffens" in bear(700, 700, 4, "birch-plywood", 30).text(LengthStyle())
    assert "stiffens" not in bear(400, 400, 9, "birch-plywood", 5).text(LengthStyle())


@pytest.mark.parametrize(
    ("given_figures", "says"),
    [
        ({"panel": "cardboard"}, "there is no 'cardboard'; choose from birch-plywood"),
        ({"panel": "other"}, "how far a panel of kind other bends is not known: name its kind"),
        ({"panel": "solid"}, "name it"),
        ({"panel": "solid", "species": "balsa"}, "how Balsa bends is not known"),
        ({"panel": "mdf", "species": "ash"}, "not of mdf"),
        ({"thickness": 0}, "thickness of a bottom must be more than 0 mm"),
        ({"thickness": 600}, "600 mm thick over a span of 400 mm is a block, not a plate"),
        ({"thickness": 101}, "4 times its thickness or more, here 404 mm"),
        ({"load": -1}, "0 kg or more"),
        ({"supports": "two"}, "three, four"),
    ],
)
def test_what_cannot_be_is_told(given_figures: dict[str, object], says: str) -> None:
    usual = {"width": 400, "length": 500, "thickness": 6.4, "panel": "birch-plywood", "load": 10}
    with pytest.raises(InvalidValueError, match=says):
        bear(**{**usual, **given_figures})  # type: ignore[arg-type]


def test_a_sag_far_past_its_limit_has_no_figure_of_years() -> None:
    """The limit of 400 mm is 2 mm; 40 kg on birch plywood of 4 mm sag several times its thickness."""
    far, near = (bear(400, 500, thickness, "birch-plywood", 40).text(LengthStyle()) for thickness in (4, 9.2))
    assert "plate figures do not hold so far" in far
    assert "for years" not in far
    assert "It does not hold" in far
    assert "for years" in near


def test_densities() -> None:
    """Birch plywood of 6.4 mm: a published datasheet, 670 kg/m³ (read). Sugar maple: specific gravity 0.63 at 12 %, so
    705.6 kg/m³ there (USDA Wood Handbook, Table 5-3a, read)."""
    assert board_density(Panel.BIRCH_PLYWOOD, 6.4, None, 9).value == 670
    assert board_density(Panel.SOLID, 15, find_species("sugar maple"), 12).value == pytest.approx(705.6)
    assert board_density(Panel.SOLID, 15, find_species("sugar maple"), 8).value < 705.6
    assert str(board_density(Panel.OTHER, 15, None, 8).source.provenance) == "assumed"


def test_a_bottom_that_keeps_the_limit_only_at_once_says_so() -> None:
    """The limit is for the sag at once; in years it is 1.8 times as much (EN 1995-1-1, from memory)."""
    by_load = {load: bear(420, 430, 6, "birch-plywood", load) for load in (5, 20)}
    told = {
        load: "past the limit, which applies to the sag on the first day" in str(each)
        for load, each in by_load.items()
    }
    years = {load: 1.8 * each.deflection > each.limit for load, each in by_load.items()}
    assert all(each.ok for each in by_load.values())
    assert told == years == {5: False, 20: True}
