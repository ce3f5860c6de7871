"""A glue line or a ply close behind a face moves nothing.

Source: the falls that are made here, a blurred step (the normal distribution's) at a place that is known.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from drawerwright.joints.scan.near_lines import edge_beside

OFFSETS = np.arange(-7.0, 5.01, 0.25)
BLUR = 2.0
"""Of a fall as it is measured: two standard deviations of the blur."""


def step(place: float, spread: float = 1.0) -> np.ndarray:
    return np.array([0.5 * math.erfc((x - place) / spread / math.sqrt(2)) for x in OFFSETS])


def band(low: float, high: float) -> np.ndarray:
    """What lies between two places, blurred."""
    return step(high) - step(low)


def half_way(fall: np.ndarray) -> float:
    """Where the fall passes half-way between what lies 1.7 to 2.8 pixels inside and outside, as edges are found."""
    inside, outside = (fall[(side * OFFSETS >= 1.7) & (side * OFFSETS <= 2.8)].mean() for side in (-1, 1))
    return float(np.interp((inside + outside) / 2, fall[::-1], OFFSETS[::-1]))


def test_an_undisturbed_face_stays_where_it_is() -> None:
    away, doubt, unlike = edge_beside(0.9 * step(0.0) + 0.02, OFFSETS, step(0.0), BLUR)
    assert abs(away) < 0.02
    assert doubt < 0.1
    assert unlike < 1


@pytest.mark.parametrize("depth", [1.0, 2.0, 2.6])
def test_a_glue_line_behind_a_face_is_told_from_its_edge(depth: float) -> None:
    """A line half a pixel thick and half as dark as the ground."""
    fall = step(0.0) - 0.5 * band(-depth - 0.25, -depth + 0.25)
    shift = half_way(fall)
    away, doubt, unlike = edge_beside(np.interp(OFFSETS + shift, OFFSETS, fall), OFFSETS, step(0.0), BLUR)
    assert abs(away + shift) < 2 * doubt
    assert unlike < 4
    if depth > BLUR / 2:  # nearer, a line cannot be told from an edge that lies elsewhere
        assert abs(away + shift) < max(0.3 * abs(shift), 0.05)


def test_a_darker_ply_behind_a_face_is_told_from_its_edge() -> None:
    fall = step(0.0) - 0.3 * step(-1.5)
    shift = half_way(fall)
    assert shift > 0.1
    away, doubt, unlike = edge_beside(np.interp(OFFSETS + shift, OFFSETS, fall), OFFSETS, step(0.0), BLUR)
    assert abs(away + shift) < min(0.07, 2 * doubt)
    assert unlike < 4


def test_a_fall_that_nothing_explains_is_unlike_any() -> None:
    """A stripe beside the wood that is darker than the ground, as under a lifted edge."""
    fall = step(0.0) - 0.4 * band(1.0, 4.0)
    assert edge_beside(fall, OFFSETS, step(0.0), BLUR)[2] > 8
