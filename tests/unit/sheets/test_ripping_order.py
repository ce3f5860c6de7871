"""The numbered ripping cuts of a sheet: no fence setting twice, each band in the order in which it lies."""

from __future__ import annotations

from itertools import groupby

import pytest

from drawerwright.sheets import referee
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.blanks import StripDemand
from drawerwright.sheets.patterns import SheetLayout
from drawerwright.sheets.plan import SheetPlan, SheetProblem, plan_sheets
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize

STRIPS = (
    StripDemand("low side", "sides", 450, 70, 7),
    StripDemand("side", "sides", 450, 120, 9),
    StripDemand("front", "ends", 520.4, 80, 4),
    StripDemand("high front", "ends", 520.4, 120, 5),
)


@pytest.fixture(scope="module", params=[0, 1, 2], ids=["no strip", "one strip", "two strips"])
def plan(request: pytest.FixtureRequest) -> SheetPlan:
    ends: int = request.param
    rules = BandRules(18.0 if ends else 0.0, max(ends, 1), 250.0, 700.0)
    return plan_sheets(
        SheetProblem("birch 15", (SheetSize("board", 1700, 1000),), Saw(3.2, 8.0), rules, strips=STRIPS),
        time_limit=1,
    )


def rip_settings(layout: SheetLayout) -> list[float]:
    return [cut.setting for cut in sorted(layout.cuts, key=lambda cut: cut.order) if cut.ripping]


def test_the_plan_is_one_that_the_referee_accepts(plan: SheetPlan) -> None:
    assert list(referee.check(plan)) == []
    assert any(
        len({strip.height for strip in band.strips}) > 1 for layout in plan.layouts for band in layout.bands
    )


def test_no_setting_is_made_twice_and_strips_come_tallest_first(plan: SheetPlan) -> None:
    for layout in plan.layouts:
        settings = [setting for setting, _ in groupby(rip_settings(layout))]
        assert len(settings) == len(set(settings))
        strips = [setting for setting in settings if setting != plan.problem.band_rules.sacrificial_strip]
        assert strips == sorted(strips, reverse=True)
        if len(strips) < len(settings):
            assert settings[0] == plan.problem.band_rules.sacrificial_strip
