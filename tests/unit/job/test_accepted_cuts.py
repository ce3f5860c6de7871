"""What a job says once its test cuts are accepted: the next setting, with the odds of the next cut."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import TYPE_CHECKING, cast

import numpy as np
import pytest

from drawerwright.job.file.building import read_job
from drawerwright.job.file.editing import set_value
from drawerwright.job.papers.bench_cards import bench_cards, bench_corners
from drawerwright.job.planning.corner_strengths import job_strengths
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.first_cut_odds import corner_odds
from drawerwright.job.planning.job_findings import draft_findings
from drawerwright.job.planning.odds_words import cut_words, dialled_in_again_words, percent_words
from drawerwright.job.test_cuts.correcting import correct_trial
from drawerwright.job.test_cuts.dialled_again import odds_dialled_in_again
from drawerwright.job.test_cuts.lessons import with_lessons
from drawerwright.job.test_cuts.plain_trial import PlainTrial
from drawerwright.job.test_cuts.trial_reading import Trial, open_trial
from drawerwright.joints.correction import Correction
from drawerwright.joints.learning import learn
from drawerwright.joints.readings import misfit

if TYPE_CHECKING:
    from drawerwright.job.planning.job_plan import JobPlan

EXAMPLES = Path(__file__).parents[3] / "examples"
JOB = (EXAMPLES / "music-school.yaml").read_text("utf-8")
TRIES = 200_000


def accepted(cuts: int) -> tuple[Trial, Correction, str]:
    """The first so many test cuts of the example, and its job's text with what they taught."""
    trial = open_trial(EXAMPLES / "test-cut.yaml")
    trial = replace(trial, cuts=trial.cuts[:cuts])
    correction = correct_trial(trial)
    return trial, correction, with_lessons(JOB, trial, correction)


@pytest.mark.parametrize("cuts", [1, 2])
def test_the_gauges_of_the_job_show_the_next_setting(cuts: int) -> None:
    """After the second cut that is to leave the machine as it stands."""
    _, correction, text = accepted(cuts)
    job = read_job(text)
    after = correction.next_cut
    assert after.leaves_all == (cuts == 2)
    front = draft_job(job).corners[0]
    assert front.name == "front corner, lip 7.5 mm"
    shown = (
        job.table.height_reading(front.setting.bit_height),
        job.table.fence_reading(front.setting.fence_flat),
        job.table.fence_reading(front.setting.fence_upright),
    )
    assert shown == pytest.approx(
        (after.height_shown, after.fence_flat_shown, after.fence_upright_shown), abs=1e-4
    )


def test_the_odds_are_those_of_dialling_in_again_with_all_that_the_cuts_know() -> None:
    """Shops drawn from everything that is left in doubt together, each dialling the setting in once more."""
    trial, _, text = accepted(2)
    planned = replace(trial.cuts[-1], readings=())
    known = learn(trial.cutter, trial.table, (*trial.cuts, planned))
    row, fit = known.row(2, misfit), trial.wanted.fit
    draws = np.random.default_rng(3).multivariate_normal(known.mean, known.covariance, TRIES, method="svd")
    misfits = misfit(known.setting(2)) + (draws - known.mean) @ row
    fits = float(((misfits >= -fit.most_play) & (misfits <= -fit.least_play)).mean())
    draft = draft_job(read_job(text))
    odds = corner_odds(draft, draft.corners[0])
    assert odds.is_next
    assert odds.odds.fits == pytest.approx(fits, abs=0.02)
    # Taken one by one, mid depth and gauge would be in doubt as if no cut had seen them together.
    apart = draft_job(read_job(set_value(text, ("learnt",), None)))
    assert corner_odds(apart, apart.corners[0]).odds.fits < fits - 0.1


@pytest.mark.parametrize("cuts", [1, 2])
def test_the_odds_that_acceptance_will_give_are_said_before_it(cuts: int) -> None:
    """The next cut stands partly as it was read, so its odds are better; nobody is to take the rest for a loss."""
    trial, correction, text = accepted(cuts)
    before, after = draft_job(read_job(JOB)), draft_job(read_job(text))
    said = odds_dialled_in_again(before.job, before.corners[0], trial, correction)
    found = corner_odds(after, after.corners[0])
    assert said.both == pytest.approx(found.odds.both, abs=0.001)
    assert said.both < correction.next_cut.odds.both
    words = dialled_in_again_words(said, trial.cutter)
    assert percent_words(found.odds.both) in words
    assert cut_words(found, "").startswith("Dialled in again, the next cut gets both")


