"""Corners, sheets and banks that the drawing tests share; every number is our own."""

from __future__ import annotations

from functools import cache

from drawerwright.basics.uncertain import Estimate
from drawerwright.drawers.bank import Bank, FrontStyle, Overlay, Pull
from drawerwright.drawers.bottom import Bottom, BottomStyle
from drawerwright.drawers.box import AppliedFront, DrawerBox
from drawerwright.drawers.front_heights import EqualHeights
from drawerwright.drawers.opening import Opening
from drawerwright.drawers.runners import Runner, RunnerKind
from drawerwright.joints.corner_key import Orientation
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.setting import CornerGeometry, CornerSetting, FenceRule, set_corner
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.blanks import LooseDemand, StripDemand
from drawerwright.sheets.patterns import SheetLayout
from drawerwright.sheets.plan import plan_sheets
from drawerwright.sheets.problem import SheetProblem
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize
from drawerwright.wood.stock import Stock
from drawerwright.wood.thickness import Panel, Thickness


def lock_cutter(mid_depth: float = 5.5, step: float = 3.6, slope: float = 50.0) -> Cutter:
    return Cutter(
        "drawer-lock",
        mid_depth=Estimate(mid_depth),
        step=Estimate(step),
        slope=Estimate(slope),
        diameter=45.0,
    )


def corner(
    flat: float = 14.6,
    upright: float = 14.7,
    lip: float = 0.0,
    rule: FenceRule = FenceRule.ONE,
    cutter: Cutter | None = None,
) -> CornerSetting:
    return set_corner(cutter or lock_cutter(), CornerGeometry(flat, upright, lip), rule)


def mitre_corner() -> CornerSetting:
    cutter = Cutter("lock-mitre", mid_depth=Estimate(11.0), step=Estimate(17.6), slope=Estimate(45.0))
    return set_corner(cutter, CornerGeometry(17.6, 17.6))


def bank(count: int = 5, *, height: float = 640.0, style: FrontStyle = FrontStyle.APPLIED) -> Bank:
    return Bank(
        name="Reeds & <mutes>",
        mark="C",
        opening=Opening(520.0, height, 430.0),
        style=style,
        heights=EqualHeights(count),
        reveal=2.5,
        overlay=Overlay(6.0, 6.0, 6.0),
        runner=Runner(RunnerKind.SIDE, side=12.5, top=1.0, bottom=1.0, back=4.0, line=9.0),
        front_thickness=14.6,
        side_thickness=14.6,
        pull=Pull(96.0, None, 5.0),
    )


@cache
def layouts(count: int = 4) -> tuple[SheetLayout, ...]:
    """Sheets as the planner lays them out."""
    problem = SheetProblem(
        stock="ash ply",
        sizes=(SheetSize("ash ply 2440 × 1220", 2440.0, 1220.0),),
        saw=Saw(kerf=3.0, trim=8.0),
        band_rules=BandRules(sacrificial_strip=15.0),
        strips=(
            StripDemand("sides 96", "sides", 412.3, 96.4, 2 * count),
            StripDemand("sides 151", "sides", 412.3, 151.0, count),
            StripDemand("ends 96", "ends", 506.0, 96.4, 2 * count),
            StripDemand("trays 38", "trays", 181.5, 38.2, 3 * count),
        ),
        loose=(LooseDemand("bottom", 488.0, 401.5, count),),
    )
    return plan_sheets(problem, time_limit=5.0).layouts


def stock(name: str, thickness: float) -> Stock:
    return Stock(name, Panel.BIRCH_PLYWOOD, Thickness(round(thickness), ((thickness,),)))


def drawer(
    *,
    lip: float = 0.0,
    bottom: BottomStyle = BottomStyle.CAPTURED,
    orientation: Orientation = Orientation.FRONTS_FLAT,
    front_height: float = 118.0,
    front_below: float = 0.0,
    applied: bool = False,
) -> DrawerBox:
    sheet = stock("thin", 6.4)
    return DrawerBox(
        name="D1",
        width=386.0,
        depth=341.0,
        height=118.0,
        front_height=front_height,
        front=stock("front", 17.7),
        side=stock("side", 14.6),
        back=stock("back", 14.8),
        made_by=lock_cutter(),
        bottom=Bottom(bottom, sheet, groove_depth=6, groove_height=10, groove_play=0.2, clearance=1.5),
        lip=lip,
        front_below=front_below,
        orientation=orientation,
        applied=AppliedFront(stock("show", 18.2), 420.0, 140.0, beside=17.0, below=9.0) if applied else None,
    )
