"""`drawerwright sheets`: instances in, JSON out."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from drawerwright.cli import main
from tiny_instance import DRAWERS


def write(path: Path, data: object) -> str:
    file = path / "instance.json"
    file.write_text(json.dumps(data), encoding="utf-8")
    return str(file)


def test_one_instance(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", write(tmp_path, DRAWERS), "--json", "--check"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert set(answer) >= {"value", "lower_bound", "proven", "seconds", "patterns"}
    assert (answer["value"], answer["lower_bound"], answer["proven"]) == (1, 1, True)
    assert answer["violations"] == []
    assert len(answer["patterns"]) == 1
    assert sum(len(band["parts"]) for band in answer["patterns"][0]) == 18


def test_a_list_of_instances(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bars = {
        "name": "bars",
        "sheet": {"length": 100, "width": None, "count": None},
        "kerf": 0,
        "stages": 1,
        "cut_type": "any",
        "objective": "min_bars",
        "items": [{"length": 51, "width": None, "demand": 3}, {"length": 49, "width": None, "demand": 3}],
    }
    turned = {**DRAWERS, "name": "turned", "rotation": True}
    assert main(["sheets", write(tmp_path, [bars, turned]), "--all", "--json"]) == 0
    answers = json.loads(capsys.readouterr().out)
    assert [(answer["name"], answer["value"], answer["proven"]) for answer in answers] == [
        ("bars", 3, True),
        ("turned", 1, True),
    ]


def test_limited_sheets_with_prices(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    priced = {
        **DRAWERS,
        "objective": "min_cost",
        "sheets": [
            {"length": 2440, "width": 1220, "count": None, "cost": 80},
            {"length": 1200, "width": 1220, "count": 2, "cost": 30.5},
        ],
    }
    assert main(["sheets", write(tmp_path, priced), "--json", "--check"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["value"] == 61
    assert answer["violations"] == []


def test_readable_output(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", write(tmp_path, DRAWERS)]) == 0
    assert capsys.readouterr().out.startswith("four kinds: 1 (proven)")


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"objective": "max_profit"}, "max_profit"),
        ({"stages": None, "cut_type": "any"}, "stages"),
        ({"sheet": {"length": 400, "width": 1220}}, "fits no sheet"),
        ({"sheet": {"length": 2440, "width": 1220, "count": 0}}, "on hand"),
        ({"items": [{"length": 450, "width": 100, "demand": None}]}, "demand"),
        ({"items": [{"length": 450, "demand": 1}]}, "width"),
        ({"kerf": "3.2"}, "kerf"),
        ({"first_cut": "diagonal"}, "first_cut"),
    ],
)
def test_what_is_not_supported_ends_with_code_2(
    changes: dict[str, object], words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["sheets", write(tmp_path, {**DRAWERS, **changes}), "--json"]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert words in printed.err
    assert "instance.json: " in printed.err or "fits no sheet" in words or "on hand" in words


def test_all_instances_of_a_file_that_holds_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", write(tmp_path, DRAWERS), "--all"]) == 2
    assert capsys.readouterr().err


@pytest.mark.parametrize("limit", ["0", "-1", "nan", "soon"])
def test_a_time_limit_that_is_none(limit: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["sheets", write(tmp_path, DRAWERS), f"--time-limit={limit}"])
    assert ended.value.code == 2
    assert "--time-limit" in capsys.readouterr().err


def test_a_file_that_is_not_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", str(tmp_path / "none.json"), "--json"]) == 2
    assert "none.json" in capsys.readouterr().err
