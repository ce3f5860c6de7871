"""What the wood's side adds to its sawn face in a photo."""

from __future__ import annotations

import math

import numpy as np
import pytest

from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.scan.camera import Stand
from drawerwright.joints.scan.edge_points import SectionFace, edge_points
from drawerwright.joints.scan.side_walls import SeenWalls, seen_walls, side_added

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


def test_a_dark_strip_as_wide_as_it_has_to_be_is_hardly_in_doubt() -> None:
    """Source: the error function, a strip of seven pixels a quarter as light as the sawn face."""
    seen, added = fall(7.0, 0.25, 1.7)
    found, doubt = side_added(
        np.interp(np.arange(-13.0, 13.01, 0.25), OFFSETS, seen), np.arange(-13.0, 13.01, 0.25), 7.2, 0.6, 1.7
    )
    assert abs(found - added) < 2 * doubt
    assert doubt < 2.5


def stands(far: dict[float, float], beside: float = 0.0) -> list[Stand]:
    """A camera that stands as high (mm) as each of these, as likely as said, 1 mm to and fro; with the highest of them
    so much (mm) further to the right."""
    return [
        Stand(np.array([beside if z == max(far) else 0.0, 0.0, z]), np.eye(2), chance)
        for z, chance in far.items()
    ]


def walls_of(some: list[Stand], height: Estimate) -> SeenWalls:
    return seen_walls(some, height, height.value / 400, (np.zeros(2), np.array([10.0, -10.0])), 1.0)


def test_the_sawn_face_s_own_scale_tells_how_high_it_lies() -> None:
    """Source: similar triangles, a slice 8 mm high under a camera 400 mm away that was thought to be 5 mm high."""
    walls = walls_of(stands({400.0: 0.5, 400.001: 0.5}), Estimate(5.0, 2.0))
    better = walls.by_scale((400 - 5) / (400 - 8), 0.001)
    rise = float(better.chance @ better.rises)
    assert abs(rise - 8 / 400) < 0.001
    assert math.sqrt(float(better.chance @ (better.rises - rise) ** 2)) < 0.001
    assert float(walls.chance @ walls.rises) == pytest.approx(5 / 400, rel=0.02)


def test_how_much_larger_a_slice_looks_tells_which_lens_took_it() -> None:
    """Source: similar triangles. A slice that is known to be 8 mm high looks 2 % larger: the camera stood 400 mm above
    it, and not 200; and so it did not stand over the place that belongs to 400 mm with another lens."""
    walls = walls_of(stands({200.0: 0.5, 400.0: 0.5}, beside=20.0), Estimate(8.0, 0.1))
    told = {far: walls.by_scale((1 - 8 / 400) / (1 - 8 / far), 0.0005) for far in (200.0, 400.0)}
    assert float(told[400.0].chance @ told[400.0].feet[:, 0]) > 180.0
    assert float(told[200.0].chance @ told[200.0].feet[:, 0]) < 20.0


def test_what_one_side_shows_tells_how_wide_another_is() -> None:
    """Source: geometry. From pixel 240, a slice 2 % as high as the camera shows 2.2 pixels of a side at 130 and 1.4 of
    one at 170; from pixel 390, 5.2 and 4.4. The first side is half as light as the sawn face and plain to see, the
    other as light as the face itself."""
    x = np.arange(240.0)
    picture = np.zeros((200, 240), np.float32)
    faces = {}
    for name, rows, at, strip, light in (
        ("near", (0, 100), 130.0, 2.2, 0.5),
        ("far", (100, 200), 170.0, 1.4, 1.0),
    ):
        rest = [np.array([0.5 * math.erfc(d / math.sqrt(2)) for d in x - edge]) for edge in (at, at + strip)]
        picture[slice(*rows)] = (1 - light) * rest[0] + light * rest[1]
        ends = (np.array([at, row]) for row in (rows[0] + 10.0, rows[1] - 10.0))
        faces[name] = SectionFace(name, *ends, np.array([1.0, 0.0]))
    places = [Stand(np.array([x, 0.0, 400.0]), np.diag([1.0, 1.0]), 0.5) for x in (24.0, 39.0)]
    walls = walls_of(places, Estimate(8.0, 0.1))
    found = {name: edge_points(picture, walls.found(face), 8.0)[0] for name, face in faces.items()}
    moved = walls.without_sides(found, picture, faces)
    alone = walls.without_sides({"far": found["far"]}, picture, faces)
    assert moved["far"].points[:, 0].mean() == pytest.approx(170.0, abs=0.45)
    assert moved["near"].points[:, 0].mean() == pytest.approx(130.0, abs=0.45)
    assert moved["far"].unsure < 0.7 * alone["far"].unsure


def test_what_cannot_be_told_is_in_doubt() -> None:
    """Source: a side as light as the sawn face looks like more of it, a black one like none: one step in all."""
    assert side_added(fall(3.0, 1.0, 1.0)[0], OFFSETS, 3.0, 0.3, 1.0)[1] > 1.0
    assert side_added(fall(3.0, 0.6, 1.0)[0], OFFSETS, 3.0, 0.3, 1.0)[1] < 0.4


def test_a_light_ply_with_a_glue_line_behind_it_is_no_strip() -> None:
    """Source: the error function. The edge's own ply is a fifth lighter than the next, 5 pixels behind it, and the glue
    between them darker; a strip 2 pixels wide and a quarter as light stands before it."""
    blur = 1.5
    offsets = np.arange(-9.0, 9.01, 0.25)

    def seen(x: np.ndarray) -> np.ndarray:
        def rest(edge: float) -> np.ndarray:
            return np.array([0.5 * math.erfc(away / blur / math.sqrt(2)) for away in x - edge])

        own = rest(0.0) - rest(-5.0)
        glue = rest(-5.0) - rest(-6.5)
        return 1.2 * own + 0.8 * glue + 1.0 * rest(-6.5) + 0.3 * (rest(2.0) - rest(0.0))

    fine = np.arange(-1.0, 3.0, 0.001)
    half = float(fine[int(np.argmin(np.abs(seen(fine) - 0.6)))])
    found, doubt = side_added(seen(offsets + half), offsets, 2.9, 0.8, blur)
    assert abs(found - half) < 1.5 * doubt
    assert found < 2.0  # four pixels, give or take a half, where no ply is thought of
