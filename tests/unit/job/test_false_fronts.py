"""Fronts without a drawer behind them: in parts, pictures, steps and days, and every fault at its entry."""

from __future__ import annotations

import pytest

from drawerwright.basics.errors import FaultyInputError
from drawerwright.drawers.parts import PartKind
from drawerwright.drawings.elevation import draw_elevation
from drawerwright.drawings.scene import Path, Text
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.plan_models import plan_models
from drawerwright.job.papers.plan_views import chest_front
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.job.planning.replacement import plan_replacement

TEXT = """\
format: 1
job: Sink cabinet
cutter: {mid_depth: 5.65, step: 3.45}
stock:
  ply: {nominal: 15, measured: [[14.6]], sheets: [{length: 2500, width: 1250}]}
banks:
  - name: Under the sink
    opening: {width: 500, height: 600, depth: 460}
    fronts:
      style: applied
      stock: ply
      heights: {given: [100, rest, 200]}
      overlay: {sides: 12, top: 12, bottom: 12}
      false_fronts: [1]
      match: true
      pull: {hole: 5}
    runner: {kind: side-mounted}
    box: {all: ply}
"""


@pytest.fixture(scope="module")
def plan() -> JobPlan:
    return plan_job(read_job(TEXT), time_limit=2)


def test_only_a_board_is_cut_for_it(plan: JobPlan) -> None:
    """500 + 2 × 12 wide and 100 high; the two fronts below it have their boxes, with five parts each."""
    alone = [part for part in plan.parts if part.drawer == "A1"]
    assert [(part.kind, part.cut_length, part.cut_width) for part in alone] == [
        (PartKind.FALSE_FRONT, 524, 100)
    ]
    assert [box.name for box in plan.job.all_boxes] == ["A2", "A3"]
    assert (
        {line.drawer for line in plan.runner_lines}
        == {hole.drawer for hole in plan.pull_holes}
        == {"A2", "A3"}
    )
    (use,) = plan.runner_uses
    assert use.pairs == 2


def test_its_figure_runs_through_with_the_others(plan: JobPlan) -> None:
    """All three are 524 long, so they are cut side by side, the upper one first."""
    (matched,) = plan.draft.blanks[0].matched
    assert matched.label == "matched fronts A1 to A3"
    assert matched.widths == (100, 318, 200)


def test_the_step_says_where_it_is_fixed(plan: JobPlan) -> None:
    """Its upper edge stands 12 over the opening, so its lower one 600 + 12 - 100 = 512 above the opening's."""
    (step,) = (step for step in plan.run.steps if step.title == "Fit runners, fronts and pulls")
    text = " ".join(step.lines)
    assert "Screw on 1 false front from behind" in text
    assert (
        "A1 false front: its left end 12.0 mm over the left edge of the opening, its lower edge 512.0 mm above that "
        "of the opening." in text
    )


def test_it_is_drawn_with_no_box_behind_it(plan: JobPlan) -> None:
    scene = draw_elevation(plan.job.banks[0].bank, plan.draft.assembled)
    assert any(
        "A1" in item.text and "false front" in item.text for item in scene.items if isinstance(item, Text)
    )
    assert "3 fronts" in scene.description
    solid = draw_elevation(read_job(TEXT.replace("      false_fronts: [1]\n", "")).banks[0].bank)
    boxes = [sum(isinstance(item, Path) for item in each.items) for each in (scene, solid)]
    assert boxes[0] < boxes[1]
    regions = {region.name for region in chest_front(plan.job, plan.job.style, room=(150.0, 110.0)).regions}
    assert regions == {"A2", "A3"}


def test_it_hangs_in_the_model_of_its_bank(plan: JobPlan) -> None:
    assert b"A1 false front" in plan_models(plan)["bank-A.glb"]()


def test_it_is_made_again_alone(plan: JobPlan) -> None:
    made = plan_replacement(plan, "A1 false front")
    assert (made.part.cut_length, made.part.cut_width) == (524, 100)
    assert all("saw" in step.machine or "bench" in step.machine for step in made.run.steps)


def test_a_bank_may_be_one_false_front() -> None:
    """Inside its opening, 3 of reveal around it; of the stock that fronts of the box have."""
    text = TEXT + (
        "  - {name: Panel, drawer: false, opening: {width: 400, height: 300, depth: 460}, box: {all: ply},\n"
        "     fronts: {style: inset, heights: {equal: 1}}}\n"
        "days: [[A2, A3], [A1, Panel]]\n"
    )
    job = read_job(text)
    (front,) = job.banks[1].false_fronts
    assert (front.part.cut_length, front.part.cut_width, front.x, front.z) == (394, 294, 3, 3)
    assert front.inner_face == 14.6
    days = [draft_job(job.only(day)).parts for day in job.days]
    assert [part.label for part in days[1]] == ["A1 false front", "B1 false front"]
    assert "A1" not in {part.drawer for part in days[0]}


@pytest.mark.parametrize(
    ("old", "new", "field", "message"),
    [
        ("[1]", "[1, 4]", "banks[1].fronts.false_fronts[2]", "is 4, but there are 3 fronts"),
        ("[1]", "[0]", "banks[1].fronts.false_fronts[1]", "1"),
        ("    runner:", "    drawer: false\n    runner:", "banks", "at least one drawer or box is needed"),
    ],
)
def test_faults_stand_at_their_entry(old: str, new: str, field: str, message: str) -> None:
    with pytest.raises(FaultyInputError) as caught:
        read_job(TEXT.replace(old, new))
    found = {fault.field: fault.message for fault in caught.value.faults}
    assert message in found[field], found
