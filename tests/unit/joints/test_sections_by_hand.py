"""Profiles, sections, gaps and seats in round figures, each worked out by hand from the law (docs/law.md)."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from shapely import Polygon, box

from drawerwright.joints.clash import NOTHING, cut_faces, deepest_seat
from drawerwright.joints.corner import (
    Cuts,
    Place,
    _first_met,
    _floored,
    _tidy,
    _within,
    area,
    corner_gaps,
    flat_section,
    place_on_face,
    upright_section,
)
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.joint import joint_of
from drawerwright.joints.profile import (
    Profile,
    drawer_lock_profile,
    fewest_points,
    flatten_arc,
    lock_mitre_profile,
)
from drawerwright.joints.setting import CornerGeometry, set_corner

LOCK = drawer_lock_profile(5.0, 4.0, 45.0)
"""A tooth down to 3, a slope of 4 by 4 about the middle at 5, and 4 of inset below 7."""
CUTS = Cuts(LOCK, 15.0, 12.0, 10.0, 8.0, 8.0)
"""At the height 2 × 5 with one fence for both pieces: (12 + 4) / 2 = 8."""


def close(points: Any) -> Any:
    return [pytest.approx(point, abs=1e-9) for point in points]


def test_points_of_a_drawer_lock() -> None:
    assert list(LOCK.points) == close([(0, 0), (3, 0), (7, 4), (20, 4)])
    assert drawer_lock_profile(5.0, 4.0, 45.0, 30.0).points[-1] == (30.0, 4.0)
    assert drawer_lock_profile(5.0, 4.0, 45.0, 12.0).points[-1] == (20.0, 4.0)
    assert drawer_lock_profile(5.0, 4.0, 90.0).points[1:3] == ((5.0, 0.0), (5.0, 4.0))
    assert list(drawer_lock_profile(2.5, 4.0, 45.0).points[1:3]) == close([(0.5, 0.0), (4.5, 4.0)])
    assert LOCK.depth == 20.0


def test_points_of_a_lock_mitre() -> None:
    """Step 12: the mitre reaches 6 above and below the middle; the lock turns back at 0.06 × 12 = 0.72 and at 2.16."""
    line = [(7.84, 8.16), (9.28, 5.28), (10, 6), (10.72, 6.72), (12.16, 3.84), (16, 0), (40, 0)]
    assert list(lock_mitre_profile(10.0, 12.0).points) == close([(0, 12), (4, 12), *line])
    assert lock_mitre_profile(10.0, 12.0, depth=50.0).points[-1] == (50.0, 0.0)
    assert lock_mitre_profile(10.0, 12.0, depth=30.0).points[-1] == (40.0, 0.0)
    low = lock_mitre_profile(2.0, 12.0)  # cut by the top; drawn to 2 + 12, more than 4 × 2
    assert list(low.points) == close(
        [(0, 7.84), (1.28, 5.28), (2, 6), (2.72, 6.72), (4.16, 3.84), (8, 0), (14, 0)]
    )
    steep = lock_mitre_profile(
        10.0, 12.0, slope=math.degrees(math.atan(2))
    )  # twice the run: 3 above and below
    assert steep.points[1] == pytest.approx((7.0, 12.0))
    assert steep.inset(13.0) == pytest.approx(0.0, abs=1e-9)


def test_a_profile_between_and_beyond_its_points() -> None:
    assert [LOCK.inset(z) for z in (0, 3, 4, 5, 6.5, 7, 19, 99)] == close([0, 0, 1, 2, 3.5, 4, 4, 4])
    assert list(LOCK.between(4, 6)) == close([(4, 1), (6, 3)])
    assert list(LOCK.between(2, 25)) == close([(2, 0), (3, 0), (7, 4), (20, 4), (25, 4)])
    late = Profile(((2.0, 1.0), (4.0, 0.0), (6.0, 3.0)))
    assert (late.inset(0), late.inset(3), late.inset(5)) == (1.0, 0.5, 1.5)
    assert late.between(0, 2) == ((0, 1.0), (2, 1.0))
    assert late.moved(1.0, 2.0).points == ((3.0, 2.0), (5.0, 0.0), (7.0, 6.0))
    assert late.moved(-3.0, 1.0).points == ((0.0, 0.5), (1.0, 0.0), (3.0, 3.0))
    assert Profile.measured([(6, 5), (4, 2), (2, 3)]).points == ((2, 1), (4, 0), (6, 3))


def test_readings_with_arcs_are_turned_round_with_them() -> None:
    """A quarter of a circle of radius 2 about (2, 2), from (0, 2) to (2, 0): it bulges towards (0, 0)."""
    quarter = math.tan(math.pi / 8)
    down = Profile.measured([(0, 2), (2, 0), (5, 0)], [quarter, 0.0])
    assert all(math.dist(point, (2, 2)) == pytest.approx(2) for point in down.points[:-1])
    up = Profile.measured([(5, 0), (2, 0), (0, 2)], [0.0, -quarter])
    assert list(up.points) == close(down.points)


@pytest.mark.parametrize(
    ("bulge", "pieces", "lowest"),
    [
        # A half circle of radius 1: pieces of 2 acos(1 - 0.1) = 51.7 degrees at most. A left turn bulges to the right.
        (1.0, 4, -1.0),
        (-1.0, 4, 1.0),
        # A quarter of radius 1.414: 2 acos(1 - 0.0707) = 43.3; the two points lie 15 degrees from its middle.
        (math.tan(math.pi / 8), 3, 1 - math.sqrt(2) * math.cos(math.radians(15))),
    ],
)
def test_an_arc_is_cut_into_as_few_pieces_as_the_tolerance_lets(
    bulge: float, pieces: int, lowest: float
) -> None:
    points = flatten_arc((0.0, 0.0), (2.0, 0.0), bulge, tolerance=0.1)
    assert len(points) == pieces - 1
    assert points[len(points) // 2][1] == pytest.approx(lowest)
    assert points[0][0] + points[-1][0] == pytest.approx(2.0)
    assert flatten_arc((0.0, 0.0), (0.0, 0.0), bulge) == flatten_arc((0.0, 0.0), (2.0, 0.0), 0.0) == []


@pytest.mark.parametrize(
    ("points", "tolerance", "kept"),
    [
        ([(0, 0), (1, 0.1), (2, 0)], 0.09, [0, 1, 2]),
        ([(0, 0), (1, 0.1), (2, 0)], 0.11, [0, 2]),
        ([(0, 1), (1, 0.9), (2, 1)], 0.5, [0, 1, 2]),  # the largest radius stays
        ([(0, 0), (0, 3), (0, 1), (4, 1)], 1.7, [0, 1, 2, 3]),  # 12 / √17 = 2.91 off, then 8 / √20 = 1.79
        ([(0, 0), (0, 3), (0, 1), (4, 1)], 1.9, [0, 1, 3]),
        ([(0, 0), (0, 3), (0, 1), (4, 1)], 3.0, [0, 3]),
        ([(0, 0), (2, 3), (2, 1)], 1.9, [0, 1, 2]),  # a ledge that turns back lies 2 beyond the chord's end
        ([(0, 0), (2, 3), (2, 1)], 2.1, [0, 2]),
        ([(0, 0), (3, 4), (6, 8)], 0.001, [0, 2]),
        ([(0, 0), (1, 1), (2, 1), (3, 0)], 0.4, [0, 1, 2, 3]),
        ([(0, 0), (1, 1), (2, 1), (3, 0)], 0.8, [0, 1, 3]),
        ([(0, 0), (1, 1), (2, 1), (3, 0)], 1.1, [0, 3]),
    ],
)
def test_points_that_lie_on_the_line_of_their_neighbours_are_left_out(
    points: list[tuple[float, float]], tolerance: float, kept: list[int]
) -> None:
    assert fewest_points(points, tolerance) == tuple(points[index] for index in kept)


def test_sections_of_a_corner_that_closes() -> None:
    """x of the flat piece 8 - c(10 - y), of the upright one 12 - 8 + c(y); lengths are drawn from the thicknesses."""
    flat = [(42, 0), (42, 15), (0, 15), (0, 10), (8, 10), (8, 7), (4, 3), (4, 0)]
    assert list(flat_section(CUTS)) == close(flat)
    assert flat_section(CUTS, 60.0)[0] == (60.0, 0.0)
    upright = [(0, -24), (12, -24), (12, 0), (4, 0), (4, 3), (8, 7), (8, 10), (0, 10)]
    assert list(upright_section(CUTS, 0.0, 10.0)) == close(upright)
    moved = upright_section(CUTS, 1.5, 9.0, 50.0)
    assert list(moved) == close(
        [(1.5, -41), (13.5, -41), (13.5, -1), (5.5, -1), (5.5, 2), (9.5, 6), (9.5, 9), (1.5, 9)]
    )
    assert corner_gaps(CUTS, 0.0, 10.0) == ()


def test_sections_where_the_cutter_goes_through_or_out() -> None:
    """Flat stock of 8 under a bit 10 high: the top 2 of the cutter are in the air. A fence of 3 takes nothing below."""
    through = Cuts(LOCK, 8.0, 12.0, 10.0, 8.0, 8.0)
    assert not through.has_roof
    assert list(flat_section(through)) == close([(28, 0), (28, 8), (8, 8), (8, 7), (4, 3), (4, 0)])
    tooth = Cuts(LOCK, 15.0, 12.0, 10.0, 3.0, 3.0)
    assert list(tooth.flat_face()) == close([(0, 0), (0, 3), (0, 4), (3, 7), (3, 10)])
    assert list(tooth.upright_face(0.0, 10.0)) == close([(9, 0), (9, 3), (12, 6), (12, 7), (12, 10)])


def by_place(gaps: Any) -> dict[Place, tuple[float, float]]:
    return {gap.place: (gap.width, gap.area) for gap in gaps}


def test_gaps_of_a_bit_too_low_by_hand() -> None:
    """0.2 too low. Pressed: 0.2 along the slope's length, a band of 0.2 × 4. Pulled: 0.2 × 8 at roof and shoulder."""
    low = Cuts(LOCK, 15.0, 12.0, 9.8, 8.0, 8.0)
    pressed, pulled = corner_gaps(low, 0.0, 9.8), corner_gaps(low, 0.0, 9.6)
    assert by_place(pressed) == {Place.HOOK: pytest.approx((0.2, 0.8))}
    assert by_place(pulled) == {
        Place.ROOF: pytest.approx((0.2, 1.6)),
        Place.SHOULDER: pytest.approx((0.2, 1.6)),
    }
    assert [gap.place for gap in pulled] == [Place.ROOF, Place.SHOULDER]
    roof, shoulder = (list(gap.outline) for gap in pulled)
    assert roof == close([(0, 9.6), (8, 9.6), (8, 9.8), (0, 9.8)])
    assert shoulder == close([(12, -0.2), (12, 0), (4, 0), (4, -0.2)])


