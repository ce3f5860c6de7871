from __future__ import annotations

import itertools
import math

import pytest
from drawing_cases import corner, lock_cutter, mitre_corner
from shapely import Polygon

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawings.corner_section import draw_corner
from drawerwright.drawings.scene import Fill, Path, Scene
from drawerwright.joints.setting import CornerSetting, FenceRule
from legible import clipped_texts, overlapping_texts, struck_texts

CORNERS = [
    corner(),
    corner(flat=18.3, lip=8.0, rule=FenceRule.TOOTH),
    corner(flat=12.0, upright=11.9, cutter=lock_cutter(4.2, 2.6, 60)),
    corner(flat=25.0, upright=19.0, lip=1.0, cutter=lock_cutter(8.0, 6.0, 35)),
    mitre_corner(),
]


def readable(scene: Scene) -> bool:
    return not (overlapping_texts(scene) or clipped_texts(scene) or struck_texts(scene))


@pytest.mark.parametrize(
    ("setting", "unit", "scale"), list(itertools.product(CORNERS, ("mm", "in/64"), (3.0, 4.0, 6.0)))
)
def test_every_corner_can_be_read(setting: CornerSetting, unit: str, scale: float) -> None:
    style = LengthStyle(unit)  # type: ignore[arg-type]
    scene = draw_corner(setting, scale=scale, style=style, flat_name="front", upright_name="left side")
    assert readable(scene)


def woods(scene: Scene) -> tuple[Polygon, Polygon]:
    pieces = {
        item.fill: Polygon(item.points) for item in scene.items if isinstance(item, Path) and item.closed
    }
    return pieces[Fill.WOOD], pieces[Fill.WOOD_BEHIND]


@pytest.mark.parametrize("setting", CORNERS)
def test_the_drawn_pieces_close_without_overlap(setting: CornerSetting) -> None:
    """Independent check with shapely on what is really on paper: no overlap, and no gap along the joint."""
    flat, upright = woods(draw_corner(setting, scale=1.0, annotated=False))
    assert flat.intersection(upright).area < 1e-6
    joined = flat.union(upright)
    assert joined.geom_type == "Polygon"
    holes = sum(Polygon(ring).area for ring in joined.interiors)  # type: ignore[attr-defined]
    assert holes < 1e-6


def test_figures_are_those_of_the_setting() -> None:
    """Figures of common practice in the trade (no source): mid depth 5 gives height 10; step 3.2 in 18 mm
    stock gives a one-setting fence of 10.6."""
    scene = draw_corner(corner(18.0, 18.0, cutter=lock_cutter(5.0, 3.2)))
    figures = {text.text for text in scene.texts}
    assert {
        "bit height 10.00 mm",
        "fence, flat 10.60 mm",
        "fence, upright 10.60 mm",
        "roof 8.00 mm",
    } <= figures


def test_all_places_are_named() -> None:
    for setting in CORNERS[:4]:
        words = {text.text for text in draw_corner(setting).texts}
        assert {"roof", "head", "neck", "hook", "shoulder"} <= words


def test_scale_is_paper_per_wood() -> None:
    for scale in (1.0, 2.5):
        flat, upright = woods(draw_corner(corner(flat=14.6, upright=15.2), scale=scale))
        assert flat.bounds[3] - flat.bounds[1] == pytest.approx(14.6 * scale)
        assert upright.bounds[2] - upright.bounds[0] == pytest.approx(15.2 * scale)
        assert math.isclose(draw_corner(corner(), scale=scale).scale, scale)
