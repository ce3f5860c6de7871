"""A shorter band in a wider column: against every way there is, and under the eyes of the referee."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import replace

import pytest

from drawerwright.basics.errors import NoPlanError
from drawerwright.sheets import referee
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.blanks import LooseDemand, StripDemand
from drawerwright.sheets.patterns import SheetLayout
from drawerwright.sheets.plan import SheetPlan, SheetPreferences, SheetProblem, plan_sheets
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize
from drawerwright.sheets.solver.filling.band_layers import BandLayers

Strip = tuple[int, int]
"""Length and height."""


def partitions(things: Sequence[Strip]) -> Iterator[list[list[Strip]]]:
    """Every way to put things into groups."""
    if not things:
        yield []
        return
    first, *rest = things
    for groups in partitions(rest):
        yield [[first], *groups]
        for place, group in enumerate(groups):
            yield [*groups[:place], [first, *group], *groups[place + 1 :]]


def column_height(strips: Sequence[Strip], problem: SheetProblem) -> float:
    """What bands of these strips take of a column, every length in one band."""
    kerf, rules = problem.saw.kerf, problem.band_rules
    bands = []
    for length in {length for length, _ in strips}:
        heights = [height for own, height in strips if own == length]
        net = sum(heights) + kerf * (len(heights) - 1)
        ends = rules.sacrificial_ends * (rules.sacrificial_strip + kerf) if rules.sacrificial_strip else 0
        bands.append(max(net + ends, rules.shortest_piece))
    return sum(bands) + kerf * (len(bands) - 1)


def fewest(problem: SheetProblem) -> int:
    """The fewest sheets by trying all columns and all ways to share them out; source: the cutting rules in the docs."""
    kerf, (size,) = problem.saw.kerf, problem.sizes
    strips = [(int(s.length), int(s.height)) for s in problem.strips for _ in range(s.count)]
    best = len(strips)
    known: dict[tuple[int, ...], int] = {}
    for columns in partitions(strips):
        if not problem.preferences.trim_bands and any(len({u for u, _ in c}) > 1 for c in columns):
            continue
        if any(column_height(column, problem) > size.width for column in columns):
            continue
        widths = tuple(sorted(max(length for length, _ in column) for column in columns))
        if widths not in known:
            known[widths] = min(
                len(sheets)
                for sheets in partitions([(width, 0) for width in widths])
                if all(sum(w + kerf for w, _ in sheet) <= size.length + kerf for sheet in sheets)
            )
        best = min(best, known[widths])
    return best


def drawn_problem(dice: random.Random) -> SheetProblem:
    lengths = dice.sample(range(200, 520, 10), 3)
    count = dice.randint(4, 6)
    strips = [(dice.choice(lengths), dice.randrange(60, 240, 10)) for _ in range(count)]
    return SheetProblem(
        "ply",
        (SheetSize("sheet", dice.randint(560, 1100), dice.randint(300, 520), 10.0),),
        Saw(dice.choice((0.0, 3.0))),
        BandRules(dice.choice((0.0, 12.0)), dice.choice((1, 2)), dice.choice((0.0, 150.0)), None),
        tuple(
            StripDemand(
                f"{length} {height}", f"family {length}", length, height, strips.count((length, height))
            )
            for length, height in dict.fromkeys(strips)
        ),
    )


@pytest.mark.parametrize("seed", range(25))
@pytest.mark.parametrize("trims", [True, False])
def test_no_way_is_cheaper_and_none_undercuts_the_bound(seed: int, trims: bool) -> None:
    """Source: plain enumeration, in this file."""
    problem = replace(drawn_problem(random.Random(seed)), preferences=SheetPreferences(trim_bands=trims))
    plan = plan_sheets(problem, time_limit=3)
    best = fewest(problem)
    assert referee.check(plan) == []
    assert plan.lower_bound <= 10.0 * best
    assert plan.figures.new_sheet_cost == 10.0 * best


ONE_SHEET = SheetProblem(
    "ply",
    (SheetSize("sheet", 500, 500, 10.0),),
    Saw(4.0),
    BandRules(10.0, 2, 150.0, 480.0),
    (StripDemand("long", "long ones", 500, 120, 2), StripDemand("short", "short ones", 430, 100, 1)),
)
"""One column: 2 × 120 + 4 + 28 = 272 for the long band, 4 to part them, 150 for the short one."""


@pytest.fixture(scope="module")
def trimmed() -> SheetPlan:
    return plan_sheets(ONE_SHEET)


def test_a_shorter_band_shares_a_column_and_is_trimmed(trimmed: SheetPlan) -> None:
    (layout,) = trimmed.layouts
    assert referee.check(trimmed) == []
    short, long = sorted(layout.bands, key=lambda band: band.length)
    assert (short.length, short.width, long.length) == (430, 150, 500)
    assert long.width >= 272
    (cut,) = layout.band_trims
    assert (cut.setting, cut.x1 - cut.x0, cut.y1 - cut.y0) == (430, 4, 150)
    assert not cut.ripping
    assert all(cut.order < rip.order for rip in layout.cuts if rip.ripping)
    beside = next(offcut for offcut in layout.offcuts if offcut.x > 430 and offcut.x < 500)
    assert (beside.length, beside.width) == (500 - 430 - 4, 150)


def test_without_trimming_the_shorter_band_has_a_column_of_its_own() -> None:
    plan = plan_sheets(replace(ONE_SHEET, preferences=SheetPreferences(trim_bands=False)))
    assert plan.figures.new_sheets == 2
    assert plan.proven
    assert not any(layout.band_trims for layout in plan.layouts)
    assert referee.check(plan) == []


def test_trimming_saves_the_second_sheet_with_bottoms_beside(trimmed: SheetPlan) -> None:
    """A row of loose parts and a trimmed band in one column."""
    problem = replace(ONE_SHEET, loose=(LooseDemand("bottom", 240, 40, 2),))
    plan = plan_sheets(problem)
    assert plan.figures.new_sheets == trimmed.figures.new_sheets == 1
    assert referee.check(plan) == []


def with_cuts(plan: SheetPlan, **changes: object) -> SheetPlan:
    (layout,) = plan.layouts
    (trim,) = layout.band_trims
    cuts = tuple(replace(cut, **changes) if cut == trim else cut for cut in layout.cuts)  # type: ignore[arg-type]
    return replace(plan, layouts=(replace(layout, cuts=cuts),))


def test_the_referee_refuses_a_trimmed_band_where_none_is_wanted(trimmed: SheetPlan) -> None:
    refused = replace(trimmed, problem=replace(ONE_SHEET, preferences=SheetPreferences(trim_bands=False)))
    assert [found.code for found in referee.check(refused)] == ["stages"]


def test_the_referee_refuses_a_trimmed_band_beside_an_offcut() -> None:
    """One crosscut parts the only column from an offcut: it is no first rip, after which one more stage may follow."""
    (size,) = ONE_SHEET.sizes
    plan = plan_sheets(replace(ONE_SHEET, sizes=(replace(size, length=size.length + 400.0),)))
    (layout,) = plan.layouts
    assert layout.band_trims
    assert len([cut for cut in layout.cuts if cut.stage == 1]) == 1
    assert referee.check(plan) == []
    untrimmed = SheetPreferences(trim_bands=False)
    refused = replace(plan, problem=replace(plan.problem, preferences=untrimmed))
    assert {found.code for found in referee.check(refused)} == {"stages"}


def test_the_referee_refuses_a_trim_of_another_stage(trimmed: SheetPlan) -> None:
    assert "stages" in {found.code for found in referee.check(with_cuts(trimmed, stage=5))}
    assert referee.check(with_cuts(trimmed, setting=431))


def test_the_referee_refuses_a_trim_that_takes_a_second_band_with_it(trimmed: SheetPlan) -> None:
    """Two bands above each other, trimmed at once and parted afterwards."""
    (layout,) = trimmed.layouts
    _, high = sorted(layout.bands, key=lambda band: band.y)
    both = [cut for cut in layout.cuts if cut.stage == 2 and not cut.ripping and cut.y1 <= high.y]
    (parting,) = both
    (trim,) = layout.band_trims
    early = replace(trim, y0=0.0, y1=500.0, order=parting.order)
    late = replace(parting, order=trim.order)
    cuts = tuple(early if cut == parting else late if cut == trim else cut for cut in layout.cuts)
    broken: SheetLayout = replace(layout, cuts=cuts)
    texts = [found.text for found in referee.check(replace(trimmed, layouts=(broken,)))]
    assert any("more than its trim" in text for text in texts)


MANY_LENGTHS = SheetProblem(
    "ply",
    (SheetSize("sheet", 2500, 1250, 10.0),),
    Saw(3.0),
    BandRules(14.0, 2, 150.0, 1300.0),
    tuple(
        StripDemand(f"{length} {height}", f"{length}", length, height, 7)
        for length in range(300, 600, 12)
        for height in range(70, 230, 17)
    ),
)
"""250 strips of 25 lengths: the best trimmed bands take over a thousand passes over a column, each time anew."""


def test_no_trimmed_band_is_looked_for_once_the_search_is_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    """Counted in passes over a column, not in seconds."""
    passes = 0
    move = BandLayers._move

    def counted(self: BandLayers, *args: object) -> None:
        nonlocal passes
        passes += 1
        move(self, *args)  # type: ignore[arg-type]

    monkeypatch.setattr(BandLayers, "_move", counted)
    plan = plan_sheets(MANY_LENGTHS, time_limit=120, cancelled=lambda: passes >= 3000)
    assert passes <= 3001
    assert referee.check(plan) == []
    assert not plan.proven
    assert plan.lower_bound <= plan.figures.new_sheet_cost


def test_a_plan_made_in_haste_wastes_little() -> None:
    """First-fit decreasing takes at most 11/9 of the fewest and 6/9 more (Dósa, ESCAPE 2007): bands, then sheets."""
    plan = plan_sheets(MANY_LENGTHS, cancelled=lambda: True)
    assert referee.check(plan) == []
    assert plan.figures.new_sheet_cost <= (11 / 9) ** 2 * plan.lower_bound + 20.0


def test_a_shortage_is_told_under_the_same_rule() -> None:
    """One sheet does not do without trimming: the words must not promise that it does with it."""
    (size,) = ONE_SHEET.sizes
    scarce = replace(
        ONE_SHEET, sizes=(replace(size, on_hand=1),), preferences=SheetPreferences(trim_bands=False)
    )
    with pytest.raises(NoPlanError, match="1 of sheet more"):
        plan_sheets(scarce)
