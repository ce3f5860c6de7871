"""Findings of a whole job, and what cannot be planned at all."""

from __future__ import annotations

from pathlib import Path

import pytest

from drawerwright.basics.errors import NoPlanError
from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawers.parts import PartKind
from drawerwright.job.file.building import read_job
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.entries_concerned import entries_concerned
from drawerwright.job.planning.job_findings import draft_findings
from drawerwright.job.planning.job_plan import plan_job
from drawerwright.web.fields.job_text import data_of

EXAMPLE = (Path(__file__).parents[3] / "examples" / "music-school.yaml").read_text("utf-8")


def codes(text: str) -> set[str]:
    return {finding.code for finding in draft_findings(draft_job(read_job(text)))}


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ("tallest_upright: 620", "tallest_upright: 420", "band-too-tall"),
        ("tallest_upright: 620", "largest_fence_setting: 9", "fence-beyond-table"),
        ("trim: 6}", "trim: 6, stack: 3, cutting_height: 40}", "stack-above-blade"),
        ("trim: 6}", "trim: 6, cutting_height: 14}", "sheet-above-blade"),
        ("speeds: [8000, ", "speeds: [17000, ", "spindle-too-fast"),
        ("  diameter: 44.4\n", "", "speed-unknown"),
        ("length: 1525, width: 1525", "length: 500, width: 500", "part-fits-no-sheet"),
        ("- [14.62, 14.58, 14.66, 14.60]\n      - [14.64, 14.59, 14.61]", "[]", "thickness-not-measured"),
        ("cutting_height: 14.5", "cutting_height: 11", "bit-height-above-cutter"),
        ("kind: side-mounted, length: 400", "kind: under-mounted, length: 400", "bottom-too-low"),
        ("count: 3\n", "count: 3\n    orientation: sides-flat\n", "front-is-upright"),
    ],
)
def test_each_doubt_of_a_job_is_found(old: str, new: str, code: str) -> None:
    assert code not in codes(EXAMPLE)
    text = EXAMPLE.replace(old, new)
    if code == "speed-unknown":
        text = text.replace("  max_speed: 16000         # marked on the shank\n", "")
    if code == "spindle-too-fast":
        text = text.replace("12000, 14000, ", "")
    assert text != EXAMPLE
    assert code in codes(text)


def test_the_gravest_findings_come_first() -> None:
    text = EXAMPLE.replace("cutting_height: 14.5", "cutting_height: 11")
    severities = [finding.severity for finding in draft_findings(draft_job(read_job(text)))]
    assert severities[0] is Severity.STOP
    assert severities == sorted(severities, key=list(reversed(Severity)).index)


def test_a_part_that_fits_no_sheet_says_which_and_why() -> None:
    job = read_job(EXAMPLE.replace("length: 1525, width: 1525", "length: 500, width: 500"))
    with pytest.raises(NoPlanError, match=r"529\.3.*birch6"):
        plan_job(job)


def test_a_plan_can_be_shown_in_inches() -> None:
    plan = plan_job(read_job(EXAMPLE))
    shown = plan.shown_in(LengthStyle("in", ","))
    text = " ".join(line for step in shown.run.steps for line in step.lines)
    assert "0,441 in" in text  # bit height 11.2 mm
    assert " mm" not in text
    assert [step.title for step in shown.run.steps] == [step.title for step in plan.run.steps]


def test_a_kept_bit_height_reaches_parts_cards_and_findings() -> None:
    law = plan_job(read_job(EXAMPLE), time_limit=1)
    height = law.corners[0].setting.bit_height
    kept = plan_job(read_job(f"{EXAMPLE}\nbit_heights: [{height - 0.3:.2f}]\n"), time_limit=1)
    heights = [setup.bit_height for setup in kept.run.setups]
    assert heights == pytest.approx([height - 0.3] * len(heights))
    assert [
        (before.length - after.length)
        for before, after in zip(law.parts, kept.parts, strict=True)
        if before.label == after.label and before.kind in (PartKind.LEFT, PartKind.RIGHT)
    ] == pytest.approx([0.6] * (2 * len(kept.job.all_boxes)))
    assert "bit-height-off" in {finding.code for finding in kept.findings}
    assert "bit-height-off" not in {finding.code for finding in law.findings}
    assert kept.odds.corners[0][1].odds.fits < law.odds.corners[0][1].odds.fits


INSIDE = """
format: 1
job: Score case
cutter: {mid_depth: 5.65 ± 0.05, step: 3.45 ± 0.03, diameter: 44, max_speed: 16000}
stock:
  ash15: {nominal: 15, measured: [14.6], sheets: [{length: 2400, width: 1200}]}
banks:
  - name: case
    opening: {width: 500, height: 400, depth: 450}
    fronts: {style: inset, heights: {equal: 3}, reveal: 2}
    runner: {kind: side-mounted, length: 400}
    box: {all: ash15}
"""


