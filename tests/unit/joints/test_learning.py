"""What test cuts say: against weighted least squares by numpy, and, where only seen, against random shops."""

from dataclasses import replace

import numpy as np
import pytest
from trial_cases import CUTTER, MITRE, TABLE, WANTED, cut, taken

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.learning import learn
from drawerwright.joints.readings import ReadingKind, misfit
from drawerwright.joints.table import RouterTable
from drawerwright.joints.trial_cut import TakenReading

EXACT = RouterTable(height_gauge=Estimate(0.0), fence_gauge=Estimate(0.0), repeatability=0.0)


def least_squares(cuts, cutter=CUTTER, table=TABLE):
    """Mid depth, step, both gauge offsets, then per cut height, fences and thicknesses: value and uncertainty.

    Written from the table of joint-law.md ("Reading a test cut"); the priors are readings like any other. Each
    line is divided by its standard uncertainty and numpy.linalg.lstsq does the rest.
    """
    size = 4 + 5 * len(cuts)
    lines, values, doubts = [], [], []

    def line(value, doubt, **parts):
        row = np.zeros(size)
        for name, factor in parts.items():
            row[places[name]] = factor
        lines.append(row)
        values.append(value)
        doubts.append(doubt)

    for number, one in enumerate(cuts):
        first = 4 + 5 * number
        names = ("h", "flat_fence", "upright_fence", "flat", "upright")
        places = {"m": 0, "d": 1, "height_gauge": 2, "fence_gauge": 3}
        places |= {name: first + n for n, name in enumerate(names)}
        if number == 0:
            line(cutter.mid_depth.value, cutter.mid_depth.uncertainty, m=1)
            line(cutter.step.value, cutter.step.uncertainty, d=1)
            line(table.height_gauge.value, table.height_gauge.uncertainty, height_gauge=1)
            line(table.fence_gauge.value, table.fence_gauge.uncertainty, fence_gauge=1)
        # What a gauge shows is the truth and its offset, less what was dialled wrong.
        line(one.height_shown.value, table.repeatability, h=1, height_gauge=1)
        line(one.fence_flat_shown, table.repeatability, flat_fence=1, fence_gauge=1)
        if one.has_one_fence_setting:
            line(0.0, 1e-6, flat_fence=1, upright_fence=-1)
        else:
            line(one.fence_upright_shown, table.repeatability, upright_fence=1, fence_gauge=1)
        line(one.flat_thickness.value, one.flat_thickness.uncertainty, flat=1)
        line(one.upright_thickness.value, one.upright_thickness.uncertainty, upright=1)
        parts = {
            "roof": {"flat": 1, "h": -1},
            "deepest_cut": {"flat_fence": 1},
            "shallow_cut": {"flat_fence": 1, "d": -1},
            "neck": {"upright": 1, "upright_fence": -1},
            "head": {"upright": 1, "upright_fence": -1, "d": 1},
            "tip_to_slope": {"h": 1, "m": -1},
            "play": {"m": 2, "h": -1},
            "shoulder_gap": {"m": 2, "h": -1},
            "lip": {"flat_fence": 1, "upright_fence": 1, "upright": -1, "d": -1},
        }
        for reading in one.readings:
            line(reading.value, reading.uncertainty, **parts[str(reading.kind)])
    weights = 1 / np.array(doubts)
    rows = np.array(lines) * weights[:, None]
    found, *_ = np.linalg.lstsq(rows, np.array(values) * weights, rcond=None)
    spread = np.sqrt(np.diag(np.linalg.inv(rows.T @ rows)))
    return list(zip(found, spread, strict=True))


def learnt_values(learnt):
    """The same in the same order."""
    found = [learnt.mid_depth, learnt.step, learnt.height_gauge, learnt.fence_gauge]
    for number in range(len(learnt.cuts)):
        found += [
            learnt.estimate(number, value)
            for value in (
                lambda s: s.bit_height,
                lambda s: s.fence_flat,
                lambda s: s.fence_upright,
                lambda s: s.corner.flat_thickness,
                lambda s: s.corner.upright_thickness,
            )
        ]
    return [(known.value, known.uncertainty) for known in found]


PLANS = [
    [("roof", 2.9), ("deepest_cut", 9.4), ("head", 9.2)],
    [("play", 0.21), ("lip", 0.3)],
    [("tip_to_slope", 6.1), ("neck", 5.6), ("shallow_cut", 5.7), ("shoulder_gap", 0.3)],
]


@pytest.mark.parametrize("plan", PLANS)
def test_one_cut_is_weighted_least_squares(plan):
    one = cut(*plan, height_shown=Estimate(11.8))
    np.testing.assert_allclose(learnt_values(learn(CUTTER, TABLE, [one])), least_squares([one]), atol=2e-5)


def test_several_cuts_with_split_fences_are_weighted_least_squares():
    cuts = [
        cut(*PLANS[0], height_shown=Estimate(11.8)),
        cut(*PLANS[1], height_shown=Estimate(11.7), fence_flat_shown=9.0, fence_upright_shown=9.4),
        cut(*PLANS[2], height_shown=Estimate(11.75), u=0.05),
    ]
    np.testing.assert_allclose(learnt_values(learn(CUTTER, TABLE, cuts)), least_squares(cuts), atol=2e-5)


def test_without_readings_nothing_changes():
    known = learn(CUTTER, TABLE, [cut()])
    assert known.mid_depth == CUTTER.mid_depth
    assert known.step == CUTTER.step
    assert known.height_gauge == TABLE.height_gauge
    assert known.cutter == CUTTER


