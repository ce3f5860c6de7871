"""The command line as a woodworker meets it."""

from __future__ import annotations

import csv
import json
import math
import shutil
import signal
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path
from statistics import NormalDist

import pytest

from drawerwright.cli import COMMANDS, main
from drawerwright.cli.exits import interruptible

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "examples" / "music-school.yaml"


def test_plan_writes_everything(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(EXAMPLE), "--out", str(tmp_path / "out")]) == 0
    said = capsys.readouterr().out
    assert "15 drawers" in said
    assert "packet.pdf" in said
    report = json.loads((tmp_path / "out" / "plan.json").read_text("utf-8"))
    assert report["version"] == 3
    assert report["units"]["length"] == "mm"
    assert {"parts", "bands", "sheets", "run", "findings", "settings", "carcase", "cautions"} <= set(report)
    assert "or how far it stands proud; note which of the two you saw; " in " ".join(said.split())
    roof = next(
        reading
        for setup in report["run"]["setups"]
        for reading in setup["expected_readings"]
        if reading["reading"] == "roof"
    )
    # The law: h = 2 x 5.65. The height gauge shows 0.05 too much and has marks every 0.05; a play of 0.1 mm is as near
    # to the middle of the wanted one as one of 0.05, and closes more often.
    for setting in report["settings"]:
        assert (setting["tight_bit_height"], setting["bit_height"], setting["play"]) == (11.3, 11.2, 0.1)
    assert {setup["height_reading"] for setup in report["run"]["setups"]} == {11.25}
    # A play of 0 to 0.15 mm fits: the roof may be 0.1 thinner or 0.05 thicker, and 0.1 too thick is 0.2 of play.
    assert roof["value"] - roof["fits_from"] == pytest.approx(0.1, abs=0.002)
    assert roof["fits_to"] - roof["value"] == pytest.approx(0.05, abs=0.002)
    off = next(row for row in roof["when_off"] if row["off"] == 0.1)
    assert off == {"off": 0.1, "change": "bit_height", "by": 0.1, "play": 0.2, "stands_proud": 0.0}
    rows = list(csv.DictReader((tmp_path / "out" / "parts.csv").read_text("utf-8").splitlines()))
    assert [row["part"] for row in rows] == [part["label"] for part in report["parts"]]
    assert (tmp_path / "out" / "packet.pdf").read_bytes().startswith(b"%PDF")
    drawings = sorted((tmp_path / "out" / "drawings").glob("*.svg"))
    kinds = {drawing.stem.split("-")[0] for drawing in drawings}
    assert kinds == {"bank", "block", "corner", "setup", "sheet", "stick", "type", "view"}
    for drawing in drawings:
        assert ET.parse(drawing).getroot().get("width", "").endswith("mm")


def test_plan_writes_dxf_when_asked(tmp_path: Path) -> None:
    import ezdxf

    assert main(["plan", str(EXAMPLE), "--out", str(tmp_path), "--files", "svg", "--dxf"]) == 0
    drawings = sorted((tmp_path / "drawings").glob("*.dxf"))
    others = {d.stem for d in (tmp_path / "drawings").glob("*.svg")}
    assert {d.stem for d in drawings} == {*others, "parts"}
    assert ezdxf.readfile(drawings[0]).units == ezdxf.units.MM


def test_plan_writes_what_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert (
        main(["plan", str(EXAMPLE), "--out", str(tmp_path), "--files", "xlsx,csv", "--time-limit", "1"]) == 0
    )
    assert {path.name for path in tmp_path.iterdir()} == {"job.xlsx", "parts.csv", "cuts.csv", "plan.json"}
    assert "print" not in capsys.readouterr().out.splitlines()[-1]
    assert main(["plan", str(EXAMPLE), "--out", str(tmp_path), "--files", "xls"]) == 2
    assert "'xls' is no kind of file: choose from all, pdf" in capsys.readouterr().err


