"""The referee before plans made by hand: what is wrong is named, and only that.

Source of what is expected: the cutting rules in docs/sheets.md, and the sums in `hand_made_plans.py`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, replace
from typing import Any

import pytest
from hand_made_plans import (
    ACROSS_FIRST,
    PLANS,
    RIPPED_FIRST,
    RIPPED_FIRST_UP,
    SHEET,
    UP_FIRST,
    numbered,
    settings_of,
)

from drawerwright.sheets import referee
from drawerwright.sheets.blanks import LooseDemand
from drawerwright.sheets.cut_list import SheetCuts
from drawerwright.sheets.patterns import Cut, Offcut, PlacedLoose
from drawerwright.sheets.plan import SheetPlan, SheetPreferences
from drawerwright.sheets.sheet_stock import LeastOffcut, SheetSize

SIDE, END = ACROSS_FIRST.problem.strips
(BOTTOM,) = ACROSS_FIRST.problem.loose
(SET,) = ACROSS_FIRST.problem.matched
NEAR, APART = 5e-5, 2e-4
"""Half of what counts as the same edge, and twice that (mm)."""
Change = Callable[[SheetPlan], SheetPlan]


def named(plan: SheetPlan) -> list[str]:
    """The codes of what is wrong, in their order."""
    return sorted(violation.code for violation in referee.check(plan))


def on_sheet(**changes: Any) -> Change:
    """The first sheet's lists or values replaced."""
    return lambda plan: replace(plan, layouts=(replace(plan.layouts[0], **changes), *plan.layouts[1:]))


def thing(name: str, place: int, **changes: Any) -> Change:
    """Values of one thing on the first sheet added to, if they are numbers, else replaced."""

    def change(plan: SheetPlan) -> SheetPlan:
        things = list(getattr(plan.layouts[0], name))
        old = things[place]
        new = {
            field: getattr(old, field) + value if type(value) in (int, float) else value
            for field, value in changes.items()
        }
        things[place] = replace(old, **new)
        return on_sheet(**{name: tuple(things)})(plan)

    return change


def asked(**changes: Any) -> Change:
    """Another problem for the same plan."""
    return lambda plan: replace(plan, problem=replace(plan.problem, **changes))


def least_kept(length: float, width: float) -> Change:
    """Another offcut that is the smallest to keep."""
    return asked(least_offcut=LeastOffcut(length, width))


def on_hand(count: int) -> Change:
    """So many of the sheet are there."""
    size = replace(SHEET, on_hand=count)
    return both(asked(sizes=(size,)), on_sheet(size=size))


def rules(**changes: Any) -> Change:
    return lambda plan: asked(band_rules=replace(plan.problem.band_rules, **changes))(plan)


def figures(**changes: Any) -> Change:
    return lambda plan: replace(
        plan,
        figures=replace(plan.figures, **{n: getattr(plan.figures, n) + off for n, off in changes.items()}),
    )


def told(**changes: Any) -> Change:
    return lambda plan: replace(plan, **changes)


def both(*changes: Change) -> Change:
    def change(plan: SheetPlan) -> SheetPlan:
        for one in changes:
            plan = one(plan)
        return plan

    return change


def cuts(change: Callable[[list[Cut]], list[Cut]], *, with_settings: bool = True) -> Change:
    """The cuts of the first sheet changed and numbered anew; the settings as they then follow."""

    def changed(plan: SheetPlan) -> SheetPlan:
        new = numbered(change(list(plan.layouts[0].cuts)))
        moved = on_sheet(cuts=new)(plan)
        return replace(moved, settings=settings_of(new)) if with_settings else moved

    return changed


@pytest.mark.parametrize("name", PLANS)
def test_a_plan_made_by_hand_is_accepted(name: str) -> None:
    assert referee.check(PLANS[name]) == []


NUMBERS = [
    (name, kind, place, field.name)
    for name, plan in PLANS.items()
    for kind in ("bands", "loose", "offcuts", "cuts")
    for place, one in enumerate(getattr(plan.layouts[0], kind))
    for field in fields(one)
    if type(getattr(one, field.name)) in (int, float)
]


def test_edges_that_a_saw_cannot_tell_apart_are_one_and_others_are_not() -> None:
    wrong = []
    for name, kind, place, field in NUMBERS:
        plan = PLANS[name]
        if field in ("order", "stage", "number"):
            continue
        if field == "setting" and plan.layouts[0].cuts[place].stage == 0:
            continue  # a trim is set to no fence
        for off, is_named in ((-NEAR, False), (NEAR, False), (-APART, True), (APART, True)):
            if bool(named(thing(kind, place, **{field: off})(plan))) is not is_named:
                wrong.append((name, kind, place, field, off))
    assert len(NUMBERS) > 400
    assert wrong == []


