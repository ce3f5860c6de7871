"""Heights, runners, their cuts, places and a leaning opening in round figures; each is worked out beside its test."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.drawers.division import DividedCarcase, Division, FaceFrame, evenly
from drawerwright.drawers.front_heights import (
    ArithmeticHeights,
    EqualHeights,
    GeometricHeights,
    GivenHeights,
    HeightRule,
    front_count,
    front_heights,
)
from drawerwright.drawers.opening import Opening
from drawerwright.drawers.opening_readings import OpeningReadings, Shims
from drawerwright.drawers.placement import BACK, DOWN, LEFT, RIGHT, UP, Placement
from drawerwright.drawers.runner_cuts import (
    Hole,
    HookBore,
    Locking,
    Notch,
    RearCuts,
    RearNotch,
    Room,
    hook_holes,
    notches,
    rooms,
)
from drawerwright.drawers.runners import Runner, RunnerKind, RunnerLength, standing_runner

BACK_PLACE = Placement((112.0, 400.0, 20.0), LEFT, UP, BACK)
"""A back that is marked from its right end, seen from inside, 20 above the sides' lower edges; x of its end is 112."""


def test_a_place_is_told_in_both_frames() -> None:
    assert BACK_PLACE.in_part((100.0, 403.0, 25.0)) == (12.0, 5.0, 3.0)
    assert BACK_PLACE.in_drawer((12.0, 5.0, 3.0)) == (100.0, 403.0, 25.0)
    tipped = Placement((1.0, 2.0, 3.0), BACK, DOWN, RIGHT)
    assert tipped.in_drawer((10.0, 20.0, 30.0)) == (31.0, 12.0, -17.0)
    assert tipped.in_part((31.0, 12.0, -17.0)) == (10.0, 20.0, 30.0)


def test_notches_of_a_back_begin_at_the_sides_inner_faces() -> None:
    """Inside from 12 to 112, notches of 30 by 35 above the sides' edges: 0 to 30 and 70 to 100 along, 15 high."""
    cuts = RearCuts(RearNotch(30.0, 35.0))
    assert notches(cuts, (12.0, 112.0), BACK_PLACE) == (Notch(100.0, 70.0, 15.0), Notch(30.0, 0.0, 15.0))
    assert notches(RearCuts(RearNotch(30.0, 20.0)), (12.0, 112.0), BACK_PLACE) == ()  # the back ends above it
    assert notches(RearCuts(), (12.0, 112.0), BACK_PLACE) == ()


def test_holes_for_hooks_lie_beside_the_sides_and_above_their_edges() -> None:
    """7 beside each inner face: x 19 and 105, which is 93 and 7 from the back's end at 112; 30 - 20 = 10 up."""
    bored = RearCuts(bore=HookBore(6.0, 7.0, 30.0, 11.0))
    assert hook_holes(bored, (12.0, 112.0), BACK_PLACE) == (
        Hole(93.0, 10.0, 6.0, 11.0),
        Hole(7.0, 10.0, 6.0, 11.0),
    )
    assert hook_holes(RearCuts(), (12.0, 112.0), BACK_PLACE) == ()


def test_rooms_for_runner_and_lock_lie_inside_both_sides() -> None:
    found = list(rooms(RearNotch(30.0, 13.0), Locking(40.0, 60.0, 12.0), (12.0, 112.0), 450.0))
    assert found == [
        Room((12.0, 0.0, 0.0), (42.0, 450.0, 13.0)),
        Room((82.0, 0.0, 0.0), (112.0, 450.0, 13.0)),
        Room((12.0, 0.0, 0.0), (52.0, 60.0, 12.0)),
        Room((72.0, 0.0, 0.0), (112.0, 60.0, 12.0)),
    ]
    assert list(rooms(None, None, (12.0, 112.0), 450.0)) == []


