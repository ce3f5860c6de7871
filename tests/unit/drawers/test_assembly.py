"""Where the parts of one drawer sit, worked out by hand for a drawer of our own."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drawerwright.basics.uncertain import Estimate
from drawerwright.drawers.assembly import assemble
from drawerwright.drawers.bank import Bank, FrontStyle, Overlay, Pull
from drawerwright.drawers.bottom import Bottom, BottomStyle
from drawerwright.drawers.box import AppliedFront, DrawerBox
from drawerwright.drawers.carcase import pull_holes
from drawerwright.drawers.front_heights import EqualHeights
from drawerwright.drawers.opening import Opening
from drawerwright.drawers.parts import PartKind
from drawerwright.drawers.placement import Placement
from drawerwright.drawers.runners import Runner, RunnerKind
from drawerwright.joints.corner_key import Orientation
from drawerwright.joints.cutter import Cutter
from drawerwright.wood.stock import Stock
from drawerwright.wood.thickness import Panel, Thickness

CUTTER = Cutter("drawer-lock", mid_depth=Estimate(5.5), step=Estimate(3.6))


def board(thickness: float) -> Stock:
    return Stock(f"board {thickness}", Panel.OTHER, Thickness(thickness, ((thickness,),)))


BOX = DrawerBox(
    "A1",
    width=420,
    depth=360,
    height=104,
    front_height=118,
    front=board(16),
    side=board(14),
    back=board(15),
    made_by=CUTTER,
    bottom=Bottom(
        BottomStyle.CAPTURED, board(6), groove_depth=5, groove_height=9, groove_play=0.2, clearance=1
    ),
    lip=7,
    front_below=8,
)


def bounds(box: DrawerBox, kind: PartKind) -> list[float]:
    low, high = assemble(box)[kind].bounds
    return [*low, *high]


@pytest.mark.parametrize(
    ("kind", "low", "high"),
    [
        (PartKind.FRONT, (-7, -16, -8), (427, 0, 110)),
        (PartKind.BACK, (0, 329, 0), (420, 344, 104)),
        (PartKind.LEFT, (0, -11, 0), (14, 340, 104)),
        (PartKind.RIGHT, (406, -11, 0), (420, 340, 104)),
        (PartKind.BOTTOM, (9.5, -4.5, 9), (410.5, 333.5, 15)),
    ],
)
def test_each_part_has_its_place(kind: PartKind, low: tuple[float, ...], high: tuple[float, ...]) -> None:
    assert bounds(BOX, kind) == pytest.approx([*low, *high])


def test_sides_that_lie_flat_go_from_front_to_back() -> None:
    box = replace(BOX, lip=0, orientation=Orientation.SIDES_FLAT)
    assert bounds(box, PartKind.LEFT) == pytest.approx([0, -16, 0, 14, 344, 104])
    assert bounds(box, PartKind.FRONT) == pytest.approx([3, -16, -8, 417, 0, 110])


def test_a_front_that_reaches_below_has_its_groove_higher() -> None:
    """17 mm above its lower edge and 9 mm above the sides': the same level, once the drawer is together."""
    drawer = assemble(BOX)
    heights = {part.kind: part.groove.height for part in drawer.parts if part.groove}
    assert heights == {PartKind.FRONT: 17, PartKind.BACK: 9, PartKind.LEFT: 9, PartKind.RIGHT: 9}
    for kind, height in heights.items():
        assert drawer[kind].place.in_drawer((0.0, height, 0.0))[2] == pytest.approx(9)


def test_grooves_that_are_one_compare_as_one() -> None:
    """0.1 + 0.2 is not 0.3 for a computer; on the saw it is one fence setting."""
    one, other = (assemble(replace(BOX, front_below=below)) for below in (0.3, 0.1 + 0.2))
    assert one[PartKind.FRONT].part.groove == other[PartKind.FRONT].part.groove


def test_a_fixed_bottom_ends_behind_a_front_that_reaches_below() -> None:
    bottom = replace(BOX.bottom, style=BottomStyle.FIXED)
    assert bounds(replace(BOX, bottom=bottom), PartKind.BOTTOM) == pytest.approx(
        [0.5, 0.5, -6, 419.5, 343.5, 0]
    )
    flush = replace(BOX, bottom=bottom, front_below=0)
    assert bounds(flush, PartKind.BOTTOM)[:3] == pytest.approx([0.5, -15.5, -6])


