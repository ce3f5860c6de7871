"""What is not stated is not exact: the usual doubt stands in, is marked, and `± 0` keeps it out."""

from __future__ import annotations

import pytest

from drawerwright.basics import usual
from drawerwright.basics.errors import FaultyInputError
from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.uncertain import Estimate, Origin
from drawerwright.job.file.building import read_job
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.first_cut_odds import job_odds
from drawerwright.job.planning.job_findings import draft_findings
from drawerwright.job.planning.odds_words import card_words, corner_words
from drawerwright.job.test_cuts.correcting import correct_trial, trial_findings
from drawerwright.job.test_cuts.trial_reading import Trial, read_trial
from drawerwright.joints.table import RouterTable

TABLE = "height_gauge_offset: {gauge}, fence_gauge_offset: {gauge}, repeatability: {repeat}"


def job_text(
    mid_depth: str = "5.65", step: str = "3.45", table: str = "", calipers: str = "", scatter: str = ""
) -> str:
    return f"""
format: 1
job: Tray
cutter: {{mid_depth: {mid_depth}, step: {step}, slope: 55}}
machine:
  {calipers or "name: machine"}
  router_table: {{{table}}}
stock:
  ash:
    nominal: 15
    measured: [[14.6, 14.6]]
    {scatter or "grain: length"}
    sheets: [{{length: 2500, width: 1250}}]
boxes:
  - {{name: Tray, outer: {{width: 300, depth: 250, height: 80}}, box: {{all: ash}}}}
"""


EXACT = job_text("5.65 ± 0", "3.45 ± 0", TABLE.format(gauge="0 ± 0", repeat="0"), "calipers: 0", "scatter: 0")


def test_what_says_nothing_has_the_usual_doubt_and_is_marked() -> None:
    job = read_job(job_text())
    assert job.cutters[0].cutter.mid_depth == Estimate(5.65, usual.CUTTER_MEASURE, Origin.ASSUMED)
    assert job.cutters[0].cutter.step == Estimate(3.45, usual.CUTTER_MEASURE, Origin.ASSUMED)
    assert job.cutters[0].cutter.slope == Estimate(55.0, usual.SLOPE, Origin.ASSUMED)
    assert job.table.height_gauge == job.table.fence_gauge == Estimate(0.0, usual.GAUGE, Origin.ASSUMED)
    assert job.table.dialling == Estimate(0.0, usual.REPEATABILITY, Origin.ASSUMED)
    assert job.calipers_zero == Estimate(0.0, usual.CALIPERS_ZERO, Origin.ASSUMED)


def test_a_gauge_with_a_bare_offset_is_known_no_better() -> None:
    job = read_job(job_text(table="height_gauge_offset: 0.05"))
    assert job.table.height_gauge == Estimate(0.05, usual.GAUGE, Origin.ASSUMED)


def test_zero_says_exact() -> None:
    job = read_job(EXACT)
    for known in (
        job.cutters[0].cutter.mid_depth,
        job.cutters[0].cutter.step,
        job.table.height_gauge,
        job.table.fence_gauge,
        job.table.dialling,
        job.calipers_zero,
    ):
        assert (known.uncertainty, known.origin) == (0.0, Origin.STATED)


@pytest.mark.parametrize("written", ["5.65 ± 0", "5.65 +- 0 mm", "{value: 5.65, uncertainty: 0}"])
def test_every_way_of_writing_can_say_exact(written: str) -> None:
    assert read_job(job_text(written)).cutters[0].cutter.mid_depth == Estimate(5.65, 0.0)


def test_a_doubt_below_zero_is_refused_where_it_stands() -> None:
    with pytest.raises(FaultyInputError) as caught:
        read_job(job_text("5.65 ± -0.1"))
    (fault,) = caught.value.faults
    assert (fault.field, "zero or more" in fault.message) == ("cutter.mid_depth", True)


def test_first_cut_odds_exist_wherever_not_all_is_exact() -> None:
    ((_, nothing_said),) = job_odds(draft_job(read_job(job_text())), tries=2000).corners
    assert nothing_said.is_judged
    assert nothing_said.aimed.fits < 0.6
    ((_, all_exact),) = job_odds(draft_job(read_job(EXACT)), tries=10).corners
    assert not all_exact.is_judged


