"""Openings of divided carcases in a job file: what banks close, and every fault at its entry."""

from __future__ import annotations

from itertools import pairwise

import pytest

from drawerwright.basics.errors import FaultyInputError
from drawerwright.drawings.carcase_elevation import draw_carcase
from drawerwright.drawings.elevation import draw_elevation
from drawerwright.drawings.scene import Circle, Fill, Ink, Path, Text
from drawerwright.job.file.building import read_job
from drawerwright.job.file.fresh_entries import next_item, with_part_opening
from drawerwright.job.file.reading import entries_of
from drawerwright.job.job import Job
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.entries_concerned import entries_concerned
from drawerwright.job.planning.job_findings import draft_findings

TEXT = """\
format: 1
job: Chest
cutter: {mid_depth: 5.65, step: 3.45}
stock:
  ply: {nominal: 15, measured: [[14.6]], sheets: [{length: 2500, width: 1250}]}
openings:
  - name: Chest
    opening: {width: 1018, height: 700, depth: 460}
    dividers: {thickness: 18, columns: 2}
banks:
  - &bank
    name: Left
    opening: {of: Chest}
    fronts: {style: applied, heights: {equal: 2}, stock: ply, overlay: {sides: 12, top: 12, bottom: 12}}
    runner: {kind: side-mounted}
    box: {all: ply}
  - {<<: *bank, name: Right, opening: {of: Chest, column: 2}}
"""


def faults(old: str, new: str) -> dict[str, str]:
    assert old in TEXT
    with pytest.raises(FaultyInputError) as caught:
        read_job(TEXT.replace(old, new))
    return {fault.field: fault.message for fault in caught.value.faults}


def test_banks_close_the_openings_of_one_carcase() -> None:
    """500 wide each; 12 over the outer side and (18 - 3) / 2 = 7.5 over the divider: fronts 519.5 wide."""
    job = read_job(TEXT)
    left, right = job.banks
    assert [bank.boxes[0].applied.width for bank in job.banks if bank.boxes[0].applied] == [519.5, 519.5]
    assert (left.bank.opening.x, right.bank.opening.x) == (0, 518)
    ((carcase, banks),) = job.carcases
    assert (carcase.width, [bank.name for bank in banks]) == (1018, ["Left", "Right"])


@pytest.mark.parametrize(
    ("old", "new", "field", "message"),
    [
        ("column: 2}}", "column: 3}}", "banks[2].opening.column", "is 3, but Chest has 2"),
        ("column: 2}}", "column: 2, row: 2}}", "banks[2].opening.row", "is 2, but Chest has 1"),
        ("column: 2}}", "column: 1}}", "banks[2].opening", "in use already"),
        (
            "opening: {of: Chest}",
            "opening: {of: Cupboard}",
            "banks[1].opening.of",
            "there is no opening 'Cupboard'",
        ),
        ("columns: 2}", "vertical: [600, 610]}", "openings[1].dividers.vertical", "must lie beyond 618 mm"),
        ("columns: 2}", "columns: 2, vertical: [400]}", "openings[1].dividers.vertical", "one or the other"),
        (
            "opening: {of: Chest}",
            "opening: {of: Chest, width: 3}",
            "banks[1].opening.width",
            "does not go with",
        ),
    ],
)
def test_faults_stand_at_their_entry(old: str, new: str, field: str, message: str) -> None:
    found = faults(old, new)
    assert message in found[field], found


def test_fronts_of_boxes_cover_a_divider_less_than_the_carcase() -> None:
    """12 over the carcase, half of the divider less half a reveal over that; the box is in the middle of its opening.
    Worked by hand."""
    text = TEXT.replace(
        "style: applied, heights: {equal: 2}, stock: ply", "style: lipped, heights: {equal: 2}"
    )
    bank = read_job(text).banks[1]
    side = bank.bank.runner.side
    assert [box.lips for box in bank.boxes] == [(7.5 + side, 12 + side)] * 2
    assert {place.box.x for place in bank.bank.places()} == {side}


def test_a_new_bank_takes_the_next_free_opening() -> None:
    data = entries_of(TEXT)
    assert next_item("banks", data["banks"], data)["opening"] == {"of": "Chest", "column": 3, "row": 1}
    text = with_part_opening(TEXT, ("banks", 1, "opening"), None)
    assert entries_of(text)["banks"][1]["opening"] == {"width": 500, "height": 600, "depth": 450}
    again = with_part_opening(text, ("banks", 1, "opening"), "Chest")
    assert entries_of(again)["banks"][1]["opening"] == {"of": "Chest", "column": 2, "row": 1}


def test_the_elevation_shows_the_whole_carcase() -> None:
    job = read_job(TEXT)
    scene = draw_carcase(*job.carcases[0], style=job.style)
    texts = {item.text for item in scene.items if isinstance(item, Text)}
    assert {"A1", "A2", "B1", "B2", "1018.0 mm", "500.0 mm", "518.0 mm", "700.0 mm"} <= texts
    assert any(text.startswith(("A2, B2: runner ", "A2, B2 ")) for text in texts), texts


def test_readings_go_before_what_is_planned() -> None:
    """The left opening is planned 500 wide; the smallest reading, 499.2, rules its boxes, and 2 more at the back is
    said with the shims."""
    text = TEXT.replace(
        "opening: {of: Chest}",
        "opening: {of: Chest, measured: {front_above: 499.2, back_above: 501.2, left: 700}}",
    )
    job = read_job(text)
    assert job.banks[0].bank.opening.width == 499.2
    assert job.banks[1].bank.opening.width == 500
    assert [found.code for found in draft_findings(draft_job(job))].count("opening-uneven") == 1
    scene = draw_carcase(*job.carcases[0], style=job.style)
    texts = {item.text for item in scene.items if isinstance(item, Text)}
    assert {"measured 499.2 mm", "500.0 mm"} <= texts  # the right opening as planned


