"""Sheet plans made by hand: every place is added up from kerf, trim and sizes, none is searched for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.blanks import LooseDemand, MatchedSet, StripDemand
from drawerwright.sheets.cut_list import SawSetting, SheetCuts
from drawerwright.sheets.patterns import Cut, Offcut, PlacedBand, PlacedLoose, PlacedStrip, SheetLayout
from drawerwright.sheets.plan import SheetPlan, SheetPreferences, SheetProblem
from drawerwright.sheets.problem import PlanFigures
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import LeastOffcut, SheetSize

KERF, TRIM = 4.0, 10.0
SHEET = SheetSize("panel", 1000, 500, 40.0, 3)
PROBLEM = SheetProblem(
    "birch",
    (SHEET,),
    Saw(KERF, TRIM),
    BandRules(20.0, 2, 232.0, 232.0),
    (StripDemand("side", "sides", 300, 90, 2), StripDemand("end", "ends", 250, 90, 2)),
    (LooseDemand("bottom", 400, 200, 1),),
    (MatchedSet("bank", ("upper", "lower"), 360, (120, 100)),),
    SheetPreferences(),
    LeastOffcut(120, 100),
)


def band(family: str, key: str, x: float, y: float, length: float) -> PlacedBand:
    """Two strips of 90 between two sacrificial ones of 20: 20 + 4 + 90 + 4 + 90 + 4 + 20 = 232."""
    strips = (PlacedStrip(key, 1, 24.0, 90.0), PlacedStrip(key, 2, 118.0, 90.0))
    return PlacedBand(family, 1, x, y, length, 232.0, False, strips, ((0.0, 20.0), (212.0, 20.0)))


def ripped(stage: int, *bands: PlacedBand) -> list[Cut]:
    """Every band ripped: 20 at each, then 90 and 90 at each."""
    return [
        Cut(0, stage, b.x, b.y + up, b.x + b.length, b.y + up + KERF, True, setting)
        for some in (((20.0, 20.0),), ((114.0, 90.0), (208.0, 90.0)))
        for b in bands
        for up, setting in some
    ]


TRIMS = [
    Cut(0, 0, 6, 0, 10, 500),
    Cut(0, 0, 990, 0, 994, 500),
    Cut(0, 0, 10, 6, 990, 10),
    Cut(0, 0, 10, 490, 990, 494),
]


def numbered(cuts: Sequence[Cut]) -> tuple[Cut, ...]:
    return tuple(replace(cut, order=order) for order, cut in enumerate(cuts, start=1))


def settings_of(cuts: Sequence[Cut]) -> tuple[SawSetting, ...]:
    """The settings of one sheet, cut after cut as they are numbered."""
    found: list[SawSetting] = []
    for cut in cuts:
        length = cut.setting if cut.stage else None
        across = cut.stage > 0 and cut.x1 - cut.x0 < cut.y1 - cut.y0
        if found and (found[-1].length, found[-1].is_crosscut) == (length, across):
            before = found.pop()
            numbers = (*before.sheets[0].numbers, cut.order)
            found.append(replace(before, sheets=(SheetCuts(1, numbers),)))
        else:
            found.append(SawSetting(length, across, cut.ripping, (SheetCuts(1, (cut.order,)),)))
    return tuple(found)


SIDES = band("sides", "side", 10, 10, 300)
ENDS = band("ends", "end", 10, 246, 250)
CUTS = numbered(
    [
        *TRIMS,
        Cut(0, 1, 310, 10, 314, 490, setting=300),
        Cut(0, 1, 714, 10, 718, 490, setting=400),
        Cut(0, 2, 10, 242, 310, 246, setting=232),
        Cut(0, 2, 10, 478, 310, 482, setting=232),
        Cut(0, 2, 314, 210, 714, 214, setting=200),
        Cut(0, 2, 314, 438, 714, 442, setting=224),
        Cut(0, 3, 260, 246, 264, 478, setting=250),
        Cut(0, 3, 674, 214, 678, 438, setting=360),
        Cut(0, 4, 314, 314, 674, 318, setting=100),
        *ripped(4, SIDES, ENDS),
    ]
)
LAYOUT = SheetLayout(
    SHEET,
    (SIDES, ENDS),
    (
        PlacedLoose("bottom", 1, 314, 10, 400, 200),
        PlacedLoose("lower", 1, 314, 214, 360, 100, matched="bank"),
        PlacedLoose("upper", 1, 314, 318, 360, 120, matched="bank"),
    ),
    (
        Offcut(10, 482, 300, 8, is_kept=False),
        Offcut(264, 246, 46, 232, is_kept=False),
        Offcut(678, 214, 36, 224, is_kept=False),
        Offcut(314, 442, 400, 48, is_kept=False),
        Offcut(718, 10, 272, 480),
    ),
    CUTS,
)
ACROSS_FIRST = SheetPlan(
    PROBLEM,
    (LAYOUT,),
    40.0,
    True,
    0.0,
    PlanFigures(40.0, 1, 0, 0.0, 928.0, 2, 10, 130_560.0),
    settings_of(CUTS),
    ((1,),),
)
"""Two columns of 300 and 400 and a rest of 272: bands in the first, of which the shorter is trimmed (stage 3); a loose
part and a matched set, which is trimmed and parted (stage 4), in the second. Routed are 2 × 2 × 232 = 928 mm; fence
and stop are moved for 300, 400, 232, 200, 224, 250, 360, 100, 20 and 90; the largest offcut has 272 × 480 mm²."""

SECOND = replace(band("ends", "end", 314, 10, 250))
RIPPED_CUTS = numbered(
    [
        *TRIMS,
        Cut(0, 1, 10, 242, 990, 246, setting=232),
        Cut(0, 2, 310, 10, 314, 242, setting=300),
        Cut(0, 2, 614, 10, 618, 242, setting=300),
        Cut(0, 4, 564, 10, 568, 242, setting=250),
        *ripped(5, SIDES, SECOND),
    ]
)
RIPPED_FIRST = SheetPlan(
    replace(PROBLEM, loose=(), matched=()),
    (
        SheetLayout(
            SHEET,
            (SIDES, SECOND),
            (),
            (
                Offcut(10, 246, 980, 244),
                Offcut(618, 10, 372, 232),
                Offcut(568, 10, 46, 232, is_kept=False),
            ),
            RIPPED_CUTS,
            first_cuts_across=False,
        ),
    ),
    40.0,
    True,
    0.0,
    PlanFigures(40.0, 1, 0, 0.0, 928.0, 2, 5, 239_120.0),
    settings_of(RIPPED_CUTS),
    ((1,),),
)
"""A first rip takes off what is kept, 980 × 244; then columns of 300 and 300 and a rest, the second band trimmed a
stage later than else. Fence and stop are moved for 232, 300, 250, 20 and 90."""


def turned(plan: SheetPlan) -> SheetPlan:
    """The same lying on its side: length for width, x for y, and every piece turned."""
    size = replace(SHEET, length=500, width=1000)
    (layout,) = plan.layouts
    cuts = tuple(replace(c, x0=c.y0, y0=c.x0, x1=c.y1, y1=c.x1) for c in layout.cuts)
    lying = SheetLayout(
        size,
        tuple(replace(b, x=b.y, y=b.x, turned=True) for b in layout.bands),
        tuple(replace(p, x=p.y, y=p.x, turned=True) for p in layout.loose),
        tuple(replace(o, x=o.y, y=o.x, length=o.width, width=o.length) for o in layout.offcuts),
        cuts,
        not layout.first_cuts_across,
    )
    problem = replace(
        plan.problem,
        sizes=(size,),
        strips=tuple(replace(part, can_turn=True) for part in plan.problem.strips),
        loose=tuple(replace(part, can_turn=True) for part in plan.problem.loose),
    )
    settings = tuple(
        replace(one, is_crosscut=one.length is not None and not one.is_crosscut) for one in plan.settings
    )
    return replace(plan, problem=problem, layouts=(lying,), settings=settings)


def without_set(plan: SheetPlan) -> SheetPlan:
    """The plan with a loose part where the matched set lies, which may not be turned."""
    (layout,) = plan.layouts
    cuts = numbered([cut for cut in layout.cuts if cut.stage != 4 or cut.ripping])
    problem = replace(plan.problem, loose=(*plan.problem.loose, LooseDemand("door", 360, 224, 1)), matched=())
    loose = (layout.loose[0], PlacedLoose("door", 1, 314, 214, 360, 224))
    return replace(
        plan,
        problem=problem,
        layouts=(replace(layout, loose=loose, cuts=cuts),),
        settings=settings_of(cuts),
        figures=replace(plan.figures, fence_settings=9),
    )


UP_FIRST = turned(without_set(ACROSS_FIRST))
RIPPED_FIRST_UP = turned(RIPPED_FIRST)
PLANS = {
    "across first": ACROSS_FIRST,
    "up first": UP_FIRST,
    "ripped first": RIPPED_FIRST,
    "ripped first, up": RIPPED_FIRST_UP,
}
