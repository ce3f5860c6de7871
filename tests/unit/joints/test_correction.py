"""The next cut, its odds, contradictions, and the next reading worth taking."""

import math
from dataclasses import replace

import numpy as np
import pytest
from trial_cases import CUTTER, TABLE, WANTED, cut, taken

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.correction import correct, plan_next
from drawerwright.joints.joint import joint_of
from drawerwright.joints.setting import FenceRule


def correction(*cuts, wanted=WANTED, cutter=CUTTER, table=TABLE):
    return correct(cutter, table, cuts, wanted)


def named(found):
    return {(one.place[0], str(one.reading.kind)) for one in found.disagreement.readings}


def test_two_readings_of_one_thing_that_disagree_are_equally_suspect():
    """Play and the gap at the shoulder are the same length; 0.30 against 0.02 mm leaves no way to choose."""
    found = correction(cut(("play", 0.30), ("shoulder_gap", 0.02)))
    assert named(found) == {(0, "play"), (0, "shoulder_gap")}
    assert {one.quarrel for one in found.disagreement.readings} == {1}


@pytest.mark.parametrize("sound", [(), (("deepest_cut", 9.3),), (("roof", 3.0),)])
def test_nothing_is_promised_from_the_survivor_of_a_contradiction(sound):
    without = correction(cut(*sound))
    found = correction(cut(("play", 0.30), ("shoulder_gap", 0.02), *sound))
    assert found.next_cut.odds == without.next_cut.odds
    survivor = correction(cut(("shoulder_gap", 0.02), *sound))
    assert survivor.next_cut.odds.fits > 0.9 > found.next_cut.odds.fits


def test_what_was_known_before_does_not_decide_between_two_readings():
    """A cutter and a block known to 0.02 mm make 0.30 mm of play unlikely by themselves, but a cutter can be
    measured wrong as well: the play is one word, the gap the other."""
    sure = replace(CUTTER, mid_depth=Estimate(6.0, 0.02))
    one = cut(("play", 0.30), ("shoulder_gap", 0.02), cutter=sure, by_block=True)
    found = correction(one, cutter=sure)
    assert named(found) == {(0, "play"), (0, "shoulder_gap")}


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
    assert found.disagreement.suspects == ()


def test_separate_quarrels_are_told_apart():
    """Height readings quarrel with each other, fence readings with each other."""
    found = correction(cut(("play", 0.4), ("shoulder_gap", 0.02), ("neck", 5.85), ("deepest_cut", 9.4)))
    groups = {}
    for one in found.disagreement.readings:
        groups.setdefault(one.quarrel, set()).add(str(one.reading.kind))
    assert sorted(map(sorted, groups.values())) == [["deepest_cut", "neck"], ["play", "shoulder_gap"]]


def test_two_against_two_names_all_four():
    found = correction(
        cut(("play", 0.30), ("shoulder_gap", 0.02)), cut(("play", 0.02), ("shoulder_gap", 0.30))
    )
    assert len(found.disagreement.readings) == 4


SHOPS = 400_000


def random_shops(one, rng):
    """Cutters, gauges and thicknesses as they may be, each weighted by how well it explains the readings."""
    draw = {
        "m": rng.normal(6.0, 0.08, SHOPS),
        "d": rng.normal(3.5, 0.08, SHOPS),
        "height_gauge": rng.normal(0, 0.1, SHOPS),
        "fence_gauge": rng.normal(0, 0.1, SHOPS),
        "upright": rng.normal(15.0, 0.03, SHOPS),
        "flat": rng.normal(15.0, 0.03, SHOPS),
    }
    height = one.height_shown.value - draw["height_gauge"] + rng.normal(0, 0.02, SHOPS)
    fence = one.fence_flat_shown - draw["fence_gauge"] + rng.normal(0, 0.02, SHOPS)
    proud = np.clip((height - 2 * draw["m"]) * math.tan(math.radians(55)), 0, draw["d"])
    means = {
        "roof": draw["flat"] - height,
        "play": 2 * draw["m"] - height,
        "lip": 2 * fence - draw["upright"] - draw["d"] - proud,
        "head": draw["upright"] - fence + draw["d"],
    }
    weights = np.ones(SHOPS)
    for reading in one.readings:
        weights *= np.exp(-((means[str(reading.kind)] - reading.value) ** 2) / (2 * reading.uncertainty**2))
    return draw, height, fence, weights / weights.sum()


def odds_by_drawing(one, after, rng):
    """Share of the shops in which the next cut fits, and in which its lip is right."""
    draw, height, fence, weights = random_shops(one, rng)
    if not after.leaves_height:
        height = after.height_shown - draw["height_gauge"] + rng.normal(0, 0.02, SHOPS)
    if not after.leaves_fence:
        fence = after.fence_flat_shown - draw["fence_gauge"] + rng.normal(0, 0.02, SHOPS)
    play = 2 * draw["m"] - height
    proud = np.clip(-play * math.tan(math.radians(55)), 0, draw["d"])
    lip = 2 * fence - rng.normal(15.0, 0.03, SHOPS) - draw["d"] - proud
    fits, flush = (play >= 0) & (play <= 0.15), abs(lip) <= 0.1
    return weights @ fits, weights @ flush, weights @ (fits & flush)


@pytest.mark.parametrize(
    "readings", [[("play", 0.1), ("lip", 0.2)], [("play", 0.25)], [("head", 9.4)], [("roof", 2.9)]]
)
def test_the_odds_are_those_of_random_shops(readings):
    one = cut(*readings)
    after = correction(one).next_cut
    fits, flush, both = odds_by_drawing(one, after, np.random.default_rng(3))
    assert after.odds.fits == pytest.approx(fits, abs=0.01)
    assert after.odds.flush == pytest.approx(flush, abs=0.01)
    assert after.odds.both == pytest.approx(both, abs=0.01)


