"""The ripping list against the plan: every strip of every band once, at its own width."""

from __future__ import annotations

from collections import Counter
from functools import lru_cache
from pathlib import Path

import pytest

from drawerwright.basics.phrases import plain
from drawerwright.job.papers.plan_drawings import SheetArtist
from drawerwright.job.papers.ripping_list import ripping_table
from drawerwright.job.planning.job_plan import JobPlan, open_job, plan_job
from legible import clipped_texts, overlapping_texts

EXAMPLES = Path(__file__).parents[3] / "examples"
JOBS = ("music-school", "repair-bench")
NINE_POINTS = 9 * 25.4 / 72


@lru_cache
def plan(job: str) -> JobPlan:
    return plan_job(open_job(EXAMPLES / f"{job}.yaml"), time_limit=0.5)


@pytest.mark.parametrize("job", JOBS)
def test_every_strip_is_ripped_once(job: str) -> None:
    listed = Counter(
        name for row in ripping_table(plan(job)).rows for name in plain(row[4]).split(", ") if row[1]
    )
    routed = {plain(part.label) for part in plan(job).parts if not part.is_loose}
    named = {name: count for name, count in listed.items() if name != "sacrificial strips"}
    assert set(named) == routed
    assert set(named.values()) == {1}
    uncut = [row for row in ripping_table(plan(job)).rows if not row[3] and row[4] != "sacrificial strips"]
    assert {plain(row[0]) for row in uncut} <= {"stays whole"}


@pytest.mark.parametrize("job", JOBS)
def test_names_on_sheets_can_be_read_at_arms_length(job: str) -> None:
    """Nine points (1/72 inch each) or more for every part's name, or a letter in the piece and the name below."""
    for stock in plan(job).stocks:
        artist = SheetArtist(plan(job), stock)
        for number in range(1, len(stock.sheets.layouts) + 1):
            scene = artist.draw(number)
            names = {region.name for region in scene.regions}
            shown = {text.text.split(" · ")[0] for text in scene.texts}
            for text in scene.texts:
                if text.text.split(" · ")[0] in names:
                    assert text.size >= NINE_POINTS
            in_key = " ".join(text.text for text in scene.texts if ": " in text.text and text.size > 2.3)
            halves = {f"{one} {other}" for one in shown for other in shown}
            for name in names:
                assert name in shown or name in in_key or name in halves, name
            assert overlapping_texts(scene) == []
            assert clipped_texts(scene) == []
