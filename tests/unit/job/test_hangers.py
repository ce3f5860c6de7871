"""Rails that folders hang on. Figures are ours and worked out by hand: inside width is outer width less two sides."""

from __future__ import annotations

import pytest

from drawerwright.basics.errors import FaultyInputError
from drawerwright.drawings.elevation import draw_elevation
from drawerwright.drawings.scene import Fill, Path
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.carcase_tables import carcase_tables
from drawerwright.job.papers.paper_lengths import PaperLengths
from drawerwright.job.papers.shopping import shopping_lines
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.job_findings import draft_findings
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.run.rail_work import rail_work

TEXT = """\
format: 1
job: Files
cutter: {mid_depth: 5.65, step: 3.45}
stock:
  ply: {nominal: 15, measured: [[15]], sheets: [{length: 2500, width: 1250}]}
  thin: {nominal: 6, measured: [[6]], sheets: [{length: 2500, width: 1250}]}
banks:
  - name: Files
    opening: {width: 400, height: 620, depth: 500}
    fronts: {style: applied, stock: ply, heights: {equal: 2}, overlay: {sides: 12, top: 12, bottom: 12}}
    runner: {kind: side-mounted, side: 13, back: 0}
    box: {all: ply}
    bottom: {style: captured, stock: thin, groove_height: 10}
    hangers: {span: 330, rail: 4, below: 200, drop: 12}
"""


@pytest.fixture(scope="module")
def plan() -> JobPlan:
    return plan_job(read_job(TEXT), time_limit=1)


def codes(text: str) -> dict[str, str]:
    return {found.code: f"{found.text} {found.remedy}" for found in draft_findings(draft_job(read_job(text)))}


def test_rails_are_packed_off_to_their_span(plan: JobPlan) -> None:
    """Box 400 - 26 = 374 wide, 344 inside; 330 + 4 are needed, so 5 behind each rail. 500 deep, 470 inside. The rails
    lie 12 below the sides' upper edges, the bottom's upper face 10 + 6 above their lower ones."""
    (work,) = rail_work(plan.job.all_boxes)
    height = plan.job.all_boxes[0].height
    rails = work.rails
    assert work.drawers == ("A1", "A2")
    assert (rails.between, rails.length, rails.packing) == (344, 470, 5)
    assert rails.level == pytest.approx(height - 12)
    assert rails.room == pytest.approx(height - 12 - 16)


def test_steps_list_and_picture_have_them(plan: JobPlan) -> None:
    (step,) = (step for step in plan.run.steps if step.title == "Fix the rails for folders")
    assert "A1, A2: screw a rail 470.0 mm long to the inner face of each side" in step.lines[0]
    assert step.lines[1] == "Pack each off by 5.0 mm."
    (table,) = (
        t for t in carcase_tables(plan, PaperLengths(plan.job.style)) if t.title == "Rails for folders"
    )
    assert table.rows == (("A1, A2", "4", "4.0 mm", "470.0 mm"),)
    assert ("rails for folders, 4 mm thick", "470.0 mm", "4") in {
        (line.item, line.size, line.quantity) for line in shopping_lines(plan)
    }
    scene = draw_elevation(plan.job.banks[0].bank, plan.draft.assembled)
    rails = [item for item in scene.items if isinstance(item, Path) and item.fill is Fill.STEEL]
    centres = sorted({round(sum(x for x, _ in rail.points) / 4 / scene.scale, 3) for rail in rails})
    assert centres == [35, 365], "330 apart, in the middle of an opening of 400"


def test_lengthwise_the_rails_are_at_front_and_back() -> None:
    """470 from front to back: 66 behind each rail of 4 for a span of 334."""
    text = TEXT.replace("span: 330", "direction: along, span: 334")
    (work,) = rail_work(read_job(text).all_boxes)
    assert (work.rails.between, work.rails.length, work.rails.packing) == (470, 344, 66)
    assert "66.0 mm between each rail and the wood" in codes(text)["rails-far-off"]
    assert "rails-far-off" not in codes(TEXT)


def test_folders_that_do_not_go_in_are_said() -> None:
    """345 + 4 do not fit 344: 5 are missing. Sides of 150 leave 150 - 12 - 16 = 122 of the 200 that a folder hangs."""
    assert not {"folders-too-wide", "folders-touch-bottom"} & set(codes(TEXT))
    wide = codes(TEXT.replace("span: 330", "span: 345"))["folders-too-wide"]
    assert "need 349.0 mm between the sides; there are 344.0 mm" in wide
    assert "5.0 mm larger" in wide
    low = codes(TEXT + "    side_height: 150\n")["folders-touch-bottom"]
    assert "hang 200 mm below the rails, but the bottom lies 122.0 mm below" in low
    assert "78.0 mm higher" in low


def test_a_plain_box_may_have_them() -> None:
    box = "boxes: [{name: Crate, outer: {width: 400, depth: 300, height: 250}, box: {all: ply}, hangers: {span: 330}}]"
    job = read_job(TEXT.replace("banks:", "other:").partition("other:")[0] + box)
    (work,) = rail_work(job.all_boxes)
    assert work.rails.packing == pytest.approx((370 - 333) / 2)


def test_rails_hang_only_where_they_are_wanted() -> None:
    one = TEXT.replace("drop: 12}", "drop: 12, drawers: [2]}")
    assert [box.hangers is not None for box in read_job(one).all_boxes] == [False, True]
    with pytest.raises(FaultyInputError) as caught:
        read_job(TEXT.replace("drop: 12}", "drop: 12, drawers: [3]}"))
    (fault,) = caught.value.faults
    assert (fault.field, fault.line) == ("banks[1].hangers.drawers[1]", 14)
    assert "is 3, but the bank has no such drawer: it has 1, 2" in fault.message


def test_what_is_usual_of_rails_follows_the_unit() -> None:
    """3, 240 and 12 mm; in inches 1/8, 9 1/2 and 1/2 (common practice, from memory)."""
    bare = TEXT.replace("{span: 330, rail: 4, below: 200, drop: 12}", "{span: 330 mm}")
    for text, wanted in ((bare, (3, 240, 12)), (f"shown: {{unit: in}}\n{bare}", (3.175, 241.3, 12.7))):
        rails = read_job(text).all_boxes[0].hangers
        assert rails is not None
        assert (rails.rail, rails.below, rails.drop) == pytest.approx(wanted)
