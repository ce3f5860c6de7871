"""A carcase divided into openings, with and without a face frame; every figure is ours and worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.drawers.bank import Bank, FrontStyle, Overlay
from drawerwright.drawers.carcase import runner_lines
from drawerwright.drawers.carcase_findings import carcase_findings
from drawerwright.drawers.division import DividedCarcase, Division, FaceFrame, evenly
from drawerwright.drawers.front_heights import EqualHeights
from drawerwright.drawers.opening import SHARES_ALL, Beside, Kept, Opening
from drawerwright.drawers.opening_readings import OpeningReadings
from drawerwright.drawers.runners import Runner, RunnerKind

WHOLE = Opening(1018, 700, 460)
GRID = DividedCarcase("chest", WHOLE, Division(18, evenly(1018, 2, 18), (341,)))
ALL = dict.fromkeys([(1, 1), (1, 2), (2, 1), (2, 2)], SHARES_ALL)


def place(opening: Opening) -> tuple[float, float, float, float]:
    return opening.x, opening.z, opening.width, opening.height


def test_columns_count_from_the_left_and_rows_from_the_top() -> None:
    """1018 less 18 in two: 500 each. The level divider lies from 341 to 359: 341 below it, 700 - 359 = 341 above."""
    assert place(GRID.opening((1, 1), ALL)) == (0, 359, 500, 341)
    assert place(GRID.opening((2, 2), ALL)) == (518, 0, 500, 341)
    assert GRID.opening((2, 2), ALL).depth == 460


def test_only_what_has_fronts_counts_as_a_neighbour() -> None:
    assert GRID.opening((1, 1), ALL).beside == Beside(right=18, bottom=18)
    assert GRID.opening((1, 1), dict.fromkeys([(1, 1), (1, 2)], SHARES_ALL)).beside == Beside(bottom=18)


def test_a_face_frame_narrows_the_openings_and_says_the_spacers() -> None:
    """Stiles of 38 on boards of 18 stand 20 inside; one of 38 before a divider of 18 stands 10 beyond it on each side.
    Rails of 40: 22 and 11. Opening: 500 - 20 - 10 = 470 wide, 341 - 22 - 11 = 308 high."""
    framed = replace(GRID, frame=FaceFrame.flush_outside(38, 40, 18, 38, 40))
    left, right = framed.opening((1, 2), ALL), framed.opening((2, 1), ALL)
    assert place(left) == (20, 22, 470, 308)
    assert place(right) == (528, 370, 470, 308)
    assert (left.behind, right.behind) == ((20, 10), (10, 20))
    assert left.beside == Beside(right=38, top=40)


def test_a_frame_may_stand_anywhere_before_its_carcase() -> None:
    """Inner edges 6 inside the carcase: 500 - 6 - 10 = 484 wide, 341 - 6 - 11 = 324 high; the stile of 38 stands 32
    beyond it. Where the carcase shows 5 within the frame, its own face is the opening's: 500 - 10 wide, no spacer."""
    inside = replace(GRID, frame=FaceFrame(38, 40, 6, 6, 38, 40))
    left = inside.opening((1, 2), ALL)
    assert (place(left), left.behind) == ((6, 6, 484, 324), (6, 10))
    assert inside.carcase.boards[3].edges == (-32, -34, 6, 734)
    outside = replace(GRID, frame=FaceFrame(38, 40, -5, -5, 38, 40)).opening((1, 2), ALL)
    assert (place(outside), outside.behind) == ((0, 0, 490, 330), (0, 10))


def test_a_part_may_be_divided_again() -> None:
    """The left column, 500 wide: 241 + 18 + 241."""
    again = DividedCarcase("left", GRID.opening((1, 1), ALL), Division(18, evenly(500, 2, 18)))
    inner = again.opening((2, 1), dict.fromkeys([(1, 1), (2, 1)], SHARES_ALL))
    assert place(inner) == (259, 359, 241, 341)
    assert inner.carcase == GRID.carcase


@pytest.mark.parametrize("verticals", [(0,), (500, 510), (1000,), (-5,)])
def test_a_divider_must_leave_openings(verticals: tuple[float, ...]) -> None:
    with pytest.raises(InvalidValueError, match="leaves no opening beside it"):
        DividedCarcase("chest", WHOLE, Division(18, verticals))


