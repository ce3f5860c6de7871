"""Figures that stand where nobody has said anything: they become wood, so none changes unseen. They are common practice
without a source or from memory, as is said beside each in the program; 13 mm of side space is a runner maker's."""

from __future__ import annotations

import dataclasses
from dataclasses import replace
from typing import Any

import pytest

from drawerwright.drawers.bank import Bank, Overlay
from drawerwright.drawers.bottom import GROOVE_SHARE, USUAL_GROOVE_HEIGHT, Bottom
from drawerwright.drawers.box import AppliedFront, Banding, DrawerBox
from drawerwright.drawers.duty import Contents, Duty
from drawerwright.drawers.hangers import USUAL_RAILS, Hangers, UsualRails
from drawerwright.drawers.opening import CarcaseBoard, Opening
from drawerwright.drawers.parts import EndCut, Part
from drawerwright.drawers.placement import BACK, DOWN, FRONT, LEFT, RIGHT, UP
from drawerwright.drawers.runners import Runner, RunnerKind, RunnerLength, standing_runner
from drawerwright.wood.stock import Stock
from drawerwright.wood.thickness import Panel, Thickness

BOARD = Stock("board", Panel.MDF, Thickness(16, ((16,),)))


@pytest.mark.parametrize(
    ("kind", "figures"),
    [
        # side, top, bottom, back, line, play, inside deduction, recess, thickest side
        (RunnerKind.SIDE, (13, 8, 4, 3, 35, 1, None, None, None)),
        (RunnerKind.UNDER, (0, 8, 14, 10, 0, 1, 42, 13, 16)),
        (RunnerKind.WOODEN, (0.5, 2, 1, 10, 40, 0.5, None, None, None)),
        (RunnerKind.NONE, (0.5, 2, 0.5, 5, None, 0.5, None, None, None)),
    ],
)
def test_runners_of_which_nothing_is_said(kind: RunnerKind, figures: tuple[float | None, ...]) -> None:
    one = standing_runner(kind)
    around = (one.side, one.top, one.bottom, one.back, one.line, one.play)
    assert (*around, one.inside_deduction, one.bottom_recess, one.thickest_side) == figures
    plain = Runner(kind)
    assert (plain.side, plain.top, plain.bottom, plain.back, plain.play) == (0, 0, 0, 0, 1)


@pytest.mark.parametrize(
    ("length", "carries"), [(449.51, 30.0), (450.49, 30.0), (449.49, None), (450.51, None)]
)
def test_a_stated_length_is_one_of_the_sheet_within_half_a_millimetre(
    length: float, carries: float | None
) -> None:
    sheet = Runner(RunnerKind.SIDE, lengths=(RunnerLength(450, 30.0),))
    chosen = replace(sheet, length=length).chosen(500)
    assert chosen is not None
    assert chosen.rating == carries


def test_rails_of_which_nothing_is_said() -> None:
    """Folders hang 9 1/2 in, rails are 1/8 in thick and 1/2 in below the sides' edges."""
    assert USUAL_RAILS["mm"] == UsualRails(3, 240, 12)
    inches = USUAL_RAILS["in"]
    assert (inches.rail, inches.below, inches.drop) == pytest.approx((3.175, 241.3, 12.7))
    assert Hangers(380, 3, 240, 12).is_across
    rails = Hangers(380, 3, 240, 12).placed((400, 500), 300, 15)
    assert (rails.between, rails.length, rails.packing, rails.level, rails.room) == (400, 500, 8.5, 288, 273)
    along = replace(Hangers(380, 3, 240, 12), is_across=False).placed((400, 500), 300, 15)
    assert (along.between, along.length, along.packing) == (500, 400, 58.5)


@pytest.mark.parametrize(
    ("contents", "weight"),
    [
        (Contents.PAPER, 0.6),
        (Contents.LINEN, 0.15),
        (Contents.TOOLS, 0.75),
        (Contents.CROCKERY, 0.4),
        (Contents.BOTTLES, 0.65),
    ],
)
def test_what_a_litre_of_a_full_drawer_weighs(contents: Contents, weight: float) -> None:
    """A litre is 100 × 100 × 100 mm. Full bottles of 0.75 l, 1.25 kg each on 80 × 80 × 300 mm, make 0.65."""
    assert Duty(contents=contents).carried(100.0**3) == pytest.approx(weight)
    assert Duty(load=7.0, contents=contents).carried(100.0**3) == 7.0
    assert Contents.BOTTLES.density == pytest.approx(1.25 / (0.8 * 0.8 * 3.0), abs=0.002)


@pytest.mark.parametrize(
    ("kind", "defaults"),
    [
        (Bank, {"below_sides": 0.0}),
        (Bottom, {"oversize": 0.0}),
        (CarcaseBoard, {"is_frame": False}),
        (DrawerBox, {"lip": 0.0, "front_below": 0.0}),
        (EndCut, {"is_routed": True}),
        (Part, {"banded_long_edges": 0, "banded_short_edges": 0, "banding": 0.0, "is_handed": False}),
        (Part, {"is_upright": False, "oversize": 0.0}),
    ],
)
def test_what_counts_where_nothing_is_said(kind: Any, defaults: dict[str, Any]) -> None:
    known = {field.name: field.default for field in dataclasses.fields(kind)}
    assert {name: known.get(name) for name in defaults} == defaults


def test_where_nothing_is_said_nothing_is_added() -> None:
    assert Overlay().edges == (0, 0, 0, 0)
    opening = Opening(500, 600, 450)
    assert (opening.x, opening.z, opening.behind) == (0, 0, (0, 0))
    front = AppliedFront(BOARD, 500, 140)
    assert (front.grain_upright, front.beside, front.below, front.oversize) == (False, 0, 0, 0)
    assert Banding() == Banding(0, applied_front=False, box_top=False)
    assert (USUAL_GROOVE_HEIGHT, GROOVE_SHARE) == (10, 0.5)


def test_directions_of_a_drawer() -> None:
    """x across to the right, y back, z up."""
    assert (RIGHT, LEFT) == ((1, 0, 0), (-1, 0, 0))
    assert (BACK, FRONT) == ((0, 1, 0), (0, -1, 0))
    assert (UP, DOWN) == ((0, 0, 1), (0, 0, -1))
