"""How far a plan may go: what is just within a limit is accepted, what is just beyond is named, and nothing else."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import pytest

from drawerwright.sheets import referee
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.blanks import LooseDemand, MatchedSet, StripDemand
from drawerwright.sheets.patterns import Offcut
from drawerwright.sheets.plan import SheetPlan, SheetPreferences, SheetProblem, plan_sheets
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize

SHEET = SheetSize("2440 × 1220", 2440, 1220, 80.0, 3)
PROBLEM = SheetProblem(
    "birch 15",
    (SHEET,),
    Saw(3.2, 8.0),
    BandRules(20.0, 2, 250.0, 1200.0),
    (StripDemand("side", "sides", 450, 100, 6), StripDemand("end", "ends", 520, 100, 4)),
    (LooseDemand("bottom", 440, 300, 2),),
    (MatchedSet("bank", ("upper", "lower"), 560, (150, 160)),),
    preferences=SheetPreferences(("offcuts", "routing", "fences")),
)
NEAR = 5e-5
"""Half of what counts as the same edge (mm)."""


@pytest.fixture(scope="module")
def plan() -> SheetPlan:
    return plan_sheets(PROBLEM)


@pytest.fixture(scope="module")
def two_sheets() -> SheetPlan:
    """Two sheets that are cut alike, on each other."""
    small = SheetSize("800 × 400", 800, 400, 20.0)
    return plan_sheets(
        SheetProblem(
            "ply", (small,), Saw(3.2, 8.0, stack=2), BandRules(), (), (LooseDemand("base", 600, 300, 2),)
        )
    )


def named(plan: SheetPlan) -> list[str]:
    """The code of everything that is wrong."""
    return [violation.code for violation in referee.check(plan)]


def ruled(plan: SheetPlan, **changes: Any) -> SheetPlan:
    """The plan under other rules for bands."""
    rules = replace(plan.problem.band_rules, **changes)
    return replace(plan, problem=replace(plan.problem, band_rules=rules))


def on_first(plan: SheetPlan, **changes: Any) -> SheetPlan:
    """The plan with another first sheet."""
    return replace(plan, layouts=(replace(plan.layouts[0], **changes), *plan.layouts[1:]))


@pytest.mark.parametrize("off", [NEAR, -NEAR])
def test_edges_nearer_than_a_saw_can_tell_are_one(plan: SheetPlan, off: float) -> None:
    layout, objected, tried = plan.layouts[0], [], 0
    for name in ("bands", "loose", "offcuts", "cuts"):
        for place, thing in enumerate(getattr(layout, name)):
            for field in fields(thing):
                value = getattr(thing, field.name)
                if not isinstance(value, float) or (name == "cuts" and thing.x0 == thing.x1):
                    continue
                things = list(getattr(layout, name))
                things[place] = replace(thing, **{field.name: value + off})
                tried += 1
                if named(on_first(plan, **{name: tuple(things)})):
                    objected.append((name, place, field.name))
    assert tried > 50
    assert objected == []


def test_bands_are_as_long_as_the_table_takes_them(plan: SheetPlan) -> None:
    widths = sorted(band.width for band in plan.layouts[0].bands)
    assert named(ruled(plan, longest_band=widths[-1])) == []
    assert named(ruled(plan, longest_band=None)) == []
    beyond = sum(width > widths[-1] - 0.001 for width in widths)
    assert named(ruled(plan, longest_band=widths[-1] - 0.001)) == ["band"] * beyond
    assert named(ruled(plan, shortest_piece=widths[0])) == []
    below = sum(width < widths[0] + 0.001 for width in widths)
    assert named(ruled(plan, shortest_piece=widths[0] + 0.001)) == ["band"] * below


def test_the_strip_that_takes_the_tear_out_is_as_wide_as_asked(plan: SheetPlan) -> None:
    bands = plan.layouts[0].bands
    first = [min(strip.offset for strip in band.strips) for band in bands]
    last = [band.width - max(strip.offset + strip.height for strip in band.strips) for band in bands]
    least = min(*first, *last) - PROBLEM.saw.kerf
    assert named(ruled(plan, sacrificial_strip=least)) == []
    assert set(named(ruled(plan, sacrificial_strip=least + 0.001))) == {"sacrificial"}
    assert named(ruled(plan, sacrificial_strip=1000, sacrificial_ends=0)) == []
    assert named(ruled(plan, sacrificial_strip=min(last) - PROBLEM.saw.kerf, sacrificial_ends=1)) == []


@pytest.mark.parametrize(
    ("size", "used", "is_found"),
    [
        (SheetSize("rest", 2440, 1220, is_offcut=True), 1, False),
        (SheetSize("rest", 2440, 1220, is_offcut=True), 2, True),
        (SheetSize("rest", 2440, 1220, is_offcut=True, on_hand=2), 2, False),
        (SheetSize("rest", 2440, 1220, is_offcut=True, on_hand=2), 3, True),
        (SheetSize("new", 2440, 1220), 9, False),
        (SheetSize("new", 2440, 1220, on_hand=4), 4, False),
        (SheetSize("new", 2440, 1220, on_hand=4), 5, True),
    ],
)
def test_no_more_sheets_are_used_than_there_are(
    plan: SheetPlan, size: SheetSize, used: int, is_found: bool
) -> None:
    """An offcut of which nobody says how many there are is there once."""
    problem = replace(PROBLEM, sizes=(size,))
    many = replace(plan, problem=problem, layouts=(replace(plan.layouts[0], size=size),) * used)
    assert named(many).count("stock") == is_found


def test_a_size_that_nobody_has_is_named_once(plan: SheetPlan) -> None:
    other = replace(SHEET, label="another", on_hand=None)
    assert named(on_first(plan, size=other)).count("stock") == 1


FIGURES = (
    *("new_sheet_cost", "new_sheets", "offcuts_used", "parts_from_offcuts", "bands", "routed_length"),
    *("fence_settings", "largest_offcut"),
)


@pytest.mark.parametrize("figure", FIGURES)
@pytest.mark.parametrize("off", [10, -10])
def test_each_figure_is_counted_again(plan: SheetPlan, figure: str, off: int) -> None:
    given = getattr(plan.figures, figure)
    wrong = replace(plan, figures=replace(plan.figures, **{figure: given + off}))
    assert named(wrong) == ["figures"]


def test_figures_of_a_sheet_from_the_rack(plan: SheetPlan) -> None:
    rest = SheetSize("rest", 2440, 1220, is_offcut=True)
    layout = plan.layouts[0]
    area = sum(band.length * strip.height for band in layout.bands for strip in band.strips)
    area += sum(part.length * part.width for part in layout.loose)
    figures = replace(plan.figures, new_sheet_cost=0.0, new_sheets=0, offcuts_used=1, parts_from_offcuts=area)
    moved = replace(
        on_first(plan, size=rest),
        problem=replace(PROBLEM, sizes=(rest,)),
        figures=figures,
        lower_bound=0.0,
    )
    assert "figures" not in named(moved)
    assert named(replace(moved, figures=replace(figures, parts_from_offcuts=area - 1))).count("figures") == 1


def test_sheets_cost_their_price_where_every_one_has_one(plan: SheetPlan) -> None:
    unpriced = SheetSize("other", 900, 900)
    mixed = replace(plan, problem=replace(PROBLEM, sizes=(SHEET, unpriced)))
    assert named(mixed).count("figures") == 1  # 1 is right then, and 80 was given
    told = replace(mixed, figures=replace(plan.figures, new_sheet_cost=1.0), lower_bound=1.0)
    assert named(told) == []
    rest = replace(unpriced, is_offcut=True)
    assert named(replace(plan, problem=replace(PROBLEM, sizes=(SHEET, rest)))) == []


@pytest.mark.parametrize(
    ("share", "proven", "is_found"),
    [
        (1 + 5e-7, False, False),
        (1 + 2e-6, False, True),
        (1 - 5e-7, True, False),
        (1 - 2e-6, True, True),
        (0.5, False, False),
    ],
)
def test_a_bound_is_no_more_than_the_cost_and_a_proof_no_less(
    plan: SheetPlan, share: float, proven: bool, is_found: bool
) -> None:
    bound = share * plan.figures.new_sheet_cost
    assert named(replace(plan, lower_bound=bound, proven=proven)) == ["bound"] * is_found


def test_sheets_that_lie_on_each_other(two_sheets: SheetPlan) -> None:
    assert len(two_sheets.layouts) == 2
    assert named(two_sheets) == []
    assert sorted(map(len, two_sheets.stacks)) == [2]
    single = replace(two_sheets, problem=replace(two_sheets.problem, saw=Saw(3.2, 8.0, stack=1)))
    assert named(single) == ["stacks"]
    for stacks in (((1,),), ((1, 2), (2,)), ((1, 3),), ()):
        assert named(replace(two_sheets, stacks=stacks)) == ["stacks"]


def test_sheets_that_are_not_cut_alike_do_not_lie_on_each_other(two_sheets: SheetPlan) -> None:
    first, second = two_sheets.layouts
    for other in (
        replace(second, size=replace(second.size, label="other")),
        replace(second, cuts=second.cuts[1:]),
    ):
        assert "stacks" in named(replace(two_sheets, layouts=(first, other)))


def test_each_cut_is_made_once_at_its_setting(plan: SheetPlan) -> None:
    settings = plan.settings
    assert named(replace(plan, settings=settings[:-1])).count("settings") == 1
    assert "settings" in named(replace(plan, settings=(*settings, settings[-1])))
    assert "settings" in named(replace(plan, settings=(settings[-1], *settings[:-1])))
    placed = next(n for n, one in enumerate(settings) if one.length is not None)
    for changes in (
        {"length": settings[placed].length + 0.01},  # type: ignore[operator]
        {"length": None},
        {"is_ripping": not settings[placed].is_ripping},
        {"is_crosscut": not settings[placed].is_crosscut},
    ):
        changed = list(settings)
        changed[placed] = replace(settings[placed], **changes)  # type: ignore[arg-type]
        assert "settings" in named(replace(plan, settings=tuple(changed))), changes
    near = list(settings)
    near[placed] = replace(settings[placed], length=settings[placed].length + NEAR)  # type: ignore[operator]
    assert named(replace(plan, settings=tuple(near))) == []


@pytest.mark.parametrize(
    ("move", "is_found"), [((0.0, NEAR), False), ((0.0, 0.01), True), ((0.01, 0.0), True)]
)
def test_a_matched_set_hangs_one_kerf_apart(
    plan: SheetPlan, move: tuple[float, float], is_found: bool
) -> None:
    across, up = move
    loose = tuple(
        replace(part, x=part.x + across, y=part.y + up) if part.key == "upper" else part
        for part in plan.layouts[0].loose
    )
    assert ("matched" in named(on_first(plan, loose=loose))) is is_found


def test_parts_of_a_matched_set_lie_in_their_order_and_the_way_they_were_drawn(plan: SheetPlan) -> None:
    turned = tuple(replace(part, turned=True) if part.matched else part for part in plan.layouts[0].loose)
    assert "grain" in named(on_first(plan, loose=turned))
    for width in (150 + NEAR, 150.01):
        wider = tuple(
            replace(part, width=width) if part.key == "upper" else part for part in plan.layouts[0].loose
        )
        assert ("size" in named(on_first(plan, loose=wider))) is (width == 150.01)


def test_parts_may_be_turned_where_their_stock_has_no_grain(plan: SheetPlan) -> None:
    """Only the grain is looked at here: a part that is turned where it lies no longer fits its cuts."""
    for name, list_name in (("strips", "bands"), ("loose", "loose")):
        for can_turn in (True, False):
            free = tuple(replace(part, can_turn=can_turn) for part in getattr(PROBLEM, name))
            things = tuple(
                replace(thing, turned=True) if getattr(thing, "matched", None) is None else thing
                for thing in getattr(plan.layouts[0], list_name)
            )
            turned = on_first(replace(plan, problem=replace(PROBLEM, **{name: free})), **{list_name: things})
            assert ("grain" in named(turned)) is not can_turn


@pytest.mark.parametrize("size", [(0, 100), (100, 0), (-5, 100)])
def test_an_offcut_has_a_size(plan: SheetPlan, size: tuple[float, float]) -> None:
    offcuts = (*plan.layouts[0].offcuts, Offcut(20, 20, *size, is_kept=False))
    assert "offcuts" in named(on_first(plan, offcuts=offcuts))


def test_a_band_without_strips(plan: SheetPlan) -> None:
    first, *rest = plan.layouts[0].bands
    assert "band" in named(on_first(plan, bands=(replace(first, strips=()), *rest)))
