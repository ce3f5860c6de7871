"""Drawers of one type on one page: which belong together, and whether the drawings are true and can be read."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import pytest

from drawerwright.drawers.parts import PartKind
from drawerwright.drawings.scene import Scene, Strokes
from drawerwright.job.papers.drawer_types import drawer_types
from drawerwright.job.papers.plan_views import overview_drawings
from drawerwright.job.papers.type_pages import type_drawings, type_pages
from drawerwright.job.planning.draft import JobDraft, draft_job
from drawerwright.job.planning.job_plan import open_job

EXAMPLES = Path(__file__).parents[3] / "examples"
JOBS = ("music-school", "repair-bench", "trays-and-chest")


@lru_cache
def draft(job: str) -> JobDraft:
    return draft_job(open_job(EXAMPLES / f"{job}.yaml"))


@lru_cache
def scenes(job: str) -> dict[str, Scene]:
    makers = (*overview_drawings(draft(job)), *type_drawings(draft(job)))
    return {name: make() for name, make in makers}


def test_drawers_of_one_build_are_one_type() -> None:
    """The lipped bank, the bank with applied fronts and slid bottoms, and the trays, as the job file has them."""
    assert [each.names for each in drawer_types(draft("music-school").assembled)] == [
        "A1–A7",
        "B1–B5",
        "Reed tray 1–3",
    ]


@pytest.mark.parametrize("job", JOBS)
def test_every_drawer_is_on_one_page(job: str) -> None:
    types = drawer_types(draft(job).assembled)
    names = [drawer.box.name for each in types for drawer in each.drawers]
    assert sorted(names) == sorted(box.name for box in draft(job).job.all_boxes)


@pytest.mark.parametrize("job", JOBS)
def test_views_have_the_size_of_the_drawer(job: str) -> None:
    """Outlines on paper over the scale against the assembled drawer: as wide and high as what shows of it."""
    for each in drawer_types(draft(job).assembled):
        lows, highs = zip(*(placed.bounds for placed in each.shown.placed), strict=True)
        low = [min(place[axis] for place in lows) for axis in range(3)]
        high = [max(place[axis] for place in highs) for axis in range(3)]
        for view, axis in (("front", 0), ("side", 1)):
            scene = scenes(job)[f"{each.slug}-{view}"]
            heavy = next(
                item for item in reversed(scene.items) if isinstance(item, Strokes) and item.ink == "outline"
            )
            xs = [x for segment in heavy.segments for x, _ in segment]
            zs = [z for segment in heavy.segments for _, z in segment]
            assert (max(xs) - min(xs)) / scene.scale == pytest.approx(high[axis] - low[axis], abs=1e-3)
            assert (max(zs) - min(zs)) / scene.scale == pytest.approx(high[2] - low[2], abs=1e-3)


def test_what_differs_is_said() -> None:
    pages = type_pages(draft("music-school"), scenes("music-school"))
    said = [" ".join(str(note) for note in page.notes) for page in pages]
    assert "All of them are alike." in said[0]
    assert "differ from drawer to drawer: Sides high, Front high, Back high" in said[1]


def test_grooves_are_measured_on_the_part() -> None:
    """The front of a lipped drawer may reach below the sides; its groove counts from its own edge."""
    for job in JOBS:
        for drawer in draft(job).assembled:
            front, side = drawer[PartKind.FRONT].part.groove, drawer[PartKind.LEFT].part.groove
            if front is not None and side is not None:
                assert front.height - side.height == pytest.approx(drawer.box.front_below)


def test_where_an_applied_front_goes_is_a_number_on_its_page() -> None:
    """Bank B of the music school: its box is narrower than its front by runners and overlay; the table has
    a row of four figures for each place, and the lipped bank has no such table."""
    pages = type_pages(draft("music-school"), scenes("music-school"))
    with_front = [
        [table for table in page.tables if str(table.title).startswith("Applied front on its box")]
        for page in pages
    ]
    assert [len(tables) for tables in with_front] == [0, 1, 0]
    drawer = next(each for each in draft("music-school").assembled if each.box.name == "B1")
    front = drawer[PartKind.APPLIED_FRONT].part
    row = next(row for row in with_front[1][0].rows if row[0].startswith("B1"))
    left, right, below, above = (float(str(cell)) for cell in row[1:])
    assert left + drawer.box.width + right == pytest.approx(front.length, abs=0.11)
    assert below + drawer.box.height + above == pytest.approx(front.width, abs=0.11)
