"""What the wood's side adds to its sawn face in a photo."""

from __future__ import annotations

import math

import numpy as np
import pytest

from drawerwright.joints.scan.side_walls import side_added

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


def test_what_cannot_be_told_is_in_doubt() -> None:
    """Source: a side as light as the sawn face looks like more of it, a black one like none: one step in all."""
    assert side_added(fall(3.0, 1.0, 1.0)[0], OFFSETS, 3.0, 0.3, 1.0)[1] > 1.0
    assert side_added(fall(3.0, 0.6, 1.0)[0], OFFSETS, 3.0, 0.3, 1.0)[1] < 0.4
