"""`drawerwright correct`: trial files in, corrections out; the arithmetic is that of joint-law.md's table."""

import json
from pathlib import Path

import pytest

from drawerwright.cli import main

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "examples" / "test-cut.yaml"
TRIAL = """
format: 1
trial: Drawer of the band room
cutter:
  kind: drawer-lock
  mid_depth: 6.00 ± 0.08
  step: 3.50 ± 0.08
  slope: 45
machine:
  router_table: {height_gauge_offset: 0 ± 0.1, fence_gauge_offset: 0 ± 0.1, repeatability: 0.02}
wanted: {flat: 15.0, upright: 15.0}
cuts:
  - height_shown: 12.00
    fence_shown: 9.25
"""


@pytest.fixture
def correct(capsys, tmp_path):
    """Run the command on a text; its JSON comes back."""

    def run(text, *options):
        path = tmp_path / "trial.yaml"
        path.write_text(text, "utf-8")
        assert main(["correct", str(path), "--json", *map(str, options)]) == 0
        return json.loads(capsys.readouterr().out)

    return run


@pytest.fixture
def faults(capsys, tmp_path):
    """Run the command on a bad text; what it complains about comes back, line by line."""

    def run(text):
        path = tmp_path / "trial.yaml"
        path.write_text(text, "utf-8")
        assert main(["correct", str(path)]) == 2
        said = capsys.readouterr()
        assert said.out == ""
        return [line.removeprefix(f"{path}:") for line in said.err.splitlines()]

    return run


def test_too_much_play_raises_the_bit_by_what_is_too_much(correct):
    """Play 0.30 mm, 0 to 0.15 wanted: 0.075 in the middle, so 0.225 higher, nearly all of it the reading's word."""
    said = correct(TRIAL + "    readings: {play: 0.30 ± 0.005}\n")
    after = said["next_cut"]
    assert after["change"]["height"] == pytest.approx(0.225, abs=0.01)
    assert after["dial_in"]["height"] == pytest.approx(12.225, abs=0.01)
    assert after["odds"]["fits"] > 0.95 > said["odds_as_it_is"]["fits"]
    assert said["cuts"][0]["misfit"]["value"] == pytest.approx(-0.30, abs=0.01)


def test_standing_proud_lowers_it(correct):
    """0.30 mm at 45 degrees is 0.30 mm too high; 0.075 below closed is aimed at."""
    said = correct(TRIAL + "    readings: {stands_proud: 0.30 ± 0.005}\n")
    assert said["next_cut"]["change"]["height"] == pytest.approx(-0.375, abs=0.01)


def test_a_lip_moves_the_fence_by_half_where_one_setting_serves_both(correct):
    said = correct(TRIAL + "    readings: {lip: 0.40 ± 0.005}\n")
    change = said["next_cut"]["change"]
    assert change["fence_flat"] == change["fence_upright"] == pytest.approx(-0.20, abs=0.02)


def test_what_is_learnt_goes_where_the_doubt_was(correct):
    """The roof measures the height: the gauge is learnt. The tip to the slope then measures the mid depth."""
    said = correct(
        TRIAL + "    readings: {roof: 2.80 ± 0.001, tip_to_slope: 6.10 ± 0.001}\n    flat: 15.0 ± 0.001\n"
    )
    assert said["cuts"][0]["bit_height"]["value"] == pytest.approx(12.2, abs=0.005)
    assert said["learnt"]["height_gauge_offset"]["now"]["value"] == pytest.approx(-0.2, abs=0.02)
    assert said["learnt"]["mid_depth"]["now"]["value"] == pytest.approx(6.1, abs=0.005)
    assert said["learnt"]["step"]["now"] == said["learnt"]["step"]["before"]


def test_cuts_add_up(correct):
    """Each cut carries its own error of dialling, 0.02 mm; the gauge is known the better the more there are."""
    one = "  - {height_shown: 12.00, fence_shown: 9.25, flat: 15 ± 0.001, readings: {roof: 2.95 ± 0.001}}\n"
    head = TRIAL.split("  - height_shown")[0]
    doubts = [
        correct(head + one * count)["learnt"]["height_gauge_offset"]["now"]["uncertainty"] for count in (1, 4)
    ]
    assert doubts[0] == pytest.approx(0.0196, abs=0.0005)  # 0.02 and the prior's 0.1 together
    assert doubts[1] == pytest.approx(doubts[0] / 2, rel=0.05)


