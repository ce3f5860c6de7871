"""The clash of two faces against its definition, the largest sum of both insets over the levels that they share, taken
at twenty thousand levels; and faces of many corners, where most engagements are ruled out, against all of them."""

from __future__ import annotations

import numpy as np
import pytest

from drawerwright.joints import clash
from drawerwright.joints.clash import Face, clash_curve, cut_faces, deepest_seat
from drawerwright.joints.corner import Cuts
from drawerwright.joints.profile import Profile, drawer_lock_profile, lock_mitre_profile


def random_profile(seed: int, corners: int) -> Profile:
    """A tooth, some corners up and down, and a level end."""
    source = np.random.default_rng(seed)
    depths = np.sort(source.uniform(1.0, 12.0, corners))
    insets = np.clip(np.linspace(0, 4, corners) + source.normal(0, 0.3, corners), 0, None)
    return Profile.measured([(0.0, 0.0), *zip(depths.tolist(), insets.tolist(), strict=True), (20.0, 4.0)])


def by_definition(flat: Face, upright: Face, height: float, reach: float) -> float:
    """At the level y of the flat piece it is h - y below the cutter's top, and of the upright piece h - (Y - y)."""
    low, high = max(0.0, height - flat.depths[-1]), min(reach, height - flat.depths[0])
    levels = np.linspace(low, high, 20_001)
    return float((flat.at(height - levels) + upright.at(height - reach + levels)).max())


CASES = [
    (drawer_lock_profile(5.0, 4.0, 45.0), 15.0, 10.0),
    (drawer_lock_profile(5.0, 4.0, 45.0), 15.0, 9.4),
    (drawer_lock_profile(6.0, 3.0, 80.0), 18.0, 12.3),
    (lock_mitre_profile(11.0, 18.0), 15.0, 18.5),
    *((random_profile(seed, 6), 15.0, 11.0) for seed in range(6)),
]


@pytest.mark.parametrize(("profile", "thickness", "height"), CASES)
def test_the_clash_is_the_largest_sum_over_the_shared_levels(
    profile: Profile, thickness: float, height: float
) -> None:
    cuts = Cuts(profile, thickness, 12.0, height, 9.0, 9.0)
    flat, upright = cut_faces(cuts)
    reaches, clashes = clash_curve(flat, upright, cuts, height)
    assert (reaches[0], reaches[-1]) == (0.0, height)
    assert np.all(np.diff(reaches) > 0)
    for reach, value in zip(reaches[1:], clashes[1:], strict=True):
        assert value == pytest.approx(by_definition(flat, upright, height, float(reach)), abs=2e-3)
    for reach in np.linspace(0.3, height, 25):  # between its kinks it is below their chord, never above
        exact = by_definition(flat, upright, height, float(reach))
        assert exact <= np.interp(reach, reaches, clashes) + 1e-6


@pytest.mark.parametrize("seed", range(5))
def test_what_is_ruled_out_holds_no_seat(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where many corners make many thousands of kinks and most are ruled out, the deepest seat is the same."""
    cuts = Cuts(random_profile(seed, 150), 15.0, 12.0, 11.0, 9.0, 9.0)
    flat, upright = cut_faces(cuts)
    some, few = clash_curve(flat, upright, cuts, 11.0)
    monkeypatch.setattr(clash, "MANY_KINKS", 10**9)
    every, all_of_them = clash_curve(flat, upright, cuts, 11.0)
    assert len(some) < 0.6 * len(every)
    assert deepest_seat(some, few, 11.0) == deepest_seat(every, all_of_them, 11.0)
