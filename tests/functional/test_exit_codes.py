"""How each command ends: 0 done, 2 input, 3 done but a STOP stands, 70 our own fault, 130 interrupted."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from drawerwright.basics.errors import SolverError
from drawerwright.cli import main
from drawerwright.cli.exits import first_of

EXAMPLE = (Path(__file__).parents[2] / "examples" / "music-school.yaml").read_text("utf-8")
TOO_SHORT = EXAMPLE.replace("cutting_height: 14.5", "cutting_height: 11")
"""The bit height of 11.3 mm is above this cutter."""
DAYS = "\ndays: [[Reed tray, Orchestra parts], [Choir scores]]\n"


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return tmp_path / "job.yaml"


def plan(job: Path, text: str, *more: str) -> int:
    job.write_text(text, encoding="utf-8")
    return main(["plan", str(job), "--out", str(job.parent / "out"), "--files", "csv", *more])


def test_a_plan_with_a_stop_is_whole_leads_with_it_and_ends_with_3(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert plan(job, EXAMPLE) == 0
    assert "STOP" not in capsys.readouterr().out
    whole = {path.name for path in (job.parent / "out").rglob("*")}
    assert plan(job, TOO_SHORT) == 3
    assert {path.name for path in (job.parent / "out").rglob("*")} == whole
    first, second, *_ = capsys.readouterr().out.splitlines()
    assert first == "Score chest of the music school"
    assert second.startswith("STOP")
    report = json.loads((job.parent / "out" / "plan.json").read_text("utf-8"))
    (stop,) = [finding for finding in report["findings"] if finding["severity"] == "stop"][:1]
    assert stop["code"] == "bit-height-above-cutter"
    assert stop["drawers"]


def test_a_stop_on_any_day_ends_a_plan_of_days_with_3(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert plan(job, EXAMPLE + DAYS) == 0
    # Only the second day's bank hangs on runners that take no side as thick as these.
    runner = "runner: {kind: wooden, back: 12, top: 0, bottom: 0"
    thick = EXAMPLE.replace(runner, f"{runner}, thickest_side: 14")
    assert thick != EXAMPLE
    capsys.readouterr()
    assert plan(job, thick + DAYS) == 3
    said = capsys.readouterr().out
    assert "STOP day 2: Choir scores" in said
    assert "STOP day 1" not in said


def test_check_says_all_and_ends_with_3_where_a_stop_stands(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job.write_text(EXAMPLE, encoding="utf-8")
    assert main(["check", str(job)]) == 0
    job.write_text(TOO_SHORT, encoding="utf-8")
    assert main(["check", str(job)]) == 3
    assert "stop bit-height-above-cutter" in capsys.readouterr().out


@pytest.mark.parametrize("form", [[], ["--json"]])
def test_settings_ends_with_3_where_a_stop_stands(
    form: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    corner = ["settings", "--mid-depth", "5.65", "--step", "3.45", "--upright", "14.6", *form, "--flat"]
    assert main([*corner, "14.6"]) == 0
    assert main([*corner, "11"]) == 3
    said = capsys.readouterr().out
    assert "bit-height-above-stock" in said
    assert "neck" in said


def test_a_plan_that_ctrl_c_shortened_is_done_and_its_stop_counts(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    @contextmanager
    def pressed() -> Iterator[object]:
        yield lambda: True

    monkeypatch.setattr("drawerwright.cli.plan_command.interruptible", pressed)
    assert plan(job, EXAMPLE) == 0
    assert plan(job, TOO_SHORT) == 3
    assert (job.parent / "out" / "parts.csv").exists()


def test_input_that_cannot_be_used_ends_with_2(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert plan(job, TOO_SHORT.replace("nominal: 15", "nominal: -15")) == 2
    job.write_text(EXAMPLE, encoding="utf-8")
    in_the_way = job.parent / "out"
    in_the_way.write_text("a file where the folder should be", encoding="utf-8")
    assert main(["plan", str(job), "--out", str(in_the_way)]) == 2
    said = capsys.readouterr().err
    assert str(in_the_way) in said
    assert "Traceback" not in said


@pytest.mark.parametrize("fault", [ZeroDivisionError("division by zero"), SolverError("no status")])
def test_a_fault_of_our_own_ends_with_70_and_says_so(
    fault: Exception, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(_arguments: object) -> int:
        raise fault

    monkeypatch.setattr("drawerwright.cli.check_command.run", broken)
    assert main(["check", "job.yaml"]) == 70
    said = capsys.readouterr().err
    assert "hit an internal error" in said
    assert type(fault).__name__ in said


def test_a_reader_that_goes_away_is_no_traceback() -> None:
    corner = ["settings", "--mid-depth", "5.65", "--step", "3.45", "--upright", "14.6", "--flat", "14.6"]
    reader, writer = os.pipe()
    os.close(reader)
    ended = subprocess.run(
        [sys.executable, "-u", "-m", "drawerwright", *corner],
        stdout=writer,
        stderr=subprocess.PIPE,
        text=True,
    )
    os.close(writer)
    assert ended.returncode == 141
    assert ended.stderr == ""


def test_where_more_than_one_code_holds_the_first_in_order_is_given() -> None:
    codes = [0, 3, 2, 70, 141, 130]
    for place, worse in enumerate(codes):
        for better in codes[: place + 1]:
            assert first_of(better, worse) == first_of(worse, better) == worse


def test_an_answer_that_the_referee_refuses_is_our_own_fault(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "instance.json"
    items = [{"length": 300, "width": 200, "demand": 2}]
    sheet = {"length": 1000, "width": 800}
    file.write_text(json.dumps({"name": "two", "sheet": sheet, "items": items}), encoding="utf-8")
    assert main(["sheets", str(file), "--check"]) == 0
    monkeypatch.setattr(
        "drawerwright.sheets.referee.published_patterns.check_patterns", lambda *_: ["two pieces overlap"]
    )
    assert main(["sheets", str(file), "--check"]) == 70
