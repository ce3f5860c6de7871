"""A lock-mitre, and two boards edge to edge, by the same search: against brute force and against polygons.

The brute force knows only the equation c(h - y) + c(h - t + y) = constant (two boards of thickness t, one turned
over), tried at every height. The polygons know not even that: shapely (GEOS) gets two boards with their edges cut,
turns one over and pushes it against the other until they overlap.
"""

import numpy as np
import pytest
from shapely import Polygon, affinity

from drawerwright.joints.mate import Verdict, find_middle


def lock(rng, middle, half, uneven):
    """A falling mitre with a zigzag about its middle, point-symmetric but for `uneven` at one corner (mm)."""
    a, b = rng.uniform(0.6, 1.2), rng.uniform(2.0, 3.0)
    rise = rng.uniform(0.4, 1.5)
    below = [(a, rise), (b, -rng.uniform(2.0, 3.0)), (half, -half)]
    above = [(-u, -c) for u, c in reversed(below)]
    points = [(middle + u, half + c) for u, c in (*above, (0.0, 0.0), *below)]
    points[5] = (points[5][0], points[5][1] + uneven)
    return [(0.0, points[0][1]), *points, (middle + half + 3, points[-1][1])]


def brute_force(points, thickness):
    """Height and widest gap, over every height in steps of 0.002 mm."""
    z, c = np.array(points).T
    y = np.linspace(0, thickness, 1501)
    best = (np.inf, 0.0)
    for height in np.arange(thickness / 2 + 6, thickness / 2 + 16, 0.002):
        # All of the edge has to be there, and enough of the lock to hold.
        if height > z[-1] or height - thickness < 0:
            continue
        sums = np.interp(height - y, z, c) + np.interp(height - thickness + y, z, c)
        best = min(best, (float(np.ptp(sums)), float(height)))
    return best[1], best[0]


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("uneven", [0.0, 0.1, 0.4])
def test_height_and_gap_are_those_of_brute_force(seed, uneven):
    """Source: brute force over every height by the equation at the head of this file."""
    rng = np.random.default_rng(seed)
    middle, thickness = rng.uniform(10, 12), rng.uniform(12, 16)
    points = lock(rng, middle, 9.0, uneven)
    mate = find_middle(points, thickness=thickness)
    height, gap = brute_force(points, thickness)
    assert mate.residual.value == pytest.approx(gap, abs=0.008)
    assert mate.bit_height(thickness) == pytest.approx(height, abs=0.012)
    assert mate.verdict is (Verdict.MATES if gap <= 0.15 else Verdict.FAILS)
    if uneven == 0:
        assert mate.mid_depth.value == pytest.approx(middle, abs=1e-4)
        assert mate.bit_height(thickness) == pytest.approx(middle + thickness / 2, abs=1e-4)


def board(points, height, thickness):
    """A board whose edge, at x = 0 and beyond, was cut with its face on the table."""
    edge = [(-c, height - z) for z, c in points]
    cutter = Polygon(
        [(-80, height + 1), (-80, edge[-1][1] - 40), (edge[-1][0], edge[-1][1] - 40), *edge[::-1]]
    )
    cutter = cutter.union(
        Polygon([(-80, height), (edge[0][0], height), (edge[0][0], height + 40), (-80, height + 40)])
    )
    return Polygon([(-60, 0), (60, 0), (60, thickness), (-60, thickness)]).difference(cutter)


def widest_gap(points, height, thickness):
    """Widest daylight, along the boards, when the turned board touches the other first."""
    one = board(points, height, thickness)
    turned = affinity.rotate(one, 180, origin=(0, thickness / 2))
    low, high = -80.0, 80.0
    while high - low > 1e-5:
        middle = (low + high) / 2
        if affinity.translate(turned, middle, 0).intersection(one).area > 1e-8:
            high = middle
        else:
            low = middle
    turned = affinity.translate(turned, low, 0)
    between = Polygon([(-40, 0), (40, 0), (40, thickness), (-40, thickness)]).difference(one.union(turned))
    levels = np.linspace(0.01, thickness - 0.01, 301)
    return max(
        (
            piece.intersection(Polygon([(-50, y), (50, y), (50, y + 1e-6), (-50, y + 1e-6)])).area / 1e-6
            for piece in getattr(between, "geoms", [between])
            for y in levels
        ),
        default=0.0,
    )


@pytest.mark.parametrize("uneven", [0.0, 0.3])
def test_two_boards_close_at_the_height_that_is_found(uneven):
    """Source: shapely (GEOS), which pushes the two polygons together."""
    points = lock(np.random.default_rng(5), 11.0, 9.0, uneven)
    mate = find_middle(points, thickness=14.0)
    best = mate.bit_height(14.0)
    at_best = widest_gap(points, best, 14.0)
    assert at_best == pytest.approx(mate.residual.value, abs=0.01)
    assert widest_gap(points, best + 0.3, 14.0) > at_best + 0.1
    for off in (-0.2, -0.05, 0.05, 0.2):
        assert widest_gap(points, best + off, 14.0) > at_best - 0.002
