"""Where the numbers of findings stand in the picture of the whole piece. Boxes and findings are ours."""

from __future__ import annotations

import pytest

from drawerwright.drawings.chest import ChestMark
from drawerwright.drawings.scene import Circle, Text
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.plan_views import chest_front
from legible import overlapping_texts

TEXT = """\
format: 1
job: Counter
cutter: {mid_depth: 5.2, step: 3.2}
stock:
  ply: {nominal: 12, measured: [[11.7]], sheets: [{length: 2500, width: 1250}]}
banks:
  - name: Tools
    opening: {width: 980, height: 640, depth: 480}
    fronts: {style: applied, stock: ply, heights: {equal: 3}, overlay: {sides: 8, top: 8, bottom: 8}}
    runner: {kind: side-mounted, side: 13, back: 0}
    box: {all: ply}
boxes:
  - {name: Thermometer case, outer: {width: 420, depth: 120, height: 52}, box: {all: ply}}
  - {name: Pencil tray, outer: {width: 260, depth: 110, height: 45}, box: {all: ply}}
"""


@pytest.mark.parametrize("room", [(152.0, 112.0), (94.0, 84.0), (84.0, 72.0)])
def test_numbers_of_findings_at_a_box_hide_neither_its_name_nor_each_other(room: tuple[float, float]) -> None:
    job = read_job(TEXT)
    marks = (
        ChestMark(6, frozenset({"Thermometer case"})),
        ChestMark(7, frozenset({"Pencil tray"})),
        ChestMark(12, frozenset({"Pencil tray"})),
        ChestMark(13, frozenset({"Thermometer case", "Pencil tray"})),
    )
    scene = chest_front(job, job.style, marks=marks, room=room)
    said = {item.text for item in scene.items if isinstance(item, Text)}
    assert said >= {"6", "7", "12", "13", "Thermometer case"}
    rings = {item.centre for item in scene.items if isinstance(item, Circle)}
    assert len(rings) == len(marks)
    assert overlapping_texts(scene) == []
