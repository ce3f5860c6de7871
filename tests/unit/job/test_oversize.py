"""Bottoms and applied fronts that are cut larger at first and trimmed once a drawer is dry-fitted."""

from __future__ import annotations

import pytest

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawers.parts import PartKind
from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.made_parts import Standing, compared_parts, kept_text, made_by, of_plan_data, read_kept
from drawerwright.job.papers.part_labels import part_labels
from drawerwright.job.papers.plan_data import plan_report
from drawerwright.job.papers.plan_tables import parts_table
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.job.planning.replacement import plan_replacement
from drawerwright.run.marks import PartName
from drawerwright.run.step_words import step_lines
from drawerwright.run.trimming import trim_lines
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
    assert any("B1 applied front: cut 6 mm larger; trim to " in line for line in lines)
    assert "Check the first one in its opening before you fix the rest." in lines


def test_lists_name_the_size_at_the_saw_and_the_one_it_is_trimmed_to(plans: tuple[JobPlan, JobPlan]) -> None:
    """The arithmetic is here: 4 more on B1's bottom, 6 on its front; drawers of the other bank are cut to size."""
    usual = {part.label: part for part in plans[0].parts}
    plan = plans[1]
    told = {each["label"]: each for each in plan_report(plan)["parts"]}
    table = parts_table(plan)
    keys = [column.name for column in table.columns]
    rows = {str(row[0]): dict(zip(keys, row, strict=True)) for row in table.rows}
    labels = {label.name: str(label.size) for label in part_labels(plan)}
    for label, more in (("B1 bottom", 4.0), ("B1 applied front", 6.0), ("A1 bottom", 0.0)):
        length, width = usual[label].cut_length, usual[label].cut_width
        cut = pytest.approx((length + more, width + more), abs=1e-3)
        assert (told[label]["cut_length"], told[label]["cut_width"]) == cut
        assert (rows[label]["cut_length"], rows[label]["cut_width"]) == cut
        trimmed = told[label]["trimmed"]
        assert (trimmed and trimmed["length"]) == (pytest.approx(length, abs=1e-3) if more else None)
        assert rows[label]["trimmed_width"] == (pytest.approx(width) if more else None)
        assert f"{length + more:.1f} × {width + more:.1f} mm" in labels[label].replace("\u00a0", " ")
    whole = {each.label: each for each in of_plan_data(plan_report(plan))}
    assert whole["B1 bottom"].length == pytest.approx(usual["B1 bottom"].cut_length, abs=1e-3)


def test_what_is_given_in_sixteenths_is_said_so() -> None:
    item = TrimParts((PartName("A1", PartKind.BOTTOM),), 100.0, 100.0, 25.4 / 16)
    said = trim_lines([item], LengthStyle("in"))[1]
    assert "cut 1/16 in larger" in said.replace("\u00a0", " ")


def test_a_single_bottom_has_no_rest() -> None:
    one, two = (
        step_lines([CheckBottoms((PartName("A1", PartKind.BOTTOM),) * count, 100.0, 90.0)], LengthStyle())
        for count in (1, 2)
    )
    assert one[-1] == "Check it against the dry-fitted box."
    assert two[-1] == "Check one against a dry-fitted drawer before you trim the rest."


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
