"""Small things that a new user stumbled over: narrow boxes, hardwood plywood, steps of one name, names of new rows."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from drawerwright.job.file.building import read_job
from drawerwright.job.file.fresh_entries import next_item
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.job_findings import draft_findings
from drawerwright.job.planning.job_plan import plan_job
from drawerwright.web.reader.preferences import Preferences

SCHOOL = (Path(__file__).parents[3] / "examples" / "music-school.yaml").read_text("utf-8")


def _codes(text: str) -> set[str]:
    return {finding.code for finding in draft_findings(draft_job(read_job(text)))}


def test_a_box_too_narrow_for_a_hand_is_asked_about() -> None:
    assert "narrow-box" not in _codes(SCHOOL)
    assert "narrow-box" in _codes(SCHOOL.replace("{width: 268, depth: 206,", "{width: 40, depth: 206,"))
    assert "narrow-box" in _codes(SCHOOL.replace("{width: 268, depth: 206,", "{width: 268, depth: 60,"))


@pytest.mark.parametrize(("panel", "is_judged"), [("us-plywood", True), ("hardwood-plywood", False)])
def test_only_structural_plywood_is_judged_by_its_standard(panel: str, is_judged: bool) -> None:
    """PS 1 gives 1/2 in structural plywood 0.469 to 0.531 in; 0.46 in of hardwood plywood is outside no table."""
    text = re.sub(
        r"    panel: birch-plywood\n    nominal: 15\n", f"    panel: {panel}\n    nominal: 1/2 in\n", SCHOOL
    )
    text = text.replace("[14.62, 14.58, 14.66, 14.60]", "[11.7, 11.7, 11.6, 11.7]")
    text = text.replace("[14.64, 14.59, 14.61]", "[11.7, 11.7, 11.7]")
    found = [f for f in draft_findings(draft_job(read_job(text))) if f.code == "thickness-outside-published"]
    assert ["PS 1" in finding.text for finding in found] == ([True] if is_judged else [])


def test_no_two_steps_of_grooves_are_named_alike() -> None:
    titles = [str(step.title) for step in plan_job(read_job(SCHOOL), time_limit=0.3).run.steps]
    grooves = [title for title in titles if title.startswith("Cut the grooves")]
    assert len(grooves) > 1
    assert max(Counter(grooves).values()) == 1


def test_a_new_row_is_named_in_the_language_of_its_reader() -> None:
    german = Preferences(language="de").say
    assert next_item("boxes", [], {}, german)["name"] == "Kasten 1"
    assert next_item("banks", [], {}, german)["name"] == "Schubladenblock 1"
    assert next_item("boxes", [], {})["name"] == "box 1"
