"""Odds and cutter profiles: true areas, true places, words that neither overlap nor leave the paper."""

from __future__ import annotations

from statistics import NormalDist

import pytest
from shapely.geometry import Polygon

from drawerwright.basics.uncertain import Estimate
from drawerwright.drawings.cutter_profile import SCALE, draw_profile
from drawerwright.drawings.odds_picture import draw_odds
from drawerwright.drawings.scene import Path
from legible import clipped_texts, overlapping_texts


@pytest.mark.parametrize(
    ("value", "spread", "low", "high"),
    [(0.0, 0.1, -0.15, 0.0), (-0.075, 0.03, -0.15, 0.0), (0.4, 0.1, -0.1, 0.1)],
)
def test_hatched_share_is_the_normal_probability(
    value: float, spread: float, low: float, high: float
) -> None:
    """The hatched area over the whole one, against the standard library's normal distribution."""
    scene = draw_odds(Estimate(value, spread), low, high, words=("more play", "stands proud"))
    outlines = [item for item in scene.items if isinstance(item, Path) and len(item.points) > 3]
    hatched, line = outlines[0], outlines[1]
    whole = Polygon([*line.points, (line.points[-1][0], 0), (line.points[0][0], 0)]).area
    normal = NormalDist(value, spread)
    # The curve is drawn to 3.5 standard deviations at least, which leaves out 0.05 %, in 80 straight pieces.
    assert Polygon(hatched.points).area / whole == pytest.approx(
        normal.cdf(high) - normal.cdf(low), abs=0.004
    )
    assert overlapping_texts(scene) == []
    assert clipped_texts(scene) == []


def test_profile_is_drawn_to_scale_with_its_middle() -> None:
    points = [(0.0, 0.0), (4.0, 0.0), (8.0, 4.0), (12.0, 4.0)]
    scene = draw_profile(points, 6.0, 4.0)
    outline = next(item for item in scene.items if isinstance(item, Path) and item.closed)
    xs, ys = zip(*outline.points, strict=True)
    assert max(ys) - min(ys) == pytest.approx(12 * SCALE)
    assert (0.0, -4.0 * SCALE) in outline.points
    assert (-4.0 * SCALE, -8.0 * SCALE) in outline.points
    axis = next(item for item in scene.items if isinstance(item, Path) and len(item.points) == 2)
    assert {y for _, y in axis.points} == {-6.0 * SCALE}
    assert {"mid depth 6.00 mm", "step 4.00 mm"} <= {text.text for text in scene.texts}
    assert max(xs) == 0.0
    assert overlapping_texts(scene) == []
    assert clipped_texts(scene) == []
