"""The number of a cut stands where it hides nothing, as long as there is such a place."""

from __future__ import annotations

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from drawerwright.drawings.rings import (
    Bounds,
    bounds,
    centre_line,
    distance_from,
    free_spot,
    from_ring,
    letters_aside,
)
from drawerwright.drawings.scene import Circle, Text, box

SHEET = (100.0, 60.0)
RADIUS = 2.0
AT_ENDS = 3.0
PLACES = st.tuples(st.floats(0, 95), st.floats(0, 55), st.floats(0.5, 30), st.floats(0.5, 20))
TAKEN = st.lists(PLACES.map(lambda p: (p[0], p[1], p[0] + p[2], p[1] + p[3])), max_size=8)
COORDINATES = st.floats(-50, 50)


def overlap(one: Bounds, other: Bounds) -> float:
    wide = min(one[2], other[2]) - max(one[0], other[0])
    high = min(one[3], other[3]) - max(one[1], other[1])
    return max(wide, 0.0) * max(high, 0.0)


@given(st.booleans(), st.floats(5, 55), st.floats(0, 40), st.floats(5, 60), TAKEN)
@example(True, 30.0, 10.0, 50.0, [(8.0, 25.0, 30.0, 35.0)])
@example(False, 20.0, 5.0, 50.0, [(15.0, 5.0, 25.0, 30.0), (15.0, 45.0, 25.0, 55.0)])
def test_a_ring_lies_on_nothing_where_there_is_a_free_place_on_its_cut(
    is_level: bool, across: float, start: float, length: float, taken: list[Bounds]
) -> None:
    first, last = ((start, across), (start + length, across)), ((across, start), (across, start + length))
    cut = first if is_level else last
    (x, y), ring = free_spot(*cut, SHEET, RADIUS, taken, AT_ENDS)
    assert ring == pytest.approx((x - RADIUS, y - RADIUS, x + RADIUS, y + RADIUS))
    hidden = sum(overlap(ring, other) for other in taken)
    tried = [inside(cut, share / 400) for share in range(401)]
    clear = [
        spot
        for spot in tried
        if not any(overlap((spot[0] - 3, spot[1] - 3, spot[0] + 3, spot[1] + 3), other) for other in taken)
        and all(math.dist(spot, end) > AT_ENDS + RADIUS + 0.8 for end in cut)
    ]
    if clear:  # a place on the cut with a millimetre to spare: the search steps by 1.5 mm
        assert hidden == 0.0


def inside(cut: tuple[tuple[float, float], tuple[float, float]], share: float) -> tuple[float, float]:
    (x0, y0), (x1, y1) = cut
    return x0 + (x1 - x0) * share, y0 + (y1 - y0) * share


def test_a_cut_to_the_edge_of_the_sheet_is_numbered_outside_it() -> None:
    (x, y), _ring = free_spot((40.0, 0.0), (40.0, 60.0), SHEET, RADIUS, [], AT_ENDS)
    assert x == 40.0
    assert y < -RADIUS


@given(COORDINATES, COORDINATES, COORDINATES, COORDINATES, COORDINATES, st.booleans())
def test_distance_from_a_line_is_that_of_its_nearest_point(
    x: float, y: float, a: float, b: float, other: float, is_level: bool
) -> None:
    start, end = ((a, other), (b, other)) if is_level else ((other, a), (other, b))
    along = [inside((start, end), step / 500) for step in range(501)]
    nearest = min(math.dist((x, y), point) for point in along)
    assert distance_from((x, y), start, end) == pytest.approx(nearest, abs=abs(b - a) / 500 + 1e-9)
    assert distance_from((x, y), start, end) <= nearest + 1e-9


@given(COORDINATES, COORDINATES, st.floats(0.5, 10), st.floats(-3, 3))
def test_a_leader_begins_on_the_ring_and_points_to_its_cut(
    x: float, y: float, far: float, angle: float
) -> None:
    near = (x + 3 * far * math.cos(angle), y + 3 * far * math.sin(angle))
    begin, end = from_ring((x, y), near, far)
    assert end == near
    assert math.dist(begin, (x, y)) == pytest.approx(far)
    assert math.dist(begin, near) == pytest.approx(2 * far)


def test_a_centre_line_runs_the_long_way() -> None:
    assert centre_line(((0, 0), (10, 0), (10, 2), (0, 2))) == ((0, 1), (10, 1))
    assert centre_line(((0, 0), (2, 0), (2, 10), (0, 10))) == ((1, 0), (1, 10))
    assert bounds([(3, 1), (0, 5), (2, 2)]) == (0, 1, 3, 5)


def test_a_letter_goes_aside_on_its_piece_where_a_ring_lies_on_it() -> None:
    letter = Text((20.0, 2.0), "f", 3.2, "middle", "middle", bold=True)
    name = Text((8.0, 2.0), "A1", 3.2, "middle", "middle")
    ring = Circle((21.0, 2.0), 2.5)
    piece = box(0.0, 0.0, 40.0, 4.0)
    moved, kept = letters_aside([letter, name], [ring], {letter.at: piece})
    assert kept == name
    boxes = [bounds(moved.corners()), bounds(ring.corners()), bounds(name.corners())]
    assert overlap(boxes[0], boxes[1]) == overlap(boxes[0], boxes[2]) == 0
    assert 0 < boxes[0][0] < boxes[0][2] < 40
    assert moved.at[1] == pytest.approx(2.0)
    assert letters_aside([letter], [Circle((30.0, 2.0), 2.5)], {letter.at: piece}) == [letter]
    everywhere = [Circle((2.0 * n, 2.0), 2.5) for n in range(20)]
    assert letters_aside([letter], everywhere, {letter.at: piece}) == [letter]
