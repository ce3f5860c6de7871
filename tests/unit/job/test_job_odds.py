"""The odds of a job's first cuts: which joints belong together, what the file may say, and the words."""

from __future__ import annotations

import json

import pytest

from drawerwright.basics.errors import FaultyInputError
from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.building import read_job
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.first_cut_odds import job_odds, odds_data
from drawerwright.job.planning.odds_words import corner_words, percent_words

TEXT = """
format: 1
job: odds
cutter: {mid_depth: 5.65 ± 0.05, step: 3.45 ± 0.03, slope: 55 ± 2}
machine:
  router_table:
    height_gauge_offset: 0.05 ± 0.05
    fence_gauge_offset: 0 ± 0.02
    repeatability: 0.03
  calipers: 0.01
stock:
  ash15:
    nominal: 15
    mean: 14.62 ± 0.03
    scatter: 0.04
    sheets: [{length: 2500, width: 1250}]
  birch6:
    nominal: 6
    measured: [[6.0, 6.1], [6.2, 6.1]]
    sheets: [{length: 2500, width: 1250}]
fit: {least_play: 0.02, most_play: 0.12, flushness: 0.08}
banks:
  - name: left
    opening: {width: 400, height: 500, depth: 400}
    fronts: {style: lipped, heights: {equal: 4}, overlay: {sides: 6}}
    box: {all: ash15}
    bottom: {stock: birch6}
boxes:
  - name: tray
    outer: {width: 260, depth: 200, height: 60}
    box: {all: ash15}
"""


@pytest.fixture(scope="module")
def odds():
    return job_odds(draft_job(read_job(TEXT)), tries=4000)


def test_joints_are_counted_by_drawer_bank_and_job(odds) -> None:
    assert [(one.name, one.joints) for one in odds.drawers] == [
        *((f"A{number}", 4) for number in range(1, 5)),
        ("tray", 4),
    ]
    assert [(one.name, one.joints) for one in odds.banks] == [("left", 16)]
    assert odds.whole.joints == 20
    assert [one.name for one in odds.together] == ["left", "odds"]


def test_a_bank_without_joints_has_no_odds() -> None:
    """A bank of one false front beside another has nothing that could come out wrong: no row promises that it fits."""
    text = TEXT.replace(
        "boxes:",
        """\
  - name: blank
    opening: {width: 400, height: 100, depth: 400}
    drawer: false
    fronts: {style: applied, heights: {equal: 1}, overlay: {sides: 6}, stock: ash15}
    box: {all: ash15}
boxes:""",
    )
    found = job_odds(draft_job(read_job(text)), tries=1000)
    assert [one.joints for one in found.banks] == [16, 0]
    assert [one.name for one in found.together] == ["left", "odds"]


def test_more_joints_never_have_better_odds(odds) -> None:
    joint = min(joint.odds.flush for _, joint in odds.corners)
    drawer, bank, whole = odds.drawers[0].odds, odds.banks[0].odds, odds.whole.odds
    assert joint >= drawer.flush >= bank.flush >= whole.flush > 0
    # The fit of a drawer-lock corner is a matter of height alone, which all share.
    assert drawer.fits == bank.fits == whole.fits


def test_what_the_file_says_about_doubt_is_used(odds) -> None:
    job = read_job(TEXT)
    assert job.first_cut(job.cutters[0]).calipers == 0.01
    assert odds.fit == job.fit_range
    assert (job.fit_range.least_play, job.fit_range.most_play, job.fit_range.flushness) == (0.02, 0.12, 0.08)
    corner = odds.corners[0][1].corner
    assert (corner.flat.mean, corner.flat.scatter) == (Estimate(14.62, 0.03), 0.04)
    # A stated mean was not measured with the shop's calipers.
    assert not corner.flat.by_calipers
    shares = {share.what: share for _, joint in odds.corners for share in joint.shares}
    assert "the calipers' zero" not in shares
    assert shares["the thickness of ash15"].of_lip > 0
    # The job sets what is recommended: of 0.02 to 0.12 of play the mark nearest to the middle.
    assert odds.corners[0][1].aim_change == 0.0
    assert odds.corners[0][1].corner.setting.play == pytest.approx(0.05)


def test_a_mean_beside_readings_is_a_fault_of_that_stock() -> None:
    with pytest.raises(FaultyInputError) as caught:
        read_job(TEXT.replace("mean: 14.62 ± 0.03", "mean: 14.62\n    measured: [14.6]"))
    (fault,) = caught.value.faults
    assert "not both" in str(fault)
    assert "ash15" in str(fault)


def test_words_say_odds_doubt_and_what_to_do_first(odds) -> None:
    words = " ".join(corner_words(odds.corners[0][1], LengthStyle()))
    assert words.startswith(
        "The first cut gets both fit and lip right about 22 % of the time: the fit about 33 %"
    )
    assert "as recommended" not in words
    kept = job_odds(draft_job(read_job(f"{TEXT}\nbit_heights: [11.3]\n")), tries=100)
    words = " ".join(corner_words(kept.corners[0][1], LengthStyle()))
    assert "With the bit at 11.25 mm, as recommended, both come out right about 22 % of the time." in words
    assert "Most doubt about the fit comes from the cutter's mid depth" in words
    assert "First: " in words


def test_odds_from_exact_values_alone_are_not_given() -> None:
    exact = TEXT.replace("5.65 ± 0.05", "5.65 ± 0").replace("3.45 ± 0.03", "3.45 ± 0")
    exact = exact.replace("0.05 ± 0.05", "0.05 ± 0").replace("repeatability: 0.03", "repeatability: 0")
    odds = job_odds(draft_job(read_job(exact)), tries=10)
    (words,) = corner_words(odds.corners[0][1], LengthStyle())
    assert "no odds to give" in words


def test_data_holds_distributions_and_adds_up(odds) -> None:
    data = json.loads(json.dumps(odds_data(odds)))
    corner = data["corners"][0]
    for figure in ("misfit", "gap", "stands_proud", "lip"):
        shares = corner[figure]["histogram"]["shares"]
        assert sum(shares) == pytest.approx(1.0, abs=0.001)
        low, middle, high = corner[figure]["quantiles"].values()
        assert low <= middle <= high
    assert corner["gap"]["quantiles"]["5"] == 0.0
    assert sum(doubt["share_of_misfit"] for doubt in corner["doubts"]) == pytest.approx(1.0, abs=0.001)
    assert data["all"]["joints"] == 20


@pytest.mark.parametrize(
    ("share", "words"), [(0.0, "less than 1 %"), (0.456, "about 46 %"), (0.999, "more than 99 %")]
)
def test_odds_are_no_finer_than_they_are_known(share: float, words: str) -> None:
    assert percent_words(share) == words