@pytest.mark.parametrize("off", [-1, 1])
def test_running_numbers_and_stages_are_looked_at(off: int) -> None:
    unseen = [
        number
        for number in NUMBERS
        if number[3] in ("order", "stage", "number")
        and not named(thing(number[1], number[2], **{number[3]: off})(PLANS[number[0]]))
    ]
    assert unseen == []


WHOLE: list[tuple[str, Change, list[str]]] = [
    ("a side too many wanted", asked(strips=(replace(SIDE, count=3), END)), ["demand"]),
    ("two lines of one key are one", asked(strips=(replace(SIDE, count=1), replace(SIDE, count=1), END)), []),
    ("a bottom too few wanted", asked(loose=()), ["demand", "size"]),
    ("two lines of one bottom are one", asked(loose=(replace(BOTTOM, count=0), BOTTOM)), []),
    ("a key that nobody cuts", asked(loose=(BOTTOM, LooseDemand("lid", 10, 10, 1))), ["demand"]),
    ("numbers from nought", thing("loose", 0, number=-1), ["numbering"]),
    ("a band's number from two", thing("bands", 1, number=1), ["numbering"]),
    ("two of a sheet of which one is there", on_hand(0), ["stock"]),
    ("one sheet of which one is there", on_hand(1), []),
    ("a sheet of another label", on_sheet(size=SheetSize("other", 1000, 500, 40.0)), ["stock"]),
    ("cost", figures(new_sheet_cost=4.1e-5), ["figures"]),
    ("cost as near as can be", figures(new_sheet_cost=3.9e-5), []),
    ("sheets", figures(new_sheets=-1), ["figures"]),
    ("offcuts", figures(offcuts_used=1), ["figures"]),
    ("parts from offcuts", figures(parts_from_offcuts=1.1e-6), ["figures"]),
    ("parts from offcuts, nearly", figures(parts_from_offcuts=0.9e-6), []),
    ("bands", figures(bands=1), ["figures"]),
    ("routed", figures(routed_length=-0.00094), ["figures"]),
    ("routed, nearly", figures(routed_length=-0.00092), []),
    ("fences", figures(fence_settings=-1), ["figures"]),
    ("largest offcut", figures(largest_offcut=0.14), ["figures"]),
    ("largest offcut, nearly", figures(largest_offcut=0.12), []),
    (
        "none worth keeping",
        both(least_kept(490, 100), thing("offcuts", 4, is_kept=False), figures(largest_offcut=-130_560)),
        [],
    ),
    ("kept in spite of the least length", least_kept(481, 100), ["figures", "offcuts"]),
    ("kept in spite of the least width", least_kept(480, 273), ["figures", "offcuts"]),
    ("kept by the very least", least_kept(480, 272), []),
    ("thrown away though worth keeping", least_kept(400, 48), ["offcuts"]),
    ("a bound above the cost", told(lower_bound=40 + 5e-5, proven=False), ["bound"]),
    ("a bound that is the cost", told(lower_bound=40 + 3e-5, proven=False), []),
    ("a proof that is none", told(lower_bound=40 - 5e-5), ["bound"]),
    ("a proof that is one", told(lower_bound=40 - 3e-5), []),
    ("no proof", told(lower_bound=0.0, proven=False), []),
    ("no stack", told(stacks=()), ["stacks"]),
    ("a sheet in two stacks", told(stacks=((1,), (1,))), ["stacks"]),
]  # fmt: skip


@pytest.mark.parametrize(("change", "expected"), [pytest.param(c, e, id=name) for name, c, e in WHOLE])
def test_a_plan_as_a_whole(change: Change, expected: list[str]) -> None:
    assert named(change(ACROSS_FIRST)) == expected