def test_a_slid_bottom_passes_under_the_back() -> None:
    box = replace(BOX, bottom=replace(BOX.bottom, style=BottomStyle.SLID))
    assert bounds(box, PartKind.BOTTOM)[4] == pytest.approx(343.5)
    assert bounds(box, PartKind.BACK)[2] == pytest.approx(15.2)


@pytest.mark.parametrize("grain_upright", [False, True])
def test_an_applied_front_lies_before_the_box(grain_upright: bool) -> None:
    front = AppliedFront(board(18), 460, 130, grain_upright, beside=20, below=12)
    assert bounds(replace(BOX, lip=0, applied=front), PartKind.APPLIED_FRONT) == pytest.approx(
        [-20, -34, -12, 440, -16, 118]
    )


def test_a_place_told_in_a_part_and_in_the_drawer_is_one() -> None:
    place = Placement((3.0, -2.0, 5.0), (0, 1, 0), (0, 0, 1), (-1, 0, 0))
    assert place.in_drawer((10.0, 20.0, 30.0)) == (-27.0, 8.0, 25.0)
    assert place.in_part((-27.0, 8.0, 25.0)) == (10.0, 20.0, 30.0)


@pytest.mark.parametrize("orientation", Orientation)
def test_holes_are_marked_on_the_front_itself(orientation: Orientation) -> None:
    """A front that stands between the sides of its box begins further in than the drawer."""
    bank = Bank(
        "cards",
        "A",
        Opening(450, 250, 400),
        FrontStyle.INSET,
        EqualHeights(2),
        reveal=2,
        overlay=Overlay(-15, -2, -2),
        runner=Runner(RunnerKind.SIDE, side=13, bottom=4, top=6),
        front_thickness=16,
        side_thickness=14,
        pull=Pull(spacing=0, below_top=40, hole=5),
    )
    place = bank.places()[0]
    assert (place.box.width, place.below_box, place.front.height) == (420, 4, 122)
    box = replace(BOX, lip=0, front_height=122, front_below=4, orientation=orientation)
    (hole,) = pull_holes(bank, [assemble(box)])
    assert hole.from_left == pytest.approx(210 if orientation is Orientation.FRONTS_FLAT else 207)
    assert hole.above_front == pytest.approx(82)
    assert hole.above_opening == pytest.approx(126 + 82)


def test_each_end_of_a_front_has_the_corner_of_its_own_lip() -> None:
    """7 beyond the left side and 3 beyond the right one; the back is flush with both."""
    drawer = assemble(replace(BOX, lip_right=3.0))
    front, back = drawer[PartKind.FRONT], drawer[PartKind.BACK]
    assert [end.corner.lip for end in front.part.ends] == [7.0, 3.0]
    assert [end.corner.lip for end in back.part.ends] == [0.0, 0.0]
    assert (front.bounds[0][0], front.bounds[1][0]) == (-7.0, 423.0)
    left, right = drawer[PartKind.LEFT].part, drawer[PartKind.RIGHT].part
    assert [sorted(end.corner.lip for end in side.ends) for side in (left, right)] == [[0.0, 7.0], [0.0, 3.0]]


def test_the_frame_of_a_drawer_begins_behind_the_front_of_its_box() -> None:
    """An applied front of 18 stands before the opening, the box's own of 16 behind it; an inset one is all there is."""
    bank = Bank(
        "one", "A", Opening(500, 200, 450), FrontStyle.APPLIED, EqualHeights(1), 0, Overlay(6, 6, 6),
        Runner(RunnerKind.SIDE, side=13, top=8, bottom=4, back=3), 18, 14,
    )  # fmt: skip
    (place,) = bank.places()
    assert place.origin(replace(BOX, applied=AppliedFront(board(18), 512, 212))) == (13, 16, 4)
    (inset,) = replace(bank, style=FrontStyle.INSET, overlay=Overlay(-2, -2, -2)).places()
    assert inset.origin(BOX) == (13, 18, 6)