def test_gaps_beside_a_lip_end_at_the_face_of_the_upright() -> None:
    """A lip of 1 with the flat piece's fence 1 further out: the roof is 8 wide from the upright's face at 1 on."""
    lipped = Cuts(LOCK, 15.0, 12.0, 9.8, 9.0, 8.0)
    roof, shoulder = corner_gaps(lipped, 1.0, 9.6)
    assert list(roof.outline) == close([(1, 9.6), (9, 9.6), (9, 9.8), (1, 9.8)])
    assert (roof.area, shoulder.area) == pytest.approx((1.6, 1.6))
    outside = corner_gaps(lipped, -1.0, 9.6)[0]
    assert min(x for x, _ in outside.outline) == 0.0  # beyond the flat piece's end there is no roof


def test_gaps_of_a_corner_that_stands_proud_by_hand() -> None:
    """Pulled back by 0.5 along x: all along both upright faces and the slope there is 0.5 of daylight."""
    (gap,) = corner_gaps(CUTS, -0.5, 10.0)
    assert (gap.width, gap.area) == pytest.approx((0.5, 5.0))
    neck_only = corner_gaps(Cuts(LOCK, 15.0, 12.0, 10.2, 8.0, 8.0), -0.2, 10.2)
    assert by_place(neck_only) == {
        Place.NECK: pytest.approx((0.2, 0.2 * 3.0 + 0.02)),
        Place.HEAD: pytest.approx((0.2, 0.2 * 3.0 + 0.02)),
    }