def test_contradicting_readings_are_both_named_and_nothing_is_promised_from_one(correct):
    without = correct(TRIAL)
    said = correct(TRIAL + "    readings: {play: 0.30, shoulder_gap: 0.02}\n")
    assert {found["reading"] for found in said["contradictions"]} == {"play", "shoulder_gap"}
    assert {found["quarrel"] for found in said["contradictions"]} == {1}
    assert all(reading["left_out"] for reading in said["cuts"][0]["readings"])
    assert said["next_cut"]["odds"] == without["next_cut"]["odds"]


def test_contradictions_are_told_in_words(capsys, tmp_path):
    path = tmp_path / "trial.yaml"
    path.write_text(TRIAL + "    readings: {play: 0.30, shoulder_gap: 0.02}\n", "utf-8")
    assert main(["correct", str(path)]) == 0
    text = capsys.readouterr().out
    assert "These readings contradict each other; at least one is wrong, so none was used." in text
    assert "cut 1, play along the upright piece: 0.30 mm" in text
    assert "cut 1, gap at the shoulder when pulled: 0.02 mm" in text


def stated_tightly(text):
    """The same shop, which states everything to 0.02 mm."""
    for loose in ("± 0.08", "± 0.1"):
        text = text.replace(loose, "± 0.02")
    return text


def test_what_readings_outvote_is_named_and_the_answer_goes_by_the_wood(correct, capsys, tmp_path):
    """Roof 3.30 where 3.00 is expected, and 0.30 mm of play: the bit stands 0.3 mm low, whatever the gauge shows."""
    text = stated_tightly(TRIAL) + "    readings: {roof: 3.30, play: 0.30}\n"
    said = correct(text)
    assert said["contradictions"] == []
    (outvoted,) = said["outvoted"]
    assert (outvoted["stated"], outvoted["is_settled"]) == ("height_gauge_offset", True)
    assert outvoted["value"] == {"value": 0.0, "uncertainty": 0.02, "origin": "stated"}
    assert outvoted["readings_say"]["value"] == pytest.approx(0.3, abs=0.01)
    assert said["next_cut"]["change"]["height"] == pytest.approx(0.3 - 0.15 / 2, abs=0.01)
    assert main(["correct", str(tmp_path / "trial.yaml")]) == 0
    words = capsys.readouterr().out
    assert "the height gauge is not as you wrote. The answer follows the wood." in words
    assert "To be sure: check the height gauge against a block of known height." in words
    assert "machine.router_table.height_gauge_offset: 0.298" in words


def test_while_it_is_open_what_is_wrong_nothing_is_offered_for_the_job_file(correct, capsys, tmp_path):
    said = correct(stated_tightly(TRIAL) + "    readings: {play: 0.30, shoulder_gap: 0.30}\n")
    assert {found["stated"] for found in said["outvoted"]} == {"mid_depth", "height_gauge_offset"}
    assert not any(found["is_settled"] for found in said["outvoted"])
    assert main(["correct", str(tmp_path / "trial.yaml")]) == 0
    words = capsys.readouterr().out
    assert "the mid depth or the height gauge is not as you wrote" in words
    assert "To find out: measure “roof, left over the cut”" in words
    assert "For the job file" not in words
    assert "mid depth open, see above" in words


def test_what_was_only_assumed_is_said_to_be_further_off_than_usual(capsys, tmp_path):
    """The usual 0.1 mm of a gauge of which nothing is said, against 0.6 mm that roof and play agree on."""
    head = TRIAL.replace("height_gauge_offset: 0 ± 0.1, ", "").replace("6.00 ± 0.08", "6.00 ± 0.02")
    path = tmp_path / "trial.yaml"
    path.write_text(head + "    readings: {roof: 3.60, play: 0.60}\n", "utf-8")
    assert main(["correct", str(path)]) == 0
    words = capsys.readouterr().out
    assert "not with what was assumed: the height gauge is further out than usual" in words
    assert "the height gauge: assumed 0.00 ± 0.10 mm; the readings say 0.60" in words


