"""What names a drawer follows it, whatever it is called after a change."""

from __future__ import annotations

from drawerwright.job.drawer_renaming import with_drawers_followed
from drawerwright.job.file.building import read_job
from drawerwright.job.file.editing import set_value
from drawerwright.job.file.reading import entries_of
from drawerwright.job.renaming import rename_row

BANK = """\
  - name: {name}
    opening: {{width: 400, height: 320, depth: 500}}
    fronts: {{style: applied, stock: ply, heights: {{equal: 2}}, overlay: {{sides: 12, top: 12, bottom: 12}}}}
    runner: {{kind: side-mounted}}
    box: {{all: ply}}
"""
TEXT = f"""\
format: 1
job: Desk
cutter: {{mid_depth: 5.65, step: 3.45}}
stock:
  ply: {{nominal: 15, measured: [[15]], sheets: [{{length: 2500, width: 1250}}]}}
banks:
{BANK.format(name="Left")}{BANK.format(name="Right")}boxes:
  - {{name: Pens, inside: B1, outer: {{height: 60}}, box: {{all: ply}}}}  # over the bottom
  - {{name: Nibs, inside: Pens, outer: {{height: 30}}, box: {{all: ply}}}}
days: [[Left, Pens], [B1, B2, Nibs]]
"""


def inside(text: str) -> list[str | None]:
    return [row.get("inside") for row in entries_of(text)["boxes"]]


def test_a_renamed_box_keeps_its_trays_and_its_day() -> None:
    text = rename_row(TEXT, ("boxes", 0, "name"), "Quills")
    assert inside(text) == ["B1", "Quills"]
    assert entries_of(text)["days"] == [["Left", "Quills"], ["B1", "B2", "Nibs"]]
    assert "# over the bottom" in text
    assert read_job(text).boxes[1].inside == "Quills"


def test_a_renamed_bank_keeps_its_day() -> None:
    text = rename_row(TEXT, ("banks", 0, "name"), "Window side")
    assert entries_of(text)["days"][0] == ["Window side", "Pens"]
    read_job(text)


def test_letters_of_banks_move_up_when_one_is_taken_out() -> None:
    """B is A then: its tray stays in it, and nothing of the one that went is taken for it."""
    text = with_drawers_followed(TEXT, set_value(TEXT, ("banks", 0), None), ("banks", 0))
    assert inside(text) == ["A1", "Pens"]
    assert entries_of(text)["days"] == [["Left", "Pens"], ["A1", "A2", "Nibs"]]
    kept = TEXT.replace("inside: B1", "inside: A1")
    gone = with_drawers_followed(kept, set_value(kept, ("banks", 0), None), ("banks", 0))
    assert inside(gone) == [None, "Pens"]


def test_boxes_that_become_several_are_still_found() -> None:
    """The only tray is the first of two then; a day that names the row means both."""
    text = with_drawers_followed(TEXT, set_value(TEXT, ("boxes", 0, "count"), 2))
    assert inside(text) == ["B1", "Pens 1"]
    assert entries_of(text)["days"][0] == ["Left", "Pens"]
    job = read_job(text)
    assert [box.name for box in job.boxes] == ["Pens 1", "Pens 2", "Nibs"]
    more = with_drawers_followed(TEXT, set_value(TEXT, ("banks", 0, "count"), 2))
    assert inside(more) == ["C1", "Pens"]
    assert entries_of(more)["days"][1] == ["C1", "C2", "Nibs"]