def test_drawings_of_an_earlier_plan_do_not_stay_behind(tmp_path: Path) -> None:
    out = tmp_path / "out"
    files = ["--files", "svg"]
    assert main(["plan", str(EXAMPLE), "--out", str(out), *files]) == 0
    (out / "drawings" / "my own sketch.svg").write_text("<svg/>")
    job = tmp_path / "fewer.yaml"
    text = EXAMPLE.read_text("utf-8")
    job.write_text(text[: text.index("  - name: Orchestra parts")] + text[text.index("boxes:") :])
    assert main(["plan", str(job), "--out", str(out), *files]) == 0
    written = json.loads((out / "plan.json").read_text("utf-8"))["files"]
    there = {str(path.relative_to(out)) for path in out.rglob("*") if path.is_file()}
    assert there == {*written, "drawings/my own sketch.svg"}
    assert "drawings/bank-B.svg" not in written


def test_names_with_brackets_and_slashes_are_printed_as_they_are(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = tmp_path / "job.yaml"
    text = EXAMPLE.read_text("utf-8").replace("Score chest of the music school", '"Chest [/b] [red]"')
    job.write_text(text.replace("birch15", '"b[/i]1"').replace("birch6", '"B--i-1"'))
    assert main(["plan", str(job), "--out", str(tmp_path), "--files", "svg"]) == 0
    said = capsys.readouterr().out
    assert "Chest [/b] [red]" in said
    assert "b[/i]1" in said
    assert "\\[" not in said
    sheets = [path for path in (tmp_path / "drawings").iterdir() if path.name.startswith("sheet-")]
    report = json.loads((tmp_path / "plan.json").read_text("utf-8"))
    assert len(sheets) == sum(len(stock["layouts"]) for stock in report["sheets"])


def test_ctrl_c_takes_the_best_so_far(request: pytest.FixtureRequest) -> None:
    before = signal.signal(
        signal.SIGINT, signal.default_int_handler
    )  # a background job begins with it ignored
    request.addfinalizer(lambda: signal.signal(signal.SIGINT, before))
    with interruptible() as was_interrupted:
        assert not was_interrupted()
        signal.raise_signal(signal.SIGINT)
        assert was_interrupted()
        with pytest.raises(KeyboardInterrupt):
            signal.raise_signal(signal.SIGINT)


def test_every_strip_of_the_report_is_a_part_of_its_band_length(tmp_path: Path) -> None:
    main(["plan", str(EXAMPLE), "--out", str(tmp_path), "--files", "csv"])
    report = json.loads((tmp_path / "plan.json").read_text("utf-8"))
    length = {part["label"]: part["cut_length"] for part in report["parts"]}
    handed = {part["label"]: part["handed"] for part in report["parts"]}
    for band in report["bands"]:
        for strip in band["strips"]:
            assert length[strip["part"]] == pytest.approx(band["part_length"])
            assert (strip["lower_edge"] is not None) == handed[strip["part"]]


def test_check_reports_all_faults_and_writes_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = tmp_path / "job.yaml"
    job.write_text(
        EXAMPLE.read_text("utf-8").replace("kerf: 2.8", "kerf: wide").replace("step: 3.45", "step: -3.45")
    )
    assert main(["check", str(job)]) == 2
    said = capsys.readouterr().err
    assert "machine.saw.kerf" in said
    assert "'wide'" in said
    assert "cutter.step" in said
    assert f"{job}:" in said
    assert said.splitlines()[-1].startswith("Mend these, then check again")
    assert [path.name for path in tmp_path.iterdir()] == ["job.yaml"]
    assert main(["plan", str(job), "--out", str(tmp_path / "out")]) == 2
    assert not (tmp_path / "out").exists()


def test_check_accepts_the_example(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(EXAMPLE)]) == 0
    assert "no faults" in capsys.readouterr().out


def test_a_missing_file_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "no-such-job.yaml"]) == 2
    assert "cannot be opened" in capsys.readouterr().err


def settings(capsys: pytest.CaptureFixture[str], *args: str) -> dict[str, float]:
    assert main(["settings", *args, "--json"]) == 0
    found: dict[str, float] = json.loads(capsys.readouterr().out)
    return found