@pytest.mark.parametrize(
    ("start", "end", "place"),
    [
        ((4, 0), (4, 3), Place.NECK),
        ((8, 0), (8, 3), Place.HEAD),
        ((4, 0), (4.44, 3), Place.NECK),  # leans by less than 0.15
        ((4, 0), (4.46, 3), Place.SLOPE),
        ((6.1, 3), (6.1, 0), Place.HEAD),
        ((5.9, 3), (5.9, 0), Place.NECK),
        ((5.0, 0), (5.0004, 0), Place.NECK),  # nothing to see
        ((5.0, 0), (5.0006, 0), Place.SLOPE),
    ],
)
def test_names_of_faces(start: tuple[float, float], end: tuple[float, float], place: Place) -> None:
    assert place_on_face(start, end, 6.0) is place


def test_an_area_has_no_sign() -> None:
    square = [(1, 1), (4, 1), (4, 3), (1, 3)]
    assert area(square) == area(square[::-1]) == 6.0


@pytest.mark.parametrize(
    ("clashes", "target", "give", "expected"),
    [
        # A flat bottom between two steep flanks, which meet it at its ends.
        ([5, 6, 2, 2, 4], 3.0, 0.1, (2.0, 3.0, 2.0, True)),
        # Within the give, flanks 3.95 and 1.95 steep meet the bottom 0.05 / 3.95 and 0.05 / 1.95 further in.
        ([5, 6, 2.05, 2, 2.05, 4], 3.0, 0.1, (2 + 0.05 / 3.95, 4 - 0.05 / 1.95, 2.0, True)),
        # Nothing rises on the way out: held by hand, at the target.
        ([1, 2, 3, 4], 2.0, 0.1, (2.0, 2.0, 3.0, False)),
        # A ridge no higher than the give holds nothing.
        ([1, 2.09, 2, 4], 2.0, 0.1, (2.0, 2.0, 2.0, False)),
        ([1, 2.11, 2, 2], 2.0, 0.1, (2.0, 3.0, 2.0, True)),
        # The highest of two ridges is the hook; beyond it the corner is out of it.
        ([1, 9, 0, 5, 2, 2], 4.0, 0.1, (2.0, 2.0, 0.0, True)),
        ([1, 4, 0, 5, 2, 2], 4.0, 0.1, (4.0, 5.0, 2.0, True)),
        # Of two places as deep, with a rise between them, the further in is the seat.
        ([5, 6, 2, 3, 2, 4], 4.0, 0.1, (4.0, 4.0, 2.0, True)),
    ],
)
def test_the_deepest_seat_of_a_curve(
    clashes: list[float], target: float, give: float, expected: tuple[float, float, float, bool]
) -> None:
    curve = np.array(clashes, dtype=float)
    found = deepest_seat(np.arange(len(curve), dtype=float), curve, target, give)
    assert (found.pulled, found.pressed, found.clash) == pytest.approx(expected[:3], abs=1e-9)
    assert found.is_held is expected[3]