def test_a_frame_must_leave_openings() -> None:
    narrow = replace(GRID, frame=FaceFrame.flush_outside(310, 40, 18, 450, 40))
    with pytest.raises(InvalidValueError, match="face frame leaves nothing"):
        narrow.opening((1, 1), ALL)


def test_fronts_that_meet_over_a_divider_share_it() -> None:
    """18 of divider less a reveal of 3, halved: 7.5 each. What lies inside stays inside; a side of its own stays."""
    over = Overlay(12, 12, -3).shared(Beside(right=18, bottom=18), 3)
    assert over.edges == (12, 7.5, 12, -3)
    assert Overlay(12, 12, 12, left=4).shared(Beside(left=18), 3).edges == (4, 12, 12, 12)


def test_beside_fronts_that_keep_their_side_the_rest_is_free() -> None:
    """Of 38 they keep 6, a reveal of 3 stays: 29 are left, and of those no more is taken than was asked for."""
    beside = Beside(left=38, kept=Kept(left=6))
    assert Overlay(9.5, 0, 0).shared(beside, 3).at_left == 9.5
    assert Overlay(33, 0, 0).shared(beside, 3).at_left == 29
    assert Overlay(33, 0, 0).shared(Beside(left=38, kept=Kept(left=40)), 3).at_left == 0


def test_an_opening_knows_what_its_neighbours_keep() -> None:
    kept = {(2, 1): Kept(left=6), (1, 2): Kept(top=-3), (2, 2): Kept(left=1, top=2)}
    assert GRID.opening((1, 1), kept).beside == Beside(right=18, bottom=18, kept=Kept(right=6, bottom=-3))


def bank(cell: tuple[int, int], overlay: Overlay, name: str = "bank") -> Bank:
    opening = GRID.opening(cell, ALL)
    return Bank(
        name,
        name,
        opening,
        FrontStyle.APPLIED,
        EqualHeights(2),
        reveal=3,
        overlay=overlay.shared(opening.beside, 3),
        runner=Runner(RunnerKind.SIDE, side=13, top=8, bottom=4, line=35),
        front_thickness=18,
        side_thickness=14,
    )


def test_shared_dividers_leave_the_reveal_and_nothing_else() -> None:
    """Every front of one bank is 3 from the nearest of its neighbours, beside it and above it."""
    over = Overlay(12, 12, 12)
    grid = {cell: [place.front for place in bank(cell, over).places_in_carcase()] for cell in ALL}
    assert grid[2, 1][0].x - (grid[1, 1][0].x + grid[1, 1][0].width) == pytest.approx(3)
    assert grid[1, 1][-1].z - grid[1, 2][0].top == pytest.approx(3)
    assert carcase_findings([bank(cell, over, str(cell)) for cell in sorted(ALL)]) == ()


def test_fronts_that_take_the_same_wood_are_seen() -> None:
    """10 from the left and 11 from the right on 18 of divider: 3 too much."""
    left = bank((1, 1), Overlay(0, 0, 0, right=10), "left")
    right = bank((2, 1), Overlay(0, 0, 0, left=11), "right")
    (found,) = carcase_findings([left, right])
    assert (found.code, found.where) == ("fronts-collide", "left")
    assert "the same 3.0 mm" in found.text
    assert found.drawers == ("left1", "right1", "left2", "right2")


def test_runner_lines_refer_to_the_whole_carcase() -> None:
    """The upper row begins 359 above the carcase's lower edge; boxes keep 4 below them, and the line is 35 higher."""
    lowest = runner_lines(bank((1, 1), Overlay(-3, -3, -3)))[-1]
    assert (lowest.height, lowest.above_carcase) == (42, 401)


