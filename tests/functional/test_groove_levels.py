"""Fronts grooved higher than their sides: said wherever somebody could cut the one like the other."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest

from drawerwright.cli import main
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.plan_data import plan_report
from drawerwright.job.papers.plan_drawings import plan_drawings
from drawerwright.job.papers.plan_files import TABLES
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from printed_text import page_texts

JOB = """format: 1
job: Card catalogue of the music school
cutter: {name: lock cutter, mid_depth: 5.4 ± 0.05, step: 3.4 ± 0.03, slope: 52, diameter: 60, cutting_height: 13}
stock:
  ply15: {panel: plywood, nominal: 15, mean: 14.7 ± 0.03, sheets: [{length: 2500, width: 1250}]}
  ply6: {panel: plywood, nominal: 6, mean: 5.8 ± 0.03, sheets: [{length: 1525, width: 1525}]}
banks:
  - name: Cards
    opening: {width: 420, height: 400, depth: 430}
    fronts: {style: lipped, heights: {given: [110, rest, 150]}, reveal: 3, overlay: {sides: 1, top: 6, bottom: 2}}
    runner: {kind: side-mounted, length: 400, bottom: 8}
    box: {all: ply15}
    bottom: {style: captured, stock: ply6, groove_height: 9}
"""
INNER = "Front: groove 17.0 mm above its lower edge; sides: 9.0 mm (A1, A2)"
LOWEST = "Front: groove 19.0 mm above its lower edge; sides: 9.0 mm (A3)"


@pytest.fixture(scope="module")
def plan() -> JobPlan:
    return plan_job(read_job(JOB), time_limit=1)


def test_on_the_parts_list(plan: JobPlan) -> None:
    rows = {
        row["part"]: row["groove_height_mm"] for row in csv.DictReader(io.StringIO(TABLES["parts.csv"](plan)))
    }
    assert [rows[f"A{n} front"] for n in (1, 2, 3)] == ["17.00", "17.00", "19.00"]
    assert {rows[f"A{n} {kind}"] for n in (1, 2, 3) for kind in ("left side", "back")} == {"9.00"}


def test_in_the_steps(plan: JobPlan) -> None:
    steps = [step.lines for step in plan.run.steps if step.title.startswith("Cut the grooves")]
    fronts, sides, lowest = steps
    assert f"{INNER}." in fronts
    assert f"{LOWEST}." not in fronts
    assert f"{LOWEST}." in lowest
    assert not {f"{INNER}.", f"{LOWEST}."} & set(sides)  # no front is grooved in that step


def test_on_the_elevation(plan: JobPlan) -> None:
    scene = plan_drawings(plan)["bank-A"]
    words = [text.text for text in scene.texts]
    assert INNER in words
    assert LOWEST in words
    assert INNER in scene.description


def test_in_the_packet_and_on_the_terminal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "job.yaml").write_text(JOB, "utf-8")
    main(["plan", str(tmp_path / "job.yaml"), "--out", str(tmp_path / "out"), "--time-limit", "1"])
    said = " ".join(capsys.readouterr().out.split())
    printed = " ".join(" ".join(page_texts(tmp_path / "out" / "packet.pdf")).split())
    listed = printed[printed.index("Parts, cut sizes") :]
    for words in (INNER, LOWEST):
        assert words in said
        assert words in listed


def test_the_report_places_every_part(plan: JobPlan) -> None:
    """The front reaches 8 mm below the sides, whose lower edges so lie 406 - 110 + 8 mm above the opening's."""
    first = json.loads(json.dumps(plan_report(plan)))["drawers"][0]
    assert first["front_below"] == 8
    assert first["in_opening"] == [13, 0, 304]
    front = first["parts"][0]
    assert front == {
        "part": "A1 front",
        "corner": [-14, 0, -8],
        "along": [1, 0, 0],
        "across": [0, 0, 1],
        "through": [0, -1, 0],
    }
