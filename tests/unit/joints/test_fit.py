"""How a corner seats: the law's cases, and the cases that the law does not know."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.corner import Cuts, Place
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.fit import seat
from drawerwright.joints.profile import Profile, drawer_lock_profile, lock_mitre_profile
from drawerwright.joints.setting import CornerGeometry, CornerSetting

SLOPES = [30, 45, 60, 80]


def drawer_lock_cuts(off, slope=45.0, m=6.0, d=3.2, fence_flat=9.0, fence_upright=9.2):
    return Cuts(drawer_lock_profile(m, d, slope), 21.0, 15.0, 2 * m + off, fence_flat, fence_upright)


@pytest.mark.parametrize("slope", SLOPES)
@pytest.mark.parametrize("low", [0.02, 0.1, 0.45, 1.5])
def test_too_low_gives_play_inside_when_pressed_and_at_roof_and_shoulder_when_pulled(slope, low):
    fit = seat(drawer_lock_cuts(-low, slope), 3.2)
    assert fit.closes
    assert fit.stands_proud == 0
    assert fit.is_held
    assert fit.play == pytest.approx(low, abs=1e-6)
    pressed, pulled = fit.pressed, fit.pulled
    assert (pressed.roof_gap, pressed.shoulder_gap, pressed.hook_gap) == pytest.approx((0, 0, low), abs=1e-6)
    assert (pulled.roof_gap, pulled.shoulder_gap, pulled.hook_gap) == pytest.approx((low, low, 0), abs=1e-6)
    assert fit.touches_at == ("shoulder", "neck", "head", "roof")
    assert [gap.place for gap in pressed.gaps] == [Place.HOOK]
    assert pressed.gaps[0].width == pytest.approx(low, abs=1e-6)
    assert "slope" in pulled.touches_at
    assert "roof" not in pulled.touches_at


@pytest.mark.parametrize("slope", SLOPES)
@pytest.mark.parametrize("high", [0.02, 0.1, 0.45, 1.5, 4.0])
def test_too_high_stands_proud_by_run_over_rise_up_to_the_step(slope, high):
    fit = seat(drawer_lock_cuts(high, slope), 3.2)
    proud = min(high * math.tan(math.radians(slope)), 3.2)
    assert not fit.closes
    assert fit.stands_proud == pytest.approx(proud, abs=1e-6)
    assert fit.lip == pytest.approx(0 - proud, abs=1e-6)
    assert fit.play == pytest.approx(0, abs=1e-6)
    assert {gap.place for gap in fit.pressed.gaps} == {Place.NECK, Place.HEAD}


@pytest.mark.parametrize(("proud", "closes"), [(0.009, True), (0.011, False), (0.09, False)])
def test_what_nobody_can_set_truer_closes(proud, closes):
    """0.01 mm, for the seat as for the setting."""
    fit = seat(drawer_lock_cuts(proud), 3.2)
    assert fit.stands_proud == pytest.approx(proud, abs=1e-6)
    assert fit.closes is closes
    cutter = Cutter("drawer-lock", mid_depth=Estimate(6.0), step=Estimate(3.2), slope=Estimate(45.0))
    setting = CornerSetting(cutter, CornerGeometry(21.0, 15.0), 12.0 + proud, 9.0, 9.2)
    assert setting.closes is closes


@pytest.mark.parametrize("slope", SLOPES)
def test_right_height_touches_everywhere(slope):
    fit = seat(drawer_lock_cuts(0.0, slope), 3.2)
    assert fit.closes
    assert fit.play == pytest.approx(0, abs=1e-6)
    assert fit.pressed.gaps == ()
    assert fit.touches_at == ("shoulder", "neck", "slope", "head", "roof")


def test_a_ledge_closes_at_its_one_right_height_and_not_above():
    profile = Profile(((0.0, 0.0), (6.0, 0.0), (6.0, 3.2), (24.0, 3.2)))
    right = seat(Cuts(profile, 21, 15, 12.0, 9.0, 9.2), 3.2)
    high = seat(Cuts(profile, 21, 15, 12.01, 9.0, 9.2), 3.2)
    low = seat(Cuts(profile, 21, 15, 11.9, 9.0, 9.2), 3.2)
    assert right.closes
    assert high.stands_proud == pytest.approx(3.2)
    assert low.play == pytest.approx(0.1, abs=1e-6)
    assert [gap.place for gap in low.pressed.gaps] == [Place.HOOK]


@given(st.floats(-1, 1), st.floats(6, 9), st.floats(6, 9))
@settings(max_examples=40)
def test_the_split_of_the_fence_never_changes_the_fit_only_the_lip(off, fence_flat, fence_upright):
    here = seat(drawer_lock_cuts(off, 60.0, fence_flat=fence_flat, fence_upright=fence_upright), 3.2)
    there = seat(drawer_lock_cuts(off, 60.0), 3.2)
    assert here.play == pytest.approx(there.play, abs=1e-6)
    assert here.stands_proud == pytest.approx(there.stands_proud, abs=1e-6)
    assert here.lip - there.lip == pytest.approx(fence_flat + fence_upright - 18.2, abs=1e-6)


@pytest.mark.parametrize("off", [-0.5, -0.2, 0.0, 0.2, 0.5])
def test_lock_mitre_seats_on_its_lock_and_its_tip_tells_twice_the_error(off):
    fit = seat(Cuts(lock_mitre_profile(11, 18), 15, 15, 18.5 + off, 16.5, 16.5), 18)
    assert fit.closes
    assert fit.is_held
    assert fit.play == pytest.approx(0, abs=1e-5)
    assert fit.pressed.roof_gap is None
    assert fit.pressed.tip_step == pytest.approx(2 * off, abs=1e-5)


def test_a_plain_mitre_is_not_held():
    plain = Profile(((0.0, 18.0), (2.0, 18.0), (20.0, 0.0), (40.0, 0.0)))
    fit = seat(Cuts(plain, 15, 15, 18.5, 16.5, 16.5), 18)
    assert fit.closes
    assert not fit.is_held
    assert fit.pressed.engagement == pytest.approx(15)


def test_far_too_low_the_head_passes_the_hook_and_goes_past_the_lip_that_was_meant():
    """At half the height the hook is never reached: nothing rises to the step."""
    fit = seat(drawer_lock_cuts(-6.0, 80.0), 3.2)
    assert fit.lip > 0.5


def test_pruning_for_long_profiles_changes_nothing(monkeypatch):
    import numpy as np

    from drawerwright.joints import clash as module

    rng = np.random.default_rng(3)
    base = drawer_lock_profile(6, 3.2, 60)
    depths = np.linspace(0, 16, 120)
    rough = Profile.measured(
        [
            (float(z), base.inset(float(z)) + float(e))
            for z, e in zip(depths, rng.normal(0, 0.02, 120), strict=True)
        ]
    )
    for height in (11.7, 12.0, 12.2):
        cuts = Cuts(rough, 18, 15, height, 9.0, 9.2)
        monkeypatch.setattr(module, "MANY_KINKS", 10**9)
        whole = seat(cuts, 3.2)
        monkeypatch.setattr(module, "MANY_KINKS", 10)
        pruned = seat(cuts, 3.2)
        assert pruned.stands_proud == pytest.approx(whole.stands_proud, abs=1e-9)
        assert pruned.pressed.engagement == pytest.approx(whole.pressed.engagement, abs=1e-6)


def test_give_lets_a_rough_profile_have_its_play():
    rough = Profile.measured(
        [(0, 0.0), (2, 0.01), (4, 0.0), (5, 0.0), (7, 3.2), (9, 3.19), (12, 3.2), (20, 3.2)]
    )
    cuts = Cuts(rough, 18, 15, 11.7, 9.0, 9.2)
    assert seat(cuts, 3.2, give=0.03).play > seat(cuts, 3.2).play + 0.1


def test_no_height_is_an_error_that_says_what_to_do():
    with pytest.raises(InvalidValueError, match="raise the bit"):
        seat(Cuts(drawer_lock_profile(6, 3.2, 45), 18, 15, 0.0, 9.0, 9.2), 3.2)


def test_a_gap_of_three_thousandths_is_seen_and_one_of_three_ten_thousandths_is_contact():
    seen, not_seen = seat(drawer_lock_cuts(-0.003), 3.2), seat(drawer_lock_cuts(-0.0003), 3.2)
    assert [gap.place for gap in seen.pressed.gaps] == [Place.HOOK]
    assert seen.pressed.gaps[0].width == pytest.approx(0.003, abs=1e-6)
    assert "roof" not in seen.pulled.touches_at
    assert not_seen.pressed.gaps == ()
    assert "roof" in not_seen.pulled.touches_at


def test_what_stands_proud_is_said_to_a_hundred_thousandth():
    """Whoever decides that it closes nevertheless (`CLOSED`) does so from the true figure."""
    assert seat(drawer_lock_cuts(5e-6), 3.2).stands_proud == pytest.approx(5e-6, abs=1e-7)


def test_a_ledge_costs_no_play():
    profile = Profile(((0.0, 0.0), (6.0, 0.0), (6.0, 3.2), (24.0, 3.2)))
    low = seat(Cuts(profile, 21, 15, 11.9, 9.0, 9.2), 3.2)
    assert low.play == pytest.approx(0.1, abs=4e-7)
