"""One large piece left over, of sheets of which it can be reckoned by hand how large it can be."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drawerwright.sheets import referee
from drawerwright.sheets.blanks import LooseDemand, StripDemand
from drawerwright.sheets.plan import LaterAim, SheetPlan, SheetPreferences, SheetProblem, plan_sheets
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import LeastOffcut, SheetSize

SHEET = SheetSize("sheet", 1000, 500)


def planned(
    *strips: StripDemand, aims: tuple[LaterAim, ...] = ("largest-offcut",), **changes: object
) -> SheetPlan:
    asked = SheetProblem(
        "ash", (SHEET,), Saw(3.0), strips=strips, preferences=SheetPreferences(aims, trim_bands=False)
    )
    plan = plan_sheets(replace(asked, **changes))  # type: ignore[arg-type]
    assert referee.check(plan) == []
    return plan


def kept(plan: SheetPlan) -> list[tuple[float, float]]:
    return [(offcut.length, offcut.width) for offcut in plan.kept_offcuts]


def test_a_first_rip_leaves_a_piece_as_long_as_the_sheet() -> None:
    """Two columns of 400 and 300, two strips of 90 and a kerf of 3 high (183): ripped first they leave 314 by 1000 mm,
    crosscut first 294 by 500."""
    strips = (StripDemand("side", "sides", 400, 90, 2), StripDemand("end", "ends", 300, 90, 2))
    plan = planned(*strips)
    (layout,) = plan.layouts
    assert kept(plan)[0] == (1000, 314)
    assert not layout.first_cuts_across
    assert [cut.setting for cut in layout.cuts if cut.stage == 1] == [183]
    assert kept(planned(*strips, aims=()))[0] == (294, 500)


def test_columns_of_the_full_width_leave_the_end_of_the_sheet() -> None:
    """Five strips of 90 and four kerfs are 462 high: ripped first they leave 35 mm, crosscut first 597 by 500."""
    plan = planned(StripDemand("side", "sides", 400, 90, 5))
    assert kept(plan) == [(597, 500)]
    assert plan.layouts[0].first_cuts_across


def test_the_last_sheet_takes_what_needs_the_least_of_its_width() -> None:
    """Columns of 400, two to a sheet: of six strips of 150 (three to a column, 456) and two of 90 the first sheet takes
    the 150s, the second the 90s, one column of 183: ripped first it leaves 314 by 1000 mm, crosscut 597 by 500; as two
    columns of 90 it would leave 407 by 1000."""
    strips = (StripDemand("tall", "sides", 400, 150, 6), StripDemand("low", "sides", 400, 90, 2))
    plan = planned(*strips)
    assert plan.figures.new_sheets == 2
    assert kept(plan)[0] == (1000, 407)


def test_long_along_the_grain_is_worth_more_than_a_little_more_area() -> None:
    """One strip of 400 x 240: crosscut 597 x 500 (0.299 m²), ripped 1000 x 257 (0.257 m²). Where the next job needs 500
    mm of length, what is worth keeping of the first is (597 - 250) x 500, of the second (1000 - 250) x 257."""
    strip = StripDemand("side", "sides", 400, 240, 1)
    assert kept(planned(strip))[0] == (597, 500)
    assert kept(planned(strip, least_offcut=LeastOffcut(500, 100)))[0] == (1000, 257)


def test_parts_that_turn_have_no_grain_and_the_longer_side_counts() -> None:
    """Two parts of 300 x 200 one on the other leave 697 by 500 mm, as soon of a sheet that stands."""
    loose = (LooseDemand("bottom", 300, 200, 2, can_turn=True),)
    assert kept(planned(loose=loose))[0] == (697, 500)
    assert kept(planned(loose=loose, sizes=(SheetSize("standing", 500, 1000),)))[0] == (500, 697)


@pytest.mark.parametrize("first", [(), ("routing",), ("largest-offcut",)])
def test_a_leftover_never_costs_a_sheet(first: tuple[LaterAim, ...]) -> None:
    strips = (StripDemand("side", "sides", 400, 90, 11), StripDemand("end", "ends", 300, 90, 11))
    assert (
        planned(*strips, aims=first).figures.new_sheet_cost
        == planned(*strips, aims=()).figures.new_sheet_cost
    )


def test_offcuts_on_hand_are_used_so_that_the_new_sheet_leaves_more() -> None:
    """The rest holds two strips; with them on the new sheet it would leave a strip of 93 mm less."""
    rest = SheetSize("rest", 420, 200, None, 1, True)
    strips = (StripDemand("side", "sides", 400, 90, 4), StripDemand("end", "ends", 500, 90, 2))
    plan = planned(*strips, sizes=(SHEET, rest))
    assert plan.figures.new_sheets == 1
    assert kept(plan)[0] == (1000, 314)
