"""Plans of one stock: accepted by the referee, never below a bound that can be counted by hand."""

from __future__ import annotations

import math
import time
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drawerwright.basics.errors import InvalidValueError, NoPlanError
from drawerwright.sheets import referee
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.blanks import LooseDemand, MatchedSet, StripDemand
from drawerwright.sheets.plan import (
    LaterAim,
    PlanProgress,
    SheetPlan,
    SheetPreferences,
    SheetProblem,
    WorthWhile,
    plan_sheets,
)
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize
from drawerwright.sheets.solver.clock import now

BIG = SheetSize("2440 × 1220", 2440, 1220)
SQUARE = SheetSize("1525 × 1525", 1525, 1525)


def problem(**changes: object) -> SheetProblem:
    usual = SheetProblem(
        "birch 15",
        (BIG,),
        Saw(3.2, 8.0),
        BandRules(20.0, 2, 250.0, 1000.0),
        strips=(
            StripDemand("side 100", "sides", 450, 100, 10),
            StripDemand("side 150", "sides", 450, 150, 6),
            StripDemand("front 100", "ends", 520.4, 100, 8),
        ),
    )
    return replace(usual, **changes)  # type: ignore[arg-type]


def accepted(plan: SheetPlan) -> SheetPlan:
    assert referee.check(plan) == []
    return plan


def test_bands_of_a_fixed_grain_are_proven() -> None:
    plan = accepted(plan_sheets(problem()))
    assert plan.proven
    assert plan.lower_bound == plan.figures.new_sheet_cost == 1
    assert {band.turned for layout in plan.layouts for band in layout.bands} == {False}


def test_loose_parts_of_many_sizes_are_proven_and_their_columns_no_wider_than_they_need() -> None:
    """The bottoms of a chest of 24 drawers: more sums of their lengths fit a sheet than widths of columns are tried."""
    sizes = ((533.3, 429.3, 3), (421.3, 438.9, 3), (405.3, 551.5, 8), (558.3, 541.9, 6), (380.3, 511.5, 4))
    loose = tuple(LooseDemand(f"{n}", length, width, count) for n, (length, width, count) in enumerate(sizes))
    plan = accepted(
        plan_sheets(
            problem(sizes=(SheetSize("thin", 2500, 1250),), saw=Saw(3.2, 6.0), strips=(), loose=loose)
        )
    )
    assert plan.figures.new_sheets == 3
    assert plan.proven
    for layout in plan.layouts:
        across = 0 if layout.first_cuts_across else 1
        ends = {round((part.x + part.x_extent, part.y + part.y_extent)[across], 1) for part in layout.loose}
        first = [(cut.x0, cut.y0)[across] for cut in layout.cuts if cut.stage == 1]
        assert {round(cut, 1) for cut in first} <= ends, "a column is as wide as its widest row"


def test_two_strips_that_miss_one_band_by_the_kerf_need_two() -> None:
    """Worked by hand: 2 × 100 + 3.2 fills a sheet 203.2 wide; 203.1 leaves room for one strip a band."""
    rules = BandRules()
    strips = (StripDemand("side", "sides", 400, 100, 4),)
    for width, sheets in ((203.2, 1), (203.1, 2)):
        size = SheetSize("narrow", 806.4, width)
        plan = accepted(plan_sheets(problem(sizes=(size,), saw=Saw(3.2), band_rules=rules, strips=strips)))
        assert plan.figures.new_sheets == sheets
        assert plan.proven


def test_the_sacrificial_strips_take_their_room() -> None:
    """Worked by hand: 10 + 3.2 + 100 + 3.2 + 10 = 126.4 is the least width of a band of one strip."""
    strips = (StripDemand("side", "sides", 400, 100, 1),)
    for width, fits in ((126.4, True), (126.3, False)):
        task = problem(
            sizes=(SheetSize("narrow", 500, width),), saw=Saw(3.2), band_rules=BandRules(10.0), strips=strips
        )
        if fits:
            assert accepted(plan_sheets(task)).layouts[0].bands[0].width == 126.4
        else:
            with pytest.raises(NoPlanError, match="side"):
                plan_sheets(task)


def test_a_short_band_is_padded_to_the_safe_length() -> None:
    strips = (StripDemand("side", "sides", 400, 60, 1),)
    plan = accepted(plan_sheets(problem(band_rules=BandRules(0.0, 0, 250.0), strips=strips)))
    assert plan.layouts[0].bands[0].width == 250


