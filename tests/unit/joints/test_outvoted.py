"""Readings of the wood that agree outvote what was only stated of cutter and gauges; one bad reading does not."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from trial_cases import CUTTER, TABLE, WANTED, cut

from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.correction import Correction, correct
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.readings import ReadingKind
from drawerwright.joints.statements import Statement
from drawerwright.joints.table import RouterTable

SAID = {"in doubt": 0.02, "exact": 0.0}
HIGH_BY_LAW = 3.0
"""Roof (mm) of the first cut by the law: 15 mm of wood less a bit height of 2 x 6."""


def shop(doubt: float) -> tuple[Cutter, RouterTable]:
    cutter = replace(CUTTER, mid_depth=Estimate(6.0, doubt), step=Estimate(3.5, doubt))
    gauge = Estimate(0.0, doubt)
    table = replace(TABLE, height_gauge=gauge, fence_gauge=gauge, repeatability=min(doubt, 0.01))
    return cutter, table


def correction(doubt: float, *readings: tuple[str, float | None]) -> Correction:
    cutter, table = shop(doubt)
    return correct(cutter, table, [cut(*readings, cutter=cutter, table=table)], WANTED)


def named(found: Correction) -> tuple[set[str], set[str]]:
    """Readings that are set aside, and statements."""
    aside = found.disagreement
    return {str(one.reading.kind) for one in aside.readings}, {str(one.statement) for one in aside.outvoted}


@pytest.mark.parametrize("doubt", SAID.values(), ids=SAID)
def test_roof_and_play_that_agree_outvote_the_height_gauge(doubt: float) -> None:
    """The bit stands 0.3 mm lower than the gauge shows. By hand: 0.3 mm up, less half the wanted play of 0.15."""
    found = correction(doubt, ("roof", HIGH_BY_LAW + 0.3), ("play", 0.3))
    assert named(found) == (set(), {"height_gauge_offset"})
    assert found.learnt.height_gauge.value == pytest.approx(0.3, abs=0.02)
    assert found.next_cut.height_change == pytest.approx(0.3 - 0.15 / 2, abs=0.02)
    assert found.misfit.value == pytest.approx(-0.3, abs=0.02)


@pytest.mark.parametrize("doubt", SAID.values(), ids=SAID)
def test_play_that_the_roof_does_not_share_is_the_cutters(doubt: float) -> None:
    """The roof is as expected, so the height is; 0.3 mm of play read twice is a mid depth 0.15 mm deeper."""
    found = correction(doubt, ("roof", HIGH_BY_LAW), ("play", 0.3), ("shoulder_gap", 0.3))
    assert named(found) == (set(), {"mid_depth"})
    assert found.learnt.mid_depth.value == pytest.approx(6.15, abs=0.02)
    assert found.next_cut.height_change == pytest.approx(0.3 - 0.15 / 2, abs=0.03)


@pytest.mark.parametrize("doubt", SAID.values(), ids=SAID)
def test_what_only_the_corner_shows_may_be_cutter_or_gauge_and_is_corrected_all_the_same(
    doubt: float,
) -> None:
    found = correction(doubt, ("play", 0.3), ("shoulder_gap", 0.3))
    assert named(found) == (set(), {"mid_depth", "height_gauge_offset"})
    (quarrel,) = found.disagreement.quarrels
    assert found.tells_apart(quarrel) in (ReadingKind.ROOF, ReadingKind.TIP_TO_SLOPE)
    assert found.next_cut.height_change == pytest.approx(0.3 - 0.15 / 2, abs=0.01)
    assert found.next_cut.odds.fits > 0.95


@pytest.mark.parametrize("doubt", SAID.values(), ids=SAID)
def test_one_bad_reading_against_two_good_ones_is_the_bad_one(doubt: float) -> None:
    found = correction(doubt, ("roof", HIGH_BY_LAW + 0.3), ("play", 0.02), ("shoulder_gap", 0.01))
    assert named(found) == ({"roof"}, set())
    without = correction(doubt, ("play", 0.02), ("shoulder_gap", 0.01))
    assert found.next_cut == without.next_cut


@pytest.mark.parametrize("doubt", SAID.values(), ids=SAID)
def test_one_reading_alone_does_not_outvote_and_is_not_outvoted(doubt: float) -> None:
    """A play of 0.3 mm against what is stated: nothing tells which is wrong, and nothing is promised."""
    found = correction(doubt, ("play", 0.3))
    assert named(found) == ({"play"}, {"mid_depth", "height_gauge_offset"})
    assert found.next_cut.odds.fits < 0.1


@pytest.mark.parametrize("doubt", SAID.values(), ids=SAID)
def test_nothing_is_promised_from_a_statement_that_one_of_two_quarrelling_readings_denies(
    doubt: float,
) -> None:
    """Play 0.30 and shoulder gap 0.02 are one length. If the play is right, cutter or gauge is not as stated."""
    found = correction(doubt, ("play", 0.3), ("shoulder_gap", 0.02))
    assert named(found) == ({"play", "shoulder_gap"}, {"mid_depth", "height_gauge_offset"})
    assert found.next_cut.odds.fits < 0.1


def test_a_statement_that_a_third_reading_denies_stands_in_a_quarrel_of_its_own() -> None:
    """No play and a gap at the shoulder are no corner. That the roof speaks against the gauge is another matter."""
    found = correction(0.02, ("play", 0.0), ("shoulder_gap", 0.1), ("roof", HIGH_BY_LAW + 0.3))
    quarrels = [{str(one.item) for one in quarrel} for quarrel in found.disagreement.quarrels]
    assert quarrels == [{"(0, 0)", "(0, 1)"}, {"(0, 2)", "height_gauge_offset"}]


@pytest.mark.parametrize("doubt", SAID.values(), ids=SAID)
def test_fence_readings_that_agree_outvote_the_fence_scale(doubt: float) -> None:
    """By hand: F = (15 + 3.5) / 2 = 9.25; the scale shows 0.3 mm too much, so neck and deepest cut say 8.95."""
    found = correction(doubt, ("deepest_cut", 8.95), ("neck", 15.0 - 8.95), ("play", 0.05))
    assert named(found) == (set(), {"fence_gauge_offset"})
    assert found.learnt.fence_gauge.value == pytest.approx(0.3, abs=0.02)
    assert found.next_cut.fence_flat_change == pytest.approx(0.3, abs=0.02)


def test_what_agrees_within_its_doubts_is_learnt_and_nothing_is_outvoted() -> None:
    """The same cut in a shop that states its doubts as they are: gauge to 0.1 mm, cutter to 0.08 mm."""
    found = correct(CUTTER, TABLE, [cut(("roof", HIGH_BY_LAW + 0.3), ("play", 0.3))], WANTED)
    assert found.disagreement.suspects == ()
    assert found.next_cut.height_change == pytest.approx(0.3 - 0.15 / 2, abs=0.03)


@pytest.mark.parametrize("doubt", [0.01, 0.03, 0.05, 0.08])
@pytest.mark.parametrize("off", [-0.4, 0.2, 0.3, 0.4])
def test_however_sure_the_gauge_is_stated_agreeing_readings_give_the_same_correction(
    doubt: float, off: float
) -> None:
    """Four readings that agree know the height to some 0.02 mm: by them the bit goes to the middle of the play."""
    seat = [("play", off), ("shoulder_gap", off)]
    if off < 0:
        seat = [("stands_proud", -off * math.tan(math.radians(55)))] * 2
    found = correction(doubt, ("roof", HIGH_BY_LAW + off), *seat, ("tip_to_slope", 6.0 - off))
    assert found.next_cut.height_change == pytest.approx(off - 0.15 / 2, abs=0.03)


def test_an_open_question_is_closed_by_the_reading_that_is_asked_for() -> None:
    cutter, table = shop(0.02)
    one = cut(("play", 0.3), ("shoulder_gap", 0.3), ("roof", HIGH_BY_LAW + 0.3), cutter=cutter, table=table)
    found = correct(cutter, table, [one], WANTED)
    assert named(found) == (set(), {"height_gauge_offset"})
    assert not found.disagreement.is_open(Statement.HEIGHT_GAUGE)
