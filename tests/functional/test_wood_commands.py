"""`movement` and `bottom` on the command line: keys, exit codes, words for what cannot be."""

from __future__ import annotations

import json

import pytest

from drawerwright.cli import main
from drawerwright.wood.sourced import sourced_table

SEASON = ("--size", "100", "--from-mc", "7", "--to-mc", "12")


def asked(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, object]:
    assert main([*arguments, "--json"]) == 0
    data: dict[str, object] = json.loads(capsys.readouterr().out)
    return data


def refused(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert main(list(arguments)) == 2
    return capsys.readouterr().err


def test_equilibrium_moisture(capsys: pytest.CaptureFixture[str]) -> None:
    """Source: USDA Wood Handbook, FPL-GTR-282, 2021, Table 4-2 (read): 12.0 and 24.3 %."""
    for temperature, humidity, moisture in (("21.1", "65", 12.0), ("-1.1", "95", 24.3)):
        air = ("--temperature", temperature, "--humidity", humidity)
        assert asked(capsys, "movement", "--emc", *air)["emc"] == pytest.approx(moisture, abs=0.06)


@pytest.mark.parametrize("name", sorted(sourced_table("movement")))
@pytest.mark.parametrize("cut", ["radial", "tangential"])
def test_every_species_of_the_table_by_its_coefficient(
    capsys: pytest.CaptureFixture[str], name: str, cut: str
) -> None:
    """Source: Eq. (13-2) of the USDA Wood Handbook, FPL-GTR-190, 2010 (read): size × coefficient × points."""
    told = asked(
        capsys,
        *("movement", "--species", name, "--cut", cut, "--size", "100", "--from-mc", "7", "--to-mc", "12"),
    )
    assert told["change"] == pytest.approx(500 * sourced_table("movement")[name].number(cut), abs=1e-4)
    assert told["final"] == pytest.approx(100 + float(str(told["change"])))


def test_a_name_that_could_mean_several_says_which_was_taken(capsys: pytest.CaptureFixture[str]) -> None:
    """Red before: white oak silently became the commercial one, while the table also has the species of that name."""
    grows = ("--size", "100", "--from-mc", "7 %", "--to-mc", "12,5")
    told = asked(capsys, "movement", "--species", "white oak", *grows)
    assert (told["of"], told["could_be"], told["to_mc"]) == ("White oak, commercial", ["Oak, white"], 12.5)
    assert main(["movement", "--species", "white oak", *grows]) == 0
    assert "Taken as White oak, commercial; the table also has Oak, white" in capsys.readouterr().out
    assert asked(capsys, "movement", "--species", "sugar maple", *grows)["could_be"] == []
    size = ("--width", "400", "--length", "500", "--thickness", "6.4", "--load", "10")
    borne = asked(capsys, "bottom", "--panel", "solid", "--species", "white oak", *size)
    assert borne["could_be"] == ["Oak, white"]


def test_figures_as_people_type_them(capsys: pytest.CaptureFixture[str]) -> None:
    """70 °F and 65 % are 12.0 % in the USDA Wood Handbook, FPL-GTR-282, 2021, Table 4-2 (read)."""
    told = asked(capsys, "movement", "--emc", "--temperature", "70F", "--humidity", "65%")
    assert told["emc"] == pytest.approx(12.0, abs=0.06)
    flat, quarter = (
        asked(capsys, "movement", "--species", "Oak, white", "--cut", cut, *SEASON)
        for cut in ("flat-sawn", "quarter sawn")
    )
    assert (flat["cut"], quarter["cut"]) == ("tangential", "radial")
    for arguments, hint in (
        (("--emc", "--temperature", "70", "--humidity", "65"), "write 70F for 70 °F"),
        (("--emc", "--temperature", "21", "--humidity", "0.65"), "write 65, not 0.65"),
        (
            ("--species", "Oak, white", *SEASON[:2], "--from-mc", "0.07", "--to-mc", "0.12"),
            "write 7, not 0.07",
        ),
    ):
        assert main(["movement", *arguments]) == 0
        assert hint in capsys.readouterr().out
    with pytest.raises(SystemExit):
        main(["movement", "--emc", "--temperature", "warm", "--humidity", "65"])
    assert "must be a temperature, such as 21 or 70 F, not 'warm'" in capsys.readouterr().err


def test_text_says_where_the_figures_are_from(capsys: pytest.CaptureFixture[str]) -> None:
    grows = ("--size", "4", "--units", "in", "--from-mc", "6.9", "--to-mc", "16")
    assert main(["movement", "--species", "hard maple", *grows]) == 0
    told = capsys.readouterr().out
    assert told.startswith("Maple, sugar, flat-sawn: 4.00 in grows by 0.130 in to 4.130 in")
    assert "Eq. (13-3) (from memory)" in told
    assert main(["movement", "--panel", "birch-plywood", "--size", "500", "--climate", "heated-room"]) == 0
    assert "in its plane" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (
            ("--species", "mapel", "--size", "100", "--from-mc", "8", "--to-mc", "10"),
            "nearest names are Maple",
        ),
        (
            ("--species", "unicorn", "--size", "100", "--from-mc", "8", "--to-mc", "10"),
            "no name is near it; docs/wood.md lists all names",
        ),
        (("--species", "ash", "--size", "100", "--from-mc", "8"), "give --from-mc and --to-mc"),
        (("--species", "ash", "--from-mc", "8", "--to-mc", "10"), "give --size"),
        (("--size", "100", "--from-mc", "8", "--to-mc", "10"), "give a species, or a kind of plywood"),
        (("--emc", "--temperature", "20"), "--emc needs --temperature and --humidity"),
        (("--emc", "--temperature", "20", "--humidity", "120"), "0 and 100 %"),
        (("--species", "ash", "--cut", "rift", "--size", "1", "--from-mc", "8", "--to-mc", "9"), "'rift'"),
        (("--species", "ash", "--size", "100", "--climate", "moon"), "known are heated-room"),
        (("--panel", "mdf", "--size", "100", "--climate", "heated-room"), "'mdf' moves is not known"),
    ],
)
def test_movement_that_cannot_be_told(
    capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], says: str
) -> None:
    assert says in refused(capsys, "movement", *arguments)