def test_no_band_is_longer_than_the_router_table_takes() -> None:
    strips = (StripDemand("side", "sides", 450, 100, 11),)
    plan = accepted(plan_sheets(problem(band_rules=BandRules(0.0, 0, 0.0, 500.0), strips=strips)))
    assert max(band.width for layout in plan.layouts for band in layout.bands) <= 500


def test_turning_saves_a_sheet_where_the_grain_allows() -> None:
    strips = (StripDemand("side", "sides", 700, 130, 8, can_turn=True),)
    size = SheetSize("1000 × 1400", 1000, 1400)
    rules = BandRules()
    fixed = tuple(replace(strip, can_turn=False) for strip in strips)
    turning = accepted(plan_sheets(problem(sizes=(size,), saw=Saw(3.2), band_rules=rules, strips=strips)))
    standing = accepted(plan_sheets(problem(sizes=(size,), saw=Saw(3.2), band_rules=rules, strips=fixed)))
    assert turning.figures.new_sheets <= standing.figures.new_sheets
    assert turning.proven


def test_loose_parts_share_sheets_with_bands() -> None:
    loose = (LooseDemand("front", 560, 160, 4), LooseDemand("bottom", 440, 300, 3, True))
    plan = accepted(plan_sheets(problem(loose=loose), time_limit=30))
    assert plan.figures.new_sheets == 1
    assert plan.proven


def test_a_slow_machine_finds_the_same_with_more_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """Its clock runs eight times as fast as that of the test above."""
    began, clock = time.thread_time(), time.thread_time
    monkeypatch.setattr(time, "thread_time", lambda: began + 8 * (clock() - began))
    loose = (LooseDemand("front", 560, 160, 4), LooseDemand("bottom", 440, 300, 3, True))
    plan = accepted(plan_sheets(problem(loose=loose), time_limit=240))
    assert plan.figures.new_sheets == 1


def test_matched_fronts_lie_together_in_their_order() -> None:
    block = MatchedSet("bank A", ("top", "middle", "bottom"), 560, (120, 140, 160))
    plan = accepted(plan_sheets(problem(matched=(block,))))
    members = [part for layout in plan.layouts for part in layout.loose if part.matched == "bank A"]
    assert [part.key for part in sorted(members, key=lambda part: -part.y)] == ["top", "middle", "bottom"]
    assert len({part.x for part in members}) == 1


def test_offcuts_come_before_new_sheets() -> None:
    rest = SheetSize("rest", 1000, 700, None, 1, True)
    strips = (StripDemand("side", "sides", 450, 100, 4),)
    plan = accepted(plan_sheets(problem(sizes=(BIG, rest), strips=strips)))
    assert plan.figures.new_sheets == 0
    assert plan.figures.new_sheet_cost == plan.lower_bound == 0
    assert [layout.size.label for layout in plan.layouts] == ["rest"]


def test_prices_decide_between_sizes() -> None:
    strips = (StripDemand("side", "sides", 450, 100, 12),)
    dear = (replace(BIG, price=80.0), replace(SQUARE, price=90.0))
    cheap = (replace(BIG, price=80.0), replace(SQUARE, price=50.5))
    assert accepted(plan_sheets(problem(sizes=dear, strips=strips))).figures.new_sheet_cost == 80
    plan = accepted(plan_sheets(problem(sizes=cheap, strips=strips)))
    assert plan.figures.new_sheet_cost == 50.5
    assert [(line.size.label, line.count, line.cost) for line in plan.shopping_list] == [
        ("1525 × 1525", 1, 50.5)
    ]


def test_too_few_sheets_name_what_is_left_over_and_how_many_more_would_do() -> None:
    """By hand: a sheet takes 5 columns of 450 and 10 strips of 100 in each, so the second one is short by 10."""
    strips = (StripDemand("side", "sides", 450, 100, 60, name="A1 left side, A1 right side and 58 more"),)
    for sizes, more in (
        ((replace(BIG, on_hand=1),), "1 of 2440 × 1220"),
        ((replace(BIG, on_hand=1, price=60.0), replace(SQUARE, on_hand=0, price=50.0)), "1 of 1525 × 1525"),
    ):
        with pytest.raises(NoPlanError) as refusal:
            plan_sheets(problem(sizes=sizes, strips=strips), time_limit=2)
        said = str(refusal.value)
        assert "do not hold every part" in said
        assert "10 of the 60: A1 left side, A1 right side and 58 more" in said
        assert f"{more} more would do" in said