@pytest.mark.parametrize("axis", [0, 1, 2])
def test_what_only_touches_a_room_does_not_meet_it(axis: int) -> None:
    room, inside = Room((0.0, 0.0, 0.0), (10.0, 10.0, 10.0)), [(2.0, 8.0)] * 3
    for low, high, meets in (
        (2, 8, True),
        (9.99, 20, True),
        (10, 20, False),
        (-5, 0, False),
        (-5, 0.01, True),
    ):
        ends = [*inside[:axis], (low, high), *inside[axis + 1 :]]
        assert room.meets(tuple(a for a, _ in ends), tuple(b for _, b in ends)) is meets  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("rule", "expected"),
    [
        # 312 less two reveals of 6 is 300.
        (EqualHeights(3), (100, 100, 100)),
        (ArithmeticHeights(3, step=20), (80, 100, 120)),
        (ArithmeticHeights(3, smallest=70), (70, 100, 130)),
        (GeometricHeights(3, ratio=2), (300 / 7, 600 / 7, 1200 / 7)),
        (GeometricHeights(3, ratio=0.5), (1200 / 7, 600 / 7, 300 / 7)),
        (GeometricHeights(3, smallest=300 / 7), (300 / 7, 600 / 7, 1200 / 7)),
        (GeometricHeights(3, smallest=100), (100, 100, 100)),
        (GivenHeights((60, None, 140)), (60, 100, 140)),
        (GivenHeights((60, 100.04, 140)), (60, 100.04, 140)),
    ],
)
def test_heights_in_round_figures(rule: HeightRule, expected: tuple[float, ...]) -> None:
    assert front_count(rule) == 3
    assert front_heights(rule, 312.0, 6.0) == pytest.approx(expected)


@pytest.mark.parametrize("rule", [ArithmeticHeights(1, smallest=50), GeometricHeights(1, smallest=50)])
def test_a_single_front_takes_all_of_the_field(rule: HeightRule) -> None:
    assert front_heights(rule, 312.0, 6.0) == (312.0,)


@pytest.mark.parametrize(
    "rule",
    [
        GivenHeights((60, 100.06, 140)),
        GivenHeights((160, None, 140)),
        GeometricHeights(3, ratio=0),
        GeometricHeights(3, ratio=-1),
        GeometricHeights(3, smallest=301),
        ArithmeticHeights(3, step=100),
        EqualHeights(53),
    ],
)
def test_heights_that_leave_a_front_nothing_are_refused(rule: HeightRule) -> None:
    """53 fronts have 52 reveals of 6: 312."""
    with pytest.raises(InvalidValueError):
        front_heights(rule, 312.0, 6.0)
    assert len(front_heights(EqualHeights(52), 312.0, 6.0)) == 52


SLIDE = Runner(
    RunnerKind.SIDE,
    side=13.0,
    back=5.0,
    lengths=(RunnerLength(400.0, 25.0), RunnerLength(450.0, 30.0), RunnerLength(500.0, 35.0)),
)


@pytest.mark.parametrize(
    ("depth", "length"), [(405.0, 400.0), (454.9, 400.0), (455.0, 450.0), (600.0, 500.0)]
)
def test_the_longest_runner_that_fits_with_its_room_behind(depth: float, length: float) -> None:
    chosen = SLIDE.chosen(depth)
    assert chosen is not None
    assert chosen.length == length
    assert SLIDE.box_depth(depth) == length


def test_a_runner_that_is_too_long_is_refused_with_the_shortest() -> None:
    with pytest.raises(InvalidValueError, match="a runner of 400 mm with 5 mm behind it"):
        SLIDE.chosen(404.9)
    with pytest.raises(InvalidValueError, match="a runner of 450 mm"):
        replace(SLIDE, length=450.0).chosen(454.9)
    assert replace(SLIDE, lengths=()).chosen(404.9) is None
    assert replace(SLIDE, lengths=()).box_depth(405.0) == 400.0


@pytest.mark.parametrize(
    ("stated", "rating"), [(450.0, 30.0), (450.4, 30.0), (449.6, 30.0), (450.6, None), (470.0, None)]
)
def test_a_stated_length_has_the_rating_of_its_nominal_one(stated: float, rating: float | None) -> None:
    chosen = replace(SLIDE, length=stated).chosen(600.0)
    assert chosen is not None
    assert chosen.rating == rating


def test_a_box_between_its_runners() -> None:
    """Side space: 600 - 2 × 13. A maker's deduction fixes the inside: 600 - 42 between sides of 15 is 588 outside."""
    assert (SLIDE.box_width(600.0, 15.0), SLIDE.side_space(600.0, 15.0)) == (574.0, 13.0)
    under = replace(SLIDE, inside_deduction=42.0)
    assert (under.box_width(600.0, 15.0), under.side_space(600.0, 15.0)) == (588.0, 6.0)
    for runner, least in ((SLIDE, 56.0), (under, 42.0)):
        with pytest.raises(InvalidValueError):
            runner.box_width(least, 15.0)
        assert runner.box_width(least + 1, 15.0) == 31.0


