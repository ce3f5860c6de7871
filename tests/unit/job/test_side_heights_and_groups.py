"""Side heights as a list, and fronts of several banks whose figure runs through."""

from __future__ import annotations

import pytest

from drawerwright.basics.errors import FaultyInputError
from drawerwright.drawers.parts import PartKind
from drawerwright.job.file.building import read_job
from drawerwright.job.planning.draft import draft_job

TEXT = """\
format: 1
job: Chest
cutter: {mid_depth: 5.65, step: 3.45}
stock:
  ply: {nominal: 15, measured: [[14.6]], sheets: [{length: 2500, width: 1250}]}
openings:
  - {name: Wall, opening: {width: 1018, height: 718, depth: 460}, dividers: {thickness: 18, columns: 2, rows: 2}}
banks:
  - name: Left above
    opening: {of: Wall}
    fronts: {style: applied, heights: {equal: 2}, stock: ply, overlay: {sides: 7.5, top: 7.5, bottom: 7.5}, match: oak}
    runner: {kind: side-mounted}
    box: {all: ply}
  - {name: Right above, like: Left above, opening: {of: Wall, column: 2}}
  - {name: Left below, like: Left above, opening: {of: Wall, row: 2}}
  - {name: Right below, like: Left above, opening: {of: Wall, column: 2, row: 2}}
"""


def sets(text: str) -> set[tuple[str, ...]]:
    """The drawers of every set of fronts that is cut side by side, in their order."""
    (blanks,) = draft_job(read_job(text)).blanks
    return {tuple(blanks.part(key, 1).drawer for key in block.keys) for block in blanks.matched}


def faults(text: str) -> dict[str, str]:
    with pytest.raises(FaultyInputError) as caught:
        read_job(text)
    return {fault.field: fault.message for fault in caught.value.faults}


def test_a_group_runs_down_each_column_of_a_carcase() -> None:
    """Banks A and B stand above C and D: the figure of a column goes through both of its banks."""
    assert sets(TEXT) == {("A1", "A2", "C1", "C2"), ("B1", "B2", "D1", "D2")}


def test_match_true_stays_within_its_bank() -> None:
    assert sets(TEXT.replace("match: oak", "match: true")) == {(f"{m}1", f"{m}2") for m in "ABCD"}
    assert sets(TEXT.replace(", match: oak", "")) == set()


def test_a_group_runs_across_where_the_grain_stands() -> None:
    text = TEXT.replace("match: oak", "match: oak, match_direction: across, grain_upright: true")
    assert sets(text) == {("A1", "B1"), ("A2", "B2"), ("C1", "D1"), ("C2", "D2")}
    assert "banks[1].fronts.match_direction" in faults(text.replace(", grain_upright: true", ""))


@pytest.mark.parametrize(("style", "overlay"), [("inset", ""), ("lipped", ", overlay: {sides: 7.5}")])
def test_fronts_that_are_part_of_their_boxes_cannot_be_matched(style: str, overlay: str) -> None:
    """They are strips of bands, whose order is what wastes least: a figure asked for would be lost without a word.
    False fronts are boards of their own whatever the style."""
    applied = "style: applied, heights: {equal: 2}, stock: ply, overlay: {sides: 7.5, top: 7.5, bottom: 7.5}"
    text = TEXT.replace(applied, f"style: {style}, heights: {{equal: 2}}{overlay}")
    told = faults(text)
    assert set(told) == {f"banks[{number}].fronts.match" for number in range(1, 5)}
    assert f"one that is {style} is part of the box" in told["banks[1].fronts.match"]
    read_job(text.replace(", match: oak", ""))
    tray = "boxes:\n  - {name: Tray, outer: {width: 260, depth: 200, height: 64}, box: {all: ply}}\n"
    read_job(text.replace("    box: {all: ply}", "    box: {all: ply}\n    drawer: false") + tray)


def heights(side_height: str) -> list[float]:
    text = TEXT.replace("    box: {all: ply}\n", f"    box: {{all: ply}}\n    side_height: {side_height}\n")
    drawers = draft_job(read_job(text)).assembled[:2]
    return [drawer[PartKind.LEFT].part.width for drawer in drawers]


def test_side_heights_may_be_a_list() -> None:
    assert heights("90") == [90, 90]
    assert heights("[90, 110]") == [90, 110]
    as_the_front_allows = heights("[rest]")
    assert heights("[90, rest]") == [90, as_the_front_allows[1]]
    assert heights("3 1/2 in") == pytest.approx([88.9, 88.9])


def test_a_list_has_one_height_for_each_drawer() -> None:
    text = TEXT.replace("    box: {all: ply}\n", "    box: {all: ply}\n    side_height: [90, 100, 110]\n")
    assert "3 heights for 2 drawers" in faults(text)["banks[1].side_height"]


def test_bare_heights_of_a_list_follow_the_units_of_the_file() -> None:
    text = TEXT.replace("job: Chest", "job: Chest\nunits: in").replace(
        "width: 1018, height: 718, depth: 460}, dividers: {thickness: 18,",
        "width: 40, height: 28, depth: 18}, dividers: {thickness: 0.75,",
    )
    text = text.replace("    box: {all: ply}\n", "    box: {all: ply}\n    side_height: [3.5, rest]\n")
    text = text.replace("mid_depth: 5.65, step: 3.45", "mid_depth: 5.65 mm, step: 3.45 mm")
    text = text.replace("nominal: 15, measured: [[14.6]]", "nominal: 15 mm, measured: [[14.6 mm]]")
    text = text.replace("sides: 7.5, top: 7.5, bottom: 7.5", "sides: 0.3, top: 0.3, bottom: 0.3")
    text = text.replace("length: 2500, width: 1250", "length: 96, width: 48")
    assert draft_job(read_job(text)).assembled[0][PartKind.LEFT].part.width == pytest.approx(88.9)
    single = text.replace("side_height: [3.5, rest]", "side_height: 3.5")
    assert draft_job(read_job(single)).assembled[1][PartKind.LEFT].part.width == pytest.approx(88.9)
