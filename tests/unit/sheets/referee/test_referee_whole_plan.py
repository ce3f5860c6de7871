"""The referee rejects what cannot be cut: every kind of broken plan."""

from __future__ import annotations

import ast
import math
from dataclasses import fields, replace
from pathlib import Path

import pytest

from drawerwright.sheets import referee
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.blanks import LooseDemand, MatchedSet, StripDemand
from drawerwright.sheets.patterns import Offcut, SheetLayout
from drawerwright.sheets.plan import SheetPlan, SheetPreferences, SheetProblem, plan_sheets
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import LeastOffcut, SheetSize

PROBLEM = SheetProblem(
    "birch 15",
    (SheetSize("2440 × 1220", 2440, 1220, 80.0, 3),),
    Saw(3.2, 8.0),
    BandRules(20.0, 2, 250.0, 1200.0),
    (StripDemand("side", "sides", 450, 100, 6), StripDemand("end", "ends", 520, 100, 4)),
    (LooseDemand("bottom", 440, 300, 2),),
    (MatchedSet("bank", ("upper", "lower"), 560, (150, 160)),),
)


@pytest.fixture(scope="module")
def plan() -> SheetPlan:
    """Sheets that are crosscut first."""
    return plan_sheets(replace(PROBLEM, preferences=SheetPreferences(("offcuts", "routing", "fences"))))


@pytest.fixture(scope="module")
def ripped() -> SheetPlan:
    """A sheet of which a first cut along its whole length takes off what is left over."""
    untrimmed = SheetPreferences(trim_bands=False)
    return plan_sheets(replace(PROBLEM, loose=(), matched=(), preferences=untrimmed))


