"""Every drawing of a packet, and every part in one drawing: no lettering over lettering, a line or the paper's edge.

Long words are tried too: German, and inches with three decimals.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from drawerwright.job.papers.plan_drawings import plan_drawings
from drawerwright.job.papers.plan_files import parts_drawing
from drawerwright.job.planning.job_plan import JobPlan, open_job, plan_job
from drawerwright.web.reader.words import wording
from legible import clipped_texts, overlapping_texts, struck_texts

EXAMPLES = Path(__file__).parents[3] / "examples"


def told_in(name: str, language: str) -> JobPlan:
    job = open_job(EXAMPLES / f"{name}.yaml")
    return plan_job(replace(job, style=replace(job.style, wording=wording(language))), time_limit=0.2)


@pytest.mark.parametrize(
    ("name", "language"), [("music-school", "de"), ("repair-bench", "en"), ("trays-and-chest", "de")]
)
def test_no_text_lies_over_a_text_or_a_line(name: str, language: str) -> None:
    plan = told_in(name, language)
    for drawing, scene in {**plan_drawings(plan), "parts": parts_drawing(plan)}.items():
        assert [(one.text, other.text) for one, other in overlapping_texts(scene)] == [], drawing
        assert [text.text for text in clipped_texts(scene)] == [], drawing
        assert [text.text for text in struck_texts(scene)] == [], drawing
