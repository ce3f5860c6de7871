"""Rows of sheets that say the same are one size; what has no price costs nothing that could be added up."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from drawerwright.basics.errors import NoPlanError
from drawerwright.cli import main
from drawerwright.job.file.building import read_job
from drawerwright.job.planning.job_plan import plan_job
from drawerwright.job.planning.within_stock import limited_sizes

EXAMPLE = (Path(__file__).parents[3] / "examples" / "music-school.yaml").read_text("utf-8")
ROW = "      - {length: 2500, width: 1250, price: 74.50, on_hand: 6}\n"
OFFCUT = "      - {length: 1180, width: 420, label: offcut beside the bandsaw}\n"


def shopping(text: str) -> list[tuple[str, int, float | None]]:
    plan = plan_job(read_job(text), time_limit=1)
    return [(line.size.label, line.count, line.cost) for line in plan.stocks[0].sheets.shopping_list]


def test_a_row_that_stands_twice_buys_nothing_twice() -> None:
    once, twice = shopping(EXAMPLE), shopping(EXAMPLE.replace(ROW, ROW + ROW))
    assert once == twice
    assert once[0] == ("birch15 2500 x 1250", 2, 149.0)


def test_two_rows_have_as_many_on_hand_as_both_say() -> None:
    few = ROW.replace("on_hand: 6", "on_hand: 1")
    with pytest.raises(NoPlanError):
        shopping(EXAMPLE.replace(ROW, few))
    assert shopping(EXAMPLE.replace(ROW, few + few))[0][1] == 2
    assert shopping(EXAMPLE.replace(ROW, few + ROW.replace(", on_hand: 6", "")))[0][1] == 2
    job = read_job(EXAMPLE.replace(OFFCUT, OFFCUT + OFFCUT))
    (offcut,) = [size for size in job.sheet_sizes["birch15"] if size.is_offcut]
    assert offcut.on_hand == 2


def test_no_more_than_the_number_asked_for_is_taken_of_a_size_named_twice() -> None:
    job = read_job(EXAMPLE.replace(ROW, ROW + ROW))
    assert [size.on_hand for size in limited_sizes(job, "birch15", 3) if not size.is_offcut] == [3]


TRAYS = """
format: 1
job: trays
cutter: {mid_depth: 5.65, step: 3.45}
stock:
  ash15: {nominal: 15, measured: [15.0], sheets: [{length: 1000, width: 500}, {length: 900, width: 500}]}
  ash6: {nominal: 6, measured: [6.0], sheets: [{length: 1000, width: 500, price: 11}]}
boxes:
  - {name: tray, count: 3, outer: {width: 400, depth: 300, height: 90}, box: {all: ash15}, bottom: {stock: ash6}}
"""


def test_what_has_no_price_costs_nothing_that_is_shown(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = tmp_path / "job.yaml"
    job.write_text(TRAYS, encoding="utf-8")
    assert main(["plan", str(job), "--out", str(tmp_path / "out"), "--what-if"]) == 0
    report = json.loads((tmp_path / "out" / "plan.json").read_text("utf-8"))
    priced = {stock["stock"]: stock["cost"] for stock in report["sheets"]}
    assert priced == {"ash15": None, "ash6": 22.0}
    found = {stock: [a for a in report["what_if"]["alternatives"] if a["stock"] == stock] for stock in priced}
    assert {(a["cost"], a["saving_in"]) for a in found["ash15"]} == {(None, "sheets")}
    assert {(a["cost"], a["saving_in"]) for a in found["ash6"]} == {(22.0, "currency")}
    said = capsys.readouterr().out
    what_if = said.split("What if")[1]
    assert "no saving" in what_if
    assert "11.00" not in what_if