def test_a_next_test_cut_builds_on_what_the_accepted_ones_knew_together() -> None:
    trial, _, text = accepted(2)
    table = read_job(text).cutters[0].table
    again = replace(trial.cuts[-1], readings=())
    known = learn(read_job(text).cutters[0].cutter, table, (again,)).estimate(0, misfit)
    together = learn(trial.cutter, trial.table, (*trial.cuts, again)).estimate(2, misfit)
    assert known.value == pytest.approx(together.value, abs=0.003)
    assert known.uncertainty == pytest.approx(together.uncertainty, abs=0.003)


def test_what_was_settled_is_out_of_force_when_the_cutter_is_another() -> None:
    _, _, text = accepted(2)
    other = read_job(set_value(text, ("cutter", "mid_depth"), "5.66 ± 0.05"))
    assert other.cutters[0].table.settled is None
    assert "test-cuts-out-of-force" in [finding.code for finding in draft_findings(draft_job(other))]
    assert "test-cuts-out-of-force" not in [f.code for f in draft_findings(draft_job(read_job(text)))]
    assert not corner_odds(draft_job(other), draft_job(other).corners[0]).is_next


def test_what_was_settled_gives_way_where_it_no_longer_has_the_wanted_play() -> None:
    _, _, text = accepted(2)
    job = read_job(set_value(text, ("fit",), {"least_play": 0.06, "most_play": 0.15}))
    setting = draft_job(job).corners[0].setting
    assert job.table.height_reading(setting.bit_height) == pytest.approx(11.1)
    assert 0.06 <= (setting.play or 0) <= 0.15


TRAYS = """\
format: 1
job: Reed trays
stock:
  poplar: {nominal: 15, measured: [15.2], sheets: [{length: 2400, width: 1200}]}
boxes:
  - {name: Tray, joint: {kind: rebate, depth: 9}, outer: {width: 420, depth: 310, height: 130}, box: {all: poplar}}
"""
LEARNT = "learnt_joints:\n  - {joint: {kind: rebate, depth: 9}, off: {bit_height: 0.4 ± 0.02}}\n"


def test_what_a_joint_without_a_cutter_has_learnt_counts_for_the_next_cut(tmp_path: Path) -> None:
    """Set to 9 with 6.4 left of 15.2, the bit cuts 8.8: 0.2 more is to be set by this cut, 0.4 by those before."""
    trial = tmp_path / "trial.yaml"
    trial.write_text(
        "format: 1\ntrial: again\njob: job.yaml\nwanted: {corner: {drawer: Tray}}\n"
        "cuts:\n  - {settings: {bit_height: 9, fence: 15.2}, readings: {left: 6.4}}\n",
        "utf-8",
    )
    found = []
    for text in (TRAYS, TRAYS + LEARNT):
        (tmp_path / "job.yaml").write_text(text, "utf-8")
        read = open_trial(trial)
        assert isinstance(read, PlainTrial)
        found.append(read.answer.dial["bit_height"])
    assert found[0] == pytest.approx(9.2)
    assert found[0] + 0.05 < found[1] < 9.4


def test_a_card_says_what_accepted_cuts_have_taught() -> None:
    draft = draft_job(read_job(TRAYS + LEARNT))
    strengths = job_strengths(draft)
    plan = cast("JobPlan", SimpleNamespace(draft=draft, job=draft.job, findings=(), strengths=strengths))
    (card,) = bench_cards(plan, {})
    told = {str(words): draft.job.style.say(small) for words, _value, small in card.values}
    assert [small for small in told.values() if small] == ["by accepted test cuts: set 9.40 mm"]


def test_what_differs_with_the_height_says_of_which_drawers_it_is() -> None:
    """Nine fingers of 10 and ten gaps of 10 fill 190 of 200: 5 stay at either end; of 178 seven and eight leave 14."""
    made = "joint: {kind: finger, finger: 10}, box: {all: poplar}"
    boxes = [
        f"  - {{name: T{height}, outer: {{width: 420, depth: 310, height: {height}}}, {made}}}\n"
        for height in (200, 178)
    ]
    (bench,) = bench_corners(draft_job(read_job(TRAYS.split("boxes:")[0] + "boxes:\n" + "".join(boxes))))
    ends = {whose: [each.value for each in figures if each.name == "end"] for whose, figures in bench.figures}
    assert ends == {"T200, 200.0 mm high": [5.0], "T178, 178.0 mm high": [14.0]}
    assert "end" not in {figure.name for figure in bench.shared_figures}
    odds = [line for line in bench.lines if "Odds" in line]
    assert [line.split(":")[0] for line in odds] == list(ends)
