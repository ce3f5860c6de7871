"""Hatches are checked with shapely, which they do not use."""

from __future__ import annotations

import math
import re

import pytest
from drawing_cases import corner
from shapely import LineString, Polygon, unary_union

from drawerwright.drawings.hatching import (
    MOST_STROKES,
    ROWS,
    end_grain,
    grain,
    grain_strokes,
    grain_tile,
    waste,
)
from drawerwright.drawings.scene import Strokes, box, framed
from drawerwright.drawings.svg import write_svg
from drawerwright.joints.corner import Cuts, flat_section

OUTLINE = flat_section(Cuts.of(corner()))
FIBRES = grain_strokes(grain(OUTLINE))


@pytest.mark.parametrize(
    "hatch", [FIBRES, grain_strokes(grain(OUTLINE, 90)), end_grain(OUTLINE), waste(OUTLINE)]
)
def test_strokes_stay_inside_the_wood(hatch: Strokes) -> None:
    wood = Polygon(OUTLINE).buffer(1e-6)
    assert hatch.segments
    assert all(wood.covers(LineString(segment)) for segment in hatch.segments)


def test_grain_runs_along_the_fibre() -> None:
    for angle in (0.0, 30.0, 90.0):
        for (x0, y0), (x1, y1) in grain_strokes(grain(OUTLINE, angle)).segments:
            turned = math.degrees(math.atan2(y1 - y0, x1 - x0)) % 180
            assert min(abs(turned - angle), 180 - abs(turned - angle)) < 1e-6


def test_a_large_face_gets_few_strokes() -> None:
    face = ((0.0, 0.0), (900.0, 0.0), (900.0, 700.0), (0.0, 700.0))
    assert len(waste(face).segments) <= MOST_STROKES + 1
    assert len(grain_strokes(grain(face)).segments) <= 6 * (MOST_STROKES + 1)


def test_the_tile_laid_side_by_side_is_what_the_strokes_are() -> None:
    tile = grain_tile(grain(OUTLINE))
    wood = Polygon(tile.turned)
    low, high = 0.0, max(y for _, y in tile.turned)
    across = range(math.ceil(max(x for x, _ in tile.turned) / tile.period))
    laid = unary_union(
        [
            LineString(((x0 + i * tile.period, y), (x1 + i * tile.period, y)))
            for (x0, y0), (x1, _) in tile.strokes
            for i in across
            for row in range(math.ceil((high - low) / tile.height))
            for y in (y0 + row * tile.height,)
        ]
    ).intersection(wood)
    strokes = unary_union([LineString(((u0, v), (u1, v))) for u0, u1, v in tile.bits])
    assert laid.length == pytest.approx(strokes.length, rel=1e-9)
    assert laid.difference(strokes.buffer(1e-6)).length == pytest.approx(0, abs=1e-6)
    assert len({y for (_, y), _ in tile.strokes}) == ROWS


def test_a_thin_edge_has_fibres_too() -> None:
    thin = grain(((0.0, 0.0), (40.0, 0.0), (40.0, 0.4), (0.0, 0.4)))
    assert grain_strokes(thin).segments


def test_a_drawing_says_each_pattern_once() -> None:
    near, far = (box(at, 0.0, at + 30.0, 20.0) for at in (0.0, 50.0))
    drawing = write_svg(framed("two boards", [grain(near), grain(far), grain(far, 90.0)]))
    (name,) = re.findall(r'<pattern id="([^"]+)"', drawing)
    assert drawing.count(f"url(#{name})") == 3
