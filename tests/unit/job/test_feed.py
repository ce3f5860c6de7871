"""A router table that is fed from the other side: said once, seen in every set-up drawing and in the steps."""

from __future__ import annotations

import pytest

from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.papers.plan_drawings import plan_drawings
from drawerwright.job.papers.setup_cards import setup_cards
from drawerwright.job.pictures.run_pictures import setup_pictures
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.run.work import SetRouter

OTHER = example_text().replace("  router_table:\n", "  router_table:\n    feed: left-to-right\n", 1)


@pytest.fixture(scope="module")
def plans() -> tuple[JobPlan, JobPlan]:
    usual, other = (plan_job(read_job(text), time_limit=1) for text in (example_text(), OTHER))
    return usual, other


def test_every_set_up_is_drawn_mirrored(plans: tuple[JobPlan, JobPlan]) -> None:
    usual, other = (plan_drawings(plan) for plan in plans)
    setups = [name for name in usual if name.startswith("setup-")]
    assert setups
    for name in setups:
        assert usual[name].description.count("from right to left") == usual[name].description.count("held")
        assert other[name].description.count("from left to right") == other[name].description.count("held")
    pages = [
        setup_pictures(setup, plan.job.style, plan.job.table.feed)
        for plan in plans
        for setup in plan.run.setups[:1]
    ]
    assert pages[0] != pages[1]


def test_steps_and_cards_say_it_once_where_it_is_not_usual(plans: tuple[JobPlan, JobPlan]) -> None:
    for plan, said in zip(plans, (0, 1), strict=True):
        steps = [step for step in plan.run.steps if any(isinstance(work, SetRouter) for work in step.work)]
        assert steps
        assert {sum("Feed from left to right" in line for line in step.lines) for step in steps} == {said}
        for card in setup_cards(plan, plan_drawings(plan)):
            assert sum("Feed from left to right" in note for note in card.notes) == said


def test_nothing_but_the_view_depends_on_it(plans: tuple[JobPlan, JobPlan]) -> None:
    usual, other = plans
    assert [(s.bit_height, s.fence) for s in usual.run.setups] == [
        (s.bit_height, s.fence) for s in other.run.setups
    ]