def test_boards_and_frame_stand_where_they_are_seen() -> None:
    """The upright divider stands from 500 to 518 all the way up, the level one from 341 to 359 on both sides of it.
    Stiles of 38 on boards of 18 cover from -18 to 20 and from 998 to 1036, the one before the divider, 40 wide, from
    489 to 529; rails of 40 from -18 to 22 and from 678 to 718, the middle ones from 330 to 370 between the stiles."""
    plain = [board.edges for board in GRID.carcase.boards]
    assert plain == [(500, 0, 518, 700), (0, 341, 500, 359), (518, 341, 1018, 359)]
    framed = replace(GRID, frame=FaceFrame.flush_outside(38, 40, 18, 40, 40)).carcase.boards[3:]
    assert {(board.edges, board.is_upright) for board in framed} == {
        ((-18, -18, 20, 718), True),
        ((489, 22, 529, 678), True),
        ((998, -18, 1036, 718), True),
        ((20, -18, 998, 22), False),
        ((20, 330, 489, 370), False),
        ((529, 330, 998, 370), False),
        ((20, 678, 998, 718), False),
    }


def test_what_divides_a_part_again_is_seen_in_the_whole() -> None:
    """The left column above, 500 by 341 from 359 up: a board of 18 stands in it from 241 to 259."""
    again = DividedCarcase("left", GRID.opening((1, 1), ALL), Division(18, evenly(500, 2, 18)))
    whole = GRID.with_inner({(1, 1): again.with_inner({})})
    assert (241, 359, 259, 700) in [board.edges for board in whole.boards]
    assert set(whole.cells) == {
        (0, 359, 241, 341),
        (259, 359, 241, 341),
        (0, 0, 500, 341),
        (518, 0, 500, 341),
        (518, 359, 500, 341),
    }


def test_an_overlay_that_is_shared_is_said() -> None:
    """12 were asked for, 7.5 are left of the divider to each: on the right of this one, and below it."""
    over = Overlay(12, 12, 12)
    upper = replace(bank((1, 1), over), stated_overlay=over)
    found = carcase_findings([upper])
    assert [(each.code, each.text) for each in found] == [
        (
            "overlay-shared",
            f"the fronts of the next opening {side} cover the same wood, so each takes half of it: 7.5 mm, not the "
            "12 mm asked for.",
        )
        for side in ("on the right", "below")
    ]


def test_an_overlay_that_is_cut_short_is_said() -> None:
    """10 of 18 are kept beyond, a reveal of 3 stays: 5 are left of the 12 asked for."""
    over = Overlay(12, -3, -3)
    opening = GRID.opening((1, 1), {(2, 1): Kept(left=10)})
    plain = bank((1, 1), over)
    cut = replace(plain, opening=opening, stated_overlay=over, overlay=over.shared(opening.beside, 3))
    (found,) = carcase_findings([cut])
    assert (found.code, found.text) == (
        "overlay-shared",
        "the fronts of the next opening on the right cover 10 mm of the wood between them, which leaves 5 mm, not the "
        "12 mm asked for.",
    )


def test_an_opening_wider_than_its_division_leaves_is_said() -> None:
    """500 wide as divided; 501.6 measured is more than the runners take up (1), 500.8 is not."""
    for width, said in ((501.6, ["opening-exceeds-division"]), (500.8, [])):
        opening = GRID.opening((1, 1), {}).measured(OpeningReadings(front_above=width, back_above=width))
        measured = replace(bank((1, 1), Overlay(-3, -3, -3)), opening=opening)
        found = carcase_findings([measured])
        assert [each.code for each in found] == said
    assert not said
    wide = replace(measured, opening=replace(opening, width=501.6))
    (text,) = (each.text for each in carcase_findings([wide]))
    assert "its width measures 501.6 mm" in text
    assert "leaves it 500.0 mm: 1.6 mm of the wood" in text


def test_an_opening_divided_again_has_the_neighbours_of_the_whole_at_its_edges() -> None:
    """The left column above has fronts to its right and below; its own right half shares the divider on the right, both
    halves that below, and each the board between them."""
    again = DividedCarcase("left", GRID.opening((1, 1), ALL), Division(12, evenly(500, 2, 12)))
    halves = [again.opening((column, 1), dict.fromkeys([(1, 1), (2, 1)], SHARES_ALL)) for column in (1, 2)]
    assert halves[0].beside == Beside(right=12, bottom=18)
    assert halves[1].beside == Beside(left=12, right=18, bottom=18)
