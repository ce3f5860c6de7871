"""The job at a glance: the one thing to do next over the states of a job, what is known, and the sign of each topic.

The order of the questions is our own choice, written down in `next_step`.
"""

from collections.abc import Collection, Sequence

import pytest

from drawerwright.basics.findings import Severity
from drawerwright.job.file.building import read_job
from drawerwright.job.file.editing import set_value
from drawerwright.job.file.entry_types import Given
from drawerwright.job.file.reading import entries_of
from drawerwright.job.glance.at_a_glance import Glance, JobFacts, at_a_glance
from drawerwright.job.glance.known_rows import known_rows
from drawerwright.job.glance.next_step import Asked
from drawerwright.job.glance.topics import Sign, Topic
from drawerwright.job.glance.tried_cuts import cuts_of_corners
from drawerwright.job.planning.days import plan_days
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.job_findings import draft_findings
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.job.planning.shown_job import shown_job
from drawerwright.job.run_list import step_keys
from drawerwright.job.test_cuts.bench import Bench, CutMade, bench_of
from drawerwright.store.records import ShelfEntry, ShelfKind
from drawerwright.web.reader.preferences import Preferences

MEASURED = """
format: 1
job: Rosin cupboard
cutter: {name: small cutter, mid_depth: 5.65 ± 0.05, step: 3.45 ± 0.03, diameter: 44, max_speed: 16000}
machine:
  router_table: {speeds: [12000], height_gauge_offset: 0 ± 0.05, fence_gauge_offset: 0 ± 0.05, repeatability: 0.03}
  calipers: 0.02
stock:
  ash15: {nominal: 15, measured: [[14.6, 14.62]], sheets: [{length: 1200, width: 600, price: 20}]}
  ply6: {nominal: 6, measured: [[6.0, 6.02]], sheets: [{length: 1200, width: 900, price: 9}]}
boxes:
  - name: tray
    count: 2
    outer: {width: 300, depth: 250, height: 90}
    box: {all: ash15}
    bottom: {style: captured, stock: ply6, groove_height: 10}
"""
JOB = 1


def plans_of(text: str) -> tuple[JobPlan, ...]:
    job = read_job(text)
    return plan_days(job, time_limit=1) if job.days else (plan_job(job, time_limit=1),)


def seen(
    text: str,
    *,
    shelf: Sequence[ShelfEntry] = (),
    ticked: Collection[str] = (),
    plans: tuple[JobPlan, ...] | None = None,
    no_plan: str = "",
) -> Glance:
    """A job as its first page sees it."""
    data = entries_of(text)
    shown = shown_job(text)
    if shown.draft is None:
        return at_a_glance(JobFacts(data, shown))
    made = plans_of(text) if plans is None else plans
    cuts = cuts_of_corners(JOB, shown.draft, shelf)
    return at_a_glance(JobFacts(data, shown, made, no_plan, cuts, ticked))


def bench(shelf: Sequence[ShelfEntry] = ()) -> Bench:
    job = read_job(MEASURED)
    draft = draft_job(job)
    return bench_of(JOB, job, draft, draft.corners[0], shelf)


def cut(**readings: float) -> list[ShelfEntry]:
    """A test cut at the recommended setting in pieces as thick as the stock, with what was read on it."""
    at = bench()
    sizes = {**at.dial(None), "flat": 14.61, "upright": 14.61}
    made = CutMade(*({name: Given(value) for name, value in all.items()} for all in (sizes, readings)))
    return [ShelfEntry(1, ShelfKind.TRIAL_CUT, "first", at.cut_text(made), 1, "2026-01-01")]


@pytest.fixture(scope="module")
def planned() -> tuple[JobPlan, ...]:
    return plans_of(MEASURED)


def changed(*changes: tuple[str, str]) -> str:
    text = MEASURED
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return text


UNMEASURED_STOCK = ("measured: [[6.0, 6.02]], ", "")
UNMEASURED_CUTTER = ("mid_depth: 5.65 ± 0.05", "mid_depth: 5.65")


def test_a_fault_goes_before_everything() -> None:
    found = seen(changed(("width: 300", "width: wide"), UNMEASURED_STOCK))
    assert found.next.asked is Asked.FAULT
    assert found.next.field == "boxes[1].outer.width"
    assert "boxes[1].outer.width" in found.next.words
    assert (found.signs[Topic.DRAWERS], found.signs[Topic.CUTTER]) == (Sign.STOP, Sign.OPEN)


def test_a_stop_goes_before_what_is_not_measured() -> None:
    found = seen(changed(("groove_height: 10", "groove_height: 88"), UNMEASURED_STOCK), plans=())
    assert found.next.asked is Asked.STOP
    assert found.next.entry == ("boxes", 0, "bottom", "groove_height")
    assert found.next.words.startswith("settle tray 1, tray 2: the groove would lie")
    assert found.signs[Topic.DRAWERS] is Sign.STOP


def test_no_plan_leads_to_the_sheets() -> None:
    found = seen(MEASURED, plans=(), no_plan="not enough sheets on hand")
    assert (found.next.asked, found.next.topic) == (Asked.NO_PLAN, Topic.SHEETS)
    assert found.signs[Topic.SHEETS] is Sign.STOP