def test_what_is_taken_as_exact_is_not_changed():
    exact = replace(CUTTER, mid_depth=Estimate(6.0), step=Estimate(3.5))
    known = learn(exact, EXACT, [cut(("roof", 2.7), ("deepest_cut", 9.5))])
    assert known.mid_depth == exact.mid_depth
    assert known.step == exact.step
    assert known.estimate(0, lambda s: s.bit_height) == Estimate(12.0)


@pytest.mark.parametrize(
    ("off", "seen"), [(0.25, ("stands_proud", None)), (-0.25, ("play", None)), (-0.2, ("play", 0.0))]
)
def test_what_is_only_seen_is_what_random_shops_say(off, seen):
    """Draw cutters and gauges from what is known, keep those in which this would be seen, look at their misfit."""
    kind, value = seen
    eye = 0.04
    shown = 12.0 + off
    rng = np.random.default_rng(1)
    count = 2_000_000
    high = shown - rng.normal(0, 0.1, count) + rng.normal(0, 0.02, count) - 2 * rng.normal(6.0, 0.08, count)
    quantity = high * np.tan(np.radians(55)) if kind == "stands_proud" else -high
    noticed = (quantity > 0) & (quantity + rng.normal(0, eye, count) > 0)
    kept = high[noticed if value is None else ~noticed]
    one = cut((kind, value), u=eye, height_shown=Estimate(shown))
    known = learn(CUTTER, TABLE, [one]).estimate(0, misfit)
    assert known.value == pytest.approx(kept.mean(), abs=0.003)
    assert known.uncertainty == pytest.approx(kept.std(), abs=0.003)


def test_a_small_gap_that_was_measured_is_more_than_nothing():
    """0.02 mm of play read to 0.03 mm: there is some, so the expected play is more than the reading says."""
    known = learn(CUTTER, TABLE, [cut(("play", 0.02))])
    rng = np.random.default_rng(2)
    count = 4_000_000
    play = 2 * rng.normal(6.0, 0.08, count) - (12.0 - rng.normal(0, 0.1, count) + rng.normal(0, 0.02, count))
    weights = np.exp(-((play - 0.02) ** 2) / (2 * 0.03**2)) * (play > 0)
    mean = float((weights * play).sum() / weights.sum())
    spread = float(np.sqrt((weights * (play - mean) ** 2).sum() / weights.sum()))
    found = known.estimate(0, lambda s: -misfit(s))
    assert found.value == pytest.approx(mean, abs=0.002)
    assert found.uncertainty == pytest.approx(spread, abs=0.002)


def test_a_corner_as_far_out_as_it_can_get_is_only_seen_to_stand_proud():
    full = cut(("stands_proud", 3.5))
    seen = cut(("stands_proud", None))
    assert learn(CUTTER, TABLE, [full]).mid_depth.value == pytest.approx(
        learn(CUTTER, TABLE, [seen]).mid_depth.value, abs=1e-3
    )


def test_an_unsure_slope_makes_what_stands_proud_less_telling():
    sure = learn(CUTTER, TABLE, [cut(("stands_proud", 0.3))]).estimate(0, misfit)
    unsure = replace(CUTTER, slope=Estimate(55.0, 3.0))
    assert (
        learn(unsure, TABLE, [cut(("stands_proud", 0.3))]).estimate(0, misfit).uncertainty > sure.uncertainty
    )


def test_a_blocks_error_is_its_own():
    """Two cuts by two blocks share no error of height; two by the gauge share that of the gauge."""
    by_gauge = [cut(("roof", 2.9)), cut(("roof", 2.95))]
    by_block = [replace(one, by_block=True, height_shown=Estimate(12.0, 0.01)) for one in by_gauge]
    known = learn(CUTTER, TABLE, by_block)
    assert known.height_gauge == TABLE.height_gauge
    # 12.00 to hypot(0.01, 0.02), and 15.0 - 2.9 = 12.1 to hypot(0.03, 0.03): weighted by hand.
    weights = 1 / np.array([0.01**2 + 0.02**2, 0.03**2 + 0.03**2])
    mean = float(weights @ [12.0, 12.1] / weights.sum())
    height = known.estimate(0, lambda s: s.bit_height)
    assert (height.value, height.uncertainty) == pytest.approx((mean, weights.sum() ** -0.5), abs=1e-6)
    assert learn(CUTTER, TABLE, by_gauge).height_gauge.value < -0.03


def test_a_lock_mitres_turned_over_scrap_is_weighted_least_squares():
    """2 (h - m) - t = 0.4: one equation, four doubts."""
    one = replace(
        cut(cutter=MITRE, wanted=replace(WANTED)),
        readings=taken(("turn_over", 0.4), u=0.05),
    )
    shown = one.height_shown.value
    prior = np.diag([0.08**2, 0.1**2 + 0.02**2, 0.03**2])
    row = np.array([-2.0, 2.0, -1.0])
    gain = prior @ row / (row @ prior @ row + 0.05**2)
    expected = np.array([11.0, shown, 15.0]) + gain * (0.4 - (2 * (shown - 11.0) - 15.0))
    known = learn(MITRE, TABLE, [one])
    found = [known.mid_depth.value, known.estimate(0, lambda s: s.bit_height).value]
    assert found == pytest.approx(expected[:2].tolist(), abs=1e-5)


def test_a_reading_needs_a_length_unless_it_can_be_seen():
    with pytest.raises(InvalidValueError, match="must be measured"):
        TakenReading(ReadingKind.ROOF, None)
    with pytest.raises(InvalidValueError, match="0 or more"):
        TakenReading(ReadingKind.ROOF, 3.0, -0.1)
