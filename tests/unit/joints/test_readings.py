"""What each reading equals, measured again on the outlines of the pieces and on the corner as it seats."""

import math
from dataclasses import replace

import numpy as np
import pytest
from trial_cases import CUTTER, MITRE

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.corner import Cuts, flat_section, upright_section
from drawerwright.joints.fit import seat_setting
from drawerwright.joints.joint import expected_readings, self_mating
from drawerwright.joints.mating import mating
from drawerwright.joints.readings import (
    RULES,
    SECTION_KINDS,
    FitRange,
    ReadingKind,
    height_for_misfit,
    misfit,
)
from drawerwright.joints.setting import CornerGeometry, set_corner

OFFS = [-0.3, -0.07, 0.0, 0.05, 0.25]
SLOPES = [35.0, 45.0, 60.0]


def corner(cutter, off=0.0, slope=45.0, lip=1.2, fences=(0.0, 0.0)):
    """A corner whose height is `off` too high, and whose fences are wrong by `fences`."""
    right = set_corner(replace(cutter, slope=Estimate(slope)), CornerGeometry(15.4, 15.0, lip))
    return replace(
        right,
        bit_height=right.bit_height + off,
        fence_flat=right.fence_flat + fences[0],
        fence_upright=right.fence_upright + fences[1],
    )


def read(kind, setting):
    return RULES[ReadingKind(kind)].value(setting)


@pytest.mark.parametrize("off", OFFS)
@pytest.mark.parametrize("slope", SLOPES)
def test_what_calipers_find_on_the_loose_pieces_of_a_drawer_lock(off, slope):
    setting = corner(CUTTER, off, slope, fences=(0.1, -0.05))
    cuts = Cuts.of(setting)
    flat, upright = flat_section(cuts), upright_section(cuts, 0.0, 0.0)
    over_the_cut = [y for x, y in flat if x < 1e-9]
    assert read("roof", setting) == pytest.approx(15.4 - min(over_the_cut))
    below = [x for x, y in flat if y < setting.bit_height - 1e-6 and x < 20]
    assert read("deepest_cut", setting) == pytest.approx(max(x for x, y in flat if x < 20))
    assert read("shallow_cut", setting) == pytest.approx(min(below))
    inside = [(x, y) for x, y in upright if y > -setting.bit_height + 1e-6 and x > 1e-9]
    assert read("head", setting) == pytest.approx(max(x for x, _ in inside))
    assert read("neck", setting) == pytest.approx(min(x for x, _ in upright if x > 1e-9))
    half_way = setting.neck + setting.cutter.step.value / 2
    on_the_face = [(x, y) for x, y in _along(upright) if -setting.bit_height + 0.5 < y < -0.5]
    slope_ys = [y for x, y in on_the_face if abs(x - half_way) < 0.01]
    assert read("tip_to_slope", setting) == pytest.approx(-np.mean(slope_ys), abs=0.02)


def _along(outline, step=0.002):
    """Points along an outline."""
    for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        for share in np.linspace(0, 1, max(2, int(math.hypot(x1 - x0, y1 - y0) / step))):
            yield x0 + (x1 - x0) * share, y0 + (y1 - y0) * share


@pytest.mark.parametrize("off", OFFS)
def test_what_calipers_find_at_table_level_on_a_lock_mitre(off):
    setting = corner(MITRE, off, lip=0.0, fences=(0.6, -0.65))
    cuts = Cuts.of(setting)
    lowest = [x for x, y in flat_section(cuts) if abs(y) < 1e-9]
    assert read("cut_at_table", setting) == pytest.approx(min(lowest))
    tip = [x for x, y in upright_section(cuts, 0.0, 0.0) if abs(y) < 1e-9]
    assert read("tip_at_table", setting) == pytest.approx(max(tip))


@pytest.mark.parametrize("off", OFFS)
@pytest.mark.parametrize("slope", SLOPES)
def test_what_shows_on_the_assembled_drawer_lock(off, slope):
    setting = corner(CUTTER, off, slope, fences=(0.1, -0.05))
    fit = seat_setting(setting)
    for kind, shown in (
        ("play", fit.play),
        ("shoulder_gap", fit.pulled.shoulder_gap),
        ("stands_proud", fit.stands_proud),
    ):
        assert max(read(kind, setting), 0.0) == pytest.approx(shown, abs=1e-4), kind
    assert read("lip", setting) == pytest.approx(fit.lip, abs=1e-4)


