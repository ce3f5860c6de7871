"""`drawerwright strength` as a woodworker meets it."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from drawerwright.cli import main

EXAMPLE = Path(__file__).parents[2] / "examples" / "music-school.yaml"
SOLID = """
format: 1
job: Trays
cutter: {mid_depth: 5.6, step: 3.4, slope: 60, diameter: 40}
stock:
  oak: {panel: solid, species: northern red oak, nominal: 16, measured: [16.0], sheets: [{length: 2400, width: 250}]}
  board: {panel: mdf, nominal: 16, measured: [16.0], sheets: [{length: 2400, width: 250}]}
boxes:
  - {name: Low, outer: {width: 400, depth: 300, height: 60}, box: {all: oak}}
  - {name: High, outer: {width: 400, depth: 300, height: 120}, box: {all: oak}}
  - {name: Plain, outer: {width: 400, depth: 300, height: 60}, box: {all: board}}
"""


def answer(path: Path, capsys: pytest.CaptureFixture[str]) -> dict[str, list[dict[str, object]]]:
    assert main(["strength", str(path), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert "not a rating: no joint was tested" in data["estimate"]
    assert set(data["lines_of_action"]) == {"pull_off", "racking", "drop"}
    return {drawer["drawer"]: drawer["joints"] for drawer in data["drawers"]}


def test_plywood_gets_an_order_and_a_plane_but_no_newtons(capsys: pytest.CaptureFixture[str]) -> None:
    drawers = answer(EXAMPLE, capsys)
    assert len(drawers) == 15
    for joints in drawers.values():
        assert [joint["at"] for joint in joints] == ["front", "back"]
        for joint in joints:
            assert joint["pull_off"] is joint["racking"] is joint["drop"] is None
            assert joint["weak_plane"]
            assert {source["provenance"] for source in joint["sources"]} == {"assumed"}
    ranks = {name: joints[0]["rank"] for name, joints in drawers.items()}
    assert ranks["Reed tray 1"] == 1 < ranks["A1"] < ranks["B5"]  # the higher the corner, the stronger


def test_solid_wood_gets_bands(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "trays.yaml"
    path.write_text(SOLID, encoding="utf-8")
    drawers = answer(path, capsys)
    for figure in ("pull_off", "racking", "drop"):
        low, high = (drawers[name][0][figure] for name in ("Low", "High"))
        assert 0 < low["low"] < low["high"]
        # Twice the height is twice the glue and wood, and twice the beam as well.
        assert high["high"] == pytest.approx(2 * low["high"], rel=0.1)
    for joint in drawers["Plain"]:  # fibreboard: nothing is known
        assert joint["joint"] == "drawer-lock"
        assert joint["pull_off"] is joint["racking"] is joint["drop"] is joint["weak_plane"] is None
    assert list(drawers) == ["Low", "High", "Plain"]


def test_terminal_says_what_it_is(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "trays.yaml"
    path.write_text(SOLID, encoding="utf-8")
    assert main(["strength", str(path)]) == 0
    said = capsys.readouterr().out
    assert "A comparative estimate, not a rating: no joint was tested." in said
    assert "corners free to turn" in said
    assert "Plain: the strength of the board is not known." in said
    assert "from memory" in said
    assert "beyond the table" not in said
    path.write_text(SOLID.replace("slope: 60", "slope: 20"), encoding="utf-8")  # a rise of 2.7 times its run
    assert main(["strength", str(path)]) == 0
    assert "Low, High: the section lies beyond the table of factors" in capsys.readouterr().out


def test_who_reads_inches_gets_pounds_beside_newtons(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """1 lbf is 4.448 N and 1 ft lbf 1.356 J (from the exact pound, foot and standard gravity)."""
    path = tmp_path / "trays.yaml"
    path.write_text(SOLID.replace("format: 1", "format: 1\nshown: {unit: in}"), encoding="utf-8")
    assert main(["strength", str(path)]) == 0
    said = capsys.readouterr().out
    found = re.search(r"pull off (\d+) to (\d+) N \((\d+)–(\d+) lbf\)", said)
    assert found is not None, said
    for newtons, pounds in ((1, 3), (2, 4)):
        assert float(found[pounds]) == pytest.approx(float(found[newtons]) / 4.448, rel=0.06)
    assert "ft·lbf" in said
    path.write_text(SOLID, encoding="utf-8")
    assert main(["strength", str(path)]) == 0
    assert "lbf" not in capsys.readouterr().out