def test_settings_of_a_drawer_lock_corner(capsys: pytest.CaptureFixture[str]) -> None:
    """By the law: h = 2 m, F = (t + d) / 2, upright length = outer - 2 (t - h)."""
    args = "--kind drawer-lock --mid-depth 6 --step 4 --flat 15 --upright 15 --outer 400 --other-flat 15"
    found = settings(capsys, *args.split(" "))
    assert found["bit_height"] == found["engagement"] == 12
    assert found["fence_flat"] == found["fence_upright"] == 9.5
    assert (found["neck"], found["head"], found["roof"], found["lip"]) == (5.5, 9.5, 3, 0)
    assert found["upright_length"] == 394
    assert found["findings"] == []


def test_settings_with_tooth_lip_and_length(capsys: pytest.CaptureFixture[str]) -> None:
    common = ["--mid-depth", "6", "--step", "4", "--flat", "15", "--upright", "14,5", "--lip", "2"]
    tooth = settings(capsys, *common, "--fence", "tooth")
    assert (tooth["fence_upright"], tooth["fence_flat"]) == (4, 16.5)
    own = settings(capsys, *common, "--fence", "1/4 in")
    assert (own["fence_upright"], own["fence_flat"]) == (6.35, 14.15)
    assert "upright_length" not in own


def test_settings_of_a_lock_mitre(capsys: pytest.CaptureFixture[str]) -> None:
    args = "--kind lock-mitre --mid-depth 12 --step 20 --flat 18 --upright 18"
    found = settings(capsys, *args.split(" "))
    assert (found["bit_height"], found["engagement"]) == (21, 18)