@pytest.mark.parametrize("off", OFFS)
def test_what_shows_on_the_assembled_lock_mitre(off):
    setting = corner(MITRE, off, fences=(0.1, -0.05))
    fit = seat_setting(setting)
    assert read("tip_step", setting) == pytest.approx(fit.pulled.tip_step, abs=1e-4)
    assert read("lip", setting) == pytest.approx(fit.lip, abs=1e-4)


@pytest.mark.parametrize("off", OFFS)
@pytest.mark.parametrize("slope", SLOPES)
@pytest.mark.parametrize("cutter", [CUTTER, MITRE])
def test_two_scraps_one_turned_over_and_slid_together(off, slope, cutter):
    """Both cut flat. The second is the first turned half round, slid in as deep as it goes, found by trying."""
    setting = corner(cutter, off, slope, fences=(0.1, -0.05))
    above, shorter = slide_together(setting)
    assert read("overlap", setting) == pytest.approx(shorter, abs=0.01)
    if cutter.kind == "lock-mitre":
        assert read("turn_over", setting) == pytest.approx(above, abs=0.01)
        assert read("turn_over", setting) == pytest.approx(2 * off), "twice the error of centring"


def slide_together(setting, step=0.005):
    """How far the turned scrap stands above the other, and how much shorter both are than end to end (mm).

    Looked for near where the slopes meet: a mitre alone would slide past itself, only its lock holds it there.
    """
    xs, ys = zip(*Cuts.of(setting).flat_face(), strict=True)
    thickness, height = setting.corner.flat_thickness, setting.bit_height
    levels = np.arange(step / 2, thickness, step)
    cut = np.interp(levels, np.array(ys) + np.arange(len(ys)) * 1e-9, xs)
    own = np.where(levels < height, cut, 0.0)  # over the cut, the end as it was sawn
    about = min(height, 2 * (height - setting.cutter.mid_depth.value)) - thickness
    best = (-math.inf, 0.0)
    for shift in range(round((about - 0.8) / step), round((about + 0.8) / step)):
        # The turned scrap lies `shift` levels higher; its end at a level is that of the first at the mirrored one.
        mirrored = len(levels) - 1 + shift - np.arange(len(levels))
        both = (mirrored >= 0) & (mirrored < len(levels))
        reach = float((own[both] + own[mirrored[both]]).min())
        if reach > best[0] + 1e-9:
            best = (reach, shift * step)
    return best[1], best[0]


@pytest.mark.parametrize("cutter", [CUTTER, MITRE])
@pytest.mark.parametrize("wanted", [-0.2, 0.0, 0.13])
def test_the_height_for_a_misfit_has_that_misfit(cutter, wanted):
    setting = corner(cutter, 0.4)
    assert misfit(replace(setting, bit_height=height_for_misfit(setting, wanted))) == pytest.approx(wanted)


def test_each_kind_of_cutter_has_its_readings():
    of_lock = {str(rule.kind) for rule in self_mating("drawer-lock").rules}
    of_mitre = {str(rule.kind) for rule in self_mating("lock-mitre").rules}
    assert of_lock | of_mitre == {str(kind) for kind in ReadingKind if kind not in SECTION_KINDS} | {
        "tip_to_slope"
    }
    assert of_lock & of_mitre == {"lip", "overlap"}


def test_the_card_asks_for_what_calipers_read_on_loose_pieces():
    pieces = {reading.piece for reading in expected_readings(corner(CUTTER))}
    assert pieces == {"flat", "upright"}


def test_the_card_asks_for_nothing_where_no_wood_is_left():
    """A lipped lock-mitre with one fence setting cuts the upright's tip away at table level."""
    kinds = [reading.kind for reading in expected_readings(corner(MITRE, lip=1.2))]
    assert kinds == [ReadingKind.CUT_AT_TABLE]


def test_a_range_of_play_is_aimed_at_in_its_middle():
    fit = FitRange(0.05, 0.15, 0.2)
    assert fit.best_misfit(mating("drawer-lock")) == pytest.approx(-0.1)
    assert fit.best_misfit(mating("lock-mitre")) == 0
    assert fit.misfits(mating("lock-mitre")) == (-0.2, 0.2)


@pytest.mark.parametrize(("least", "most", "flush"), [(-0.1, 0.2, 0.1), (0.2, 0.2, 0.1), (0, 0.1, 0)])
def test_a_range_that_holds_nothing_is_refused(least, most, flush):
    with pytest.raises(InvalidValueError, match=r"must"):
        FitRange(least, most, flush)
