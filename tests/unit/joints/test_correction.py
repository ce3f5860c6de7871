"""The next cut, its odds, contradictions, and the next reading worth taking."""

import pytest
from trial_cases import CUTTER, TABLE, WANTED, cut

from drawerwright.joints.correction import correct


def correction(*cuts, wanted=WANTED, cutter=CUTTER, table=TABLE):
    return correct(cutter, table, cuts, wanted)


def named(found):
    return {(one.place[0], str(one.reading.kind)) for one in found.contradictions}


def test_two_readings_of_one_thing_that_disagree_are_equally_suspect():
    """Play and the gap at the shoulder are the same length; 0.30 against 0.02 mm leaves no way to choose."""
    found = correction(cut(("play", 0.30), ("shoulder_gap", 0.02)))
    assert named(found) == {(0, "play"), (0, "shoulder_gap")}
    assert {one.quarrel for one in found.contradictions} == {1}


@pytest.mark.parametrize("sound", [(), (("deepest_cut", 9.3),), (("roof", 3.0),)])
def test_nothing_is_promised_from_the_survivor_of_a_contradiction(sound):
    without = correction(cut(*sound))
    found = correction(cut(("play", 0.30), ("shoulder_gap", 0.02), *sound))
    assert found.next_cut.odds == without.next_cut.odds
    survivor = correction(cut(("shoulder_gap", 0.02), *sound))
    assert survivor.next_cut.odds.fits > 0.9 > found.next_cut.odds.fits


def test_the_same_across_two_cuts():
    """The second cut is dialled 0.1 mm lower, so its play should be 0.1 mm more than that of the first."""
    first = cut(("play", 0.30))
    lower = cut(("play", 0.05), height_shown=type(first.height_shown)(first.height_shown.value - 0.1))
    assert named(correction(first, lower)) == {(0, "play"), (1, "play")}


def test_two_against_one_names_the_one():
    found = correction(cut(("play", 0.30), ("shoulder_gap", 0.31), ("roof", 2.6)))
    assert named(found) == {(0, "roof")}
    found = correction(cut(("play", 0.03)), cut(("play", 0.30), ("shoulder_gap", 0.02)))
    assert named(found) == {(1, "play")}


def test_readings_that_agree_are_not_named():
    found = correction(cut(("play", 0.10), ("shoulder_gap", 0.12), ("stands_proud", 0.0)))
    assert found.contradictions == ()


def test_separate_quarrels_are_told_apart():
    """Height readings quarrel with each other, fence readings with each other."""
    found = correction(cut(("play", 0.4), ("shoulder_gap", 0.02), ("neck", 5.85), ("deepest_cut", 9.4)))
    groups = {}
    for one in found.contradictions:
        groups.setdefault(one.quarrel, set()).add(str(one.reading.kind))
    assert sorted(map(sorted, groups.values())) == [["deepest_cut", "neck"], ["play", "shoulder_gap"]]


def test_two_against_two_names_all_four():
    found = correction(
        cut(("play", 0.30), ("shoulder_gap", 0.02)), cut(("play", 0.02), ("shoulder_gap", 0.30))
    )
    assert len(found.contradictions) == 4
