"""Ctrl-C during a long search for sheets: the best plan so far with its bound, never nothing."""

from __future__ import annotations

import json
import os
import random
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from drawerwright.cli import main

pty = pytest.importorskip("pty", reason="a terminal of one's own needs a Unix system")

SIZES = ((2500, 1250, 74.5), (1525, 1525, 51.3), (2130, 1370, 67.1))
"""Length, width and price: three sizes and parts that turn are more than any solver proves in a minute."""
PATIENCE = 30.0
"""Seconds until the first sheets are found, on a busy machine."""
AFTER_INTERRUPT = 60.0
"""Seconds until the command has ended; the time limit that it was given is ten times as long."""
TIME_LIMIT = 600
BOXES = 75
"""So many boxes of random sizes are not proven long after the first plan."""


def instance() -> dict[str, object]:
    """A published kind of instance, of random parts."""
    dice = random.Random(5)
    return {
        "name": "many parts",
        "sheets": [
            {"length": length, "width": width, "count": None, "cost": price} for length, width, price in SIZES
        ],
        "kerf": 3,
        "stages": 2,
        "cut_type": "non-exact",
        "first_cut": "any",
        "rotation": True,
        "objective": "min_cost",
        "items": [
            {
                "length": dice.randint(180, 620),
                "width": dice.randint(52, 480),
                "demand": dice.randint(2, 9),
            }
            for _ in range(45)
        ],
    }


def job(count: int) -> str:
    """A job file of boxes of random sizes, from stock without grain."""
    dice = random.Random(11)
    sheets = ", ".join(
        f"{{length: {length}, width: {width}, price: {price}}}" for length, width, price in SIZES
    )
    boxes = "\n".join(
        f"  - {{name: box {number}, box: {{all: panel}}, outer: {{width: {dice.randint(180, 620)}, "
        f"depth: {dice.randint(180, 480)}, height: {dice.randint(52, 160)}}}}}"
        for number in range(1, count + 1)
    )
    return (
        "format: 1\njob: Many boxes\ncutter: {mid_depth: 6, step: 4, diameter: 44, max_speed: 16000}\n"
        f"stock:\n  panel: {{nominal: 15, measured: [14.6], grain: none, sheets: [{sheets}]}}\n"
        f"sheets: {{time_limit: {TIME_LIMIT}}}\nboxes:\n{boxes}\n"
    )


def interrupted(*arguments: str) -> tuple[int, str]:
    """Exit code and output of a command that gets Ctrl-C once it says on its terminal that it has found sheets."""
    terminal, its_end = pty.openpty()
    command = [sys.executable, "-m", "drawerwright", *arguments]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=its_end, text=True)
    os.close(its_end)
    said = ""
    began = time.monotonic()
    try:
        while not re.search(r"best \d", said):
            assert time.monotonic() - began < PATIENCE, said
            said += os.read(terminal, 4096).decode()
        process.send_signal(signal.SIGINT)
        out, _ = process.communicate(timeout=AFTER_INTERRUPT)
    finally:
        process.kill()
        process.wait()
        os.close(terminal)
    return process.returncode, out


def test_sheets_prints_the_best_patterns_so_far_with_their_bound(tmp_path: Path) -> None:
    file = tmp_path / "instance.json"
    file.write_text(json.dumps(instance()), encoding="utf-8")
    code, out = interrupted("sheets", str(file), "--json", "--check", "--time-limit", str(TIME_LIMIT))
    answer = json.loads(out)
    assert code == 0
    assert answer["violations"] == []
    assert answer["patterns"]
    assert 0 < answer["lower_bound"] < answer["value"]
    assert not answer["proven"]
    assert answer["seconds"] < TIME_LIMIT / 2


def test_plan_writes_the_best_sheets_so_far_with_their_bound(tmp_path: Path) -> None:
    file, out = tmp_path / "job.yaml", tmp_path / "out"
    file.write_text(job(BOXES), encoding="utf-8")
    code, said = interrupted("plan", str(file), "--out", str(out), "--files", "csv")
    assert code == 0
    assert (out / "parts.csv").exists()
    report = json.loads((out / "plan.json").read_text("utf-8"))
    (stock,) = report["sheets"]
    assert 0 < stock["lower_bound"] < stock["cost"]
    assert not stock["proven"]
    needed = re.search(r"no plan (?:costs less|takes fewer) than ([\d.]+)", " ".join(said.split()))
    assert needed is not None
    assert float(needed[1]) == pytest.approx(stock["lower_bound"], rel=1e-5)
    cut = sorted(strip["part"] for band in report["bands"] for strip in band["strips"])
    assert len(cut) == 4 * BOXES
    assert cut == sorted(part["label"] for part in report["parts"])


def test_a_command_that_ctrl_c_ends_says_so_by_its_code(monkeypatch: pytest.MonkeyPatch) -> None:
    def pressed(_arguments: object) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr("drawerwright.cli.check_command.run", pressed)
    assert main(["check", "job.yaml"]) == 130
