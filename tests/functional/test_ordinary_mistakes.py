"""Mistakes that anybody makes end in words and 2: no traceback, no waiting, nothing half done."""

from __future__ import annotations

import copy
import io
import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from drawerwright.basics.errors import DrawerwrightError, FaultyInputError
from drawerwright.cli import main
from drawerwright.job.file.given_files import given_bytes
from drawerwright.job.measured_cutter import profile_points
from drawerwright.sheets.published.instance import solve_instance
from fuzz.mutations import places
from fuzz.odd_values import ODD_VALUES
from fuzz.targets import INSTANCES

JOB = """\
format: 1
job: Tray
cutter: {mid_depth: 5.65, step: 3.45}
stock: {birch: {nominal: 15, sheets: [{length: 2500, width: 1250}]}}
boxes: [{name: tray, outer: {width: 300, depth: 400, height: 90}, box: {all: birch}}]
"""
WITH_PROFILE = JOB.replace("{mid_depth: 5.65, step: 3.45}", "{profile: %s}")


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def ended(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> tuple[int, str]:
    """The code, and what is said of the mistake."""
    try:
        code = main(arguments)
    except SystemExit as refused:  # argparse
        code = int(refused.code or 0)
    said = capsys.readouterr().err
    assert "Traceback" not in said
    return code, said


@pytest.mark.parametrize("given", ["99999", "-1", "²", "1e3"])
def test_a_port_that_there_is_not(given: str, here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, said = ended(["serve", "--port", given, "--data", "data"], capsys)
    assert code == 2
    assert given in said
    assert "65535" in said


@pytest.mark.parametrize("given", ["nan", "-1", "0", "inf", "soon"])
@pytest.mark.parametrize("command", [["plan", "job.yaml", "--out", "out"], ["sheets", "instance.json"]])
def test_a_time_limit_that_is_none(
    command: list[str], given: str, here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, said = ended([*command, "--time-limit", given], capsys)
    assert code == 2
    assert f"not {given}" in said
    assert not (here / "out").exists()


PROFILES: dict[str, bytes] = {
    "latin.csv": "0;3,4\n6,5;tief é".encode("latin-1"),
    "utf16.csv": "0;3,4\n6,5;0\n".encode("utf-16"),
    "long.csv": b"0;" + b"1" * 131_073,
    "nothing.csv": b"",
    "section.dxf": b"0\nSECTION\n",
    "nothing.dxf": b"",
    "text.dxf": b"depth;inset\n0;1\n",
}


@pytest.mark.parametrize("name", PROFILES)
def test_a_profile_that_cannot_be_read(name: str, here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (here / name).write_bytes(PROFILES[name])
    (here / "job.yaml").write_text(WITH_PROFILE % name, encoding="utf-8")
    code, said = ended(["check", "job.yaml"], capsys)
    assert code == 2
    assert said.startswith("job.yaml:3: cutter.profile")


def test_a_file_that_is_no_profile_is_not_repeated(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("secrets", "secrets.csv"):
        (here / name).write_text("key: hunter2\nother: hunter3\n", encoding="utf-8")
        (here / "job.yaml").write_text(WITH_PROFILE % name, encoding="utf-8")
        code, said = ended(["check", "job.yaml"], capsys)
        assert code == 2
        assert "hunter" not in said
        assert "profile" in said


def drawing(points: list[tuple[float, float, float]]) -> bytes:
    ezdxf = pytest.importorskip("ezdxf")
    document = ezdxf.new()
    document.modelspace().add_lwpolyline(points, format="xyb")
    text = io.StringIO()
    document.write(text)
    return text.getvalue().encode()


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ([], "0 po"),
        ([(0, 0, 0)], "1 points"),
        ([(3.4, 0, 0), (float("nan"), -4, 0)], "no number"),
        ([(3.4, 0, 1e10), (3.4, -4, 0)], "turns by 360°"),
        ([(3.4, 0, 0), (1e6, -4, 0)], "wide"),
    ],
)
def test_a_drawing_that_no_edge_can_be(points: list[tuple[float, float, float]], words: str) -> None:
    with pytest.raises(FaultyInputError, match=words):
        profile_points("edge.dxf", drawing(points))


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes with names")
def test_what_is_no_file_is_not_waited_for(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    os.mkfifo("pipe.yaml")
    (here / "folder.yaml").mkdir()
    for name in ("pipe.yaml", "/dev/zero", "folder.yaml"):
        code, said = ended(["check", name], capsys)
        assert code == 2
        assert said == f"{name}: is a folder, a device or a pipe: name a file\n"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes with names")
@pytest.mark.parametrize(
    "arguments",
    [
        ["made", "tray.yaml", "--as"],
        ["rack", "tray.yaml", "--data", "data", "--cut"],
        ["sheets"],
        ["scan", "--dpi", "600", "--upright", "pipe.json", "--flat"],
    ],
    ids=lambda arguments: arguments[0],
)
def test_every_command_looks_at_a_file_before_it_reads_it(
    arguments: list[str], here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    Path("tray.yaml").write_text(JOB, "utf-8")
    os.mkfifo("pipe.json")
    assert ended([*arguments, "pipe.json"], capsys) == (
        2,
        "pipe.json: is a folder, a device or a pipe: name a file\n",
    )
    if arguments[0] != "scan":
        Path("deep.json").write_text("[" * 100_000, "utf-8")
        code, said = ended([*arguments, "deep.json"], capsys)
        assert (code, "deep.json: is not JSON: it is nested too deeply" in said) == (2, True)


def test_a_file_that_is_far_too_large_is_not_read(here: Path) -> None:
    with Path("large.yaml").open("wb") as file:
        file.truncate(10_000_000_000)
    with pytest.raises(FaultyInputError, match="larger than 1,000,000 bytes"):
        given_bytes(Path("large.yaml"), 1_000_000)


@pytest.mark.parametrize("name", ["a" * 400, "a\0b", "job.yaml/x"])
def test_names_that_no_file_has(name: str, here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (here / "job.yaml").write_text(JOB, encoding="utf-8")
    code, said = ended(["check", name], capsys)
    assert code == 2
    assert len(said) < 250
    assert "cannot be opened" in said


def test_a_folder_in_whose_place_a_file_stands(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (here / "job.yaml").write_text(JOB, encoding="utf-8")
    (here / "out").mkdir()
    (here / "out" / "drawings").write_text("mine", encoding="utf-8")
    code, said = ended(["plan", "job.yaml", "--out", "out", "--time-limit", "1"], capsys)
    assert (code, said) == (2, "out/drawings: File exists\n")


def test_a_version_of_yaml_that_there_is_not(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (here / "job.yaml").write_text("%YAML 9.9\n---\n" + JOB, encoding="utf-8")
    assert ended(["check", "job.yaml"], capsys)[0] == 2


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no disk that is always full")
def test_a_full_disk_behind_the_output() -> None:
    corner = ["settings", "--mid-depth", "5.65", "--step", "3.45", "--upright", "14.6", "--flat", "14.6"]
    with Path("/dev/full").open("w") as full:
        found = subprocess.run(
            [sys.executable, "-m", "drawerwright", *corner], stdout=full, stderr=subprocess.PIPE, text=True
        )
    assert found.returncode == 2
    assert found.stderr == "drawerwright settings: No space left on device\n"


def test_a_terminal_of_plain_letters_gets_plain_letters(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (here / "job.yaml").write_text(JOB.replace("Tray", "Tray № 1"), encoding="utf-8")
    screen = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(screen, encoding="ascii"))
    assert main(["check", "job.yaml"]) == 0
    print("14.6 ± 0.1 × 9¾″ №", flush=True)
    assert screen.getvalue().endswith(b'14.6 +/- 0.1 x 93/4" ?\n')


def test_a_place_that_cannot_be_written_is_said_before_anything_is_planned(
    here: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def planned(*_given: object, **_named: object) -> None:
        raise AssertionError("planned in vain")

    monkeypatch.setattr("drawerwright.job.planning.job_plan.plan_job", planned)
    (here / "job.yaml").write_text(JOB, encoding="utf-8")
    (here / "letter").write_text("no folder", encoding="utf-8")
    for out in ("letter", "letter/out"):
        code, said = ended(["plan", "job.yaml", "--out", out], capsys)
        assert code == 2
        assert said == f"{here / 'letter'}: Not a directory\n"
    monkeypatch.setattr(os, "access", lambda place, _mode: Path(place) != here)
    code, said = ended(["plan", "job.yaml", "--out", "new/out"], capsys)
    assert (code, said) == (2, f"{here}: Permission denied\n")


def test_a_narrow_terminal_loses_nothing(
    here: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    (here / "job.yaml").write_text(JOB, encoding="utf-8")
    assert main(["plan", "job.yaml", "--out", "out", "--files", "csv"]) == 0
    said = capsys.readouterr().out
    lines = said.splitlines()
    assert not [line for line in lines if len(line) > 40 and " " in line]
    assert "…" not in said
    assert any(re.fullmatch(r"  fence upright \d+\.\d+ *", line) for line in lines)


def test_our_own_fault_is_told_with_what_was_done_and_its_details_lie_in_a_file(
    here: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(here))

    def broken(_arguments: object) -> int:
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr("drawerwright.cli.check_command.run", broken)
    code, said = ended(["check", "job.yaml"], capsys)
    assert code == 70
    (report,) = here.glob("drawerwright-faults-*/*.txt")
    assert str(report) in said
    text = report.read_text(encoding="utf-8")
    assert text.startswith("drawerwright check job.yaml\n")
    assert "ZeroDivisionError: division by zero" in text
    assert report.parent.stat().st_mode & 0o077 == 0
    monkeypatch.setattr("tempfile.tempdir", "/dev/null")
    assert ended_with_traceback(["check", "job.yaml"], capsys) == 70


def ended_with_traceback(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> int:
    """Where no file can be written, the terminal has the details."""
    code = main(arguments)
    assert "Traceback" in capsys.readouterr().err
    return code


@pytest.mark.parametrize("base", INSTANCES, ids=lambda base: str(base["name"]))
def test_every_shape_of_an_instance_is_solved_or_refused_with_words(base: dict[str, Any]) -> None:
    solved, longest = 0, 0
    for *way, last in places(base):
        for shape in ODD_VALUES:
            mutated = copy.deepcopy(base)
            node = mutated
            for step in way:
                node = node[step]
            node[last] = shape
            try:
                solved += solve_instance(mutated, time_limit=1.0).value > 0
            except DrawerwrightError as refused:
                longest = max(longest, len(str(refused)))
    assert solved >= 5
    assert 0 < longest < 400


def test_limits_of_an_instance_are_told_with_the_value(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for entry, change, words in (
        ("sheet", {"length": 50_000, "width": 50_000}, "20,000 mm, not 50000"),
        ("items", [{"length": 20, "width": 10, "demand": 10**9}], "asks for 1000000000 parts; 100,000 are"),
        ("sheet", "x", "must be an object with its length, not 'x'"),
        ("stages", [], "stages must be a whole number, not []"),
    ):
        Path("instance.json").write_text(json.dumps({**INSTANCES[0], entry: change}), encoding="utf-8")
        code, said = ended(["sheets", "instance.json"], capsys)
        assert code == 2
        assert words in said
