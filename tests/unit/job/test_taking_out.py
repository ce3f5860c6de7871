"""A stock or a sheet of runners that is in use goes only when something takes its place."""

from __future__ import annotations

import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.job.file.building import read_job
from drawerwright.job.file.reading import entries_of
from drawerwright.job.taking_out import OWN_FIGURES, in_use, taken_out

TEXT = """\
format: 1
job: Chest
cutter: {mid_depth: 5.65, step: 3.45}
stock:
  ply: {nominal: 15, measured: [[14.6]], sheets: [{length: 2500, width: 1250}]}
  ash: {nominal: 15, measured: [[14.8]], sheets: [{length: 2500, width: 1250}]}
  spare: {nominal: 9, sheets: [{length: 2500, width: 1250}]}
runners:
  long: {kind: side-mounted, length: 400}
  short: {kind: side-mounted, length: 300}
banks:
  - name: Scores
    opening: {width: 500, height: 300, depth: 480}
    fronts: {style: applied, heights: {equal: 2}, stock: ply}
    runner: long
    box: {all: ash, sides: ply}   # light sides
boxes:
  - {name: Tray, outer: {width: 300, depth: 200, height: 80}, box: {all: ply}}
"""


def test_what_names_a_stock_is_found() -> None:
    used = in_use(entries_of(TEXT), ("stock", "ply"))
    assert set(used.places) == {
        ("banks", 0, "fronts", "stock"),
        ("banks", 0, "box", "sides"),
        ("boxes", 0, "box", "all"),
    }
    assert (used.rows, used.others) == (("Scores", "Tray"), ("ash", "spare"))
    assert in_use(entries_of(TEXT), ("stock", "spare")).places == ()


def test_another_stock_takes_its_place_everywhere() -> None:
    text = taken_out(TEXT, ("stock", "ply"), "ash")
    assert "ply" not in entries_of(text)["stock"]
    assert {part.name for box in read_job(text).all_boxes for part in (box.front, box.side, box.back)} == {
        "ash"
    }
    assert "# light sides" in text


def test_what_is_not_in_use_just_goes() -> None:
    assert "spare" not in entries_of(taken_out(TEXT, ("stock", "spare")))["stock"]


@pytest.mark.parametrize("instead", [None, "oak", "ply", OWN_FIGURES])
def test_a_stock_in_use_stays_until_something_takes_its_place(instead: str | None) -> None:
    with pytest.raises(InvalidValueError, match="ply is used by Scores, Tray"):
        taken_out(TEXT, ("stock", "ply"), instead)


def test_runners_give_way_to_others_or_to_their_own_figures() -> None:
    assert read_job(taken_out(TEXT, ("runners", "long"), "short")).banks[0].boxes[0].depth == 300
    text = taken_out(TEXT, ("runners", "long"), OWN_FIGURES)
    assert entries_of(text)["banks"][0]["runner"] == {"kind": "side-mounted", "length": 400}
    assert read_job(text).banks[0].boxes == read_job(TEXT).banks[0].boxes