def test_settings_recommend_the_height_with_the_best_odds_beside_the_tight_one(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Misfit is a sum of normal errors: 2 x 0.015 of the mid depth, 0.02 of the gauge, 0.015 of dialling in."""
    common = ["--mid-depth", "5.65 ± 0.015", "--step", "3.45 ± 0.02", "--flat", "14.6", "--upright", "14.6"]
    common += ["--outer", "420", "--height-gauge-offset", "0 ± 0.02", "--repeatability", "0.015"]
    doubt = math.hypot(2 * 0.015, 0.02, 0.015)

    def odds(play: float, least: float, most: float) -> float:
        return NormalDist(play, doubt).cdf(most) - NormalDist(play, doubt).cdf(least)

    usual = (0.0, 0.15)
    for step, play, wanted in ((0.05, 0.1, usual), (0.01, 0.08, usual), (0.05, 0.25, (0.2, 0.3))):
        fit = ["--least-play", str(wanted[0]), "--most-play", str(wanted[1])] if wanted != usual else []
        found = settings(capsys, *common, "--height-gauge-step", str(step), *fit)
        assert (found["bit_height"], found["upright_length"]) == (11.3, 413.4)
        recommended: dict[str, float] = found["recommended"]  # type: ignore[assignment]
        assert recommended["bit_height"] == pytest.approx(11.3 - play, abs=1e-6)
        assert recommended["play"] == pytest.approx(play, abs=1e-6)
        assert recommended["upright_length"] == pytest.approx(413.4 - 2 * play, abs=1e-6)
        assert recommended["odds"] == pytest.approx(odds(play, *wanted), abs=1e-4)
        for other in (play - step, play + step, 0.0):
            assert odds(other, *wanted) <= recommended["odds"] + 1e-4
    assert main(["settings", *common]) == 0
    said = capsys.readouterr().out
    assert "recommended bit height     11.20 mm   dial this in, leaving 0.10 mm of play" in said
    assert "tight bit height           11.30 mm   by the law, without play" in said


def test_settings_of_what_is_exact_promise_no_odds_and_a_lock_mitre_is_set_tight(
    capsys: pytest.CaptureFixture[str],
) -> None:
    exact = [f"--{name}=6 ± 0" for name in ("mid-depth", "step")]
    exact += [f"--{name}=15 ± 0" for name in ("flat", "upright")]
    found = settings(capsys, *exact, "--repeatability=0", "--height-gauge-offset=0 ± 0")
    assert found["recommended"]["odds"] is None  # type: ignore[index]
    assert found["recommended"]["bit_height"] == 11.9  # type: ignore[index]
    args = "--kind lock-mitre --mid-depth 12.013 --step 20 --flat 18 --upright 18"
    mitre = settings(capsys, *args.split(" "))
    assert mitre["bit_height"] == mitre["recommended"]["bit_height"] == 21.013  # type: ignore[index]
    assert mitre["recommended"]["play"] is None  # type: ignore[index]
    assert 0 < mitre["recommended"]["odds"] < 1  # type: ignore[index]


@pytest.mark.parametrize(
    ("argument", "value", "words"),
    [
        ("--flat", "thick", "'thick'"),
        ("--most-play", "-1", "from 0 to -1"),
        ("--repeatability", "-1", "-1"),
        ("--height-gauge-step", "0", "more than 0"),
        ("--mid-depth", "6 ± -1", "zero or more"),
        ("--fence", "both", "'both'"),
        ("--step", "-4", "more than 0"),
        ("--flat", "0", "more than 0"),
    ],
)
def test_bad_settings_end_with_exit_code_2(
    argument: str, value: str, words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    values = {"--mid-depth": "6", "--step": "4", "--flat": "15", "--upright": "15", argument: value}
    args = ["settings", *(f"{name}={given}" for name, given in values.items())]
    try:
        code = main(args)
    except SystemExit as leaving:
        code = int(str(leaving.code))
    assert code == 2
    assert words in capsys.readouterr().err


def test_help_loads_no_heavy_library() -> None:
    heavy = (
        "numpy",
        "shapely",
        "highspy",
        "pydantic",
        "ruamel.yaml",
        "starlette",
        "typst",
        "ezdxf",
        "rich",
        "jinja2",
    )
    probe = (
        "import sys\n"
        "from drawerwright.cli import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit:\n    pass\n"
        f"print([name for name in {heavy} if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", probe], capture_output=True, text=True, check=True)
    assert done.stdout.strip().splitlines()[-1] == "[]"


def test_every_command_is_documented() -> None:
    docs = (ROOT / "docs" / "commands.md").read_text("utf-8")
    from drawerwright.cli import build_parser

    parser = build_parser()
    for command in COMMANDS:
        assert f"## `drawerwright {command.NAME}" in docs, command.NAME
    commands = next(a for a in parser._actions if a.dest == "command")
    for name, sub in commands.choices.items():  # type: ignore[union-attr]
        section = docs.split(f"## `drawerwright {name}")[1].split("\n## ")[0]
        for action in sub._actions:  # type: ignore[attr-defined]
            for option in action.option_strings:
                if option.startswith("--") and option != "--help":
                    assert f"`{option}" in section, f"{name} {option}"


def test_installed_command_answers() -> None:
    if shutil.which("drawerwright") is None:
        pytest.skip("drawerwright is not installed beside the tests")
    done = subprocess.run(["drawerwright", "--version"], capture_output=True, text=True, check=True)
    assert done.stdout.startswith("drawerwright ")


def test_a_lock_mitre_has_neither_neck_nor_roof(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = tmp_path / "tea.yaml"
    job.write_text(
        "format: 1\njob: Tea box\ncutter: {kind: lock-mitre, mid_depth: 9.2, step: 15}\n"
        "stock: {oak: {nominal: 14, measured: [14.1], sheets: [{length: 1500, width: 600}]}}\n"
        "boxes: [{name: box, outer: {width: 240, depth: 160, height: 70}, box: {all: oak}}]\n",
        "utf-8",
    )
    main(["plan", str(job), "--out", str(tmp_path / "out"), "--files", "csv"])
    rows = [line.split() for line in capsys.readouterr().out.splitlines() if "14.55" in line]
    assert rows[0][-2:] == ["none", "none"]
