"""Boards edge to edge from the command line: settings, a test cut, and where such a cutter has no place."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from drawerwright.cli import main

TRIAL = """
format: 1
trial: shelf boards
cutter: {kind: edge, mid_depth: 12 ± 0.1, step: 4 ± 0.05}
wanted: {flat: 20, upright: 20}
cuts:
  - height_shown: 22
    fence_flat_shown: 4
    fence_upright_shown: 4
    readings: {turn_over: 0.3 ± 0.02}
"""
JOB = """
format: 1
job: shelf
cutter: {kind: edge, mid_depth: 12, step: 4}
stock:
  birch: {nominal: 15, sheets: [{length: 2400, width: 1200}]}
boxes:
  - name: tray
    outer: {width: 400, depth: 300, height: 100}
    box: {all: birch}
"""


def test_settings_of_boards(capsys: pytest.CaptureFixture[str]) -> None:
    args = "settings --kind edge --mid-depth 12 --step 4 --flat 20 --upright 20 --outer 300 --boards 3 --json"
    assert main(args.split()) == 0
    found = json.loads(capsys.readouterr().out)
    # The law: h = m + t / 2, F = d; three boards overlap twice.
    assert (found["bit_height"], found["fence_flat"], found["fence_upright"]) == (22, 4, 4)
    assert found["board_width"] == pytest.approx((300 + 2 * 4) / 3, abs=1e-3)


def test_uneven_boards_are_said(capsys: pytest.CaptureFixture[str]) -> None:
    main(
        [
            "settings",
            "--kind",
            "edge",
            "--mid-depth",
            "12",
            "--step",
            "4",
            "--flat",
            "20",
            "--upright",
            "20.4",
        ]
    )
    assert "boards-differ" in capsys.readouterr().out


def test_a_test_cut_corrects_half_the_step_between_the_faces(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "cut.yaml").write_text(TRIAL)
    assert main(["correct", str(tmp_path / "cut.yaml"), "--json"]) == 0
    after = json.loads(capsys.readouterr().out)["next_cut"]
    assert after["change"]["height"] == pytest.approx(-0.15, abs=0.012)
    assert main(["correct", str(tmp_path / "cut.yaml")]) == 0
    said = capsys.readouterr().out
    assert "the turned board 0.30 ± 0.02 mm above the other\n" in said
    assert "lip" not in said


def test_no_drawer_has_such_corners(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "job.yaml").write_text(JOB)
    assert main(["check", str(tmp_path / "job.yaml")]) == 2
    assert "cuts no corners" in capsys.readouterr().err
    args = "fit --kind edge --mid-depth 12 --step 4 --flat 20 --upright 20 --bit-height 22"
    assert main([*args.split(), "--fence-flat", "4", "--fence-upright", "4"]) == 2
    assert "cuts no corners" in capsys.readouterr().err
