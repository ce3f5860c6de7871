"""Hatches are checked with shapely, which they do not use."""

from __future__ import annotations

import math

import pytest
from drawing_cases import corner
from shapely import LineString, Polygon

from drawerwright.drawings.hatching import MOST_STROKES, end_grain, grain, waste
from drawerwright.drawings.scene import Strokes
from drawerwright.joints.corner import Cuts, flat_section

OUTLINE = flat_section(Cuts.of(corner()))


@pytest.mark.parametrize("hatch", [grain(OUTLINE), grain(OUTLINE, 90), end_grain(OUTLINE), waste(OUTLINE)])
def test_strokes_stay_inside_the_wood(hatch: Strokes) -> None:
    wood = Polygon(OUTLINE).buffer(1e-6)
    assert hatch.segments
    assert all(wood.covers(LineString(segment)) for segment in hatch.segments)


def test_grain_runs_along_the_fibre() -> None:
    for angle in (0.0, 30.0, 90.0):
        for (x0, y0), (x1, y1) in grain(OUTLINE, angle).segments:
            turned = math.degrees(math.atan2(y1 - y0, x1 - x0)) % 180
            assert min(abs(turned - angle), 180 - abs(turned - angle)) < 1e-6


def test_a_large_face_gets_few_strokes() -> None:
    face = ((0.0, 0.0), (900.0, 0.0), (900.0, 700.0), (0.0, 700.0))
    assert len(waste(face).segments) <= MOST_STROKES + 1
    assert len(grain(face).segments) <= 6 * (MOST_STROKES + 1)