def test_the_first_advice_is_to_say_how_well_it_is_known() -> None:
    ((_, odds),) = job_odds(draft_job(read_job(job_text(step="3.45 ± 0.02"))), tries=2000).corners
    for words in (corner_words(odds, LengthStyle()), card_words(odds, RouterTable(), LengthStyle())):
        advice = next(line for line in words if line.startswith("First"))
        assert "the cutter's mid depth ± 0.08 mm" in advice
        assert "the height gauge's offset ± 0.1 mm" in advice
        assert "the cutter's step" not in advice
    stated = job_text(
        "5.65 ± 0.05", "3.45 ± 0.02", TABLE.format(gauge="0 ± 0.05", repeat="0.02"), "calipers: 0.02"
    )
    ((_, odds),) = job_odds(draft_job(read_job(stated)), tries=2000).corners
    assert "assumed" not in " ".join(corner_words(odds, LengthStyle()))


def test_a_job_says_what_it_only_assumes() -> None:
    """Each example is of the measures it is about: a mid depth as a gauge's error would ruin the job."""
    cutter, gauges = (
        one for one in draft_findings(draft_job(read_job(job_text()))) if one.code == "uncertainty-assumed"
    )
    assert "the mid depth ± 0.08 mm" in cutter.text
    assert "5.65 ± 0.05" in cutter.remedy
    for words in ("the fence scale ± 0.1 mm", "dialling in ± 0.03 mm", "zero ± 0.02 mm"):
        assert words in gauges.text
    assert "0 ± 0.05" in gauges.remedy
    assert gauges.where == "gauges and calipers"
    assert "uncertainty-assumed" not in [one.code for one in draft_findings(draft_job(read_job(EXACT)))]


def trial(cutter: str, machine: str, cut: str, more: str = "") -> Trial:
    return read_trial(f"""
format: 1
trial: t
cutter: {{{cutter}}}
machine: {{router_table: {{{machine}}}}}
wanted: {{flat: 14.6, upright: 14.6}}
{more}
cuts:
  - {{height_shown: 11.30, fence_shown: 9.0, {cut}}}
""")


def test_readings_and_thicknesses_without_a_doubt_have_the_calipers() -> None:
    cut = "flat: 14.62 ± 0, readings: {roof: 3.3, play: 0.1 ± 0, shoulder_gap: none}"
    (plain,) = trial("mid_depth: 5.65, step: 3.45", "", cut).cuts
    assert plain.flat_thickness == Estimate(14.62, 0.0)
    assert plain.upright_thickness == Estimate(14.6, usual.CALIPER_READING, Origin.ASSUMED)
    assert [one.uncertainty for one in plain.readings] == [usual.CALIPER_READING, 0.0, usual.EYE]
    (own,) = trial("mid_depth: 5.65, step: 3.45", "", cut, "calipers: 0.01").cuts
    assert own.upright_thickness == Estimate(14.6, 0.01)
    assert [one.uncertainty for one in own.readings] == [0.01, 0.0, usual.EYE]


def test_a_trial_says_what_it_assumes_and_what_no_cut_can_change() -> None:
    codes = [
        one.code for one in trial_findings(trial("mid_depth: 5.65, step: 3.45", "", "readings: {roof: 3.3}"))
    ]
    assert codes == ["uncertainty-assumed"] * 2
    exact = trial(
        "mid_depth: 5.65 ± 0, step: 3.45 ± 0",
        TABLE.format(gauge="0 ± 0", repeat="0"),
        "readings: {roof: 3.3}",
    )
    found = trial_findings(exact)
    assert {finding.code for finding in found} == {"stated-as-exact"}
    ends = [finding.text.split(": ")[1] for finding in found]
    assert ends == ["the mid depth, the step.", "the height gauge, the fence scale, dialling in."]


def test_what_was_learnt_is_marked_and_what_nothing_bears_on_is_not() -> None:
    learnt = correct_trial(
        trial("mid_depth: 5.65, step: 3.45", "", "readings: {roof: 3.3, play: 0.05}")
    ).learnt
    assert (learnt.mid_depth.origin, learnt.height_gauge.origin) == (Origin.LEARNT, Origin.LEARNT)
    assert learnt.step == Estimate(3.45, usual.CUTTER_MEASURE, Origin.ASSUMED)