def test_what_is_only_seen_points_the_same_way(correct):
    proud = correct(TRIAL + "    seen: proud\n")
    loose = correct(TRIAL + "    seen: play\n")
    tight = correct(TRIAL + "    seen: tight\n")
    assert proud["next_cut"]["change"]["height"] < tight["next_cut"]["change"]["height"] < 0
    assert loose["next_cut"]["change"]["height"] > 0
    same = correct(TRIAL + "    readings: {play: none, stands_proud: none}\n")
    assert same["next_cut"] == tight["next_cut"]


def test_a_block_takes_the_gauges_error_out_of_the_account(correct):
    by_block = TRIAL.replace("height_shown: 12.00", "block: 12.00 ± 0.01")
    said = correct(by_block + "    readings: {play: 0.30 ± 0.005}\n")
    assert said["next_cut"]["by_block"] is True
    assert said["next_cut"]["dial_in"]["height"] == said["next_cut"]["true_size"]["bit_height"]
    assert said["learnt"]["height_gauge_offset"]["now"] == said["learnt"]["height_gauge_offset"]["before"]
    # Play = 2 m - h with h = 12.00 known to 0.022: the mid depth is 6.15.
    assert said["learnt"]["mid_depth"]["now"]["value"] == pytest.approx(6.15, abs=0.01)


MITRE = """
format: 1
trial: Lid of the instrument case
cutter: {kind: lock-mitre, mid_depth: 11 ± 0.1, step: 18 ± 0.1}
machine:
  router_table: {height_gauge_offset: 0 ± 0.1, fence_gauge_offset: 0 ± 0.1, repeatability: 0.02}
wanted: {flat: 15.0, upright: 15.0}
cuts:
  - height_shown: 18.50
    fence_shown: 16.50
"""


@pytest.mark.parametrize("kind", ["turn_over", "tip_step"])
def test_the_turned_over_scrap_shows_twice_the_error_of_centring(correct, kind):
    """Stands 0.40 mm above the other: the bit is 0.20 mm too high."""
    said = correct(MITRE + f"    flat: 15 ± 0.001\n    readings: {{{kind}: 0.40 ± 0.005}}\n")
    assert said["next_cut"]["change"]["height"] == pytest.approx(-0.20, abs=0.01)


def test_scraps_slid_together_show_the_fence(correct):
    """2 F - d = 15.2 where 15.0 was meant: the fence stands 0.1 mm too far out, or the step is smaller."""
    said = correct(MITRE + "    readings: {overlap: 15.2 ± 0.005}\n")
    assert said["next_cut"]["change"]["fence_flat"] == pytest.approx(-0.10, abs=0.01)


def test_the_range_of_play_can_be_given_with_the_command(correct):
    cut = TRIAL + "    readings: {play: 0.30 ± 0.005}\n"
    tight = correct(cut, "--most-play", "0.05")
    assert tight["next_cut"]["change"]["height"] == pytest.approx(0.275, abs=0.01)
    loose = correct(cut, "--least-play", "0.25", "--most-play", "0.35")
    assert loose["next_cut"]["leave_height"] is True
    assert loose["next_cut"]["change"]["height"] == 0


def test_a_reading_worth_taking_raises_the_odds(correct):
    said = correct(TRIAL + "    seen: play\n")
    best = said["worth_reading"][0]
    assert best["odds"]["both"] > said["next_cut"]["odds"]["both"]
    gains = [reading["gain"] for reading in said["worth_reading"]]
    assert gains == sorted(gains, reverse=True)


def test_inches_are_read_and_shown(capsys, tmp_path):
    path = tmp_path / "trial.yaml"
    text = TRIAL.replace("12.00", "0.4725 in").replace("trial:", "shown: {unit: in}\ntrial:")
    path.write_text(text + "    readings: {play: 0.012 in}\n", "utf-8")
    assert main(["correct", str(path)]) == 0
    said = capsys.readouterr().out
    assert "height gauge shows 0.481 in  +0.009 in" in said
    assert " mm" not in said
    path.write_text(path.read_text("utf-8").replace("unit: in", "unit: in/64"), "utf-8")
    assert main(["correct", str(path)]) == 0
    assert "height gauge shows 0.481 in  +0.009 in" in capsys.readouterr().out