def test_the_cutter_is_measured_before_the_stock() -> None:
    found = seen(changed(UNMEASURED_CUTTER, UNMEASURED_STOCK), plans=())
    assert found.next.asked is Asked.CUTTER
    assert found.next.entry == ("cutter", "mid_depth")
    assert found.signs[Topic.CUTTER] is Sign.OPEN


def test_a_cutter_without_a_name_is_called_in_the_readers_words() -> None:
    """In its row and in what is found about it the reader sees a word of theirs, not the entry of the file."""
    draft = draft_job(read_job(changed(("name: small cutter, ", ""), UNMEASURED_CUTTER)))
    (row,) = (row for row in known_rows(draft, ()) if row.topic is Topic.CUTTER)
    german = Preferences(language="de")
    assert german.say(row.name) == "Fräser"
    assert "Fräser" in {german.say(found.where) for found in draft_findings(draft)}


def test_stock_that_is_not_measured_is_asked_for_with_what_rests_on_it() -> None:
    found = seen(changed(UNMEASURED_STOCK), plans=())
    assert found.next.asked is Asked.STOCK
    assert found.next.words == "measure ply6 with calipers. Grooves and bottoms rest on it."
    assert found.next.entry == ("stock", "ply6", "measured")
    assert (found.signs[Topic.STOCK], found.signs[Topic.CORNER]) == (Sign.DOUBTFUL, Sign.KNOWN)
    ash = seen(changed(("measured: [[14.6, 14.62]], ", "")), plans=())
    assert ash.next.words == "measure ash15 with calipers. Settings and part lengths rest on it."
    assert ash.signs[Topic.CORNER] is Sign.DOUBTFUL


def test_with_all_measured_a_test_cut_is_next(planned: tuple[JobPlan, ...]) -> None:
    found = seen(MEASURED, plans=planned)
    assert (found.next.asked, found.next.topic) == (Asked.TEST_CUT, Topic.TEST_CUT)
    assert found.signs[Topic.TEST_CUT] is Sign.OPEN
    assert found.signs[Topic.SHEETS] is Sign.KNOWN


def test_a_test_cut_that_is_off_asks_for_a_correction(planned: tuple[JobPlan, ...]) -> None:
    shelf = cut(play=0.3)
    found = seen(MEASURED, plans=planned, shelf=shelf)
    assert (found.next.asked, found.next.topic) == (Asked.CORRECTION, Topic.TEST_CUT)
    kept = bench(shelf)
    height = kept.dial(kept.correction())["height_shown"]
    assert f"height gauge {height:.2f} mm" in found.next.words
    assert found.next.corner == kept.token
    assert found.signs[Topic.TEST_CUT] is Sign.DOUBTFUL
    (gauges,) = found.gauges
    assert gauges.height == pytest.approx(height, abs=5e-4), "one figure for one gauge"
    assert found.is_next_cut
    assert found.together is None, "those are the odds of the first cut"
    begun = seen(MEASURED, plans=planned, shelf=shelf, ticked=step_keys(planned[0])[:3])
    assert begun.next.asked is Asked.CORRECTION


def test_readings_that_contradict_what_is_stated_ask_to_look_again(planned: tuple[JobPlan, ...]) -> None:
    found = seen(MEASURED, plans=planned, shelf=cut(play=0.6))
    assert found.next.asked is Asked.CORRECTION
    assert found.next.words.startswith("look at the test cut again")


def test_after_a_test_cut_that_fits_its_lesson_is_kept_and_then_the_run_begins(
    planned: tuple[JobPlan, ...],
) -> None:
    setting = bench().corner.setting
    shelf = cut(roof=setting.roof, neck=setting.neck)
    found = seen(MEASURED, plans=planned, shelf=shelf)
    assert (found.next.asked, found.signs[Topic.TEST_CUT]) == (Asked.LESSON, Sign.KNOWN)
    begun = seen(MEASURED, plans=planned, shelf=shelf, ticked=step_keys(planned[0])[:1])
    assert begun.next.asked is Asked.RUN, "what is cut goes before what is written down"
    kept = bench(shelf)
    correction = kept.correction()
    assert correction is not None
    taught, _entries = kept.taught(MEASURED, correction)
    after = seen(taught)
    assert after.next.asked is Asked.RUN
    steps = planned[0].run.steps
    assert after.next.words == f"begin the run. Step 1 of {len(steps)}: {steps[0].title}."
    assert after.signs[Topic.TEST_CUT] is Sign.KNOWN
    assert seen(taught, plans=()).next.asked is Asked.PLANNING, "only the plan is missing"


def test_a_warning_is_read_before_the_run_begins_but_stops_nobody() -> None:
    """A groove that takes away more than half of the side warns; MEASURED without test cuts, and with one kept."""
    shelf = cut(roof=bench().corner.setting.roof, neck=bench().corner.setting.neck)
    kept = bench(shelf)
    correction = kept.correction()
    assert correction is not None
    taught, _entries = kept.taught(
        changed(("groove_height: 10", "groove_depth: 8, groove_height: 10")), correction
    )
    found = seen(taught)
    warnings = [one for one in found.findings if one.group.severity is Severity.WARNING]
    assert len(warnings) == 1
    assert found.next.asked is Asked.RUN
    assert found.next.words.startswith(
        "read 1 warning among the findings and decide about it; then begin the run."
    )
    assert "warning" not in seen(taught, ticked=step_keys(plans_of(taught)[0])[:1]).next.words


