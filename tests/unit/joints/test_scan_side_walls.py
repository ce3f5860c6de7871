"""What the wood's side adds to its sawn face in a photo."""

from __future__ import annotations

import math

import numpy as np
import pytest

from drawerwright.joints.scan.side_walls import SeenWalls, side_added

OFFSETS = np.arange(-8.0, 5.01, 0.25)


def fall(strip: float, light: float, blur: float) -> tuple[np.ndarray, float]:
    """The contrast about where it is half of the sawn face's, and how far outside the sawn face's edge that is: two
    steps through a normal distribution."""

    def level(x: float) -> float:
        rest = [0.5 * math.erfc((x - edge) / blur / math.sqrt(2)) for edge in (0.0, strip)]
        return (1 - light) * rest[0] + light * rest[1]

    fine = np.arange(-3, strip + 3, 0.001)
    half = fine[int(np.argmin([abs(level(x) - 0.5) for x in fine]))]
    return np.array([level(x + half) for x in OFFSETS]), float(half)


@pytest.mark.parametrize("light", [0.2, 0.5, 0.9])
def test_a_strip_is_taken_off_however_light_it_is(light: float) -> None:
    """Source: the error function, for strips from none to four pixels."""
    for strip in (0.0, 1.5, 4.0):
        seen, added = fall(strip, light, 1.0)
        found, doubt = side_added(seen, OFFSETS, strip + 0.2, 0.4, 1.1)
        assert abs(found - added) < max(2 * doubt, 0.12)


def test_a_dark_strip_as_wide_as_it_has_to_be_is_hardly_in_doubt() -> None:
    """Source: the error function, a strip of seven pixels a quarter as light as the sawn face."""
    seen, added = fall(7.0, 0.25, 1.7)
    found, doubt = side_added(
        np.interp(np.arange(-13.0, 13.01, 0.25), OFFSETS, seen), np.arange(-13.0, 13.01, 0.25), 7.2, 0.6, 1.7
    )
    assert abs(found - added) < 2 * doubt
    assert doubt < 2.5


def test_the_sawn_face_s_own_scale_tells_how_high_it_lies() -> None:
    """Source: similar triangles, a slice 8 mm high under a camera 400 mm away that was thought to be 5 mm high."""
    walls = SeenWalls(np.zeros(2), 5 / 400, 0.4, 1.0, 1.0)
    better = walls.by_scale((400 - 5) / (400 - 8), 0.001)
    assert abs(better.rise - 8 / 400) < 2 * better.rise * better.rise_doubt
    assert better.rise * better.rise_doubt < 0.001
    assert walls.by_scale(1.0, 1.0).rise == walls.rise


def test_what_cannot_be_told_is_in_doubt() -> None:
    """Source: a side as light as the sawn face looks like more of it, a black one like none: one step in all."""
    assert side_added(fall(3.0, 1.0, 1.0)[0], OFFSETS, 3.0, 0.3, 1.0)[1] > 1.0
    assert side_added(fall(3.0, 0.6, 1.0)[0], OFFSETS, 3.0, 0.3, 1.0)[1] < 0.4
