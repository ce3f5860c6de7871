"""The kerf from a strip before and after some cuts, and what it changes."""

from __future__ import annotations

import pytest

from drawerwright.basics.errors import FaultyInputError, InvalidValueError
from drawerwright.job.file.building import read_job
from drawerwright.job.planning.job_plan import plan_job
from drawerwright.sheets.kerf_test import KerfTest, lost_to
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize

JOB = """
format: 1
job: Seed trays
cutter: {mid_depth: 5.8 ± 0.05, step: 3.6 ± 0.03}
machine: {saw: SAW, sacrificial_strip: {width: 12}}
stock: {ash: {nominal: 14, measured: [13.9, 14.0], sheets: [{length: 1600, width: 900}]}}
boxes:
  - {name: tray, count: 3, outer: {width: 320, depth: 240, height: 70}, box: {all: ash}}
"""


@pytest.mark.parametrize("kerf", [1.8, 2.2, 3.17, 4.4])
@pytest.mark.parametrize("cuts", [1, 5, 12])
def test_a_strip_that_is_sawn_gives_the_blade_again(kerf: float, cuts: int) -> None:
    """Sawn cut by cut: each piece as wide as it comes, the dust gone; all pieces measured one by one."""
    rest, pieces = 160.0, []
    for number in range(cuts):
        width = 4.0 + number / 3
        pieces.append(width)
        rest -= width + kerf
    test = KerfTest(160.0, round(sum(pieces) + rest, 2), cuts)
    assert test.kerf == pytest.approx(kerf, abs=0.0051)
    assert lost_to(cuts, test.kerf) == pytest.approx(160.0 - test.after, abs=0.0051 * cuts)


def test_a_worked_example() -> None:
    """By hand: 120.00 less 104.15 is 15.85, a fifth of it 3.17."""
    assert KerfTest(120.0, 104.15, 5).kerf == 3.17


def test_more_cuts_make_the_kerf_surer() -> None:
    few, many = KerfTest(120.0, 114.0, 2), KerfTest(120.0, 90.0, 10)
    assert few.kerf == many.kerf == 3.0
    assert many.uncertainty == pytest.approx(few.uncertainty / 5)


@pytest.mark.parametrize(
    ("before", "after", "cuts", "text"),
    [
        (100.0, 100.0, 5, "no less than 100.00 mm before"),
        (100.0, 101.0, 5, "101.00 mm after"),
        (100.0, 50.0, 5, "more than any blade takes"),
    ],
)
def test_readings_that_cannot_be(before: float, after: float, cuts: int, text: str) -> None:
    with pytest.raises(InvalidValueError, match=text):
        KerfTest(before, after, cuts)


def test_a_job_counts_with_the_measured_kerf() -> None:
    job = read_job(JOB.replace("SAW", "{kerf: 3, kerf_test: {before: 120, after: 104.15}}"))
    assert job.saw.kerf == 3.17
    assert job.saw.kerf_test == KerfTest(120.0, 104.15, 5)
    plan = plan_job(job, time_limit=0.1)
    dust = {
        round(min(cut.x1 - cut.x0, cut.y1 - cut.y0), 3)
        for layout in plan.stocks[0].sheets.layouts
        for cut in layout.cuts
    }
    assert 3.17 in dust
    assert max(dust) == 3.17
    assert not any("kerf" in step.title for step in plan.run.steps)


def test_a_kerf_that_was_not_measured_is_a_step() -> None:
    plan = plan_job(read_job(JOB.replace("SAW", "{kerf: 2.6}")), time_limit=0.1)
    first = plan.run.steps[0]
    assert first.title == "Measure the kerf"
    assert "13.00 mm narrower" in first.lines[-1]


@pytest.mark.parametrize(
    ("saw", "field"),
    [
        ("{kerf_test: {before: 120}}", "machine.saw.kerf_test.after"),
        ("{kerf_test: {after: 104}}", "machine.saw.kerf_test.before"),
        ("{kerf_test: {before: 104, after: 120}}", "machine.saw.kerf_test.after"),
        ("{kerf_test: {before: 120, after: 104, cuts: 0}}", "machine.saw.kerf_test.cuts"),
    ],
)
def test_faults_stand_at_their_field(saw: str, field: str) -> None:
    with pytest.raises(FaultyInputError) as error:
        read_job(JOB.replace("SAW", saw))
    assert [fault.field for fault in error.value.faults] == [field]


def test_only_new_sheets_are_trimmed() -> None:
    saw = Saw(3.0, 6.0)
    assert saw.trimmed(SheetSize("new", 2500, 1250)) == (2488, 1238)
    assert saw.trimmed(SheetSize("old", 1180, 420, is_offcut=True)) == (1180, 420)
