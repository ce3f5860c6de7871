"""What a set-up of the run has to show since a test cut was read, and which cautions were read."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from drawerwright.job.file.building import read_job
from drawerwright.job.file.entry_types import Given
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.job.run_list import cautions_mark, corners_to_test
from drawerwright.job.test_cuts.bench import CutMade, bench_of
from drawerwright.job.test_cuts.set_by_cut import set_by_cut
from drawerwright.store import ShelfKind
from drawerwright.store.records import ShelfEntry

JOB = 1


@cache
def planned() -> JobPlan:
    return plan_job(read_job(example_text()))


def kept(number: int, readings: dict[str, float]) -> ShelfEntry:
    """A test cut of the corner that set-up 1 tests, at the settings of the plan."""
    plan = planned()
    step = next(step for step in plan.run.steps if "Test cut" in str(step.title))
    corner = corners_to_test(plan, step)[0]
    bench = bench_of(JOB, plan.job, plan.draft, corner, ())
    measures = {**bench.dial(None), "flat": 14.61, "upright": 14.61}
    made = CutMade(*({name: Given(value) for name, value in all.items()} for all in (measures, readings)))
    return ShelfEntry(number, ShelfKind.TRIAL_CUT, "cut", bench.cut_text(made), 1, "2026-01-01")


def test_only_the_step_of_a_test_cut_has_corners_to_test() -> None:
    plan = planned()
    tested = {step.number: corners_to_test(plan, step) for step in plan.run.steps}
    with_corners = [step for step in plan.run.steps if tested[step.number]]
    assert [str(step.title) for step in with_corners] == ["Test cut: set-up 1", "Test cut: set-up 2"]
    for step in with_corners:
        setup = next(setup for setup in plan.run.setups if setup.number == step.setup)
        assert {corner.key for corner in tested[step.number]} <= set(setup.corners)


def test_a_set_up_shows_what_its_test_cut_says() -> None:
    """The same figures as the bench of the corner, which the page of test cuts shows."""
    plan = planned()
    cut = kept(1, {"play": 0.2})
    steps = {str(step.title): step for step in plan.run.steps}
    for title in ("Set the cutter: set-up 1", "Test cut: set-up 1", "Rout the flat bands: set-up 1"):
        said = set_by_cut(JOB, plan, steps[title], [cut])
        assert said is not None
        corner = next(corner for corner in plan.corners if corner.key.token == said.token)
        bench = bench_of(JOB, plan.job, plan.draft, corner, [cut])
        height = said.gauges[0].shown
        assert height == bench.dial(bench.correction())["height_shown"]
        assert height > plan.run.setups[0].height_reading  # there was play: the bit goes up
        assert said.asks  # play may be a corner that does not go home
    assert set_by_cut(JOB, plan, steps["Glue up 15 drawers"], [cut]) is None
    assert set_by_cut(JOB, plan, steps["Test cut: set-up 1"], []) is None
    assert set_by_cut(JOB + 1, plan, steps["Test cut: set-up 1"], [cut]) is None  # of another job


def test_cautions_are_new_with_another_machine_and_not_with_what_is_learnt_of_it() -> None:
    plan = planned()
    table = plan.job.table

    def with_table(**changed: object) -> JobPlan:
        job = replace(plan.job, table=replace(table, **changed))  # type: ignore[arg-type]
        return replace(plan, draft=replace(draft_job(plan.job), job=job))

    assert cautions_mark(with_table(height_gauge=0.123)) == cautions_mark(plan)
    assert cautions_mark(with_table(tallest_upright=580.0)) != cautions_mark(plan)
    assert cautions_mark(with_table(speeds=(8000.0, 12000.0))) != cautions_mark(plan)
    assert cautions_mark(replace(plan, cautions=plan.cautions[1:])) != cautions_mark(plan)