BANDS: list[tuple[str, Change, list[str]]] = [
    ("as long as is safe to hold", rules(shortest_piece=232.0 + NEAR), []),
    ("too short to hold", rules(shortest_piece=232.0 + APART), ["band", "band"]),
    ("as long as the table carries", rules(longest_band=232.0 - NEAR), []),
    ("too long for the table", rules(longest_band=232.0 - APART), ["band", "band"]),
    ("a table of any length", rules(longest_band=None), []),
    ("a strip for the tear-out as wide as asked", rules(sacrificial_strip=20.0 + NEAR), []),
    ("a strip for the tear-out too narrow", rules(sacrificial_strip=20.0 + APART), ["sacrificial"] * 2),
    ("no strip asked", rules(sacrificial_strip=0.0), []),
    ("no end asked", rules(sacrificial_strip=99.0, sacrificial_ends=0), []),
    ("one end asked, one too narrow", rules(sacrificial_strip=99.0, sacrificial_ends=1), ["sacrificial"] * 2),
    ("another length wanted", asked(strips=(replace(SIDE, length=300.001), END)), ["size"] * 2),
    ("another height wanted", asked(strips=(replace(SIDE, height=90.001), END)), ["size"] * 2),
    ("another family wanted", asked(strips=(replace(SIDE, family="others"), END)), ["size"] * 2),
    ("a bottom of another length", asked(loose=(LooseDemand("bottom", 400.001, 200, 1),)), ["size"]),
    ("a bottom of another width", asked(loose=(LooseDemand("bottom", 400, 199.999, 1),)), ["size"]),
    ("a set of another length", asked(matched=(replace(SET, length=360.001),)), ["size"] * 2),
    ("a set of another width", asked(matched=(replace(SET, widths=(120.001, 100)),)), ["size"]),
    ("a set of another name", asked(matched=(replace(SET, label="other"),)), ["size"] * 2),
    ("a set upside down", asked(matched=(replace(SET, keys=SET.keys[::-1], widths=(100, 120)),)), ["matched"]),
    ("bands that are not to be trimmed", asked(preferences=SheetPreferences(trim_bands=False)), ["stages"]),
]  # fmt: skip


@pytest.mark.parametrize(("change", "expected"), [pytest.param(c, e, id=name) for name, c, e in BANDS])
def test_a_band_and_a_part_as_they_are_wanted(change: Change, expected: list[str]) -> None:
    assert named(change(ACROSS_FIRST)) == expected


def test_a_turned_piece_where_the_grain_forbids_it() -> None:
    """One demand of several that lets a part turn is enough."""
    upright = tuple(replace(part, can_turn=False) for part in UP_FIRST.problem.strips)
    assert named(asked(strips=upright)(UP_FIRST)) == ["grain"] * 4
    assert named(asked(strips=(*upright, *UP_FIRST.problem.strips))(UP_FIRST)).count("grain") == 0
    flat = tuple(replace(part, can_turn=False) for part in UP_FIRST.problem.loose)
    assert named(asked(loose=flat)(UP_FIRST)) == ["grain"] * 2
    assert named(asked(loose=(*flat, *UP_FIRST.problem.loose))(UP_FIRST)).count("grain") == 0


def moved_set(across: float, up: float) -> Change:
    """The upper part of the set moved against the lower one."""
    return thing("loose", 2, x=across, y=up)


@pytest.mark.parametrize(
    ("change", "is_named"),
    [
        (moved_set(NEAR, 0.0), False),
        (moved_set(APART, 0.0), True),
        (moved_set(-APART, 0.0), True),
        (moved_set(0.0, NEAR), False),
        (moved_set(0.0, APART), True),
        (moved_set(0.0, -APART), True),
    ],
)
def test_a_set_hangs_one_kerf_apart(change: Change, is_named: bool) -> None:
    assert ("matched" in named(change(ACROSS_FIRST))) is is_named


EDGES = [("x", -1, 0), ("y", -1, 0), ("length", 1, 4), ("width", 1, 4)]


@pytest.mark.parametrize(("field", "way", "place"), EDGES)
def test_nothing_reaches_beyond_the_trimmed_sheet(field: str, way: int, place: int) -> None:
    """Offcut 0 lies at the left edge, offcut 4 at the right and the upper one, the bottom at the lower one."""
    kind = "loose" if field == "y" else "offcuts"
    assert "outside" not in named(thing(kind, place, **{field: way * NEAR})(ACROSS_FIRST))
    assert "outside" in named(thing(kind, place, **{field: way * APART})(ACROSS_FIRST))


@pytest.mark.parametrize("size", [(0.0, 50.0), (50.0, 0.0), (-1.0, 50.0)])
def test_an_offcut_has_two_sides(size: tuple[float, float]) -> None:
    more = (*ACROSS_FIRST.layouts[0].offcuts, Offcut(800, 100, *size, is_kept=False))
    assert named(on_sheet(offcuts=more)(ACROSS_FIRST)).count("offcuts") == 1