def test_too_few_sheets_leave_a_matched_set_over_as_a_whole() -> None:
    sets = tuple(MatchedSet(f"fronts {name}", (f"{name} 1", f"{name} 2"), 560, (500, 500)) for name in "ABC")
    size = replace(BIG, length=1200, on_hand=1)
    with pytest.raises(NoPlanError, match=r"Left over: fronts [ABC]\. 1 of 2440"):
        plan_sheets(problem(sizes=(size,), strips=(), matched=sets))


def test_a_size_of_which_none_is_left_is_named() -> None:
    sizes = (replace(BIG, on_hand=0), SheetSize("short", 600, 400))
    long = (StripDemand("side", "sides", 700, 100, 2, name="A1 left side, A1 right side"),)
    with pytest.raises(
        NoPlanError, match=r"A1 left side.*needs one of 2440 × 1220, of which none is on hand"
    ):
        plan_sheets(problem(sizes=sizes, strips=long))


def test_sheets_on_hand_are_enough_where_as_many_bought_ones_are() -> None:
    """A search that keeps the limit at every step finds no plan for this batch within the time."""
    counts = {333.3: (2, 20, 17, 6, 14), 368.4: (8, 14, 7, 1, 8)}
    strips = tuple(
        StripDemand(f"{length} × {height}", f"{length}", length, height, count)
        for length, wanted in counts.items()
        for height, count in zip((171, 201.5, 80, 95, 150), wanted, strict=True)
    )
    size = replace(BIG, length=2000, on_hand=3)
    plan = accepted(plan_sheets(problem(sizes=(size,), strips=strips), time_limit=2))
    assert plan.proven
    assert plan.figures.new_sheets == 3


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"strips": (StripDemand("long side", "sides", 2600, 100, 1),)}, "long side.*larger sheet"),
        ({"loose": (LooseDemand("wide", 700, 1300, 1),)}, "wide.*turned"),
        (
            {"matched": (MatchedSet("tall bank", ("a", "b"), 560, (700, 700)),)},
            "tall bank.*split the set",
        ),
        ({"strips": (StripDemand("deep", "sides", 450, 980, 1),)}, "deep.*router table takes"),
        ({"sizes": ()}, "no sheet"),
    ],
)
def test_a_part_that_cannot_be_cut_is_named(changes: dict[str, object], words: str) -> None:
    with pytest.raises(NoPlanError, match=words):
        plan_sheets(problem(**changes))


@pytest.mark.parametrize(
    "changes",
    [
        {"strips": (StripDemand("side", "sides", 450, 100, -1),)},
        {"strips": (StripDemand("side", "sides", 450, 0, 1),)},
        {"strips": (StripDemand("side", "sides", 450.12333, 100, 1),)},
        {"sizes": (replace(BIG, price=-1.0),)},
        {"matched": (MatchedSet("set", ("a", "b"), 450, (100,)),)},
    ],
)
def test_entries_that_cannot_be_meant_are_refused(changes: dict[str, object]) -> None:
    with pytest.raises(InvalidValueError):
        plan_sheets(problem(**changes))


def test_nothing_wanted_needs_no_sheet() -> None:
    plan = accepted(plan_sheets(problem(strips=())))
    assert plan.layouts == ()
    assert plan.proven


def test_an_interrupted_search_still_gives_a_plan_with_a_bound() -> None:
    sizes = (replace(BIG, price=80.0), replace(SQUARE, price=60.0))
    strips = tuple(
        StripDemand(f"{length} × {height}", f"{length}", length, height, 17)
        for length in (290, 350, 410, 530)
        for height in (80, 116, 150)
    )
    for plan in (
        plan_sheets(problem(sizes=sizes, strips=strips), time_limit=1e-6),
        plan_sheets(problem(sizes=sizes, strips=strips), cancelled=lambda: True),
    ):
        accepted(plan)
        assert 0 < plan.lower_bound <= plan.figures.new_sheet_cost


def test_progress_only_gets_better() -> None:
    heard: list[PlanProgress] = []
    sizes = (replace(BIG, price=80.0), replace(SQUARE, price=60.0))
    plan_sheets(problem(sizes=sizes), progress=heard.append, time_limit=1)
    bounds = [news.lower_bound for news in heard]
    costs = [news.best_cost for news in heard if news.best_cost is not None]
    assert heard
    assert bounds == sorted(bounds)
    assert costs == sorted(costs, reverse=True)