@pytest.mark.parametrize(
    ("kind", "mid_depth", "step", "flat", "upright"),
    [
        ("drawer-lock", 5.0, 4.0, 15.0, 12.0),
        ("drawer-lock", 5.65, 3.45, 18.0, 18.0),
        ("lock-mitre", 11.0, 18.0, 15.0, 15.0),
    ],
)
@pytest.mark.parametrize("lip", [0.0, 3.0])
def test_names_stand_on_the_piece_that_they_name(
    kind: str, mid_depth: float, step: float, flat: float, upright: float, lip: float
) -> None:
    """A name's middle, and half of its room either way, lies in the wood of that piece (shapely)."""
    cutter = Cutter(kind, mid_depth=mid_depth, step=step, slope=45.0)
    made = set_corner(cutter, CornerGeometry(flat, upright, lip))
    joint = joint_of(cutter)
    pieces = {
        False: Polygon(joint.flat_outline(made)),
        True: Polygon(joint.upright_outline(made, made.seated_lip, made.engagement)),
    }
    places = joint.places(made)
    assert len({str(place.name) for place in places}) == len(places)
    for place in places:
        (x, y), (wide, high) = place.middle, place.room
        room = box(x - wide / 4, y - high / 4, x + wide / 4, y + high / 4)
        assert pieces[place.on_upright].buffer(1e-6).contains(room), place.name


def test_spans_of_a_drawer_lock_by_hand() -> None:
    """Height 10, tooth to 8 from the fence: neck 4, head 8, roof 5; the upright's fence takes the other 8 of 12."""
    made = set_corner(Cutter(mid_depth=5.0, step=4.0, slope=45.0), CornerGeometry(15.0, 12.0))
    assert (made.neck, made.head, made.roof) == pytest.approx((4.0, 8.0, 5.0))
    spans = joint_of(made.cutter).spans(made)
    said = {
        str(one.name): (one.start, one.end)
        for side in (spans.above, spans.below)
        for one in side
        if one.is_detail
    }
    assert said == {
        "fence, flat": pytest.approx((0.0, 8.0)),
        "neck": pytest.approx((0.0, 4.0)),
        "fence, upright": pytest.approx((4.0, 12.0)),
    }