def test_an_offcut_on_hand_is_not_trimmed() -> None:
    """What lies in the trim of a new sheet is part of an offcut; its figures are those of an offcut."""
    rest = SheetSize("rest", 400, 200, is_offcut=True)
    one = (PlacedLoose("bottom", 1, 0, 0, 400, 200),)
    bare = both(
        asked(sizes=(rest,), strips=(), matched=()),
        on_sheet(size=rest, bands=(), loose=one, offcuts=(), cuts=()),
        told(settings=(), lower_bound=0.0),
        lambda plan: replace(
            plan,
            figures=replace(
                plan.figures,
                new_sheet_cost=0.0,
                new_sheets=0,
                offcuts_used=1,
                parts_from_offcuts=80_000.0,
                bands=0,
                routed_length=0.0,
                fence_settings=0,
                largest_offcut=0.0,
            ),
        ),
    )(ACROSS_FIRST)
    assert named(bare) == []
    new = replace(rest, is_offcut=False)
    assert named(both(asked(sizes=(new,)), on_sheet(size=new))(bare)).count("outside") == 1


def swapped(one: int, other: int) -> Callable[[list[Cut]], list[Cut]]:
    def change(found: list[Cut]) -> list[Cut]:
        found[one], found[other] = found[other], found[one]
        return found

    return change


def changed(place: int, **changes: Any) -> Callable[[list[Cut]], list[Cut]]:
    def change(found: list[Cut]) -> list[Cut]:
        found[place] = replace(found[place], **changes)
        return found

    return change


CUT: list[tuple[str, SheetPlan, Change, set[str]]] = [
    ("a cut across a piece not yet free", ACROSS_FIRST, cuts(swapped(4, 6)), {"guillotine"}),
    ("rips before the last band is free", ACROSS_FIRST, cuts(swapped(7, 13)), {"order"}),
    ("a rip before a crosscut of another part", ACROSS_FIRST, cuts(swapped(12, 13)), {"order", "settings"}),
    ("a cut thinner than the kerf", ACROSS_FIRST, cuts(changed(4, x1=313.9)), {"kerf"}),
    ("a cut thicker than the kerf", ACROSS_FIRST, cuts(changed(4, x1=314.1)), {"kerf"}),
    ("a trim thinner than the kerf, at the rim", ACROSS_FIRST, cuts(changed(0, x0=8)), {"kerf"}),
    ("a cut set to another size", ACROSS_FIRST, cuts(changed(4, setting=299.9)), {"setting"}),
    ("a cut that runs backwards", ACROSS_FIRST, cuts(changed(4, x0=320)), {"kerf"}),
    ("a cut upside down", ACROSS_FIRST, cuts(changed(4, y0=491)), {"kerf"}),
    ("a stage before the one of its piece", ACROSS_FIRST, cuts(changed(6, stage=0)), {"stages"}),
    ("a stage too late", ACROSS_FIRST, cuts(changed(12, stage=6)), {"stages"}),
    ("a fifth stage", RIPPED_FIRST, cuts(changed(7, stage=6)), {"stages"}),
]  # fmt: skip


@pytest.mark.parametrize(
    ("plan", "change", "expected"), [pytest.param(p, c, e, id=name) for name, p, c, e in CUT]
)
def test_a_cut_that_cannot_be_made(plan: SheetPlan, change: Change, expected: set[str]) -> None:
    assert expected <= set(named(change(plan)))


@pytest.mark.parametrize("name", PLANS)
def test_every_cut_is_needed_and_runs_from_edge_to_edge(name: str) -> None:
    plan = PLANS[name]
    for place, cut in enumerate(plan.layouts[0].cuts):
        gone = cuts(lambda found, at=place: found[:at] + found[at + 1 :])(plan)
        assert {"guillotine", "offcuts", "area"} & set(named(gone)), place
        runs_along_x = cut.x1 - cut.x0 > cut.y1 - cut.y0
        for changes in (
            ({"x0": cut.x0 + 1}, {"x1": cut.x1 - 1})
            if runs_along_x
            else ({"y0": cut.y0 + 1}, {"y1": cut.y1 - 1})
        ):
            short = cuts(changed(place, **changes))(plan)
            assert "guillotine" in named(short), (place, changes)


def test_bands_alone_have_no_third_stage_but_their_trim() -> None:
    """The trim of a band is the third stage, of a first rip's the fourth; loose parts may be parted there."""
    for plan, place in ((RIPPED_FIRST, 7), (RIPPED_FIRST_UP, 7)):
        assert named(plan) == []
        assert plan.layouts[0].cuts[place].stage == 4
        parted = on_sheet(bands=plan.layouts[0].bands[:1])(plan)
        assert "stages" in named(parted)  # what is trimmed there is no band


