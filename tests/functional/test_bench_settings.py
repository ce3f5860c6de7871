"""`drawerwright settings` for joints without a self-mating cutter."""

from __future__ import annotations

import json

import pytest

from drawerwright.cli import main

FINGER = ["settings", "--kind", "finger", "--flat", "14.6", "--upright", "14.6"]
REBATE = ["settings", "--kind", "rebate", "--flat", "15", "--upright", "12"]


def answer(capsys: pytest.CaptureFixture[str], *command: str) -> dict:
    assert main([*command, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def test_a_finger_row_from_its_measures(capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, *FINGER, "--finger", "9.5", "--kerf", "3.1", "--width", "110")
    # By hand: nine elements of 9.5 are 85.5; 24.5 is left for two ends.
    assert found["widths"] == [12.25, *[9.5] * 9, 12.25]
    assert found["fingers"] == 6
    assert found["jig_pitch"] == 19.0
    assert found["clearance"] == 0.1
    assert found["passes"] == 4
    assert found["engagement"] == 14.6
    given = answer(capsys, *FINGER, "--width", "3 in", "--finger", "1/4 in", "--clearance", "0")
    assert sum(given["widths"]) == pytest.approx(76.2)
    assert given["clearance"] == 0.0
    assert given["passes"] == 1


def test_an_upright_piece_between_fingers_is_as_long_as_the_drawer(
    capsys: pytest.CaptureFixture[str],
) -> None:
    found = answer(capsys, *FINGER, "--width", "104.5", "--outer", "400", "--other-flat", "18")
    assert found["upright_length"] == 400.0
    assert found["findings"] == []


def test_a_rebate_from_its_measures(capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, *REBATE, "--depth", "9", "--outer", "400", "--lip", "5")
    assert (found["bit_height"], found["fence"], found["left"], found["length_lost"]) == (9.0, 17.0, 6.0, 6.0)
    assert found["upright_length"] == 400 - 2 * 6


@pytest.mark.parametrize(
    ("read", "change"),
    [
        (["finger=9.6"], {"pin": 0.15}),  # 9.55 less 0.1 is 9.45: the finger is 0.15 too wide
        (["finger=9.4"], {"pin": -0.05}),
        (["notch=9.65", "finger=9.45"], {"pin": -0.1}),
        (["row=76.4"], {"creep": 0.1}),  # four steps of 19 are 76
        (["proud=-0.3"], {"bit_height": 0.3}),
    ],
)
def test_a_test_cut_of_fingers_says_what_to_change(
    capsys: pytest.CaptureFixture[str], read: list[str], change: dict[str, float]
) -> None:
    options = [option for each in read for option in ("--read", each)]
    found = answer(capsys, *FINGER, "--finger", "9.5", "--width", "110", *options)
    assert found["change"] == pytest.approx(change)


@pytest.mark.parametrize("off", [0.0, 0.12, -0.2])
def test_the_next_cut_of_fingers_is_right(capsys: pytest.CaptureFixture[str], off: float) -> None:
    """What is asked for, done at a saw of our own: a bit of its own width, a pin that is off."""
    bit, pin = 9.62, 9.45 + off
    read = ["--read", f"notch={bit}", "--read", f"finger={pin}"]
    found = answer(capsys, *FINGER, "--finger", "9.5", "--width", "110", *read)
    next_finger = pin - found["change"]["pin"]
    assert bit - next_finger == pytest.approx(0.1, abs=1e-3)


def test_a_test_cut_of_a_rebate_says_what_to_change(capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, *REBATE, "--depth", "9", "--read", "left=6.4", "--read", "width=11.8")
    assert found["change"] == {"bit_height": 0.4, "fence": 0.2}
    main([*REBATE, "--depth", "9", "--read", "left=6.4", "--read", "lip=0.3"])
    said = capsys.readouterr().out
    assert "Too shallow: raise the bit by 0.40 mm." in said
    assert "Too wide: close the fence by 0.30 mm." in said
    main([*REBATE, "--depth", "9", "--read", "left=6"])
    assert "nothing to change" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("command", "said"),
    [
        (FINGER, "give --width, the height of the drawer"),
        ([*FINGER, "--width", "15"], "fingers of 9.5 mm need an edge of 19 mm or more"),
        ([*FINGER, "--width", "-1"], "the width of the edge must be more than 0 mm, not -1 mm"),
        ([*FINGER, "--width", "100", "--clearance", "-0.1"], "clearance must be 0 mm or more, not -0.1 mm"),
        (
            [*FINGER, "--width", "100", "--finger", "12", "--clearance", "15"],
            "a clearance of 15 mm leaves fingers of 12 mm loose; the limit is 3.0 mm",
        ),
        ([*REBATE, "--read", "left=15"], "left under the rebate of 15 mm: the flat piece is 15 mm thick"),
        ([*REBATE, "--read", "width=5"], "a rebate 5 mm wide cannot be meant where 12 mm is wanted"),
        ([*REBATE, "--read", "width=127"], "a rebate 127 mm wide cannot be meant where 12 mm is wanted"),
        ([*FINGER, "--width", "100", "--finger", "0"], "finger must be more than 0 mm, not 0 mm"),
        (
            [*FINGER, "--width", "100", "--read", "depth=3"],
            "no reading 'depth'; it has notch, finger, row, proud",
        ),
        ([*FINGER, "--width", "100", "--read", "notch=0"], "the reading notch must be more than 0 mm"),
        (
            [*REBATE, "--outer", "20"],
            "an outer size of 20 mm leaves nothing between the two flat pieces, which take 30 mm",
        ),
        ([*REBATE, "--flat", "0"], "the thickness of the flat piece must be more than 0, not 0 mm"),
    ],
)
def test_what_cannot_be_meant_is_said(
    capsys: pytest.CaptureFixture[str], command: list[str], said: str
) -> None:
    assert main(command) == 2
    assert said in capsys.readouterr().err


@pytest.mark.parametrize(
    ("command", "said"),
    [
        (
            [*FINGER, "--width", "100", "--mid-depth", "5"],
            "argument --mid-depth: '5': --kind finger has no mid depth",
        ),
        ([*REBATE, "--finger", "5"], "unrecognized arguments: --finger 5"),
        (["settings", "--flat", "15", "--upright", "15"], "required: --mid-depth, --step"),
        (["settings", "--kind", "dowel", "--flat", "15", "--upright", "15"], "no kind of joint 'dowel'"),
        ([*REBATE, "--read", "left"], "'left' must be a name and a length"),
    ],
)
def test_each_kind_is_asked_its_own_measures_alone(
    capsys: pytest.CaptureFixture[str], command: list[str], said: str
) -> None:
    with pytest.raises(SystemExit) as end:
        main(command)
    assert end.value.code == 2
    assert said in capsys.readouterr().err


def test_help_tells_the_measures_of_the_kind(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["settings", "--kind", "finger", "--help"])
    told = capsys.readouterr().out
    assert "--finger LENGTH" in told
    assert "\n  --mid-depth" not in told  # the example at the end is that of a cutter's corner


@pytest.mark.parametrize(
    ("more", "code", "status"),
    [
        (["--lip", "4"], "fingers-under-a-lip", 3),
        (["--kerf", "12"], "kerf-wider-than-notch", 3),
        (["--finger", "3"], "narrow-fingers", 0),
        (["--finger", "30"], "wide-fingers", 0),
        (["--finger", "4", "--clearance", "0.05"], "long-finger-row", 0),
    ],
)
def test_what_is_doubtful_about_fingers(
    capsys: pytest.CaptureFixture[str], more: list[str], code: str, status: int
) -> None:
    assert main([*FINGER, "--width", "110", *more, "--json"]) == status
    assert code in [finding["code"] for finding in json.loads(capsys.readouterr().out)["findings"]]


@pytest.mark.parametrize(
    ("depth", "code", "status"),
    [("15", "rebate-through", 3), ("13", "deep-rebate", 0), ("4", "shallow-rebate", 0)],
)
def test_what_is_doubtful_about_a_rebate(
    capsys: pytest.CaptureFixture[str], depth: str, code: str, status: int
) -> None:
    assert main([*REBATE, "--depth", depth, "--json"]) == status
    assert [finding["code"] for finding in json.loads(capsys.readouterr().out)["findings"]] == [code]


def test_what_must_not_be_cut_is_said_first(capsys: pytest.CaptureFixture[str]) -> None:
    """Stock of 9 mm under a bit of 11.2."""
    main(["settings", "--mid-depth", "5.65", "--step", "3.45", "--flat", "9", "--upright", "14.6"])
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("stop ")
    stops = [line.startswith("stop ") for line in lines]
    assert stops == sorted(stops, reverse=True)