def test_a_reading_that_is_far_off_is_a_fault() -> None:
    found = faults("opening: {of: Chest}", "opening: {of: Chest, measured: {front_above: 49.92}}")
    assert (
        "leaves a width of 49.9 mm where 500.0 mm is planned: check the readings, or the dividers at 500 mm"
        in found["banks[1].opening.measured"]
    )
    begin = "columns: 2}\nbanks:\n  - &bank\n    name: Left\n    opening: {of: Chest"
    found = faults(begin, begin.replace("columns", "rows") + ", measured: {left: 34}")
    assert "or the dividers at 341 mm" in found["banks[1].opening.measured"]


def test_only_fronts_that_cover_the_divider_share_it() -> None:
    """Beside fronts that sit in their opening, the others cover as much as was asked for."""
    right = TEXT.replace(
        "name: Right, opening: {of: Chest, column: 2}}",
        "name: Right, opening: {of: Chest, column: 2}, fronts: {style: inset, heights: {equal: 2}}}",
    )
    for text in (right, TEXT.replace("bottom: 12}}", "bottom: 12, shared: false, right: 6}}")):
        job = read_job(text)
        assert job.banks[0].bank.overlay.edges == (12, 12 if text is right else 6, 12, 12)
        assert "overlay-shared" not in {found.code for found in draft_findings(draft_job(job))}


def test_a_side_given_by_itself_is_not_shared() -> None:
    """The left fronts keep 1 of 18, so 14 are left to those on the right: they take the 12 asked for."""
    job = read_job(
        TEXT.replace("bottom: 12}}", "bottom: 12, right: 1}}").replace(
            "column: 2}}",
            "column: 2}, fronts: {style: applied, heights: {equal: 2}, stock: ply, overlay: {sides: 12}}}",
        )
    )
    assert [bank.bank.overlay.edges[:2] for bank in job.banks] == [(12, 1), (12, 12)]
    assert not {"overlay-shared", "fronts-collide"} & {found.code for found in draft_findings(draft_job(job))}


def test_dividers_inside_an_opening_are_drawn_as_wood() -> None:
    """Between 500 and 518, and within the right opening a board of 12 from 344 to 356 up: each an area of wood in the
    picture of the carcase, at its scale."""
    text = TEXT.replace(
        "banks:",
        "  - {name: Corner, opening: {of: Chest, column: 2}, dividers: {thickness: 12, rows: 2}}\nbanks:",
    ).replace("{of: Chest, column: 2}}\n", "{of: Corner}}\n", 2)
    text = text.replace("{of: Corner}, dividers", "{of: Chest, column: 2}, dividers")
    job = read_job(text)
    scene = draw_carcase(*job.carcases[0], style=job.style)
    wood = {
        tuple(round(edge / scene.scale) for edge in (*item.points[0], *item.points[2]))
        for item in scene.items
        if isinstance(item, Path) and item.fill is Fill.WOOD_BEHIND
    }
    assert {(500, 0, 518, 700), (518, 344, 1018, 356)} <= wood
    assert not boards_beside(job), "of what applied fronts cover only slivers would show"
    applied = "style: applied, heights: {equal: 2}, stock: ply, overlay: {sides: 12, top: 12, bottom: 12}"
    assert boards_beside(read_job(text.replace(applied, "style: inset, heights: {equal: 2}")))


def boards_beside(job: Job) -> list[Path]:
    scene = draw_elevation(job.banks[0].bank, style=job.style)
    return [item for item in scene.items if isinstance(item, Path) and item.fill is Fill.WOOD_BEHIND]


def test_the_name_of_a_front_stands_clear_of_dashed_lines_and_holes() -> None:
    job = read_job(TEXT.replace("bottom: 12}}", "bottom: 12}, pull: {hole: 5, spacing: 128}}"))
    scenes = [draw_carcase(*job.carcases[0], style=job.style), draw_elevation(job.banks[0].bank)]
    for scene in scenes:
        names = [text for text in scene.texts if text.bold and text.text[:2] in {"A1", "A2", "B1", "B2"}]
        upright = [
            points[0]
            for item in scene.items
            if isinstance(item, Path) and item.ink is Ink.HIDDEN
            for points in pairwise((*item.points, item.points[0]))
            if points[0][0] == points[1][0]
        ]
        holes = [item for item in scene.items if isinstance(item, Circle) and item.fill is Fill.DAYLIGHT]
        assert names
        assert holes
        for name in names:
            left, right = min(x for x, _ in name.corners()), max(x for x, _ in name.corners())
            assert not any(left < x < right for x, _ in upright)
            assert not any(left < hole.centre[0] < right for hole in holes)


def test_an_opening_that_nothing_closes_is_noted() -> None:
    """Two banks close two columns; a third has none, and a carcase that no bank names has none at all."""
    assert read_job(TEXT).doubts == ()
    text = TEXT.replace("columns: 2}", "columns: 3}").replace(
        "banks:\n",
        "  - {name: Wall, opening: {width: 500, height: 700, depth: 460}, dividers: {thickness: 18, rows: 2}}\n"
        "banks:\n",
    )
    doubts = read_job(text).doubts
    draft = draft_job(read_job(text))
    entries = [list(entries_concerned(found, draft, entries_of(text))) for found in doubts]
    assert entries == [[("openings", 0, "name")], [("openings", 1, "name")]]
    assert [(found.code, found.where, found.text) for found in doubts] == [
        ("opening-empty", "Chest", "no bank closes its opening in column 3, row 1."),
        ("opening-empty", "Wall", "no bank closes any of its openings."),
    ]