def test_every_fault_at_once_with_line_and_field(faults):
    text = """
format: 1
trial: Faults
cutter: {mid_depth: thick, step: 3.5}
wanted: {flat: 15.0, lip: wide}
cuts:
  - {height_shown: 12, fence_shown: 9, fence_flat_shown: 9, colour: red}
  - {height_shown: 12, fence_shown: 9, readings: {roof: seen}}
  - {height_shown: 12, fence_shown: 9, readings: {rooof: 3}}
  - {height_shown: 12, block: 12, fence_shown: 9}
  - {height_shown: 12, fence_shown: 9, readings: {play: -0.1}}
"""
    said = "\n".join(faults(text))
    for start in (
        "4: cutter.mid_depth: cannot read 'thick' as a length",
        "5: wanted.lip: cannot read 'wide' as a length",
        "7: cuts[1].colour: does not belong here",
        "8: cuts[2]: the reading roof must be measured",
        "9: cuts[3].readings.rooof: ",
        "10: cuts[4]: needs the height: either 'height_shown'",
        "11: cuts[5]: the reading play cannot be less than 0",
    ):
        assert start in said, said


def test_faults_that_show_only_together_come_as_well(faults):
    said = "\n".join(faults(TRIAL.replace("upright: 15.0", "most_play: 0").replace("9.25", "wide")))
    assert "11: wanted: needs the thickness of both pieces" in said
    assert "wanted.most_play: the play that counts as a fit must run" in said
    assert "14: cuts[1].fence_shown: cannot read 'wide' as a length" in said


def test_readings_of_the_other_kind_of_cutter(faults):
    (said,) = faults(TRIAL + "    readings: {turn_over: 0.1}\n")
    assert said.startswith("15: cuts[1].readings.turn_over: is not read with a drawer-lock cutter")
    (said,) = faults(MITRE + "    seen: proud\n")
    assert "cuts[1].seen: belongs to a joint that has play" in said


def test_without_a_cutter_or_a_job(faults):
    text = "format: 1\ntrial: Bare\nwanted: {flat: 15, upright: 15}\ncuts: [{height_shown: 12, fence_shown: 9}]\n"
    (said,) = faults(text)
    assert "names no cutter: give 'cutter', or a 'job' that has it" in said


