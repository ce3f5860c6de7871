from __future__ import annotations

import pytest

from drawerwright.drawings.scene import Circle, Ink, Path, Scene
from drawerwright.drawings.thickness_picture import WIDTH, draw_thickness
from drawerwright.wood.thickness import Panel, Thickness, ThicknessRange, published_range
from legible import clipped_texts, overlapping_texts

BIRCH = published_range(Panel.BIRCH_PLYWOOD, 15)
MEASURED = Thickness(15.0, ((14.62, 14.58), (14.64, 14.59, 14.61)), BIRCH)


def rings(scene: Scene) -> list[tuple[float, float]]:
    return [item.centre for item in scene.items if isinstance(item, Circle)]


def published(scene: Scene) -> tuple[float, float]:
    outline = next(i for i in scene.items if isinstance(i, Path) and i.closed)
    return min(x for x, _ in outline.points), max(x for x, _ in outline.points)


def test_readings_stand_where_they_lie_in_the_published_range() -> None:
    """Limits of the published series for 15 mm birch plywood: 14.3 and 15.3 mm (its source stands in the table)."""
    scene = draw_thickness(MEASURED)
    assert scene is not None
    low, high = published(scene)
    readings = [value for sheet in MEASURED.readings for value in sheet]
    for (x, _), value in zip(rings(scene), readings, strict=True):
        assert (x - low) / (high - low) == pytest.approx((value - 14.3) / (15.3 - 14.3))
    assert len({y for _, y in rings(scene)}) == 2, "a row for each sheet"
    reckoned = next(i for i in scene.items if isinstance(i, Path) and i.ink is Ink.MARK)
    assert (reckoned.points[0][0] - low) / (high - low) == pytest.approx(MEASURED.value - 14.3)


@pytest.mark.parametrize(
    "thickness",
    [
        MEASURED,
        Thickness(15.0, (), BIRCH),
        Thickness(15.0, ((14.6,),)),
        Thickness(12.0, ((13.4, 13.5),), ThicknessRange(11.9, 12.0, None, "narrow, made up")),
        Thickness(18.0, ((18.0,),), ThicknessRange(17.1, 18.0, None, "at its limit, made up")),
    ],
)
def test_it_can_be_read(thickness: Thickness) -> None:
    scene = draw_thickness(thickness)
    assert scene is not None
    assert not overlapping_texts(scene)
    assert not clipped_texts(scene)
    assert all(0 <= x <= WIDTH for x, _ in rings(scene))


def test_what_is_only_nominal_has_no_picture() -> None:
    assert draw_thickness(Thickness(20.0)) is None


def test_not_measured_is_said() -> None:
    scene = draw_thickness(Thickness(15.0, (), BIRCH))
    assert scene is not None
    assert any(text.text.startswith("not measured yet") for text in scene.texts)
    assert not rings(scene)
