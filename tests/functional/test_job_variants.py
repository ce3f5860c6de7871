"""Jobs of many kinds through the whole main job; every sheet plan passes the independent referee."""

from __future__ import annotations

import json
import re
from collections import Counter
from pathlib import Path

import pytest

from drawerwright.job.file.building import read_job
from drawerwright.job.papers.file_kinds import USUAL_KINDS, FileKind
from drawerwright.job.papers.files_out import write_plan
from drawerwright.job.planning.job_plan import plan_job
from drawerwright.sheets import referee

EXAMPLE = (Path(__file__).parents[2] / "examples" / "music-school.yaml").read_text("utf-8")

PLAIN_BOX = """boxes:
  - name: box
    outer: {width: 300, depth: 300, height: 100}
    box: {all: birch15}
"""

VARIANTS = {
    "example": EXAMPLE,
    "inches": EXAMPLE.replace("format: 1", "format: 1\nshown: {unit: in/64}"),
    "not measured": re.sub(r"    measured:.*?\n    grain", "    grain", EXAMPLE, flags=re.DOTALL),
    "grain across the sheet": EXAMPLE.replace("grain: length", "grain: width").replace(
        "offcuts:\n      - {length: 1180, width: 420", "offcuts:\n      - {length: 600, width: 900"
    ),
    "one box": EXAMPLE[: EXAMPLE.index("banks:")] + PLAIN_BOX,
    "inset": EXAMPLE.replace("style: lipped", "style: inset").replace("overlay: {sides: 7}", "overlay: {}"),
    "sides flat": EXAMPLE.replace("count: 3\n", "count: 3\n    orientation: sides-flat\n"),
    "one sacrificial strip": EXAMPLE.replace("{width: 14, ends: 2}", "{width: 20, ends: 1}"),
    "tooth": EXAMPLE.replace("plan: fewest", "plan: tooth"),
    "two positions": EXAMPLE.replace("plan: fewest", "plan: two-position"),
    "lock-mitre": EXAMPLE.replace("kind: drawer-lock", "kind: lock-mitre")
    .replace("mid_depth: 5.65 ± 0.05", "mid_depth: 13")
    .replace("step: 3.45 ± 0.03", "step: 22")
    .replace("slope: 55 ", "slope: 45 ")
    .replace("cutting_height: 14.5", "cutting_height: 27")
    .replace("style: lipped", "style: inset")
    .replace("overlay: {sides: 7}", "overlay: {}"),
}


PRINTED = ("example", "inches", "lock-mitre", "one box")
"""Kinds whose papers are set too, which takes half of the time; of the others every drawing is made."""


@pytest.mark.parametrize("name", VARIANTS)
def test_a_job_of_this_kind_is_planned_and_printed(name: str, tmp_path: Path) -> None:
    text = VARIANTS[name]
    assert name == "example" or text != EXAMPLE
    plan = plan_job(read_job(text))
    for stock in plan.stocks:
        assert list(referee.check(stock.sheets)) == []
    write_plan(plan, tmp_path, kinds=USUAL_KINDS if name in PRINTED else (FileKind.SVG, FileKind.CSV))
    report = json.loads((tmp_path / "plan.json").read_text("utf-8"))
    assert report["provisional"] == (name == "not measured")
    cut = Counter(strip["part"] for band in report["bands"] for strip in band["strips"])
    cut.update(
        loose["part"]
        for stock in report["sheets"]
        for layout in stock["layouts"]
        for loose in layout["loose"]
    )
    assert cut == Counter(part["label"] for part in report["parts"])
    assert all(end["setup"] is not None for part in report["parts"] for end in part["ends"])
