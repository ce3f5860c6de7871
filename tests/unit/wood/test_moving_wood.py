"""Physical sense of moisture and movement, and what is said where nothing is known."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawerwright.basics.errors import InvalidValueError
from drawerwright.job.moving_wood import moisture_in_air, move
from drawerwright.wood.moisture import CLIMATES, Air, Climate
from drawerwright.wood.movement import Sawn, species_swelling
from drawerwright.wood.species import every_species, find_species, others_meant

TEMPERATURES = st.floats(-1.1, 60)
HUMIDITIES = st.floats(0, 99)
MOVING = [species for species in every_species() if species.row("movement") or species.row("shrinkage")]
MOISTURES = st.floats(0, 30)
"""In any order; what is asked puts them in order itself."""


@given(TEMPERATURES, HUMIDITIES, st.floats(0.1, 1))
def test_damper_air_makes_damper_wood(temperature: float, humidity: float, more: float) -> None:
    assert Air(temperature, humidity).equilibrium < Air(temperature, humidity + more).equilibrium


@given(st.floats(10, 60), st.floats(5, 90), st.floats(1, 20))
def test_warmer_air_of_one_humidity_makes_drier_wood(
    temperature: float, humidity: float, more: float
) -> None:
    assert Air(temperature + more, humidity).equilibrium < Air(temperature, humidity).equilibrium


@given(st.sampled_from(MOVING), st.sampled_from(list(Sawn)), st.floats(10, 1000), MOISTURES, MOISTURES)
def test_wood_grows_as_it_gets_damper(
    species: object, cut: Sawn, size: float, one: float, other: float
) -> None:
    moved = species_swelling(species, cut).movement(size, one, other)  # type: ignore[arg-type]
    assert (moved.change > 0) is (other > one) or abs(moved.change) < 1e-9
    assert -0.15 * size < moved.change < 0.15 * size
    assert moved.final == pytest.approx(size + moved.change)


@given(st.sampled_from(MOVING), st.floats(10, 1000), st.floats(6, 13), st.floats(0.1, 1))
def test_flat_sawn_boards_move_more(species: object, size: float, before: float, more: float) -> None:
    flat, quarter = (
        species_swelling(species, cut).movement(size, before, before + more).change  # type: ignore[arg-type]
        for cut in (Sawn.TANGENTIAL, Sawn.RADIAL)
    )
    assert flat > quarter


@given(st.sampled_from(MOVING), st.floats(16, 29), st.floats(16, 29))
def test_there_and_back_again_is_the_same_size(species: object, one: float, other: float) -> None:
    """Beyond 6 to 14 % the law is that of shrinkage, which has no memory."""
    swelling = species_swelling(species, Sawn.TANGENTIAL)  # type: ignore[arg-type]
    there = swelling.movement(300, one, other).final
    assert swelling.movement(there, other, one).final == pytest.approx(300)


@pytest.mark.parametrize(
    ("given_name", "meant"),
    [
        ("sugar maple", "Maple, sugar"),
        ("Maple,  Sugar", "Maple, sugar"),
        ("hard maple", "Maple, sugar"),
        ("yellow poplar", "Yellow-poplar"),
        ("Maple, red (soft maple)", "Maple, red"),
        ("Pinus sylvestris", "Pine, Scots"),
        ("Oak, European (Quercus robur)", "Oak, European"),
        ("white oak", "White oak, commercial"),
        ("Oak, white", "Oak, white"),
        ("Cedar, western redcedar", "Redcedar, western"),
    ],
)
def test_names_that_people_give(given_name: str, meant: str) -> None:
    assert find_species(given_name).name == meant


def test_an_unknown_name_gets_the_nearest() -> None:
    with pytest.raises(InvalidValueError, match=r"'maple, suger'.*nearest names are Maple, sugar;"):
        find_species("maple, suger")
    with pytest.raises(InvalidValueError) as told:
        find_species("mapel")
    assert str(told.value).count("Maple,") == 4
    with pytest.raises(InvalidValueError, match=r"nearest names are .*Walnut, black"):
        find_species("wallnut")


def test_a_name_of_several_asks_which() -> None:
    with pytest.raises(InvalidValueError, match="could be Maple, red; Maple, silver: say which"):
        find_species("soft maple")


@pytest.mark.parametrize(
    ("english", "german", "taken", "beside"),
    [
        ("beech", "Buche", "Beech, European", "Beech, American"),
        ("oak", "Eiche", "Oak, European", "Oak, white"),
        ("maple", "Ahorn", "Maple, sugar", "Maple, red"),
        ("ash", "Esche", "Ash, white", "Ash, black"),
        ("pine", "Kiefer", "Pine, Scots", "Pine, red"),
    ],
)
def test_a_name_of_a_whole_kin_is_its_commonest_in_either_language(
    english: str, german: str, taken: str, beside: str
) -> None:
    for name in (english, german):
        assert find_species(name).name == taken
        assert beside in others_meant(name)
    assert others_meant(english) == others_meant(german)


def test_a_species_that_no_table_lets_move_says_so() -> None:
    with pytest.raises(InvalidValueError, match="Spruce, white moves"):
        move(100, 8, 10, species="white spruce")


def test_above_fibre_saturation_there_is_no_answer() -> None:
    with pytest.raises(InvalidValueError, match="between 0 and 30 %, not at 31 %"):
        move(100, 8, 31, species="ash")


def test_plywood_hardly_moves_in_its_plane() -> None:
    moved = move(400, 6, 12, panel="birch-plywood")
    assert moved.movement.change == pytest.approx(400 * 0.00015 * 6)
    assert moved.data["provenance"] == "memory"


@pytest.mark.parametrize(
    ("temperature", "humidity", "is_within"), [(21, 50, True), (-5, 50, False), (21, 97, False)]
)
def test_what_lies_beyond_the_table_is_said(temperature: float, humidity: float, is_within: bool) -> None:
    answer = moisture_in_air(temperature, humidity)
    assert answer.data["within_table"] is is_within
    assert ("equation is extended" in answer.text) is not is_within


def test_air_that_cannot_be() -> None:
    with pytest.raises(InvalidValueError, match="0 and 100 %, not at 650 %"):
        moisture_in_air(21, 650)
    with pytest.raises(InvalidValueError, match="check the unit"):
        moisture_in_air(700, 65)


def test_the_dry_end_of_a_climate_is_its_dry_end() -> None:
    for climate in CLIMATES.values():
        low, high = climate.range
        assert low < climate.middle < high
    with pytest.raises(InvalidValueError, match="swap them"):
        Climate("turned", Air(20, 60), Air(20, 40))


@pytest.mark.parametrize(
    ("name", "species"),
    [
        ("Buche", "Beech, European"),
        ("Eiche", "Oak, European"),
        ("Fichte", "Spruce, Norway"),
        ("kiefer", "Pine, Scots"),
        ("Nussbaum", "Walnut, black"),
        ("Kirsche", "Cherry, black"),
        ("Esche", "Ash, white"),
    ],
)
def test_woods_by_their_german_names(name: str, species: str) -> None:
    """Common knowledge, no source."""
    assert find_species(name).name == species
