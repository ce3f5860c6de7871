"""`drawerwright fit` against the closed forms of joint-law.md, section 1."""

import json
import math

import pytest

from drawerwright.cli import main


def fit(capsys, *arguments):
    assert main(["fit", *map(str, arguments), "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def drawer_lock(capsys, off, slope):
    return fit(
        capsys,
        *("--mid-depth", 6, "--step", 3.2, "--slope", slope, "--flat", 18, "--upright", 15),
        *("--bit-height", 12 + off, "--fence-flat", 9.0, "--fence-upright", 9.2),
    )


@pytest.mark.parametrize("slope", [30, 45, 60, 80])
def test_too_low_and_too_high(capsys, slope):
    low = drawer_lock(capsys, -0.25, slope)
    assert low["closes"] is True
    assert low["play"] == pytest.approx(0.25, abs=1e-4)
    gaps = [
        low[state][gap] for state in ("pressed", "pulled") for gap in ("roof_gap", "shoulder_gap", "hook_gap")
    ]
    assert gaps == pytest.approx([0, 0, 0.25, 0.25, 0.25, 0], abs=1e-4)
    high = drawer_lock(capsys, 0.25, slope)
    assert high["closes"] is False
    assert high["stands_proud"] == pytest.approx(0.25 * math.tan(math.radians(slope)), abs=1e-4)
    assert drawer_lock(capsys, 5.5, slope)["stands_proud"] == pytest.approx(
        min(3.2, 5.5 * math.tan(math.radians(slope))), abs=1e-4
    )


def test_a_measured_profile_gives_what_its_measures_give(capsys, tmp_path):
    path = tmp_path / "edge.csv"
    path.write_text("depth,inset\n0,0\n4.4,0\n7.6,3.2\n20,3.2\n")
    common = (
        "--flat",
        18,
        "--upright",
        15,
        "--bit-height",
        11.8,
        "--fence-flat",
        9.0,
        "--fence-upright",
        9.2,
    )
    by_file = fit(capsys, "--profile", path, *common)
    by_measures = fit(capsys, "--mid-depth", 6, "--step", 3.2, *common)
    assert by_file["play"] == pytest.approx(by_measures["play"], abs=1e-4)
    assert by_file["lip"] == pytest.approx(by_measures["lip"], abs=1e-4)
    assert by_file["closes"] == by_measures["closes"]


def test_scatter_of_the_readings_is_not_roughness_of_the_cutter(capsys):
    """The example's readings scatter by 0.02 mm about m = 5.65, d = 3.45: 0.2 mm too low is 0.2 mm of play."""
    found = fit(
        capsys,
        *("--profile", "examples/measured-cutter.csv", "--profile-uncertainty", 0.02),
        *("--flat", 14.6, "--upright", 14.6, "--bit-height", 11.1),
        *("--fence-flat", 9.025, "--fence-upright", 9.025),
    )
    assert found["closes"] is True
    assert found["play"] == pytest.approx(0.2, abs=0.04)
    assert found["lip"] == pytest.approx(0, abs=0.02)


def test_readings_of_which_nothing_is_said_scatter_as_usual(capsys):
    """The same without a word on their uncertainty, and a tenth too high: tan 56 degrees times that stands proud."""
    common = ("--profile", "examples/measured-cutter.csv", "--flat", 14.6, "--upright", 14.6)
    fences = ("--fence-flat", 9.025, "--fence-upright", 9.025)
    low = fit(capsys, *common, *fences, "--bit-height", 11.1)
    assert low["closes"] is True
    assert low["play"] == pytest.approx(0.2, abs=3 * low["uncertainty"]["play"])
    high = fit(capsys, *common, *fences, "--bit-height", 11.4)
    assert high["closes"] is False
    doubt = high["uncertainty"]["stands_proud"]
    assert high["stands_proud"] == pytest.approx(0.1 * math.tan(math.radians(55)), abs=3 * doubt)
    assert 0.005 < doubt < 0.04


def test_what_nobody_can_set_does_not_keep_a_corner_open(capsys):
    """Nobody sets a bit to a hundredth: 0.009 mm too high at 45 degrees closes, twice that does not."""
    near = drawer_lock(capsys, 0.009, 45)
    assert near["closes"] is True
    assert near["stands_proud"] == pytest.approx(0.009, abs=1e-5)
    assert drawer_lock(capsys, 0.018, 45)["closes"] is False


def test_sentences_for_people(capsys):
    arguments = ["fit", "--mid-depth", "6", "--step", "3.2", "--flat", "18", "--upright", "15"]
    arguments += ["--bit-height", "11.9", "--fence-flat", "9", "--fence-upright", "9.2"]
    assert main(arguments) == 0
    text = capsys.readouterr().out
    assert "closes with 0.10 mm of play" in text
    assert "Pulled: roof 0.10 mm" in text


def test_without_measures_it_says_what_to_give(capsys):
    arguments = ["fit", "--flat", "18", "--upright", "15", "--bit-height", "12"]
    assert main([*arguments, "--fence-flat", "9", "--fence-upright", "9"]) == 2
    assert "give --mid-depth and --step" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        (("--fence-upright", "15"), "cuts the end off an upright piece 15 mm thick"),
        (("--fence-upright", "25"), "set it below 15 mm to leave a neck"),
        (("--fence-flat", "0"), "so it cuts nothing"),
        (("--flat", "0"), "the flat piece must be thicker than 0"),
        (("--bit-height", "0"), "raise the bit"),
        (("--slope", "95"), "between 0 and 90 degrees, not 95"),
    ],
)
def test_settings_that_leave_no_joint_are_refused(capsys, changed, words):
    given = {"--mid-depth": "6", "--step": "3.2", "--flat": "18", "--upright": "15", "--bit-height": "12"}
    given |= {"--fence-flat": "9.1", "--fence-upright": "9.1", changed[0]: changed[1]}
    assert main(["fit", *(word for pair in given.items() for word in pair)]) == 2
    assert words in capsys.readouterr().err


