"""`plan --what-if`, `--within-stock` and `--on-hand`: what else the sheets could be, and fewer drawers on purpose."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from crates import crates
from drawerwright.cli import main


def planned(folder: Path, *options: str) -> dict[str, object]:
    job = folder / "job.yaml"
    job.write_text(crates(6), "utf-8")
    assert main(["plan", str(job), "--out", str(folder / "out"), *options]) == 0
    data: dict[str, object] = json.loads((folder / "out" / "plan.json").read_text("utf-8"))
    return data


def test_two_sheets_on_hand_give_five_of_six(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    data = planned(tmp_path, "--on-hand", "2")
    assert [drawer["name"] for drawer in data["drawers"]] == [f"crate {n}" for n in range(1, 6)]  # type: ignore
    (left_out,) = [f for f in data["findings"] if f["code"] == "drawers-left-out"]  # type: ignore
    assert "crate 6" in left_out["text"]
    said = " ".join(capsys.readouterr().out.split())
    assert "not enough for crate 6, left out of this plan" in said
    assert "2 new sheets of each size yield 5 of 6 drawers." in said
    assert "ash15, left over and worth keeping: " in said
    found = data["within_stock"]
    assert found["drawers"] == [f"crate {n}" for n in range(1, 6)]  # type: ignore[index]
    assert (found["left_out"], found["short"]) == (["crate 6"], ["ash15"])  # type: ignore[index]
    assert [(size["cut_up"], size["stay_whole"]) for size in found["sizes"]] == [(2, 0)]  # type: ignore[index]
    assert found["left_over"]  # type: ignore[index]


def test_enough_sheets_leave_nothing_out(tmp_path: Path) -> None:
    data = planned(tmp_path, "--on-hand", "3")
    assert len(data["drawers"]) == 6  # type: ignore[arg-type]
    assert not [f for f in data["findings"] if f["code"] == "drawers-left-out"]  # type: ignore


def test_what_if_counts_drawers_for_free_and_with_a_sheet_less(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    data = planned(tmp_path, "--what-if")
    found = data["what_if"]
    assert found["drawers_for_free"] == [{"like": [f"crate {n}" for n in range(1, 7)], "count": 4}]  # type: ignore
    less = {"stock": "ash15", "size": "ash15 1000 x 500", "sheets": 2, "first_drawers": 5}
    assert found["one_sheet_less"] == [less]  # type: ignore[index]
    (thinner,) = found["alternatives"]  # type: ignore
    assert thinner["change"] == "a blade with a kerf of 2.2 mm"
    assert thinner["saving"] == 0.0
    said = " ".join(capsys.readouterr().out.split())
    assert "Free from the offcuts, one kind or the other: 4 more like crate 1." in said
    assert "One sheet fewer (ash15 1000 × 500 mm) is enough for the first 5 of the 6 drawers." in said


def test_a_count_of_sheets_that_is_none_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for given in ("two", "-1", "1.5"):
        with pytest.raises(SystemExit):
            main(["plan", str(tmp_path / "job.yaml"), f"--on-hand={given}"])
        assert f"must be a whole number of 0 or more, not '{given}'" in capsys.readouterr().err


def test_not_a_single_drawer_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = tmp_path / "job.yaml"
    job.write_text(crates(6), "utf-8")
    assert main(["plan", str(job), "--out", str(tmp_path / "out"), "--on-hand", "0"]) == 2
    assert "single drawer" in capsys.readouterr().err
