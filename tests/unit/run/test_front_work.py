"""Where an applied front sits on its box is a number on paper."""

from __future__ import annotations

from dataclasses import replace

from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.uncertain import Estimate
from drawerwright.drawers.assembly import assemble
from drawerwright.drawers.box import AppliedFront, DrawerBox
from drawerwright.joints.cutter import Cutter
from drawerwright.run.front_work import front_lines, front_work
from drawerwright.wood.stock import Stock
from drawerwright.wood.thickness import Panel, Thickness

WOOD = Stock("board", Panel.OTHER, Thickness(15, ((15,),)))
BOX = DrawerBox(
    "A1",
    width=400,
    depth=350,
    height=100,
    front_height=100,
    front=WOOD,
    side=WOOD,
    back=WOOD,
    made_by=Cutter("drawer-lock", mid_depth=Estimate(5.5), step=Estimate(3.6)),
    bottom=None,
    applied=AppliedFront(WOOD, 440, 130, beside=20, below=12),
)


def said(*boxes: DrawerBox) -> list[str]:
    return [str(line) for line in front_lines(front_work(map(assemble, boxes)), LengthStyle())]


def test_a_front_in_the_middle_is_said_once_for_all_that_sit_so() -> None:
    """440 over 400 with 20 on the left leaves 20 on the right; 130 less 12 below less 100 of side: 18 above."""
    assert said(BOX, replace(BOX, name="A2")) == [
        "Screw on 2 applied fronts from inside; set the reveals with shims.",
        "A1, A2 applied front: 20.0 mm beyond the box on either side, 12.0 mm below the sides and 18.0 mm above them.",
        "Check the first one in its opening before you fix the rest.",
    ]


def test_a_front_beside_the_middle_says_both_sides() -> None:
    """26 on the left leaves 440 - 400 - 26 = 14 on the right."""
    applied = replace(BOX.applied, beside=26)
    assert (
        "26.0 mm beyond the box on the left and 14.0 mm on the right"
        in said(replace(BOX, applied=applied))[1]
    )