def test_once_the_run_is_begun_its_next_step_is_next_whatever_could_be_measured(
    planned: tuple[JobPlan, ...],
) -> None:
    keys = step_keys(planned[0])
    found = seen(MEASURED, plans=planned, ticked=[keys[0], keys[2]])
    assert found.next.asked is Asked.RUN
    assert (found.next.step, found.next.day) == (2, None)
    assert found.next.words == f"step 2 of {len(keys)}: {planned[0].run.steps[1].title}."


def test_the_end_of_the_run_is_the_end(planned: tuple[JobPlan, ...]) -> None:
    found = seen(MEASURED, plans=planned, ticked=step_keys(planned[0]))
    assert (found.next.asked, found.signs[Topic.RUN]) == (Asked.DONE, Sign.KNOWN)


def test_a_stop_after_the_end_is_still_said(planned: tuple[JobPlan, ...]) -> None:
    text = changed(("groove_height: 10", "groove_height: 88"))
    assert seen(text, ticked=step_keys(planned[0])).next.asked is Asked.STOP


def test_of_a_job_that_is_split_the_days_follow_each_other() -> None:
    text = set_value(MEASURED, ("days",), [["tray 1"], ["tray 2"]])
    plans = plans_of(text)
    found = seen(text, plans=plans, ticked=step_keys(plans[0], 1))
    assert (found.next.asked, found.next.step, found.next.day) == (Asked.RUN, 1, 2)
    assert found.run is not None
    assert found.run.count == sum(len(plan.run.steps) for plan in plans)
    assert sum(kind.minutes for kind in found.work) == pytest.approx(
        sum(plan.run.effort.minutes for plan in plans)
    )


def test_sheets_work_and_odds_come_with_the_plan(planned: tuple[JobPlan, ...]) -> None:
    before, after = seen(MEASURED, plans=()), seen(MEASURED, plans=planned)
    assert (before.sheets, before.work, before.together) == ((), (), None)
    assert [gauges.height for gauges in before.gauges] == [gauges.height for gauges in after.gauges] != []
    assert [(line.stock, line.count) for line in after.sheets] == [("ash15", 1), ("ply6", 1)]
    assert after.cost == 29
    assert after.is_proven
    assert after.minutes == pytest.approx(planned[0].run.effort.minutes)
    assert after.together == planned[0].odds.whole


def test_the_gauges_show_what_the_set_ups_show(planned: tuple[JobPlan, ...]) -> None:
    (gauges,) = seen(MEASURED, plans=planned).gauges
    setups = planned[0].run.setups
    assert {round(setup.height_reading, 3) for setup in setups} == {gauges.height}
    assert [(setup.number, round(setup.fence_reading, 3)) for setup in setups] == list(
        zip(gauges.setups, gauges.fences, strict=True)
    )
    (unplanned,) = seen(MEASURED, plans=()).gauges
    assert (unplanned.setups, set(unplanned.fences)) == ((), set(gauges.fences))


def test_two_trays_with_one_text_are_one_finding() -> None:
    found = seen(changed(("groove_height: 10", "groove_height: 88")), plans=())
    (outside,) = [one for one in found.findings if one.group.finding.code == "groove-outside"]
    assert (outside.group.where, outside.topic) == ("tray 1, tray 2", Topic.DRAWERS)
    assert [one.number for one in found.findings] == list(range(1, len(found.findings) + 1))


def test_what_is_known_stands_row_by_row() -> None:
    found = seen(changed(UNMEASURED_STOCK), plans=())
    assert [(row.name, str(row.sign), row.words) for row in found.rows] == [
        ("small cutter", "known", "mid depth 5.65 ± 0.05, step 3.45 ± 0.03 mm"),
        ("ash15", "known", "14.61 mm, 2 readings, on 1 sheet"),
        ("ply6", "doubtful", "not measured, 6.00 mm assumed"),
        ("Gauges", "known", "height 0 ± 0.05 mm, fence 0 ± 0.05 mm"),
        ("Test cut", "open", "none yet"),
    ]


def test_a_doubt_that_was_given_stands_where_another_is_missing() -> None:
    row = seen(changed(("step: 3.45 ± 0.03", "step: 3.45")), plans=()).rows[0]
    assert row.words == "mid depth 5.65 ± 0.05, step 3.45 mm; no uncertainty given for the step"


@pytest.mark.usefixtures("screwed_butt_known")
def test_a_job_without_a_cutter_s_corner_asks_for_no_test_cut() -> None:
    text = changed(("    box: {all: ash15}\n", "    box: {all: ash15}\n    joint: screwed-butt\n"))
    found = seen(text)
    assert found.next.asked is Asked.RUN
    assert found.gauges == ()
