"""Two boards edge to edge, at the settings that the kind gives, as polygons.

Shapely (GEOS) cuts both boards with the swept edge of the cutter, as in `test_mate_through_stock`: it knows neither the
law nor the kind. One board is turned over and laid at the overlap and at the step between the faces that the program
says; there the boards must touch and share no wood.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from shapely import Polygon, affinity

from drawerwright.joints.cutter import Cutter
from drawerwright.joints.joint import self_mating
from drawerwright.joints.setting import CornerGeometry, CornerSetting, set_corner

FAR = 60.0


def board(setting: CornerSetting) -> Polygon:
    """A board that ends at x = 0, after it went past the cutter with its face on the table (y = 0)."""
    line = setting.cutter.profile().between(0.0, setting.bit_height)
    edge = [(setting.fence_flat - inset, setting.bit_height - depth) for depth, inset in line]
    swept = Polygon([(-FAR, edge[0][1]), *edge, (-FAR, edge[-1][1])])
    thickness = setting.corner.flat_thickness
    return Polygon([(0, 0), (FAR, 0), (FAR, thickness), (0, thickness)]).difference(swept)


def joined(setting: CornerSetting, overlap: float, step: float) -> tuple[Polygon, Polygon]:
    """Two such boards, the second turned over; its end lies `overlap` inside the first one's, its face `step` above."""
    one = board(setting)
    turned = affinity.rotate(one, 180, origin=(0, setting.corner.flat_thickness / 2))
    return one, affinity.translate(turned, overlap, step)


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("off", [0.0, -0.4, 0.7])
def test_boards_lie_as_the_kind_says(seed: int, off: float) -> None:
    """Source: shapely (GEOS), which lays the two polygons together; no formula of the kind."""
    rng = np.random.default_rng(seed)
    thickness, step, slope = rng.uniform(14, 24), rng.uniform(2, 6), rng.uniform(30, 80)
    cutter = Cutter("edge", mid_depth=thickness / 2 + rng.uniform(1, 4), step=step, slope=slope)
    right = set_corner(cutter, CornerGeometry(thickness, thickness))
    setting = replace(right, bit_height=right.bit_height + off)
    (_, overlap), *_ = self_mating("edge").figures(setting)
    between_faces = cutter.mating.misfit(setting.bit_height, cutter.mid_depth.value, thickness)
    assert between_faces == pytest.approx(2 * off)  # twice the error of the height

    one, turned = joined(setting, overlap, between_faces)
    assert one.intersection(turned).area < 1e-6
    # No daylight where both boards are: the hulls of the two meet along the whole joint.
    low, high = max(0.0, between_faces), thickness + min(0.0, between_faces)
    band = Polygon([(-20, low), (20, low), (20, high), (-20, high)])
    assert band.difference(one.union(turned)).area < 1e-6

    pushed = affinity.translate(turned, 0.05, 0)
    assert one.intersection(pushed).area > 0.1  # the check can fail


def test_a_panel_is_as_wide_as_its_boards_less_their_overlaps() -> None:
    """Source: derived by hand: four boards overlap three times, by the step of 4.2 mm."""
    cutter = Cutter("edge", mid_depth=12.0, step=4.2)
    setting = set_corner(cutter, CornerGeometry(20.0, 20.0))
    joint = self_mating("edge")
    width = joint.piece_size(setting, 500.0, None, 4)
    assert 4 * width - 3 * 4.2 == pytest.approx(500.0)
    # With F = d the lower half of the edge is not cut, so that it goes on touching the outfeed fence.
    assert board(setting).bounds[0] == pytest.approx(0.0)


@pytest.mark.parametrize("off", [0.0, 0.6])
def test_the_section_is_that_of_the_boards(off: float) -> None:
    """The outlines that are drawn, against the polygons that were cut. Source: shapely (GEOS), as above."""
    cutter = Cutter("edge", mid_depth=12.0, step=4.0, slope=50.0)
    right = set_corner(cutter, CornerGeometry(20.0, 20.0))
    setting, joint = replace(right, bit_height=right.bit_height + off), self_mating("edge")
    one, turned = joined(setting, 4.0, 2 * off)
    drawn = Polygon(joint.flat_outline(setting, 30.0))
    other = Polygon(joint.upright_outline(setting, setting.seated_lip, setting.engagement, 30.0))
    window = Polygon([(-20, -5), (20, -5), (20, 26), (-20, 26)])
    for shown, cut in ((drawn, one), (other, turned)):
        assert shown.intersection(window).symmetric_difference(cut.intersection(window)).area < 1e-6
    assert joint.gaps(setting) == ()