def test_later_aims_are_checked() -> None:
    with pytest.raises(InvalidValueError, match="tie-breakers"):
        SheetPreferences(("offcuts", "offcuts"))


@pytest.mark.parametrize(
    ("aims", "bands", "from_offcuts"),
    [
        (("offcuts", "routing"), 3, 2 * 400 * 90),
        (("routing", "offcuts"), 2, 0),
        (("routing",), 2, 0),
    ],
)
def test_the_order_of_the_later_aims_decides(
    aims: tuple[LaterAim, ...], bands: int, from_offcuts: float
) -> None:
    """By hand: the long front needs the new sheet, on which all five sides fit one band (5 × 90 + 4 × 3 = 462).

    The rest on the rack takes two sides (183 of 200), so using it makes a third band.
    """
    task = SheetProblem(
        "ash",
        (SheetSize("sheet", 1000, 500), SheetSize("rest", 420, 200, None, 1, True)),
        Saw(3.0),
        strips=(StripDemand("side", "sides", 400, 90, 5), StripDemand("front", "fronts", 500, 90, 1)),
        preferences=SheetPreferences(aims),
    )
    plan = accepted(plan_sheets(task, time_limit=4))
    assert plan.figures.new_sheets == 1
    assert plan.figures.bands == bands
    assert plan.figures.parts_from_offcuts == pytest.approx(from_offcuts)


strip_lists = st.lists(
    st.builds(
        lambda length, height, count, turn: StripDemand(
            f"{length} × {height} {turn}", f"family {length}", length / 2, height / 2, count, turn
        ),
        st.sampled_from([500, 640, 901]),
        st.integers(120, 420),
        st.integers(1, 6),
        st.booleans(),
    ),
    min_size=1,
    max_size=4,
    unique_by=lambda strip: strip.key,
)
loose_lists = st.lists(
    st.builds(
        lambda number, length, width, turn: LooseDemand(
            f"loose {length} {width} {turn}", length, width, number, turn
        ),
        st.integers(1, 3),
        st.integers(100, 600),
        st.integers(80, 500),
        st.booleans(),
    ),
    max_size=3,
    unique_by=lambda part: part.key,
)


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow], derandomize=True)
@given(
    strip_lists,
    loose_lists,
    st.sampled_from([0.0, 2.4, 3.2]),
    st.sampled_from([0.0, 6.5]),
    st.sampled_from([BandRules(), BandRules(15.0, 1, 200.0), BandRules(15.0, 2, 200.0, 700.0)]),
    st.booleans(),
)
def test_the_referee_accepts_every_plan(
    strips: list[StripDemand],
    loose: list[LooseDemand],
    kerf: float,
    trim: float,
    rules: BandRules,
    has_offcut: bool,
) -> None:
    rest = (SheetSize("rest", 700, 520, None, 1, True),) if has_offcut else ()
    task = problem(
        sizes=(SheetSize("small", 1250, 900), *rest),
        saw=Saw(kerf, trim),
        band_rules=rules,
        strips=tuple(strips),
        loose=tuple(loose),
    )
    plan = accepted(plan_sheets(task, time_limit=0.4))
    area = sum(strip.length * strip.height * strip.count for strip in strips)
    area += sum(part.length * part.width * part.count for part in loose)
    area -= 700 * 520 if has_offcut else 0
    assert plan.figures.new_sheets >= area / (1250 * 900) - 1e-9
    assert plan.lower_bound <= plan.figures.new_sheets


def test_every_part_that_cannot_be_cut_is_named_at_once() -> None:
    broken = problem(
        strips=(StripDemand("long side", "sides", 2600, 100, 1), StripDemand("deep", "ends", 450, 980, 2)),
        loose=(LooseDemand("wide", 700, 1300, 1), LooseDemand("fits", 300, 300, 1)),
        matched=(MatchedSet("tall bank", ("a", "b"), 560, (700, 700)),),
    )
    with pytest.raises(NoPlanError) as refusal:
        plan_sheets(broken)
    lines = str(refusal.value).splitlines()
    assert [line.split(":")[0] for line in lines] == ["long side", "deep", "wide", "tall bank"]


def test_many_loose_parts_of_odd_widths_have_a_bound() -> None:
    """More column widths than are tried: the bound is then no less than what the parts' area asks for."""
    loose = tuple(LooseDemand(f"part {n}", 201.3 + 17.7 * n, 183 + 11 * n, 4) for n in range(12))
    plan = accepted(plan_sheets(problem(strips=(), loose=loose), time_limit=1))
    area = sum(part.length * part.width * part.count for part in loose)
    assert plan.lower_bound >= math.ceil(area / (2424 * 1204))
    assert plan.proven == (plan.lower_bound == plan.figures.new_sheet_cost)