@pytest.mark.parametrize(
    "readings",
    [[("lip", 0.2)], [("lip", -0.3)], [("roof", 2.9), ("lip", 0.2)], [("roof", 3.2), ("lip", 0.0)]],
)
def test_a_lip_read_while_the_corner_may_stand_proud_is_not_trusted_too_far(readings):
    """What stands proud shortens the lip. While that is in doubt the answer is a straight line laid through a bent
    one: good to a few percent either way, 21 at the worst."""
    one = cut(*readings)
    after = correction(one).next_cut
    fits, flush, both = odds_by_drawing(one, after, np.random.default_rng(3))
    assert after.odds.fits == pytest.approx(fits, abs=0.15)
    assert after.odds.flush == pytest.approx(flush, abs=0.21)
    assert after.odds.both < both + 0.06


def test_nothing_else_dialled_in_has_better_odds():
    """A hundred other heights on the gauge, each judged by random shops: none beats the one advised."""
    rng = np.random.default_rng(4)
    one = cut(("play", 0.25))
    after = correction(one).next_cut
    draw, _, _, weights = random_shops(one, rng)
    error = rng.normal(0, 0.02, SHOPS)
    chances = []
    shown = np.linspace(after.height_shown - 0.2, after.height_shown + 0.2, 41)
    for height in shown:
        play = 2 * draw["m"] - (height - draw["height_gauge"] + error)
        chances.append(float(weights @ ((play >= 0) & (play <= 0.15))))
    assert after.odds.fits == pytest.approx(max(chances), abs=0.01)
    assert shown[int(np.argmax(chances))] == pytest.approx(after.height_shown, abs=0.015)


@pytest.mark.parametrize("known", [("play", None), ("roof", 2.9), ("play", 0.25)])
def test_the_next_reading_is_the_best_that_trying_every_one_finds(known):
    """Each reading is taken in thought, with what it may show from low to high, and the next cut planned anew."""
    one = cut(known)
    found = correction(one)
    planned = {str(reading.kind): reading for reading in found.next_readings}
    tried = {}
    for rule in joint_of(CUTTER).rules:
        if rule.is_seen_when_positive:
            continue
        expected = found.learnt.estimate(0, rule.value)
        spread = math.hypot(expected.uncertainty, 0.03)
        odds = [
            correct_with(one, (str(rule.kind), expected.value + share * spread))
            for share in (-1.2, -0.5, 0.5, 1.2)
        ]
        tried[str(rule.kind)] = sum(odds) / len(odds)
    linear = {kind: reading.odds.both for kind, reading in planned.items() if kind in tried}
    for kind, both in linear.items():
        assert both == pytest.approx(tried[kind], abs=0.04), kind
    assert max(linear, key=lambda kind: linear[kind]) == max(tried, key=lambda kind: tried[kind])


def correct_with(one, reading):
    readings = (*one.readings, *taken(reading))
    return plan_next(CUTTER, TABLE, [replace(one, readings=readings)], WANTED)[0].odds.both


def test_a_machine_that_stands_well_is_left_alone():
    """Play 0.07 mm read three times: dialling in again could only bring its own error."""
    found = correction(
        cut(("play", 0.07), ("shoulder_gap", 0.07), ("play", 0.07), ("lip", 0.01), ("lip", 0.01))
    )
    after = found.next_cut
    assert after.leaves_height
    assert after.leaves_fence
    assert (after.height_change, after.fence_flat_change, after.fence_upright_change) == (0, 0, 0)
    assert after.odds == found.as_it_is


def test_a_wanted_lip_and_other_stock_go_into_the_next_cut():
    """Readings on 15.0 mm scraps; the job's upright stock is 16 mm thick and wants a lip of 2."""
    wanted = replace(WANTED, upright_thickness=Estimate(16.0, 0.03), lip=2.0)
    one = cut(("lip", 0.0), ("play", 0.07))
    after = correction(one, wanted=wanted).next_cut
    moved = after.fence_flat_change + after.fence_upright_change
    assert moved == pytest.approx(3.0, abs=0.02)
    assert after.lip.value == pytest.approx(2.0, abs=0.0005)


@pytest.mark.parametrize("rule", [FenceRule.TOOTH, 5.0])
def test_a_split_fence_sum_is_kept(rule):
    wanted = replace(WANTED, fence=rule)
    found = correction(cut(("lip", 0.3), wanted=wanted), wanted=wanted)
    after, step = found.next_cut, found.learnt.step.value
    assert after.fence_upright == pytest.approx(5.0 if rule == 5.0 else step, abs=0.005)
    assert after.fence_flat + after.fence_upright == pytest.approx(15.0 + step, abs=0.005)


def test_the_one_reading_without_which_the_others_go_together_is_named():
    """A neck typed without its point: 53 for 5.3."""
    setting = WANTED.recommended(CUTTER, TABLE)
    good = {
        str(rule.kind): rule.value(setting)
        for rule in joint_of(CUTTER).rules
        if not rule.is_seen_when_positive
    }
    correction(cut(*good.items()))
    with pytest.raises(InvalidValueError, match=r"Without one of them, .* 53 mm, the others agree"):
        correction(cut(*(good | {"neck": 53.0}).items()))


def test_readings_that_no_cutter_could_make_are_said_to_be_wrong():
    """The same figure everywhere: head and neck alike would be a step of nothing (joint-law.md)."""
    alike = cut(*((str(rule.kind), 0.3) for rule in joint_of(CUTTER).rules))
    with pytest.raises(InvalidValueError, match="cannot all be right"):
        correction(alike)
