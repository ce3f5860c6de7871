"""A rest too small to keep stays on the last band of its column: no cut takes it off, nothing worth keeping is lost."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drawerwright.sheets import referee
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.blanks import StripDemand
from drawerwright.sheets.plan import SheetPlan, SheetPreferences, SheetProblem, plan_sheets
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import LeastOffcut, SheetSize

STRIPS = (
    StripDemand("low side", "sides", 450, 70, 17),
    StripDemand("side", "sides", 450, 120, 15),
    StripDemand("front", "ends", 520.4, 80, 11),
    StripDemand("high front", "ends", 520.4, 130, 9),
)
SPARING, PLAIN = SheetPreferences(("fences",)), SheetPreferences(())
KEPT = 60.0


def plan(preferences: SheetPreferences, rules: BandRules, height: float = 1000) -> SheetPlan:
    """Sheets of one size, so that either way the same columns are found."""
    size = SheetSize("board", 1480, height)
    least = LeastOffcut(400.0, KEPT)
    problem = SheetProblem("birch 15", (size,), Saw(3.2, 8.0), rules, STRIPS, least_offcut=least)
    return plan_sheets(replace(problem, preferences=preferences), time_limit=0.5)


@pytest.mark.parametrize("ends", [0, 1, 2])
@pytest.mark.parametrize("height", [970.0, 1000.0, 1013.5, 1100.0])
def test_no_cut_takes_off_what_is_waste_beyond_a_band(ends: int, height: float) -> None:
    rules = BandRules(18.0 if ends else 0.0, max(ends, 1))
    sparing = plan(SPARING, rules, height)
    assert referee.check(sparing) == []
    lost = 0
    for layout in sparing.layouts:
        top = layout.size.width - sparing.problem.saw.trim
        for offcut in layout.offcuts:
            is_of_column = abs(offcut.y + offcut.width - top) < 0.01 and offcut.width < top / 2
            lost += is_of_column and not offcut.is_kept
    assert lost == 0


def test_it_takes_fewer_cuts_and_settings_and_loses_no_offcut() -> None:
    rules = BandRules(18.0, 2)
    sparing, plain = plan(SPARING, rules, 1000.0), plan(PLAIN, rules, 1000.0)
    assert sparing.figures.new_sheets == plain.figures.new_sheets
    assert sparing.figures.fence_settings < plain.figures.fence_settings
    assert sparing.cuts_made < plain.cuts_made


def test_a_band_never_grows_longer_than_the_table_carries() -> None:
    for longest in (300.0, 480.0, 700.0, 960.0):
        sparing = plan(SPARING, BandRules(18.0, 2, longest_band=longest))
        assert referee.check(sparing) == []
        assert max(band.width for layout in sparing.layouts for band in layout.bands) <= longest + 1e-9


def test_what_is_worth_keeping_is_cut_off() -> None:
    sparing = plan(SPARING, BandRules(18.0, 2))
    wasted = [
        width
        for layout in sparing.layouts
        for band in layout.bands
        for offset, width in band.sacrificial
        if offset > 0
    ]
    assert max(wasted) < 18.0 + 3.2 + KEPT
    assert max(wasted) > 18.0