def test_the_answer_has_these_names_and_no_gap_without_width_and_area(capsys):
    low = drawer_lock(capsys, -0.3, 45)
    assert {"closes", "stands_proud", "play", "lip", "touches_at", "pressed", "pulled"} <= set(low)
    for state in ("pressed", "pulled"):
        assert {"roof_gap", "shoulder_gap", "hook_gap", "gaps"} <= set(low[state])
    pulled = {gap["place"]: gap for gap in low["pulled"]["gaps"]}
    # The head is 9.0 mm thick and its tip 0.3 mm short of the roof; the shoulder is as long as the neck is thinner.
    assert pulled["roof"]["area"] == pytest.approx(0.3 * 9.0, abs=0.01)
    assert pulled["shoulder"]["area"] == pytest.approx(0.3 * 9.2, abs=0.01)
    # Pressed, the slope of 3.2 mm is open by 0.3 mm along the upright.
    (hook,) = low["pressed"]["gaps"]
    assert (hook["place"], hook["width"]) == ("hook", pytest.approx(0.3, abs=1e-4))
    assert hook["area"] == pytest.approx(0.3 * 3.2, abs=0.01)


@pytest.mark.parametrize("off", [-6.0, -2.5, 0.0, 0.4, 9.0])
@pytest.mark.parametrize("flat", [4.0, 12.7, 18.3])
@pytest.mark.parametrize("lip", [-2.0, 0.0, 6.35])
def test_no_setting_of_real_pieces_ends_without_an_answer(capsys, off, flat, lip):
    """Thin stock that the cutter goes through, heights far off, lips: the fence sum always shows in the lip."""
    fence = (15 + 3.2 + lip) / 2
    found = fit(
        capsys,
        *("--mid-depth", 6, "--step", 3.2, "--slope", 60, "--flat", flat, "--upright", 15),
        *("--bit-height", 12 + off, "--fence-flat", fence, "--fence-upright", fence),
    )
    assert 0 <= found["stands_proud"] <= 3.2 + 1e-6
    assert found["lip"] >= lip - found["stands_proud"] - 1e-6
    assert found["play"] >= 0
    assert all(gap["area"] >= 0 and gap["width"] > 0 for gap in found["pressed"]["gaps"])


def test_a_bit_higher_than_the_wood_is_told_before_all_else(capsys, tmp_path):
    """A point forgotten (107 for 10.7); a lock-mitre cutter is meant to go through, one in a file may be."""
    path = tmp_path / "edge.csv"
    path.write_text("depth,inset\n0,0\n4.4,0\n7.6,3.2\n20,3.2\n")
    measures = ("--mid-depth", "6", "--step", "3.2")
    common = ("--flat", "15.2", "--upright", "15", "--fence-flat", "9", "--fence-upright", "9.2")

    def first_line(*arguments):
        assert main(["fit", *arguments, *common]) == 0
        return capsys.readouterr().out.splitlines()[0]

    told = first_line(*measures, "--bit-height", "107")
    assert told.startswith("The bit height of 107.00 mm is no less than the flat piece is thick, 15.20 mm")
    assert "leaves no roof" in told
    assert "as only a lock-mitre cutter should" in first_line("--profile", str(path), "--bit-height", "16")
    assert "bit height" not in first_line(*measures, "--kind", "lock-mitre", "--bit-height", "16")
    assert "bit height" not in first_line(*measures, "--bit-height", "12")