def test_a_trim_frees_one_band_and_nothing_else() -> None:
    wide = cuts(changed(10, y0=242, y1=482))  # before the bands of its column are parted
    assert "guillotine" in named(wide(ACROSS_FIRST))
    beside = thing("offcuts", 1, is_kept=False)
    more = on_sheet(loose=(*ACROSS_FIRST.layouts[0].loose, PlacedLoose("bottom", 2, 264, 246, 46, 232)))
    assert "stages" in named(both(beside, more)(ACROSS_FIRST))


def test_the_last_stage_parts_nothing_but_a_set() -> None:
    """Two sets, or a set and a part that belongs to none, should have been parted before."""
    loose = ACROSS_FIRST.layouts[0].loose
    assert named(ACROSS_FIRST) == []
    for label in ("other", None):
        other = on_sheet(loose=(*loose[:2], replace(loose[2], matched=label)))
        assert "stages" in named(other(ACROSS_FIRST))
    none = on_sheet(loose=tuple(replace(part, matched=None) for part in loose))
    assert "stages" in named(none(ACROSS_FIRST))


def test_settings_take_the_cuts_in_their_order() -> None:
    plan = ACROSS_FIRST
    (trims, first, second, *others) = plan.settings
    for settings, count in (
        (plan.settings[1:], 15 + 1),  # the trims are in none, so no other cut is the next one
        (plan.settings[:-1], 1),  # bands that stay unripped
        ((trims, second, first, *others), 14 + 1),
        ((*plan.settings, plan.settings[-1]), 4),
        ((trims, replace(first, sheets=(SheetCuts(2, (5,)),)), second, *others), 15 + 1),
        ((trims, replace(first, sheets=(SheetCuts(0, (5,)),)), second, *others), 15 + 1),
        ((trims, replace(first, is_crosscut=False), second, *others), 1),
        ((trims, replace(first, is_ripping=True), second, *others), 1 + 7),
        ((replace(trims, length=10.0), first, second, *others), 4),
        ((replace(trims, is_crosscut=True), first, second, *others), 0),
        ((trims, replace(first, length=None), second, *others), 1),
        ((trims, replace(first, length=300 + APART), second, *others), 1),
        ((trims, replace(first, length=300 + NEAR), second, *others), 0),
    ):
        said = [code for code in named(replace(plan, settings=settings)) if code == "settings"]
        assert len(said) == count, settings


def test_a_setting_that_is_taken_up_twice_is_set_once() -> None:
    """Fence and stop stay where they are from one entry of the list to the next, and trims move nothing."""
    trims, first, *others = ACROSS_FIRST.settings
    again = replace(first, sheets=(SheetCuts(1, ()),))
    for settings in (
        (trims, first, again, *others),
        (trims, first, replace(trims, sheets=()), again, *others),
    ):
        assert named(replace(ACROSS_FIRST, settings=settings)) == []
    elsewhere = (trims, first, replace(again, is_crosscut=False), *others)
    assert named(replace(ACROSS_FIRST, settings=elsewhere)) == ["figures"]


def two_sheets(*stacks: tuple[int, ...], most: int) -> SheetPlan:
    """The plan twice, cut in stacks of at most so many."""
    (layout,) = ACROSS_FIRST.layouts
    problem = ACROSS_FIRST.problem
    second = replace(
        layout,
        bands=tuple(
            replace(b, number=2, strips=tuple(replace(s, number=s.number + 2) for s in b.strips))
            for b in layout.bands
        ),
        loose=tuple(replace(part, number=2) for part in layout.loose),
    )
    return replace(
        ACROSS_FIRST,
        problem=replace(
            problem,
            saw=replace(problem.saw, stack=most),
            strips=tuple(replace(part, count=4) for part in problem.strips),
            loose=tuple(replace(part, count=2) for part in problem.loose),
            matched=problem.matched * 2,
        ),
        layouts=(layout, second),
        lower_bound=80.0,
        figures=replace(
            ACROSS_FIRST.figures, new_sheet_cost=80.0, new_sheets=2, routed_length=1856.0, bands=4
        ),
        settings=tuple(
            replace(one, sheets=(*one.sheets, replace(one.sheets[0], sheet=2)))
            for one in ACROSS_FIRST.settings
        ),
        stacks=stacks,
    )


