"""Bottoms and applied fronts that are cut larger at first and trimmed once a drawer is dry-fitted."""

from __future__ import annotations

import pytest

from drawerwright.drawers.parts import PartKind
from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.made_parts import Standing, compared_parts, kept_text, made_by, read_kept
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.job.planning.replacement import plan_replacement
from drawerwright.run.work import CheckBottoms, TrimParts
from drawerwright.sheets import referee

TEXT = example_text()[: example_text().index("boxes:")]
LARGER = TEXT.replace("{style: slid,", "{style: slid, oversize: 4,").replace(
    "      match: true\n", "      oversize: 6\n"
)


@pytest.fixture(scope="module")
def plans() -> tuple[JobPlan, JobPlan]:
    usual, larger = (plan_job(read_job(text), time_limit=1) for text in (TEXT, LARGER))
    return usual, larger


def test_only_their_blanks_are_larger(plans: tuple[JobPlan, JobPlan]) -> None:
    """4 more on the bottoms of the second bank, 6 on its fronts; the finished sizes stay."""
    usual, larger = ({part.label: part for part in plan.parts} for plan in plans)
    for label, part in larger.items():
        more = 0.0
        if part.drawer.startswith("B"):
            more = {PartKind.BOTTOM: 4.0, PartKind.APPLIED_FRONT: 6.0}.get(part.kind, 0.0)
        assert part.cut_length == usual[label].cut_length
        assert part.blank_length - part.cut_length == pytest.approx(more)
        assert part.blank_width - part.cut_width == pytest.approx(more)
    sheets = [stock.sheets for stock in plans[1].stocks]
    assert [flaw for sheet in sheets for flaw in referee.check(sheet)] == []
    placed = {round(piece.length, 1) for plan in sheets for layout in plan.layouts for piece in layout.loose}
    assert {round(larger[label].blank_length, 1) for label in ("B1 bottom", "B1 applied front")} <= placed


def test_a_step_trims_them_and_the_others_are_checked(plans: tuple[JobPlan, JobPlan]) -> None:
    titles = [step.title for step in plans[1].run.steps]
    assert titles.index("Trim to size after the dry fit") < titles.index("Apply edging to the visible edges")
    assert "Trim to size after the dry fit" not in [step.title for step in plans[0].run.steps]
    work = [item for step in plans[1].run.steps for item in step.work]
    trimmed = {name.drawer for item in work if isinstance(item, TrimParts) for name in item.parts}
    checked = {name.drawer for item in work if isinstance(item, CheckBottoms) for name in item.parts}
    assert trimmed == {f"B{number}" for number in range(1, 6)}
    assert checked == {f"A{number}" for number in range(1, 8)}
    lines = [line for step in plans[1].run.steps for line in step.lines]
    assert any("B1 applied front: cut 6.0 mm larger; trim to " in line for line in lines)
    assert "Check the first one in its opening before you fix the rest." in lines


def test_made_larger_is_made_right_and_made_again_larger(plans: tuple[JobPlan, JobPlan]) -> None:
    plan = plans[1]
    made = read_kept(kept_text(made_by(step.work, plan.parts)) for step in plan.run.steps)
    assert {each.standing for each in compared_parts(made, plan.parts)} == {Standing.FITS}
    again = plan_replacement(plan, "B1 bottom")
    (piece,) = again.plan.sheets.layouts[0].loose
    assert {round(piece.length, 1), round(piece.width, 1)} == {
        round(again.part.blank_length, 1),
        round(again.part.blank_width, 1),
    }