SIZE = ("bottom", "--width", "400", "--length", "500")


def test_a_bottom_has_its_keys_and_ends_well_either_way(capsys: pytest.CaptureFixture[str]) -> None:
    thin, thick = (
        asked(capsys, *SIZE, "--thickness", size, "--panel", "birch-plywood", "--load", "40")
        for size in ("4", "9.2")
    )
    assert {"deflection", "stress", "limit", "ok"} <= set(thin)
    assert (thin["ok"], thick["ok"]) == (False, True)
    assert thin["limit"] == thick["limit"] == 2.0


def test_three_edges_and_a_point_make_it_worse(capsys: pytest.CaptureFixture[str]) -> None:
    usual = (*SIZE, "--thickness", "6.4", "--panel", "birch-plywood", "--load", "5 kg")
    sags = [
        float(str(asked(capsys, *usual, *more)["deflection"]))
        for more in (
            (),
            ("--supports", "three"),
            ("--point", "11 lb"),
            ("--supports", "three", "--point", "5"),
        )
    ]
    assert sags[0] < min(sags[1:3]) <= max(sags[1:3]) < sags[3]


def test_a_bare_load_beside_inches_is_pounds_as_in_a_job(capsys: pytest.CaptureFixture[str]) -> None:
    """80 lb are 36.3 kg (international pound, 1959)."""
    inches = ("bottom", "--units", "in", "--width", "16", "--length", "20", "--thickness", "1/4")
    ply = (*inches, "--panel", "birch-plywood", "--load")
    bare, named, metric = (asked(capsys, *ply, each) for each in ("80", "80 lb", "80 kg"))
    assert bare["deflection"] == named["deflection"] != metric["deflection"]
    assert main([*ply, "80"]) == 0
    printed = capsys.readouterr().out
    assert "birch plywood, 0.250 in thick, under 80 lb: sags" in printed
    assert "kg" not in printed  # one who reads pounds reads pounds


def test_answers_for_programs_name_their_units(capsys: pytest.CaptureFixture[str]) -> None:
    borne = asked(capsys, *SIZE, "--thickness", "9", "--panel", "birch-plywood", "--load", "10")
    moved = asked(capsys, "movement", "--panel", "birch-plywood", "--size", "500", "--climate", "heated-room")
    assert borne["units"] == {"length": "mm", "load": "kg", "stress": "N/mm²"}
    assert moved["units"] == {"length": "mm", "moisture": "%"}


def test_a_solid_bottom_by_its_species(capsys: pytest.CaptureFixture[str]) -> None:
    solid = ("--panel", "solid", "--thickness", "8", "--load", "10")
    flat = asked(capsys, *SIZE, *solid, "--species", "northern red oak")
    along = asked(capsys, *SIZE, *solid, "--species", "northern red oak", "--lengthwise")
    assert along["deflection"] != flat["deflection"]
    assert flat["provenance"] in ("read", "memory", "assumed")
    assert "name it" in refused(capsys, *SIZE, *solid)
    assert "nearest names" in refused(capsys, *SIZE, *solid, "--species", "oke")


def test_limits_of_ones_own(capsys: pytest.CaptureFixture[str]) -> None:
    usual = (*SIZE, "--thickness", "6.4", "--panel", "mdf", "--load", "10")
    told = asked(capsys, *usual, "--span-over", "100", "--most", "3.5")
    assert told["limit"] == 3.5
    assert main([*usual]) == 0
    assert "no drawer was tested" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        (("--load", "-3"), "a load must be 0 or more, not -3"),
        (("--panel", "oak"), "argument --panel: there is no 'oak'; choose from "),
        (("--panel", "oak"), "for a wood write --panel solid --species NAME"),
        (("--supports", "two"), "argument --supports: there is no 'two'; choose from three, four"),
    ],
)
def test_an_option_that_cannot_be_is_named(
    capsys: pytest.CaptureFixture[str], changed: tuple[str, str], words: str
) -> None:
    usual = {"--width": "400", "--length": "300", "--thickness": "6", "--panel": "mdf", "--load": "3"}
    with pytest.raises(SystemExit) as stopped:
        main(["bottom", *(bit for pair in (usual | dict([changed])).items() for bit in pair)])
    assert stopped.value.code == 2
    assert words in capsys.readouterr().err


def test_negative_figures_are_refused_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    bottom = ("bottom", "--width", "400", "--length", "300", "--panel", "mdf", "--load", "3")
    assert "must be more than 0 mm" in refused(capsys, *bottom, "--thickness", "-1/4")
    moved = ("movement", "--size", "100", "--species", "walnut", "--to-mc", "9", "--from-mc", "-8")
    assert "cannot be less than 0 %, and -8 % is given" in refused(capsys, *moved)