def test_standing_tables_are_assumed_as_a_whole() -> None:
    """Common practice, no source: 13 mm of recess is half an inch in an inch shop."""
    recess = (
        standing_runner(RunnerKind.UNDER).bottom_recess,
        standing_runner(RunnerKind.UNDER, "in").bottom_recess,
    )
    assert recess == (13.0, 12.7)
    side = standing_runner(RunnerKind.SIDE, "in")
    assert (side.side, side.bottom_recess) == (13.0, None)
    assert {"side", "top", "bottom", "back", "line", "play"} <= side.assumed


def leaning(below: float, above: float, high: float, lean: float) -> OpeningReadings:
    """Readings of an opening whose upper edge lies `lean` further right than its lower one, by Pythagoras."""
    return OpeningReadings(
        front_above=above,
        front_below=below,
        diagonal_up=math.hypot(lean + above, high),
        diagonal_down=math.hypot(below - lean, high),
    )


@pytest.mark.parametrize(
    ("below", "above", "lean", "shims", "clear"),
    [
        (500.0, 500.0, 4.0, (4.0, 0.0, 0.0, 4.0), 496.0),
        (500.0, 500.0, -4.0, (0.0, 4.0, 4.0, 0.0), 496.0),
        (500.0, 490.0, 3.0, (3.0, 0.0, 7.0, 0.0), 490.0),
        (500.0, 510.0, -3.0, (0.0, 3.0, 0.0, 7.0), 500.0),
    ],
)
def test_an_opening_that_leans_is_packed_out_upright(
    below: float, above: float, lean: float, shims: tuple[float, ...], clear: float
) -> None:
    """Lower edge from 0 to `below`, upper edge from `lean` to `lean + above`: upright sides stand at the inner ones of
    both ends on each side."""
    readings = leaning(below, above, 700.0, lean)
    found = readings.shims(555.0)
    assert found is not None
    assert (found.left_below, found.left_above, found.right_below, found.right_above) == pytest.approx(
        shims, abs=1e-6
    )
    assert found.thickest == pytest.approx(max(shims))
    assert readings.upright_width(555.0) == pytest.approx(clear)
    assert readings.clear_width(555.0) == pytest.approx(min(clear, below, above))
    with_back = replace(readings, back_above=480.0)
    assert with_back.clear_width(555.0) == 480.0


def test_what_was_not_read_is_as_it_was_planned() -> None:
    bare = OpeningReadings()
    assert (bare.clear_width(500.0), bare.clear_height(300.0), bare.shims(500.0)) == (500.0, 300.0, None)
    assert replace(bare, diagonal_up=900.0).shims(500.0) is None
    square = replace(bare, diagonal_up=500.0, diagonal_down=500.0)
    assert square.shims(400.0) == Shims(0.0, 0.0, 0.0, 0.0)
    assert replace(bare, left=299.0, right=301.0).clear_height(300.0) == 299.0
    assert Shims(1.0, 2.0, 3.0, 4.0).thicker(0.5) == Shims(1.5, 2.5, 3.5, 4.5)


def test_dividers_part_a_carcase_evenly() -> None:
    """1018 less two boards of 18 in three: 327 1/3; in two, less one: 500."""
    assert evenly(1018.0, 2, 18.0) == (500.0,)
    assert evenly(1018.0, 3, 18.0) == pytest.approx((982 / 3, 2 * 982 / 3 + 18))
    assert evenly(1018.0, 1, 18.0) == ()


def test_every_board_of_a_carcase_with_a_frame() -> None:
    """Uprights run through. Stiles of 40 and rails of 60 stand 22 and 42 inside boards of 18; before dividers 38."""
    division = Division(18.0, (500.0,), (341.0,))
    grid = DividedCarcase(
        "chest", Opening(1018.0, 700.0, 460.0), division, FaceFrame.flush_outside(40, 60, 18, 38, 38)
    )
    assert [(board.edges, board.is_upright, board.is_frame) for board in grid.carcase.boards] == [
        ((500, 0, 518, 700), True, False),
        ((0, 341, 500, 359), False, False),
        ((518, 341, 1018, 359), False, False),
        ((-18, -18, 22, 718), True, True),
        ((490, 42, 528, 658), True, True),
        ((996, -18, 1036, 718), True, True),
        ((22, -18, 996, 42), False, True),
        ((22, 331, 490, 369), False, True),
        ((528, 331, 996, 369), False, True),
        ((22, 658, 996, 718), False, True),
    ]
    assert grid.carcase.cells == (
        (22, 369, 468, 289),
        (22, 42, 468, 289),
        (528, 369, 468, 289),
        (528, 42, 468, 289),
    )
    assert (grid.columns, grid.rows) == (2, 2)