def test_matched_fronts_with_offcuts_and_trim() -> None:
    """Sets and bands share offcuts and trimmed sheets; every set stays in one piece."""
    sets = tuple(
        MatchedSet(f"bank {n}", (f"{n} a", f"{n} b", f"{n} c"), 560, (120, 140, 160)) for n in range(4)
    )
    rests = (SheetSize("rest 1", 700, 520, None, 1, True), SheetSize("rest 2", 600, 430, None, 2, True))
    plan = accepted(plan_sheets(problem(matched=sets, sizes=(BIG, *rests)), time_limit=4))
    assert plan.figures.new_sheets == 1
    for block in sets:
        sheets = [
            number
            for number, layout in enumerate(plan.layouts)
            for part in layout.loose
            if part.matched == block.label
        ]
        assert len(sheets) == 3
        assert len(set(sheets)) == 1


def test_two_sizes_and_offcuts_miss_the_bound_by_less_than_a_sheet() -> None:
    """Found by deciding whole columns first: a batch whose parts fit columns of one width each."""
    rests = tuple(SheetSize(f"rest {n}", 500 + 90 * n, 400 + 60 * n, None, 1, True) for n in range(6))
    strips = tuple(
        StripDemand(f"{length} × {height}", f"{length}", length, height, 23)
        for length in (268.4, 368.4, 458.4, 526.4)
        for height in (80, 116, 150)
    )
    sizes = (replace(BIG, price=78.0), replace(SQUARE, price=61.5))
    told: list[PlanProgress] = []

    def is_shown() -> bool:
        return (
            bool(told) and told[-1].best_cost is not None and told[-1].best_cost - told[-1].lower_bound < 61.5
        )

    task = problem(sizes=(*sizes, *rests), strips=strips)
    plan = accepted(plan_sheets(task, time_limit=40, progress=told.append, cancelled=is_shown))
    assert plan.figures.new_sheet_cost - plan.lower_bound < 61.5


def test_a_few_drawers_from_two_sizes_are_proven() -> None:
    """Two sheets of the one size would be cheaper, and three of the other: each is too few, which is proven alone.

    Counting columns tells it in half a second; filling sheets anew for as long as it may takes six.
    """
    strips = tuple(
        StripDemand(f"{length} × {height}", f"{length}", length, height, count)
        for length, height, count in (
            (268.4, 80, 20),
            (446.4, 80, 20),
            (428.4, 150, 6),
            (526.4, 150, 6),
            (318.4, 150, 22),
            (356.4, 150, 14),
            (446.4, 150, 8),
        )
    )
    sizes = (replace(BIG, price=78.0), replace(SQUARE, price=61.5))
    plan = accepted(plan_sheets(problem(sizes=sizes, strips=strips), time_limit=4))
    assert plan.proven


@pytest.mark.parametrize("longest", [300.0, 480.0, 490.0, 700.0])
def test_a_column_of_two_long_bands_may_hold_more_than_one_of_three(longest: float) -> None:
    """Two bands of the longest kind leave a rest that a third one would need for its strips' overhead alone."""
    strips = (
        StripDemand("low side", "sides", 450, 70, 17),
        StripDemand("high front", "ends", 520.4, 130, 9),
    )
    rules = BandRules(18.0, 2, longest_band=longest)
    problem = SheetProblem("birch", (SheetSize("board", 1480, 1000),), Saw(3.2, 8.0), rules, strips)
    plan = plan_sheets(problem, time_limit=0.2)
    assert referee.check(plan) == []


@pytest.mark.parametrize(
    ("cost", "bound", "share"),
    [
        (None, 300, 1.0),
        (500, 300, 1.0),
        (1000, 900, 1.0),
        (1000, 950, 0.5),
        (1000, 999, 0.3),
        (1000, 1000, 0.3),
    ],
)
def test_the_less_can_be_saved_the_sooner_the_search_ends(cost: int | None, bound: int, share: float) -> None:
    """Half of the time where a twentieth of the cost may still be saved, all of it from a tenth on."""
    for began, is_over in ((now() - 100 * share - 1, True), (now() - 100 * share + 20, False)):
        enough = WorthWhile(began, 100.0)
        enough.hear(cost, bound)
        assert enough.is_over() is is_over