MODULES = sorted(Path(referee.__file__).parent.glob("*.py"))
KNOWN_TO_REFEREES = {"patterns", "problem", *(f"referee.{path.stem}" for path in MODULES)}
"""What was asked and what was answered; the planner, which made the answer, is not among them."""


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.stem)
def test_a_referee_shares_no_code_with_the_planner(path: Path) -> None:
    tree = ast.parse(path.read_text("utf-8"))
    imported = {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert not [node for node in ast.walk(tree) if isinstance(node, ast.Import)]
    rooms = {module for module in imported if module and module.startswith("drawerwright.")}
    assert rooms <= {"drawerwright.basics.lengths", *(f"drawerwright.sheets.{m}" for m in KNOWN_TO_REFEREES)}


def codes(plan: SheetPlan) -> set[str]:
    return {violation.code for violation in referee.check(plan)}


def with_layout(plan: SheetPlan, **changes: object) -> SheetPlan:
    layout: SheetLayout = replace(plan.layouts[0], **changes)  # type: ignore[arg-type]
    return replace(plan, layouts=(layout, *plan.layouts[1:]))


def test_the_plan_itself_is_accepted(plan: SheetPlan) -> None:
    assert codes(plan) == set()


def test_a_missing_band(plan: SheetPlan) -> None:
    assert "demand" in codes(with_layout(plan, bands=plan.layouts[0].bands[1:]))


def test_a_part_too_many(plan: SheetPlan) -> None:
    part = plan.layouts[0].loose[0]
    broken = with_layout(plan, loose=(*plan.layouts[0].loose, replace(part, number=99)))
    assert {"demand", "numbering"} <= codes(broken)


def test_a_band_moved_off_its_cuts(plan: SheetPlan) -> None:
    first, *rest = plan.layouts[0].bands
    assert "guillotine" in codes(with_layout(plan, bands=(replace(first, x=first.x + 1), *rest)))


def test_a_band_over_the_rim(plan: SheetPlan) -> None:
    first, *rest = plan.layouts[0].bands
    assert "outside" in codes(with_layout(plan, bands=(replace(first, y=1000.0), *rest)))


def test_a_band_in_the_trim(plan: SheetPlan) -> None:
    first, *rest = plan.layouts[0].bands
    assert "outside" in codes(with_layout(plan, bands=(replace(first, x=2.0), *rest)))


def test_strips_without_kerf(plan: SheetPlan) -> None:
    band = next(band for band in plan.layouts[0].bands if len(band.strips) > 1)
    strips = (band.strips[0], replace(band.strips[1], offset=band.strips[1].offset - 1), *band.strips[2:])
    bands = tuple(replace(b, strips=strips) if b is band else b for b in plan.layouts[0].bands)
    assert "kerf" in codes(with_layout(plan, bands=bands))


def test_a_strip_in_place_of_the_sacrificial_one(plan: SheetPlan) -> None:
    first, *rest = plan.layouts[0].bands
    strips = (replace(first.strips[0], offset=0.0), *first.strips[1:])
    assert "sacrificial" in codes(with_layout(plan, bands=(replace(first, strips=strips), *rest)))


def test_a_strip_of_the_wrong_height(plan: SheetPlan) -> None:
    first, *rest = plan.layouts[0].bands
    strips = (replace(first.strips[0], height=90.0), *first.strips[1:])
    assert "size" in codes(with_layout(plan, bands=(replace(first, strips=strips), *rest)))


def test_a_part_turned_against_the_grain(plan: SheetPlan) -> None:
    loose = tuple(
        replace(part, turned=True) if part.key == "bottom" else part for part in plan.layouts[0].loose
    )
    assert "grain" in codes(with_layout(plan, loose=loose))


def test_a_cut_that_stops_short(plan: SheetPlan) -> None:
    cuts = list(plan.layouts[0].cuts)
    place = next(n for n, cut in enumerate(cuts) if cut.stage == 1)
    cuts[place] = replace(cuts[place], y1=cuts[place].y1 - 50)
    assert "guillotine" in codes(with_layout(plan, cuts=tuple(cuts)))


def test_a_cut_left_out(plan: SheetPlan) -> None:
    cuts = [cut for cut in plan.layouts[0].cuts if cut.order != 6]
    cuts = [replace(cut, order=order) for order, cut in enumerate(cuts, start=1)]
    assert {"guillotine", "area"} & codes(with_layout(plan, cuts=tuple(cuts)))


def test_a_cut_thinner_than_the_blade(plan: SheetPlan) -> None:
    cuts = list(plan.layouts[0].cuts)
    place = next(n for n, cut in enumerate(cuts) if cut.stage == 1)
    cuts[place] = replace(cuts[place], x1=cuts[place].x0 + 1)
    assert "kerf" in codes(with_layout(plan, cuts=tuple(cuts)))


def test_cuts_out_of_order(plan: SheetPlan) -> None:
    cuts = plan.layouts[0].cuts
    assert codes(with_layout(plan, cuts=cuts[::-1]))


def test_a_fence_set_wrong(plan: SheetPlan) -> None:
    cuts = [replace(cut, setting=cut.setting + 1) if cut.stage == 1 else cut for cut in plan.layouts[0].cuts]
    assert "setting" in codes(with_layout(plan, cuts=tuple(cuts)))


def test_a_stage_too_many() -> None:
    bands_only = plan_sheets(replace(PROBLEM, loose=(), matched=()))
    cuts = tuple(replace(cut, stage=4) if cut.stage == 2 else cut for cut in bands_only.layouts[0].cuts)
    assert "stages" in codes(with_layout(bands_only, cuts=cuts))


def test_a_first_rip_is_accepted_where_it_takes_off_one_piece_to_keep(ripped: SheetPlan) -> None:
    layout = ripped.layouts[0]
    assert not layout.first_cuts_across
    assert max(cut.stage for cut in layout.cuts) == 3
    assert codes(ripped) == set()


def test_crosscuts_after_a_first_rip_count_as_the_second_stage(ripped: SheetPlan) -> None:
    cuts = tuple(replace(cut, stage=1) if cut.stage == 2 else cut for cut in ripped.layouts[0].cuts)
    assert codes(with_layout(ripped, cuts=cuts))


def test_an_offcut_invented(plan: SheetPlan) -> None:
    offcuts = (*plan.layouts[0].offcuts, Offcut(10, 10, 100, 100))
    assert "guillotine" in codes(with_layout(plan, offcuts=offcuts))


def test_an_offcut_forgotten(plan: SheetPlan) -> None:
    assert {"offcuts", "area"} <= codes(with_layout(plan, offcuts=plan.layouts[0].offcuts[1:]))


@pytest.mark.parametrize("least", [LeastOffcut(), LeastOffcut(3000, 10)])
def test_waste_that_is_called_an_offcut_to_keep_and_the_other_way_round(least: LeastOffcut) -> None:
    plan = plan_sheets(replace(PROBLEM, least_offcut=least))
    assert codes(plan) == set()
    first, *rest = plan.layouts[0].offcuts
    assert "offcuts" in codes(with_layout(plan, offcuts=(replace(first, is_kept=not first.is_kept), *rest)))


def test_a_matched_set_in_the_wrong_order(plan: SheetPlan) -> None:
    swapped = {"upper": "lower", "lower": "upper"}
    loose = tuple(replace(part, key=swapped.get(part.key, part.key)) for part in plan.layouts[0].loose)
    assert {"matched", "size"} & codes(with_layout(plan, loose=loose))


def test_more_sheets_than_are_on_hand(plan: SheetPlan) -> None:
    short = replace(PROBLEM, sizes=(replace(PROBLEM.sizes[0], on_hand=0),))
    layout = replace(plan.layouts[0], size=short.sizes[0])
    assert "stock" in codes(replace(plan, problem=short, layouts=(layout, *plan.layouts[1:])))


def test_a_sheet_nobody_has(plan: SheetPlan) -> None:
    assert "stock" in codes(with_layout(plan, size=SheetSize("3000 × 1220", 2440, 1220)))


@pytest.mark.parametrize(
    "changes",
    [
        {"new_sheet_cost": 1.0},
        {"bands": 0},
        {"routed_length": 1.0},
        {"largest_offcut": 1.0},
        {"fence_settings": 0},
    ],
)
def test_figures_that_are_not_so(plan: SheetPlan, changes: dict[str, float]) -> None:
    assert "figures" in codes(replace(plan, figures=replace(plan.figures, **changes)))  # type: ignore[arg-type]


def test_a_bound_above_the_plan(plan: SheetPlan) -> None:
    assert "bound" in codes(replace(plan, lower_bound=plan.figures.new_sheet_cost + 1))


def test_a_proof_that_is_none(plan: SheetPlan) -> None:
    assert "bound" in codes(replace(plan, lower_bound=0.0, proven=True))


def test_a_cut_that_runs_backwards_makes_no_wood(plan: SheetPlan) -> None:
    cuts = list(plan.layouts[0].cuts)
    place = next(n for n, cut in enumerate(cuts) if cut.stage == 1)
    for backwards in (
        replace(cuts[place], x0=cuts[place].x1 + 50),
        replace(cuts[place], y0=cuts[place].y1 + 50),
    ):
        turned = (*cuts[:place], backwards, *cuts[place + 1 :])
        said = [str(violation) for violation in referee.check(with_layout(plan, cuts=turned))]
        assert any("runs backwards" in words for words in said)


def test_a_cut_that_passes_for_a_trim(plan: SheetPlan) -> None:
    cuts = [replace(cut, stage=0) if cut.stage == 1 else cut for cut in plan.layouts[0].cuts]
    assert "stages" in codes(with_layout(plan, cuts=tuple(cuts)))


def test_a_trim_left_out(plan: SheetPlan) -> None:
    for left_out in range(4):
        cuts = [cut for place, cut in enumerate(plan.layouts[0].cuts) if place != left_out]
        cuts = [replace(cut, order=order) for order, cut in enumerate(cuts, start=1)]
        assert codes(with_layout(plan, cuts=tuple(cuts)))


def test_an_offcut_with_the_untrimmed_edge(plan: SheetPlan) -> None:
    offcuts = plan.layouts[0].offcuts
    far = max(range(len(offcuts)), key=lambda n: offcuts[n].x + offcuts[n].length)
    wider = tuple(replace(o, length=o.length + 8) if n == far else o for n, o in enumerate(offcuts))
    assert "outside" in codes(with_layout(plan, offcuts=wider))
    high = max(range(len(offcuts)), key=lambda n: offcuts[n].y + offcuts[n].width)
    taller = tuple(replace(o, width=o.width + 8) if n == high else o for n, o in enumerate(offcuts))
    assert "outside" in codes(with_layout(plan, offcuts=taller))


def test_two_bands_of_one_number(plan: SheetPlan) -> None:
    bands = plan.layouts[0].bands
    same = tuple(replace(band, family=bands[0].family, number=1) for band in bands[:2])
    assert {"numbering", "size"} & codes(with_layout(plan, bands=(*same, *bands[2:])))


def test_pieces_parted_by_a_trimming_cut() -> None:
    """Two loose parts above each other in a row may not be parted by the fourth stage."""
    wanted = replace(PROBLEM, strips=(), matched=(), loose=(LooseDemand("small", 300, 200, 2),))
    whole = plan_sheets(replace(wanted, sizes=(SheetSize("rest", 300, 403.2),), saw=Saw(3.2)))
    assert codes(whole) == set()
    cuts = tuple(replace(cut, stage=4) for cut in whole.layouts[0].cuts)
    assert "stages" in codes(with_layout(whole, cuts=cuts))


def _numbers(plan: SheetPlan) -> list[tuple[str, int, str]]:
    """Every number of the first sheet: list, place in it, field."""
    layout = plan.layouts[0]
    found = []
    for name in ("bands", "loose", "offcuts", "cuts"):
        for place, thing in enumerate(getattr(layout, name)):
            for field in fields(thing):
                value = getattr(thing, field.name)
                if isinstance(value, float | int) and not isinstance(value, bool):
                    found.append((name, place, field.name))
    return found


@pytest.mark.parametrize("change", [-7.0, -0.3, 0.3, 7.0, math.nan])
def test_no_number_of_a_plan_can_be_changed_unseen(plan: SheetPlan, change: float) -> None:
    """Whatever single number is falsified, the referee objects."""
    unseen = []
    for name, place, field in _numbers(plan):
        things = list(getattr(plan.layouts[0], name))
        if field == "setting" and things[place].stage == 0:
            continue  # a trim is set to no fence
        if field in ("order", "stage", "number") and change != 7.0:
            continue  # counts change by whole numbers
        things[place] = replace(things[place], **{field: getattr(things[place], field) + change})
        if not codes(with_layout(plan, **{name: tuple(things)})):
            unseen.append((name, place, field, change))
    assert unseen == []


def test_figures_that_are_no_numbers(plan: SheetPlan) -> None:
    assert "figures" in codes(replace(plan, figures=replace(plan.figures, routed_length=math.nan)))
    assert "figures" in codes(replace(plan, figures=replace(plan.figures, parts_from_offcuts=1.0)))
    assert "bound" in codes(replace(plan, lower_bound=math.nan))