def test_cutter_machine_and_corner_come_from_a_job(capsys):
    assert main(["correct", str(EXAMPLE), "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert said["learnt"]["mid_depth"]["before"] == {"value": 5.65, "uncertainty": 0.05, "origin": "stated"}
    assert said["learnt"]["height_gauge_offset"]["before"] == {
        "value": 0.05,
        "uncertainty": 0.05,
        "origin": "stated",
    }
    assert said["wanted"]["lip"] == 7.5
    assert said["findings"] == []


@pytest.mark.parametrize(
    ("was", "now", "words"),
    [
        ("music-school.yaml  ", "no-such-job.yaml  ", "no-such-job.yaml: cannot be opened"),
        (
            "front corner, lip 7.5 mm",
            "rear corner",
            "the job has no corner 'rear corner'; it has front corner, lip 7.5",
        ),
        ("front corner, lip 7.5 mm", "A1", "'A1' fits more than one corner: name one of"),
        ("  corner: front corner, lip 7.5 mm\n", "", "the job has more than one corner: name one of"),
    ],
)
def test_a_job_or_corner_that_is_not_there(faults, tmp_path, was, now, words):
    job = (ROOT / "examples" / "music-school.yaml").read_text("utf-8")
    (tmp_path / "music-school.yaml").write_text(job, "utf-8")
    said = faults(EXAMPLE.read_text("utf-8").replace(was, now))
    assert len(said) == 1
    assert words in said[0]


def test_a_faulty_job_names_its_own_file_and_line(faults, tmp_path):
    job = (ROOT / "examples" / "music-school.yaml").read_text("utf-8")
    (tmp_path / "music-school.yaml").write_text(job.replace("step: 3.45 ± 0.03", "step: none"), "utf-8")
    said = faults(EXAMPLE.read_text("utf-8"))
    assert len(said) == 1
    assert "music-school.yaml:10: cutter.step: cannot read 'none' as a length" in said[0]


def test_the_worked_example_of_the_docs_is_what_the_command_prints(capsys, monkeypatch):
    monkeypatch.chdir(ROOT)
    docs = (ROOT / "docs" / "test-cuts.md").read_text("utf-8")
    shown = docs.split("## A worked example")[1].split("```text\n")[1].split("```")[0]
    assert main(["correct", "examples/test-cut.yaml"]) == 0
    assert capsys.readouterr().out == shown


def test_the_example_was_dialled_in_as_its_first_cut_advised(capsys, tmp_path):
    """The second cut of the example follows from the first, as its comment says."""
    job = (ROOT / "examples" / "music-school.yaml").read_text("utf-8")
    (tmp_path / "music-school.yaml").write_text(job, "utf-8")
    first, second = EXAMPLE.read_text("utf-8").split("\n  - height_shown: 11.15")
    path = tmp_path / "trial.yaml"
    path.write_text(first, "utf-8")
    assert main(["correct", str(path), "--json"]) == 0
    dial = json.loads(capsys.readouterr().out)["next_cut"]["dial_in"]
    assert [f"{dial[name]:.2f}" for name in ("height", "fence_flat", "fence_upright")] == [
        "11.15",
        "16.45",
        "9.00",
    ]
    assert "16.45" in second
    assert "9.00" in second


TWO_STOCKS = """
format: 1
job: two stocks
cutter: {mid_depth: 5.4 ± 0.05, step: 3.7 ± 0.03, slope: 50}
stock:
  ash15: {nominal: 15, measured: [14.6], sheets: [{length: 2500, width: 1250}]}
  beech15: {nominal: 15, measured: [14.9], sheets: [{length: 2500, width: 1250}]}
boxes:
  - {name: music, lip: 6, outer: {width: 320, depth: 260, height: 80}, box: {all: ash15}}
  - {name: strings, lip: 6, outer: {width: 320, depth: 260, height: 80}, box: {all: beech15, back: ash15}}
"""
OF_JOB = """
format: 1
trial: which corner
job: two-stocks.yaml
wanted: {corner: CORNER}
cuts: [{height_shown: 10.8, fence_shown: 9.2}]
"""


@pytest.mark.parametrize(
    ("said", "flat", "upright", "lip"),
    [
        ('"front corner, lip 6.0 mm, ash15"', 14.6, 14.6, 6.0),
        ('"front corner, lip 6.0 mm, beech15"', 14.9, 14.9, 6.0),
        ("{flat: beech15}", 14.9, 14.9, 6.0),
        ("{flat: ash15, upright: beech15}", 14.6, 14.9, 0.0),
        ("{drawer: strings, lip: 6}", 14.9, 14.9, 6.0),
        ("{drawer: music, lip: 0, orientation: fronts-flat}", 14.6, 14.6, 0.0),
    ],
)
def test_one_of_two_corners_that_differ_in_their_stock_can_be_meant(
    correct, tmp_path, said, flat, upright, lip
):
    (tmp_path / "two-stocks.yaml").write_text(TWO_STOCKS, "utf-8")
    wanted = correct(OF_JOB.replace("CORNER", said))["wanted"]
    known = [wanted["flat_thickness"]["value"], wanted["upright_thickness"]["value"], wanted["lip"]]
    assert known == [flat, upright, lip]


@pytest.mark.parametrize(
    ("said", "words"),
    [
        (
            '"front corner, lip 6.0 mm"',
            "'front corner, lip 6.0 mm' fits more than one corner: name one of front corner, lip 6.0 mm, ash15; "
            "front corner, lip 6.0 mm, beech15",
        ),
        (
            "{lip: 6}",
            "lip: 6.0 fits more than one corner: name one of front corner, lip 6.0 mm, ash15; front",
        ),
        ("{flat: elm}", "the job has no corner flat: elm; it has front corner, lip 6.0 mm, ash15; back"),
        ("{flatt: ash15}", "wanted.corner.flatt: does not belong here: did you mean flat?"),
        ("[ash15]", "wanted.corner: "),
    ],
)
def test_a_corner_that_is_not_clear_is_answered_with_those_there_are(faults, tmp_path, said, words):
    (tmp_path / "two-stocks.yaml").write_text(TWO_STOCKS, "utf-8")
    (fault,) = faults(OF_JOB.replace("CORNER", said))
    assert words in fault


def test_a_job_file_given_for_a_trial_file_is_told_as_such(capsys):
    assert main(["correct", "examples/music-school.yaml"]) == 2
    (told,) = capsys.readouterr().err.splitlines()
    assert "music-school.yaml: is a job file, not a trial file" in told
