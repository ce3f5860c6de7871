"""A job of one drawer is told in the singular, on the terminal and on paper."""

from __future__ import annotations

from pathlib import Path

import pytest

from drawerwright.cli import main
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.packet_pages import plan_packet
from drawerwright.job.planning.job_plan import plan_job
from printed_text import page_texts

EXAMPLES = Path(__file__).parents[2] / "examples"
ONE = """
format: 1
job: Bow rosin tray
cutter: {mid_depth: 5.65 ± 0.05, step: 3.45 ± 0.03, diameter: 44, max_speed: 16000}
stock:
  ash15: {nominal: 15, measured: [[14.6, 14.62]], sheets: [{length: 1200, width: 600}]}
boxes:
  - {name: tray, outer: {width: 300, depth: 250, height: 90}, box: {all: ash15}}
"""


def test_check_counts_one_drawer(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "tray.yaml"
    file.write_text(ONE, encoding="utf-8")
    assert main(["check", str(file)]) == 0
    assert "no faults; 1 single box\n" in capsys.readouterr().out


def test_check_counts_banks_and_single_boxes(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(EXAMPLES / "music-school.yaml")]) == 0
    assert "no faults; 15 drawers: 12 in 2 banks, 3 single boxes\n" in capsys.readouterr().out


def test_the_packet_counts_one_drawer() -> None:
    first = page_texts(plan_packet(plan_job(read_job(ONE), time_limit=1)))[0]
    assert "1 drawer from 4 parts" in " ".join(first.split())