def test_inset_fronts_run_on_side_runners() -> None:
    job = read_job(INSIDE)
    assert not [finding for finding in draft_findings(draft_job(job)) if finding.stops]
    (box, *_rest) = job.all_boxes
    assert (box.width, box.lip) == (474, 11)


def test_applied_fronts_without_an_overlay_are_said_to_sit_inside() -> None:
    text = INSIDE.replace("{style: inset,", "{style: applied, stock: ash15,")
    (finding,) = [f for f in draft_findings(draft_job(read_job(text))) if f.code == "applied-front-inside"]
    assert finding.text.endswith("they sit inside the opening, 2 mm from its sides.")
    covered = text.replace("reveal: 2}", "reveal: 2, overlay: {sides: 6}}")
    assert not [f for f in draft_findings(draft_job(read_job(covered))) if f.code == "applied-front-inside"]


def test_any_stock_of_an_unlikely_thickness_is_asked_about_where_it_is_typed() -> None:
    """Used or not: whoever enters it next is asked, too."""
    slip = "stock:\n  oak: {nominal: 150, measured: [150], sheets: [{length: 2400, width: 1200}]}\n"
    text = INSIDE.replace("stock:\n", slip)
    draft = draft_job(read_job(text))
    (finding,) = [found for found in draft_findings(draft) if found.code == "thickness-unlikely"]
    assert list(entries_concerned(finding, draft, data_of(text))) == [("stock", "oak", "nominal")]
    assert "thickness-unlikely" not in codes(INSIDE)


def test_a_drawer_without_a_bottom_is_told() -> None:
    draft = draft_job(read_job(INSIDE))
    found = [found for found in draft_findings(draft) if found.code == "no-bottom"]
    assert [finding.where for finding in found] == [box.name for box in draft.job.all_boxes]
    assert {finding.severity for finding in found} == {Severity.NOTE}
    assert list(entries_concerned(found[0], draft, data_of(INSIDE))) == [("banks", 0, "bottom", "stock")]
    loaded = draft_findings(draft_job(read_job(INSIDE.rstrip() + "\n    load: 8 kg\n")))
    assert {found.severity for found in loaded if found.code == "no-bottom"} == {Severity.WARNING}
    closed = INSIDE.rstrip() + "\n    bottom: {style: fixed, stock: ash15}\n"
    assert "no-bottom" not in codes(closed)


def test_findings_about_a_plain_joint_and_about_readings_lead_to_these() -> None:
    """Not to the name of the bank."""
    draft = draft_job(read_job(INSIDE))
    drawers = tuple(box.name for box in draft.job.all_boxes)

    def led(code: str, data: object) -> list[tuple[str | int, ...]]:
        return list(entries_concerned(Finding(code, Severity.NOTE, "", "", "", drawers), draft, data))

    data = data_of(INSIDE)
    assert led("long-finger-row", data) == [("banks", 0, "joint")]
    assert led("opening-not-level", data) == [("banks", 0, "opening", "measured")]
    assert led("scoop-too-large", data) == [("banks", 0, "fronts", "scoop", "depth")]
    measured = {**data, "banks": [{**data["banks"][0], "joint": {"kind": "finger", "finger": 9.5}}]}
    assert led("long-finger-row", measured) == [("banks", 0, "joint", "kind")]


def test_lips_that_are_all_too_large_are_told_once() -> None:
    """Four ends, each with a lip of its own, and one change mends them: runners of 13 mm and overlays of 12 to 20."""
    text = INSIDE.replace(
        "{style: inset, heights: {equal: 3}, reveal: 2}",
        "{style: lipped, heights: {equal: 3}, reveal: 2, overlay: {left: 20, right: 15}}",
    )
    other = text.rpartition("  - name: case")[2].replace("left: 20, right: 15", "left: 12, right: 18")
    draft = draft_job(read_job(f"{text}  - name: other{other}"))
    assert len({corner.key.lip for corner in draft.corners if corner.key.lip}) == 4
    found = [finding for finding in draft_findings(draft) if "The lip can be at most" in finding.remedy]
    (worst,) = found
    assert worst.where not in worst.text
    assert worst.text.count("front corner, lip") == 3
    assert set(worst.drawers) == {box.name for box in draft.job.all_boxes}


def test_a_part_that_fits_no_sheet_is_told_of_its_own_drawers_alone() -> None:
    """Its number stood at the bank as well, whose parts come from the same stock."""
    long = EXAMPLE.replace("outer: {width: 268,", "outer: {width: 4125,")
    found = [each for each in draft_findings(draft_job(read_job(long))) if each.code == "part-fits-no-sheet"]
    assert [name.partition(" 1")[0] for name in found[0].drawers[:1]] == ["Reed tray"]
    assert all(name.startswith("Reed tray") for each in found for name in each.drawers)
