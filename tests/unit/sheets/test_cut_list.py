"""The order of the saw: each setting once over all sheets wherever a piece is free in time, and never before that."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from drawerwright.sheets import referee
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.blanks import LooseDemand, MatchedSet, StripDemand
from drawerwright.sheets.cut_list import SawSetting, SheetCuts, ripping_settings, stacks_of
from drawerwright.sheets.patterns import Cut, SheetLayout
from drawerwright.sheets.plan import SheetPlan, SheetPreferences, SheetProblem, plan_sheets
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize

BOARD = SheetSize("1700 × 1000", 1700, 1000)
STRIPS = (
    StripDemand("low side", "sides", 450, 70, 17),
    StripDemand("side", "sides", 450, 120, 15),
    StripDemand("front", "ends", 520.4, 80, 11),
    StripDemand("high front", "ends", 520.4, 120, 9),
    StripDemand("long side", "long sides", 600, 120, 8),
)


@pytest.fixture(scope="module")
def bands() -> SheetPlan:
    """Three sheets, most of which are crosscut first."""
    problem = SheetProblem(
        "birch 15", (BOARD,), Saw(3.2, 8.0), BandRules(18.0, 2, 250.0, 700.0), strips=STRIPS
    )
    crosscut = SheetPreferences(("offcuts", "routing", "fences"))
    return plan_sheets(replace(problem, preferences=crosscut), time_limit=1)


def loose_problem(seed: int) -> SheetProblem:
    """Panels, some of which turn, and a set in a fixed order: three stages and trims."""
    random = Random(seed)
    sizes = [(random.randrange(20, 70) * 10, random.randrange(15, 45) * 10) for _ in range(6)]
    loose = tuple(
        LooseDemand(f"panel {number}", length, width, random.randrange(1, 4), random.random() < 0.5)
        for number, (length, width) in enumerate(sizes)
    )
    matched = (MatchedSet("fronts", ("top", "middle", "low"), 430, (150, 260, 200)),)
    return SheetProblem("birch 9", (BOARD,), Saw(3.2, 5.0), loose=loose, matched=matched)


def key_of(cut: Cut) -> tuple[bool, bool, float] | None:
    """What is cut together; the way round is told by the shape of the dust."""
    if cut.stage == 0:
        return None
    return cut.ripping, cut.x1 - cut.x0 > cut.y1 - cut.y0, round(cut.setting, 3)


def needs(layout: SheetLayout) -> dict[int, int | None]:
    """Of each cut the one that frees the piece it parts: the latest before it that bounds or has parted that piece,
    found by sawing, with nothing from the planner."""
    pieces: list[tuple[float, float, float, float, int | None]] = [
        (0.0, 0.0, layout.size.length, layout.size.width, None)
    ]
    found: dict[int, int | None] = {}
    for cut in layout.cuts:
        place = next(
            n
            for n, (x0, y0, x1, y1, _) in enumerate(pieces)
            if x0 - 0.01 <= cut.x0 and y0 - 0.01 <= cut.y0 and cut.x1 <= x1 + 0.01 and cut.y1 <= y1 + 0.01
        )
        x0, y0, x1, y1, freed_by = pieces[place]
        found[cut.order] = freed_by
        parts = (
            [(x0, y0, cut.x0, y1), (cut.x1, y0, x1, y1)]
            if cut.x1 - cut.x0 < cut.y1 - cut.y0
            else [(x0, y0, x1, cut.y0), (x0, cut.y1, x1, y1)]
        )
        pieces[place : place + 1] = [
            (*part, cut.order) for part in parts if part[2] - part[0] > 0.01 and part[3] - part[1] > 0.01
        ]
    return found


def test_bands_need_hardly_more_than_each_setting_once_over_all_sheets(bands: SheetPlan) -> None:
    assert len(bands.layouts) > 2
    assert referee.check(bands) == []
    different = {key_of(cut) for layout in bands.layouts for cut in layout.cuts} - {None}
    # One comes again where a sheet is crosscut before a rip and another, at the same settings, after it.
    assert bands.figures.fence_settings == fewest_settings(bands) <= len(different) + 1
    sheet_by_sheet = sum(len({key_of(cut) for cut in layout.cuts} - {None}) for layout in bands.layouts)
    assert len(different) < 0.7 * sheet_by_sheet
    assert any(len(setting.sheets) > 2 and setting.is_crosscut for setting in bands.settings)


def test_trims_come_first_then_crosscuts_the_longest_first_and_ripping_last(bands: SheetPlan) -> None:
    trims, *rest = bands.settings
    assert trims.length is None
    assert trims.count(bands.stacks) == 4 * len(bands.layouts)
    ripping = [setting.is_ripping for setting in rest]
    assert ripping == sorted(ripping)
    across = [setting.length or 0.0 for setting in rest if setting.is_crosscut]
    assert across == sorted(across, reverse=True)
    strips = [setting.length or 0.0 for setting in rest if setting.is_ripping]
    assert strips[0] == 18.0
    assert strips[1:] == sorted(strips[1:], reverse=True)


@pytest.mark.parametrize("seed", range(6))
def test_a_setting_comes_again_only_where_a_piece_was_not_free(seed: int) -> None:
    plan = plan_sheets(loose_problem(seed), time_limit=0.3)
    assert referee.check(plan) == []
    when = {
        (each.sheet, number): place
        for place, setting in enumerate(plan.settings)
        for each in setting.sheets
        for number in each.numbers
    }
    keys = [(setting.is_ripping, setting.is_crosscut, setting.length) for setting in plan.settings]
    freed = {
        (sheet, order): None if by is None else when[sheet, by]
        for sheet, layout in enumerate(plan.layouts, start=1)
        for order, by in needs(layout).items()
    }
    for place, setting in enumerate(plan.settings):
        if keys[place] not in keys[:place]:
            continue
        earlier = max(n for n in range(place) if keys[n] == keys[place])
        first_cuts = [(each.sheet, number) for each in setting.sheets for number in each.numbers]
        assert all((by := freed[cut]) is None or by > earlier for cut in first_cuts if freed[cut] != place)


def fewest_settings(plan: SheetPlan) -> int:
    """The fewest settings of all, trims aside: breadth first over everything that can have been cut."""
    cuts = {
        (sheet, cut.order): cut
        for sheet, layout in enumerate(plan.layouts)
        for cut in layout.cuts
        if cut.stage
    }
    needed = {
        (sheet, order): None if by is None else (sheet, by)
        for sheet, layout in enumerate(plan.layouts)
        for order, by in needs(layout).items()
    }
    states: set[frozenset[tuple[int, int]]] = {frozenset()}
    for count in range(1, len(cuts) + 1):
        following = set()
        for done in states:
            for key in {key_of(cut) for cut in cuts.values()}:
                now = set(done)
                grown = True
                while grown:
                    free = {
                        name
                        for name, cut in cuts.items()
                        if name not in now
                        and key_of(cut) == key
                        and (needed[name] not in cuts or needed[name] in now)
                    }
                    now |= free
                    grown = bool(free)
                if len(now) == len(cuts):
                    return count
                if len(now) > len(done):
                    following.add(frozenset(now))
        most = {state for state in following if not any(state < other for other in following)}
        states = most
    return 0


@pytest.mark.parametrize("seed", range(20, 32))
def test_small_jobs_get_the_fewest_settings_of_all(seed: int) -> None:
    random = Random(seed)
    heights = random.sample((120, 150, 180), 2)
    loose = tuple(
        LooseDemand(f"panel {number}", random.choice((310, 420)), random.choice(heights), 1)
        for number in range(5)
    )
    plan = plan_sheets(
        SheetProblem("birch 9", (SheetSize("800 × 400", 800, 400),), Saw(3.0), loose=loose), time_limit=0.2
    )
    assert plan.figures.fence_settings == fewest_settings(plan)


def test_the_bands_of_several_stocks_are_ripped_in_the_order_of_every_sheet(bands: SheetPlan) -> None:
    other = plan_sheets(replace(bands.problem, stock="birch 12", strips=STRIPS[2:]), time_limit=1)
    layouts = (*bands.layouts, *other.layouts)
    settings = ripping_settings(layouts)
    lengths = [setting.length for setting in settings]
    assert len(lengths) == len(set(lengths))
    for sheet, layout in enumerate(layouts, start=1):
        made = [
            number
            for setting in settings
            for each in setting.sheets
            if each.sheet == sheet
            for number in each.numbers
        ]
        assert made == [cut.order for cut in layout.cuts if cut.ripping]


# -- lists spoilt on purpose: the referee finds each -------------------------------------------------------------


def settings_of(plan: SheetPlan) -> list[SawSetting]:
    return list(plan.settings)


def exchanged(settings: list[SawSetting]) -> list[SawSetting]:
    return [settings[1], settings[0], *settings[2:]]


def forgotten(settings: list[SawSetting]) -> list[SawSetting]:
    return settings[:-1]


def off(settings: list[SawSetting]) -> list[SawSetting]:
    return [*settings[:-1], replace(settings[-1], length=(settings[-1].length or 0.0) + 1)]


def turned(settings: list[SawSetting]) -> list[SawSetting]:
    return [settings[0], replace(settings[1], is_crosscut=not settings[1].is_crosscut), *settings[2:]]


def on_another_sheet(settings: list[SawSetting]) -> list[SawSetting]:
    moved = replace(
        settings[1], sheets=(SheetCuts(99, settings[1].sheets[0].numbers), *settings[1].sheets[1:])
    )
    return [settings[0], moved, *settings[2:]]


@pytest.mark.parametrize("spoil", [exchanged, forgotten, off, turned, on_another_sheet])
def test_a_list_that_cannot_be_cut_is_rejected(bands: SheetPlan, spoil: object) -> None:
    assert callable(spoil)
    codes = {found.code for found in referee.check(replace(bands, settings=tuple(spoil(settings_of(bands)))))}
    assert "settings" in codes


def test_a_setting_that_is_listed_twice_is_counted_twice(bands: SheetPlan) -> None:
    place = next(n for n, setting in enumerate(bands.settings) if len(setting.sheets) > 1)
    parted = bands.settings[place]
    halves = replace(parted, sheets=parted.sheets[:1]), replace(parted, sheets=parted.sheets[1:])
    settings = (*bands.settings[:place], *halves, *bands.settings[place + 1 :])
    assert referee.check(replace(bands, settings=settings)) == []
    between = (*bands.settings[:place], halves[0], *bands.settings[place + 1 :], halves[1])
    assert "settings" in {found.code for found in referee.check(replace(bands, settings=between))}


# -- stacks ------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def panels() -> SheetPlan:
    """Seven sheets of six panels each: all cut alike."""
    loose = (LooseDemand("bottom", 500, 480, 42),)
    return plan_sheets(SheetProblem("birch 6", (BOARD,), Saw(3.0, 5.0), loose=loose), time_limit=0.5)


@pytest.mark.parametrize(("most", "stacks"), [(1, 7), (2, 4), (3, 3), (7, 1), (9, 1)])
def test_equal_sheets_are_cut_in_stacks_of_at_most_so_many(panels: SheetPlan, most: int, stacks: int) -> None:
    assert len(panels.layouts) == 7
    stacked = replace(panels, stacks=stacks_of(panels.layouts, most))
    assert len(stacked.stacks) == stacks
    assert sorted(sheet for stack in stacked.stacks for sheet in stack) == list(range(1, 8))
    assert max(map(len, stacked.stacks)) <= most
    assert stacked.cuts_made == stacks * len(panels.layouts[0].cuts)


def test_a_stack_that_cannot_be_cut_at_once_is_rejected(panels: SheetPlan, bands: SheetPlan) -> None:
    def codes(plan: SheetPlan) -> set[str]:
        return {found.code for found in referee.check(plan)}

    pairs = stacks_of(panels.layouts, 2)
    two = replace(panels, problem=replace(panels.problem, saw=Saw(3.0, 5.0, 2)), stacks=pairs)
    assert codes(two) == set()
    assert codes(replace(panels, stacks=pairs)) == {"stacks"}
    assert codes(replace(two, stacks=pairs[:-1])) == {"stacks"}
    unlike = ((1, len(bands.layouts)), *((number,) for number in range(2, len(bands.layouts))))
    saw = replace(bands.problem.saw, stack=2)
    assert codes(replace(bands, problem=replace(bands.problem, saw=saw), stacks=unlike)) == {"stacks"}


def test_bands_of_a_stack_are_ripped_one_by_one_and_unequal_sheets_are_not_stacked(bands: SheetPlan) -> None:
    stacked = replace(bands, stacks=stacks_of(bands.layouts, 2))
    ripped = sum(cut.ripping for layout in bands.layouts for cut in layout.cuts)
    made = 0
    for stack in stacked.stacks:
        first, *others = (bands.layouts[number - 1] for number in stack)
        before = [cut for cut in first.cuts if not cut.ripping]
        assert all([cut for cut in other.cuts if not cut.ripping] == before for other in others)
        made += len(before)
    assert stacked.cuts_made == made + ripped


def test_the_blade_bounds_the_stack() -> None:
    saw = Saw(3.0, stack=3, cutting_height=45.0)
    assert [saw.stack_of(thickness) for thickness in (6.0, 15.0, 15.1, 22.5, 22.6, 45.0, 50.0)] == [
        3,
        3,
        2,
        2,
        1,
        1,
        1,
    ]
    assert Saw(3.0, stack=3).stack_of(40.0) == 3
