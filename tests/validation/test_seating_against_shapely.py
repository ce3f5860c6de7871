"""Seating checked against a search by an independent geometry library.

shapely (GEOS) knows nothing of insets, kinks or clashes: it gets the two pieces as polygons and is asked, for
many engagements, how far the upright can be pushed in before the overlap has an area. The polygons are built
here from the profile by slicing, not by the code under test.
"""

import math

import numpy as np
import pytest
from shapely import Polygon, affinity

from drawerwright.joints.corner import Cuts
from drawerwright.joints.fit import seat
from drawerwright.joints.profile import Profile

WANTED = 0.002
"""mm; the bar for depth and engagement."""


def flat_polygon(points, height, fence, thickness):
    """The flat piece: everything to the right of its end, less what the cutter takes out of it."""
    board = Polygon([(0, 0), (80, 0), (80, thickness), (0, thickness)])
    edge = [(fence - c, height - z) for z, c in points]
    return board.difference(Polygon([(-50, height - points[-1][0]), *edge[::-1], (-50, height)]))


def upright_polygon(points, height, fence, thickness):
    """The upright piece with its tip at y = 0 and its outer face at x = 0, cut from its inside."""
    board = Polygon([(0, -60), (thickness, -60), (thickness, 0), (0, 0)])
    edge = [(thickness - fence + c, z - height) for z, c in points]
    return board.difference(
        Polygon([(thickness + 50, -height), *edge, (thickness + 50, points[-1][0] - height)])
    )


def depth_at(flat, upright, engagement, start, end):
    """Largest x of the upright's outer face without overlap, by bisection on the overlap's area."""
    low, high = start, end
    lifted = affinity.translate(upright, 0, engagement)
    while high - low > 2e-5:
        middle = (low + high) / 2
        if affinity.translate(lifted, middle, 0).intersection(flat).area > 1e-9:
            high = middle
        else:
            low = middle
    return low


def search(flat, upright, height, start, end, floor):
    """Deepest seat over engagements from `floor` to the bit height, refined twice; and its range."""
    grid = np.linspace(floor, height, 161)
    for _ in range(3):
        depths = [depth_at(flat, upright, y, start, end) for y in grid]
        best = int(np.argmax(depths))
        lo, hi = grid[max(best - 1, 0)], grid[min(best + 1, len(grid) - 1)]
        deepest = depths[best]
        grid = np.linspace(lo, hi, 21)
    return deepest, float(np.mean((lo, hi)))


def straight_profile(rng):
    """A rising profile of straight pieces, roughly point-symmetric, with a flat tooth and a flat neck."""
    m, d = rng.uniform(5, 7), rng.uniform(2.5, 4)
    inner = np.sort(rng.uniform(m - 2.5, m + 2.5, 6))
    insets = d * (np.arange(1, 7) + rng.uniform(-0.4, 0.4, 6)) / 7  # no piece so flat that depth hardly tells
    return m, [
        (0.0, 0.0),
        (m - 3, 0.0),
        *zip(inner.tolist(), insets.tolist(), strict=True),
        (m + 3, d),
        (20, d),
    ]


def curved_profile(rng):
    """An ogee of two arcs through the middle, each flattened here into 40 chords."""
    m, d, reach = rng.uniform(5, 7), rng.uniform(2.5, 4), rng.uniform(1.6, 3.0)
    theta = np.linspace(0, math.pi, 81)
    return m, [
        (0.0, 0.0),
        *(
            (float(m - reach * math.cos(t)), float(d * (1 - math.cos(t)) / 2 + rng.normal(0, 0)))
            for t in theta
        ),
        (20, d),
    ]


@pytest.mark.parametrize("make", [straight_profile, curved_profile])
@pytest.mark.parametrize("seed", range(6))
def test_seating_agrees_with_a_search_over_translations(make, seed):
    """Source: shapely (GEOS), searched over translations of one polygon against the other."""
    rng = np.random.default_rng(seed)
    m, points = make(rng)
    points = [(float(z), float(c)) for z, c in points]
    step = points[-1][1]
    height = 2 * m + rng.uniform(-0.6, 0.6)
    fence_flat, fence_upright = rng.uniform(8, 10), rng.uniform(7, 9)
    t_flat, t_upright = height + rng.uniform(2, 6), fence_upright + rng.uniform(2, 6)
    fit = seat(Cuts(Profile(tuple(points)), t_flat, t_upright, height, fence_flat, fence_upright), step)
    flat = flat_polygon(points, height, fence_flat, t_flat)
    upright = upright_polygon(points, height, fence_upright, t_upright)
    meant = fence_flat + fence_upright - t_upright - step
    deepest, _ = search(flat, upright, height, meant - step - 1, meant + step, height / 2)
    assert fit.lip == pytest.approx(deepest, abs=WANTED)
    assert fit.stands_proud == pytest.approx(max(0.0, meant - deepest), abs=WANTED)
    # Both ends of the play are as deep, and a little beyond them is not (or is out of reach).
    for state in (fit.pressed, fit.pulled):
        at_end = depth_at(flat, upright, state.engagement, meant - step - 1, meant + step)
        assert at_end == pytest.approx(deepest, abs=WANTED)
    below = depth_at(flat, upright, fit.pulled.engagement - 0.02, meant - step - 1, meant + step)
    assert below < deepest - 1e-4
    if fit.pressed.engagement + 0.02 <= height:
        above = depth_at(flat, upright, fit.pressed.engagement + 0.02, meant - step - 1, meant + step)
        assert above < deepest - 1e-4


@pytest.mark.parametrize("slope", [30, 45, 60, 80])
@pytest.mark.parametrize("off", [-0.7, -0.2, 0.15, 0.6])
def test_area_of_every_gap_is_the_daylight_that_shapely_finds(slope, off):
    """Source: shapely (GEOS), the area that neither polygon covers."""
    rise = 3.0 / math.tan(math.radians(slope))
    points = [(0.0, 0.0), (6 - rise / 2, 0.0), (6 + rise / 2, 3.0), (20.0, 3.0)]
    height = 12 + off
    fit = seat(Cuts(Profile(tuple(points)), 18, 15, height, 8.5, 9.5), 3.0)
    flat, upright = flat_polygon(points, height, 8.5, 18), upright_polygon(points, height, 9.5, 15)
    for state in (fit.pressed, fit.pulled):
        placed = affinity.translate(upright, state.lip, state.engagement)
        assert placed.intersection(flat).area == pytest.approx(0, abs=1e-6)
        inside = Polygon(
            [
                (max(state.lip, 0), 0),
                (8, 0),
                (8, height - 0.01),
                (8, height),
                (max(state.lip, 0), height),
            ]
        )
        daylight = inside.difference(placed).difference(flat).area
        shown = sum(Polygon(gap.outline).intersection(inside).area for gap in state.gaps)
        assert shown == pytest.approx(daylight, abs=1e-4)
