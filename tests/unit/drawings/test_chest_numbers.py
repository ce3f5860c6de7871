"""Where the numbers of findings stand in the picture of the whole piece. Boxes and findings are ours."""

from __future__ import annotations

import pytest

from drawerwright.drawings.chest_bodies import MOST_BANKS
from drawerwright.drawings.chest_marks import ChestFace, ChestMark, numbers_at_boxes
from drawerwright.drawings.scene import Circle, Ink, Strokes, Text
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.plan_views import chest_front
from drawerwright.job.pictures.chest_picture import chest_pictures
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


BAY = """\
  - name: {name}
    opening: {{width: 380, height: 640, depth: 480}}
    fronts: {{style: applied, stock: ply, heights: {{equal: 4}}, overlay: {{sides: 8, top: 8, bottom: 8}}}}
    runner: {{kind: side-mounted, side: 13, back: 0}}
    box: {{all: ply}}
"""
THREE_BAYS = TEXT.partition("banks:")[0] + "banks:\n" + "".join(BAY.format(name=name) for name in "ABC")


def marks_on(drawers: str, numbers: range) -> tuple[ChestMark, ...]:
    return tuple(ChestMark(number, frozenset(drawers.split())) for number in numbers)


def test_findings_of_the_same_fronts_share_a_bracket() -> None:
    """So that the piece keeps its place in the picture, whatever there is to say about it."""
    job = read_job(THREE_BAYS)
    drawers = "A1 A2 A3 A4"
    one, six = (
        chest_front(job, job.style, marks=marks_on(drawers, range(1, count)), room=(94.0, 84.0))
        for count in (2, 7)
    )
    assert six.width == pytest.approx(one.width)
    assert sum(isinstance(item, Strokes) and item.ink is Ink.MARK for item in six.items) == 1
    assert {item.text for item in six.items if isinstance(item, Text)} >= set("123456")
    assert overlapping_texts(six) == []


@pytest.mark.parametrize("room", [(152.0, 112.0), (94.0, 84.0)])
def test_numbers_on_the_fronts_of_a_bank_between_others_hide_no_name(room: tuple[float, float]) -> None:
    job = read_job(THREE_BAYS)
    marks = (
        *marks_on("B1 B2 B3 B4", range(1, 4)),
        *marks_on("B2", range(4, 5)),
    )
    scene = chest_front(job, job.style, marks=marks, room=room)
    rings = [item for item in scene.items if isinstance(item, Circle) and item.ink is Ink.MARK]
    assert len(rings) == len(marks)
    for ring in rings:
        for other in rings:
            apart = abs(ring.centre[0] - other.centre[0]) + abs(ring.centre[1] - other.centre[1])
            assert ring is other or apart >= 2 * ring.radius
    assert {"B1", "B2", "B3", "B4"} <= {item.text for item in scene.items if isinstance(item, Text)}
    assert overlapping_texts(scene) == []


def test_of_very_many_banks_the_first_are_drawn_and_the_rest_are_counted() -> None:
    bank = TEXT.split("banks:\n")[1].split("boxes:\n")[0].replace("Tools", "Tools\n    count: 31")
    job = read_job(
        TEXT.replace("- name: Tools", "- name: Tools\n    count: 31").replace(
            "boxes:\n", bank.replace("Tools", "More").replace("31", "32") + "boxes:\n"
        )
    )
    mark = ChestMark(4, frozenset({job.banks[-1].boxes[0].name}))
    scene = chest_front(job, job.style, marks=(mark,), room=(152.0, 112.0))
    drawn = {region.name for region in scene.regions} - {box.name for box in job.boxes}
    assert drawn == {box.name for bank in job.banks[:MOST_BANKS] for box in bank.boxes}
    said = [str(item.text) for item in scene.items if isinstance(item, Text)]
    assert "and 3 more banks" in said
    assert not any("980" in words for words in said)
    assert "4" not in said
    spots = chest_pictures(job, job.style, lambda name: name).fronts
    assert [spot.name for spot in spots] == [
        box.name for bank in job.banks[:MOST_BANKS] for box in bank.boxes
    ]


def test_a_narrow_opening_has_its_figure_alone() -> None:
    """With the word before it the figure stood beside its dimension, and the piece was drawn smaller."""
    job = read_job(THREE_BAYS)
    wide, narrow = (
        {item.text for item in chest_front(job, job.style, room=room).items if isinstance(item, Text)}
        for room in ((200.0, 150.0), (84.0, 72.0))
    )
    assert "opening 380.0 mm" in wide
    assert "380.0 mm" in narrow
    assert not any(text.startswith("opening") for text in narrow)


def test_the_number_at_boxes_in_a_pile_stands_where_no_box_is_above() -> None:
    """On the first of them it hid the name of the box that stands on it."""
    row, top = (
        [ChestFace(name, None, left, low, left + 90.0, low + 40.0) for name, left in places]
        for low, places in ((0.0, (("A", 0.0), ("B", 100.0))), (40.0, (("C", 50.0),)))
    )
    mark = ChestMark(3, frozenset("ABC"))
    assert numbers_at_boxes((mark,), [*row, *top]) == {"B": [3]}
    assert numbers_at_boxes((mark,), [row[0], *top]) == {"C": [3]}
    assert numbers_at_boxes((ChestMark(3, frozenset("A")),), [*row, *top]) == {"A": [3]}
