"""Banks that are like another one, and several of a kind: less to type, the same drawers."""

from __future__ import annotations

import pytest

from drawerwright.basics.errors import FaultyInputError
from drawerwright.job.file.building import read_job
from drawerwright.job.file.drawer_names import bank_marks, drawers_of_row
from drawerwright.job.file.likes import Inherited, inherited, with_likes
from drawerwright.job.file.reading import entries_of
from drawerwright.job.renaming import rename_row

TEXT = """\
format: 1
job: Chest
cutter: {mid_depth: 5.65, step: 3.45}
stock:
  ply: {nominal: 15, measured: [[14.6]], sheets: [{length: 2500, width: 1250}]}
  thin: {nominal: 6, measured: [[6.0]], sheets: [{length: 2500, width: 1250}]}
openings:
  - {name: Wall, opening: {width: 1554, height: 700, depth: 460}, dividers: {thickness: 18, columns: 3}}
banks:
  - name: Low
    count: 2
    opening: {of: Wall}
    fronts: {style: applied, heights: {equal: 2}, stock: ply, overlay: {sides: 12, top: 12, bottom: 12}}
    runner: {kind: side-mounted, length: 400}
    box: {all: ply}
    bottom: {stock: thin}
  - name: High
    like: Low
    opening: {of: Wall, column: 3}
    fronts: {heights: {given: [200, rest]}}
    bottom: {groove_height: 14}
"""


def faults(old: str, new: str) -> dict[str, str]:
    assert old in TEXT
    with pytest.raises(FaultyInputError) as caught:
        read_job(TEXT.replace(old, new))
    return {fault.field: fault.message for fault in caught.value.faults}


def test_equal_banks_close_one_column_after_the_other() -> None:
    """1554 less two dividers of 18 in three: 506 each, at 0, 524 and 1048."""
    job = read_job(TEXT)
    assert [(bank.bank.name, bank.bank.mark, bank.bank.opening.x, bank.row) for bank in job.banks] == [
        ("Low 1", "A", 0, 0),
        ("Low 2", "B", 524, 0),
        ("High", "C", 1048, 1),
    ]
    assert [box.name for box in job.all_boxes] == ["A1", "A2", "B1", "B2", "C1", "C2"]


def test_what_is_left_out_is_as_in_the_bank_that_it_is_like() -> None:
    low, _, high = read_job(TEXT).banks
    assert high.bank.runner == low.bank.runner
    assert high.bank.front_places()[0].height == 200
    assert high.boxes[0].side == low.boxes[0].side
    assert (low.boxes[0].bottom.groove_height, high.boxes[0].bottom.groove_height) == (10, 14)  # type: ignore[union-attr]


def test_a_bank_may_be_like_one_that_is_like_another_wherever_they_stand() -> None:
    text = TEXT.replace(
        "banks:\n", "banks:\n  - {name: First, like: High, opening: {width: 400, height: 500, depth: 450}}\n"
    )
    first = read_job(text).banks[0]
    assert first.bank.front_places()[0].height == 200
    assert first.bank.opening.carcase is None
    assert first.boxes[0].depth == 400


def test_what_belongs_to_another_style_is_not_taken_over() -> None:
    text = TEXT.replace(
        "fronts: {heights: {given: [200, rest]}}",
        "fronts: {style: inset, overlay: {sides: -14, top: -3, bottom: -3}}",
    )
    assert read_job(text).banks[2].boxes[0].applied is None


@pytest.mark.parametrize(
    ("like", "message"),
    [("Middle", "there is no bank 'Middle'; the file has Low"), ("High", "leads back to this bank")],
)
def test_a_bank_that_is_like_none_is_one_fault(like: str, message: str) -> None:
    found = faults("like: Low", f"like: {like}")
    assert list(found) == ["banks[2].like"]
    assert message in found["banks[2].like"]


def test_faults_of_what_is_taken_over_stand_at_the_bank_that_takes_it() -> None:
    found = faults("fronts: {heights: {given: [200, rest]}}", "fronts: {heights: {given: [900, rest]}}")
    assert list(found) == ["banks[2].fronts.heights"]


def test_pages_know_the_drawers_of_every_row() -> None:
    data = with_likes(entries_of(TEXT))
    assert bank_marks(data, 0) == ("A", "B")
    assert drawers_of_row("banks", 0, data) == ("A1", "A2", "B1", "B2")
    assert drawers_of_row("banks", 1, data) == ("C1", "C2")


def test_a_new_name_goes_to_the_banks_that_are_like_it() -> None:
    job = read_job(rename_row(TEXT, ("banks", 0, "name"), "Lower"))
    assert [bank.bank.name for bank in job.banks] == ["Lower 1", "Lower 2", "High"]
    job = read_job(rename_row(TEXT, ("openings", 0, "name"), "Long wall"))
    assert job.carcases[0][0].name == "Long wall"


def test_days_name_all_equal_banks_or_one_of_them() -> None:
    days = read_job(TEXT + "days: [[Low], [High]]\n").days
    assert days == (("A1", "A2", "B1", "B2"), ("C1", "C2"))
    days = read_job(TEXT + "days: [[Low 1], [Low 2, High]]\n").days
    assert days == (("A1", "A2"), ("B1", "B2", "C1", "C2"))


def test_an_entry_without_a_value_takes_nothing_over() -> None:
    """High says `bottom:` and has none, though the bank that it is like has one."""
    job = read_job(TEXT.replace("    bottom: {groove_height: 14}\n", "    bottom:\n"))
    assert all(box.bottom is None for box in job.banks[-1].boxes)
    assert all(box.bottom is not None for box in job.banks[0].boxes)


def test_what_is_taken_over_is_known_with_its_bank() -> None:
    data = entries_of(TEXT)
    assert inherited(data, ("banks", 1, "bottom", "stock")) == Inherited("thin", "Low")
    assert inherited(data, ("banks", 1, "runner", "length")) == Inherited(400, "Low")
    assert inherited(data, ("banks", 1, "banding")) is None
    assert inherited(data, ("banks", 0, "bottom", "stock")) is None
    assert inherited(data, ("banks", 1, "count")) is None


def test_an_overlay_taken_over_is_said_and_an_empty_entry_clears_it() -> None:
    heights = "fronts: {heights: {given: [200, rest]}}"
    found = faults(heights, "fronts: {style: inset, heights: {given: [200, rest]}}")
    assert list(found) == [f"banks[2].fronts.overlay.{edge}" for edge in ("sides", "top", "bottom")]
    assert all("this one comes from 'Low'" in message for message in found.values())
    own = faults(heights, "fronts: {style: inset, overlay: {sides: 5, top: , bottom: }, heights: {equal: 2}}")
    assert list(own) == ["banks[2].fronts.overlay.sides"]
    assert "taken over" not in own["banks[2].fronts.overlay.sides"]
    cleared = TEXT.replace(heights, "fronts: {style: inset, overlay: , heights: {given: [200, rest]}}")
    assert read_job(cleared).banks[2].bank.overlay.at_left < 0
