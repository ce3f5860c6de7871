"""A job split into days: a packet for each, from what the day before left."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from crates import crates
from drawerwright.cli import main


def job_file(folder: Path, days: str, on_hand: int = 1) -> Path:
    path = folder / "job.yaml"
    path.write_text(crates(2, on_hand=on_hand, has_tray=True, days=days), "utf-8")
    return path


def test_the_second_day_is_cut_from_what_the_first_left(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    assert main(["plan", str(job_file(tmp_path, "[[crate], [tray]]")), "--out", str(out)]) == 0
    report = json.loads((out / "plan.json").read_text("utf-8"))
    first, second = report["days"]
    assert (first["drawers"], second["drawers"]) == (["crate 1", "crate 2"], ["tray"])
    assert first["sheets"][0]["new_sheets"] == 1
    assert second["sheets"][0]["new_sheets"] == 0
    assert second["sheets"][0]["offcuts_used"] >= 1
    for day in (first, second):
        assert (out / day["folder"] / "packet.pdf").read_bytes().startswith(b"%PDF")
        plan = json.loads((out / day["folder"] / "plan.json").read_text("utf-8"))
        assert [drawer["name"] for drawer in plan["drawers"]] == day["drawers"]
    assert "crate 1, crate 2" in capsys.readouterr().out


def test_an_offcut_that_is_too_small_to_keep_does_not_serve_the_next_day(tmp_path: Path) -> None:
    job = job_file(tmp_path, "[[crate], [tray]]", on_hand=2)
    text = job.read_text("utf-8").replace(
        "trim_bands: false", "trim_bands: false, least_offcut: {length: 1100}"
    )
    job.write_text(text, "utf-8")
    assert main(["plan", str(job), "--out", str(tmp_path / "out")]) == 0
    second = json.loads((tmp_path / "out" / "plan.json").read_text("utf-8"))["days"][1]
    assert (second["sheets"][0]["new_sheets"], second["sheets"][0]["offcuts_used"]) == (1, 0)
    first = json.loads((tmp_path / "out" / "day-1" / "plan.json").read_text("utf-8"))
    (layout,) = first["sheets"][0]["layouts"]
    assert layout["offcuts"]
    assert not any(offcut["kept"] for offcut in layout["offcuts"])


def test_a_day_without_sheets_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = job_file(tmp_path, "[[crate 1], [crate 2, tray]]", on_hand=0)
    assert main(["plan", str(job), "--out", str(tmp_path / "out")]) == 2
    assert "day 1" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("days", "words"),
    [
        ("[[crate]]", "leave out tray"),
        ("[[crate, tray], [crate 1]]", "already has a day"),
        ("[[crate, tray], [chest]]", "is no bank, box or drawer"),
        ("[[crate, tray], []]", "has no drawers"),
    ],
)
def test_every_drawer_has_one_day(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], days: str, words: str
) -> None:
    assert main(["check", str(job_file(tmp_path, days))]) == 2
    said = capsys.readouterr().err
    assert words in said
    assert "job.yaml:10" in said


def test_days_go_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = job_file(tmp_path, "[[crate], [tray]]")
    assert main(["plan", str(job), "--out", str(tmp_path / "out"), "--on-hand", "1"]) == 2
    assert "split into days" in capsys.readouterr().err