@pytest.mark.parametrize(
    ("run", "met"),
    [
        # Level, how far the second column lies below zero there, how far the third lies above.
        ([(100, -1, 3), (110, 3, -1)], 102.5),  # 1 of 4 on the way, and the other only at 3 of 4
        ([(100, -3, 1), (110, 1, -3)], None),
        ([(100, -2, 2), (110, 2, -2)], 105.0),
        ([(110, -1, 3), (100, 3, -1)], 107.5),
        ([(0, -1, 2), (10, -1, 2), (20, 1, 2)], 15.0),
        ([(0, -1, 2), (10, -1, -2), (20, 1, -2)], None),
        ([(0, -1, 2), (10, 0, 2)], 10.0),
        ([(0, -1, 2), (10, -0.5, 1)], None),
    ],
)
def test_the_gap_ends_at_the_face_that_is_met_first(run: Any, met: float | None) -> None:
    assert _first_met(run) == (None if met is None else pytest.approx(met))


def test_where_the_cut_goes_through_the_upright_piece_nothing_is_left_to_touch() -> None:
    """A fence 2 beyond stock of 12: what lies less than 2 inside the largest radius, down to 5, cuts all of it away.
    No inset is deeper than the fence of 3 lets the flat piece have."""
    flat, upright = cut_faces(Cuts(LOCK, 15.0, 12.0, 10.0, 3.0, 14.0))
    depths = np.array([0.0, 2.9, 4.0, 4.99, 5.5, 6.0, 7.5, 10.0])
    assert upright.at(depths).tolist() == pytest.approx([NOTHING] * 4 + [2.5, 3.0, 4.0, 4.0], abs=1e-6)
    assert flat.at(depths).tolist() == pytest.approx([0.0, 0.0, 1.0, 1.99, 2.5, 3.0, 3.0, 3.0], abs=1e-6)


@pytest.mark.parametrize(
    ("points", "kept"),
    [
        ([(0, 0), (0, 0), (1, 0), (1, 2), (0, 0)], [0, 2, 3]),  # one twice, and the first one again
        ([(1, 0), (-1, 0), (-1, 2), (1, 2)], [0, 1, 2, 3]),
        ([(0, 1), (0, -1), (2, -1), (2, 1)], [0, 1, 2, 3]),
        ([(1, 2), (3, 2), (3, 4), (-1, -2)], [0, 1, 2, 3]),  # the last is the first one turned about
        ([(1, 2), (3, 2), (3, 4), (1, 4)], [0, 1, 2, 3]),
        ([(1, 2), (3, 4), (3, 2)], [0, 1, 2]),
        ([(1, 2)], [0]),
        ([], []),
    ],
)
def test_an_outline_has_each_point_once(points: list[tuple[float, float]], kept: list[int]) -> None:
    assert _tidy(points) == tuple(points[index] for index in kept)


@pytest.mark.parametrize(
    ("points", "expected"),
    [
        ([(0, 0), (4, 2)], [(1, 0), (1, 0.5), (4, 2)]),
        ([(4, 0), (0, 2), (0, 3)], [(4, 0), (1, 1.5), (1, 2), (1, 3)]),
        ([(1, 0), (4, 3)], [(1, 0), (4, 3)]),
        ([(0, 0), (1, 3)], [(1, 0), (1, 3)]),
        ([(0, 5)], [(1, 5)]),
        ([], []),
    ],
)
def test_what_lies_below_a_floor_is_lifted_to_it(points: Any, expected: Any) -> None:
    assert list(_floored(points, 1.0)) == close(expected)


def test_a_face_between_two_levels() -> None:
    face = [(0.0, 0.0), (2.0, 2.0), (2.0, 4.0), (0.0, 4.0), (0.0, 6.0)]  # with a ledge at 4
    assert _within(face, 1.0, 5.0) == close([(1, 1), (2, 2), (2, 4), (0, 4), (0, 5)])
    assert _within(face, 2.0, 4.0) == close([(2, 2), (2, 4)])
    assert _within(face, 4.0, 6.0) == close([(0, 4), (0, 6)])
