"""The set-up cards: the letters of the drawing and those of the table of readings are the same."""

from __future__ import annotations

from pathlib import Path

import pytest

from drawerwright.drawings.scene import Layer
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.bench_cards import bench_cards
from drawerwright.job.papers.plan_drawings import plan_drawings
from drawerwright.job.papers.setup_cards import setup_cards
from drawerwright.job.planning.job_plan import JobPlan, open_job, plan_job
from legible import overlapping_texts

EXAMPLE = Path(__file__).parents[3] / "examples" / "music-school.yaml"


@pytest.fixture(scope="module")
def plan() -> JobPlan:
    return plan_job(open_job(EXAMPLE))


def test_each_reading_of_the_table_is_lettered_in_the_drawing(plan: JobPlan) -> None:
    cards = setup_cards(plan, plan_drawings(plan))
    assert len(cards) == 2
    for card in cards:
        assert card.pieces is not None
        assert card.targets is not None
        drawn = sorted(t.text for t in card.pieces.scene.texts if t.layer is Layer.DIMENSION)
        assert drawn == sorted({row[0] for row in card.targets.rows})
        named = [t.text for t in card.pieces.scene.texts if t.bold]
        assert named == ["flat piece", "upright piece"], "both, whichever of them is cut in this set-up"


def test_a_card_leaves_room_for_what_the_test_cut_asks_for(plan: JobPlan) -> None:
    """It is printed before the test cut, and lies on the machine after it."""
    words = "After the test cut set what it asks for"
    assert all(any(words in note for note in card.notes) for card in setup_cards(plan, plan_drawings(plan)))


def two_stocks(readings: str) -> str:
    sheets = "sheets: [{length: 2500, width: 1250}]"
    return f"""
format: 1
job: two stocks
cutter: {{mid_depth: 5.4 ± 0.05, step: 3.7 ± 0.03, slope: 50}}
stock:
  ash15: {{nominal: 15, measured: [[14.6, 14.6, 14.6]], {sheets}}}
  beech15: {{nominal: 15, measured: [{readings}], {sheets}}}
boxes:
  - {{name: music, outer: {{width: 320, depth: 260, height: 80}}, box: {{all: ash15}}}}
  - {{name: strings, outer: {{width: 320, depth: 260, height: 80}}, box: {{all: beech15}}}}
"""


def test_corners_of_two_stocks_that_look_alike_share_a_drawing_that_names_both() -> None:
    """Both stocks are 14.6 mm thick; beech varies, so its corners are the less sure ones."""
    plan = plan_job(read_job(two_stocks("[14.4, 14.6, 14.8]")))
    (card,) = setup_cards(plan, plan_drawings(plan))
    names = ["front and back corner, flush, ash15", "front and back corner, flush, beech15"]
    assert [corner.caption for corner in card.corners] == ["; ".join(names)]
    assert card.notes[0].startswith(f"{names[1]}: The first cut gets both fit and lip right")


def test_a_reading_that_differs_between_corners_names_them() -> None:
    """The thinner stock leaves less over the cut: at one bit height the roofs differ by as much."""
    plan = plan_job(read_job(two_stocks("[14.45, 14.45, 14.45]")), time_limit=1)
    card = setup_cards(plan, plan_drawings(plan))[0]
    assert card.targets is not None
    roofs = {row[2]: float(row[3]) for row in card.targets.rows if row[0] == "a"}
    ash, beech = (
        f"roof, left over the cut (front and back corner, flush, {name})" for name in ("ash15", "beech15")
    )
    assert set(roofs) == {ash, beech}
    assert roofs[ash] - roofs[beech] == pytest.approx(14.6 - 14.45)
    assert [row[2] for row in card.targets.rows[2:4]] == [
        "deepest cut from the end",
        "shallow cut from the end",
    ]


BENCH = """
format: 1
job: without a cutter
stock:
  ash15: {nominal: 15, measured: [14.6, 14.7], sheets: [{length: 2500, width: 1250}]}
boxes:
  - {name: till, outer: {width: 300, depth: 250, height: 90}, box: {all: ash15}, joint: finger}
  - {name: tray, outer: {width: 300, depth: 250, height: 70}, box: {all: ash15}, joint: rebate}
"""


def test_a_card_without_a_cutter_shows_both_test_pieces_too() -> None:
    """What is read on the corner put together has no letter; all else is lettered on a piece."""
    plan = plan_job(read_job(BENCH))
    fingers, rebate = bench_cards(plan, plan_drawings(plan))
    for card, letters in ((fingers, "aabbc"), (rebate, "ab")):
        assert card.pieces is not None
        assert card.targets is not None
        scene = card.pieces.scene
        assert [text.text for text in scene.texts if text.bold] == ["flat piece", "upright piece"]
        assert sorted(text.text for text in scene.texts if text.layer is Layer.DIMENSION) == list(letters)
        assert [row[0] for row in card.targets.rows] == [*dict.fromkeys(letters), ""]
        assert not overlapping_texts(scene)
