"""Hidden lines against rays: what the drawing shows is what an eye sees that looks along single rays.

The check is another way to the same: for points along every edge a ray to the viewer is held against every triangle
(T. Möller, B. Trumbore: Fast, minimum storage ray-triangle intersection, Journal of Graphics Tools 2, 1997).
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from drawing_cases import drawer, lock_cutter
from numpy.typing import NDArray

from drawerwright.drawers.assembly import assemble
from drawerwright.drawings.axonometric.feature_edges import drawn_edges, normals_of
from drawerwright.drawings.axonometric.hidden_lines import hidden_spans, lines_of
from drawerwright.drawings.axonometric.viewpoint import (
    BEFORE,
    FORESHORTENED,
    FROM_THE_RIGHT,
    ISOMETRIC,
    Viewpoint,
    from_above,
)
from drawerwright.drawings.scene import Segment
from drawerwright.drawings.solids import drawer_solids
from drawerwright.joints.setting import FenceRule, set_corner

BOX_FACES = ((0, 2, 3, 1), (4, 5, 7, 6), (0, 1, 5, 4), (2, 6, 7, 3), (0, 4, 6, 2), (1, 3, 7, 5))


def box(low: tuple[float, ...], high: tuple[float, ...]) -> NDArray[np.float64]:
    """A box as twelve triangles, counter-clockwise from outside."""
    corners = np.array([[(low, high)[n >> k & 1][k] for k in range(3)] for n in range(8)])
    quads = [corners[list(face)] for face in BOX_FACES]
    triangles = np.array([quad[list(three)] for quad in quads for three in ((0, 1, 2), (0, 2, 3))])
    middle = (np.array(low) + np.array(high)) / 2
    across = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    inward = ((triangles.mean(axis=1) - middle) * across).sum(axis=1) < 0
    triangles[inward] = triangles[inward][:, ::-1]
    return triangles


def a_drawer() -> list[NDArray[np.float64]]:
    """The parts of a lipped drawer with its lock corners."""
    made = drawer(lip=9.0, front_height=140.0, front_below=5.0)
    settings = {keyed.key: set_corner(lock_cutter(), keyed.geometry, FenceRule.ONE) for keyed in made.corners}
    return [part.triangles() for part in drawer_solids(assemble(made), settings)]


def total(segments: tuple[Segment, ...]) -> float:
    return sum(math.dist(*segment) for segment in segments)


def test_a_cube_from_its_corner() -> None:
    """Nine edges show; each is drawn shorter by sqrt(2/3) (ISO 5456-3, isometric axonometry)."""
    lines = lines_of([box((0, 0, 0), (10, 10, 10))], ISOMETRIC)
    assert len(lines.visible) == 9
    for segment in lines.visible:
        assert math.dist(*segment) == pytest.approx(10 * FORESHORTENED)
    rising = [s for s in lines.visible if abs(s[0][0] - s[1][0]) > 1]
    for (x0, y0), (x1, y1) in rising:
        assert abs(math.degrees(math.atan2(abs(y1 - y0), abs(x1 - x0)))) == pytest.approx(30.0)


def test_a_box_before_another_hides_what_is_behind_it() -> None:
    """Seen from before, a near box 4 wide and 6 high stands before one 10 by 10."""
    far, near = box((0, 5, 0), (10, 6, 10)), box((3, 0, -1), (7, 1, 5))
    lines = lines_of([far, near], BEFORE)
    assert total(lines.visible) == pytest.approx((4 * 10 - 4) + 2 * (4 + 6))
    assert total(lines.hidden) == pytest.approx(4.0)


@pytest.mark.parametrize("viewpoint", [ISOMETRIC, BEFORE, FROM_THE_RIGHT, from_above(20, 60)])
def test_the_viewer_stands_before_the_paper(viewpoint: Viewpoint) -> None:
    right, up, toward = (np.array(v) for v in (viewpoint.right, viewpoint.up, viewpoint.toward))
    assert np.array([right, up, toward]) @ np.array([right, up, toward]).T == pytest.approx(np.eye(3))
    assert np.linalg.det(np.array([right, up, toward])) == pytest.approx(1.0)


def is_met(point: Any, triangles: Any, toward: Any, margin: float) -> bool:
    """Moeller and Trumbore: whether a ray from a point to the viewer meets a triangle, made larger by `margin` (a
    share of its sides)."""
    edge1, edge2 = triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
    p = np.cross(toward, edge2)
    det = (edge1 * p).sum(axis=1)
    crosses = np.abs(det) > 1e-9
    inverse = np.where(crosses, 1 / np.where(crosses, det, 1.0), 0.0)
    t = point - triangles[:, 0]
    u = (t * p).sum(axis=1) * inverse
    q = np.cross(t, edge1)
    v = (q @ toward) * inverse
    far = (edge2 * q).sum(axis=1) * inverse
    return bool((crosses & (u >= -margin) & (v >= -margin) & (u + v <= 1 + margin) & (far > 5e-3)).any())


def held_against_rays(solids: list[NDArray[np.float64]], viewpoint: Viewpoint) -> tuple[int, int]:
    """How many points of edges are told otherwise by a ray, and how many were tried. Left out: points where a ray
    grazes a triangle's rim, and those at the end of a hidden stretch."""
    toward = np.array(viewpoint.toward)
    faces = np.concatenate(solids)
    edges = np.concatenate([drawn_edges(solid, toward).ends for solid in solids])
    spans = hidden_spans(viewpoint.seen(edges), viewpoint.seen(faces[normals_of(faces) @ toward > 1e-9]))
    wrong = tried = 0
    for number, (start, end) in enumerate(edges):
        for share in (0.137, 0.5071, 0.871):
            point = start + share * (end - start)
            answers = {is_met(point, faces, toward, margin) for margin in (-1e-4, 1e-4)}
            own = spans.get(number, [])
            if len(answers) > 1 or any(min(abs(share - low), abs(share - high)) < 1e-3 for low, high in own):
                continue
            tried += 1
            wrong += any(low < share < high for low, high in own) not in answers
    return wrong, tried


@pytest.mark.parametrize("seed", range(4))
def test_random_boxes_look_as_rays_see_them(seed: int) -> None:
    random = np.random.default_rng(seed)
    lows = random.uniform(0, 80, (14, 3))
    solids = [box(tuple(low), tuple(low + random.uniform(5, 40, 3))) for low in lows]
    wrong, tried = held_against_rays(solids, from_above(*random.uniform((5, 10), (85, 70))))
    assert tried > 200
    assert wrong == 0


@pytest.mark.parametrize("viewpoint", [ISOMETRIC, from_above(-30, 25)])
def test_a_drawer_looks_as_rays_see_it(viewpoint: Viewpoint) -> None:
    """Parts that touch, folds of joints, and faces that meet in one plane."""
    solids = a_drawer()
    wrong, tried = held_against_rays(solids, viewpoint)
    assert tried > 80
    assert wrong == 0


def test_taken_apart_nothing_is_lost() -> None:
    """What shows and what is hidden of an edge together is the edge."""
    solids = a_drawer()
    toward = np.array(ISOMETRIC.toward)
    ends = ISOMETRIC.seen(np.concatenate([drawn_edges(solid, toward).ends for solid in solids]))[:, :, :2]
    whole = float(np.hypot(*(ends[:, 1] - ends[:, 0]).T).sum())
    lines = lines_of(solids, ISOMETRIC)
    assert total(lines.visible) + total(lines.hidden) == pytest.approx(whole, rel=0.02)