@pytest.mark.parametrize(
    ("stacks", "most", "expected"),
    [
        ([(1,), (2,)], 1, []),
        ([(1, 2)], 2, []),
        ([(1, 2)], 3, []),
        ([(1, 2)], 1, ["stacks"]),
        ([(1,)], 2, ["stacks"]),
        ([(1, 2), (2,)], 2, ["stacks"]),
        ([(2,), (1,)], 1, []),
    ],
)
def test_sheets_lie_on_each_other_once_and_no_higher_than_they_may(
    stacks: list[tuple[int, ...]], most: int, expected: list[str]
) -> None:
    assert named(two_sheets(*stacks, most=most)) == expected


def test_sheets_of_a_stack_are_cut_alike_but_for_the_ripping() -> None:
    plan = two_sheets((1, 2), most=2)
    first, second = plan.layouts
    ripped = [place for place, cut in enumerate(second.cuts) if cut.ripping]
    for place, cut in enumerate(second.cuts):
        other = (*second.cuts[:place], replace(cut, y1=cut.y1 - 1), *second.cuts[place + 1 :])
        said = named(replace(plan, layouts=(first, replace(second, cuts=other))))
        assert ("stacks" in said) is (place not in ripped), place


def three_sheets() -> SheetPlan:
    """Two sheets cut alike, and a third that is ripped first; what is not ripped comes first on all of them."""
    plan = two_sheets((1, 2), (3,), most=2)
    (third,) = RIPPED_FIRST.layouts
    third = replace(
        third,
        bands=tuple(
            replace(b, number=3, strips=tuple(replace(s, number=s.number + 4) for s in b.strips))
            for b in third.bands
        ),
    )
    of_third = [
        replace(one, sheets=tuple(replace(each, sheet=3) for each in one.sheets))
        for one in RIPPED_FIRST.settings
    ]
    before = [one for one in (*plan.settings, *of_third) if not one.is_ripping]
    return replace(
        plan,
        problem=replace(plan.problem, strips=tuple(replace(part, count=6) for part in plan.problem.strips)),
        layouts=(*plan.layouts, third),
        lower_bound=120.0,
        figures=replace(
            plan.figures,
            new_sheet_cost=120.0,
            new_sheets=3,
            routed_length=2784.0,
            bands=6,
            fence_settings=15,
            largest_offcut=239_120.0,
        ),
        settings=(*before, *(one for one in (*plan.settings, *of_third) if one.is_ripping)),
    )


def test_each_sheet_of_several_is_held_against_its_own_cuts() -> None:
    """Of the third sheet the first rip, 232 mm, is left out of the list; then one of its cuts is moved."""
    plan = three_sheets()
    assert referee.check(plan) == []
    first_rip = next(one for one in plan.settings if one.length == 232 and one.sheets[0].sheet == 3)
    without = replace(plan, settings=tuple(one for one in plan.settings if one is not first_rip))
    assert {(one.code, one.sheet) for one in referee.check(without)} >= {("settings", 3)}
    assert {one.sheet for one in referee.check(without) if one.code == "settings"} == {3}
    third = plan.layouts[2]
    off = replace(third, cuts=(*third.cuts[:4], replace(third.cuts[4], setting=231.0), *third.cuts[5:]))
    said = [(one.code, one.sheet) for one in referee.check(replace(plan, layouts=(*plan.layouts[:2], off)))]
    assert sorted(said) == [("setting", 3), ("settings", 3)]


def test_stacks_hold_the_sheets_that_they_name() -> None:
    plan = three_sheets()
    for stacks, expected in (
        (((1,), (2,), (3,)), []),
        (((2, 1), (3,)), []),
        (((1, 3), (2,)), [1]),
        (((1,), (2, 3)), [2]),
    ):
        found = [one for one in referee.check(replace(plan, stacks=stacks)) if one.code == "stacks"]
        assert [one.sheet for one in found] == expected


def test_sheets_without_a_price_cost_one_each() -> None:
    """A bound may miss a cost of 1 by a millionth of it, whatever lies above."""
    size = replace(SHEET, price=None)
    plan = both(
        asked(sizes=(size,)), on_sheet(size=size), figures(new_sheet_cost=-39.0), told(lower_bound=1.0)
    )(ACROSS_FIRST)
    assert named(plan) == []
    for off, is_found in ((0.5e-6, False), (2e-6, True)):
        above = replace(plan, lower_bound=1.0 + off, proven=False)
        below = replace(plan, lower_bound=1.0 - off)
        assert named(above) == named(below) == ["bound"] * is_found
