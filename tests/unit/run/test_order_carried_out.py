"""The order of work, carried out on virtual boards, ends with exactly the parts of the parts list.

The shop (`virtual_shop`) does only what the work of the steps says, and the inspection (`parts_inspected`) knows only
the parts list and how a drawer stands. That both are worth something is seen from spoilt orders: each is found.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from random import Random

import pytest
from order_cases import EXAMPLE, FEW_SECONDS, VARIANTS, planned, work_of

from drawerwright.drawers.parts import PartEnd, PartKind, Role
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.sheet_data import bands_data
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.run.setups import Edges
from drawerwright.run.work import (
    BandEdges,
    Bore,
    ChangeCutter,
    CheckSheet,
    CutGrooves,
    CutSheet,
    FetchSheet,
    MeasureKerf,
    Rip,
    Rout,
    SetRouter,
    SetSaw,
    Work,
)
from parts_inspected import faults
from random_jobs import random_job, text_of, two_cutter_entries
from virtual_boards import back
from virtual_shop import MishapError, VirtualShop

JOBS = 8


def carried_out(plan: JobPlan, work: Sequence[Work], seed: int = 0) -> list[str]:
    """What the inspection finds once the work has been done; a mishap is what it finds, too."""
    job = plan.job
    shop = VirtualShop(job.sheet_sizes, kerf=job.saw.kerf, table=job.table, random=Random(seed))
    try:
        shop.carry_out(work)
        shop.clear_up()
    except MishapError as mishap:
        return [f"mishap: {mishap}"]
    return faults(plan, shop)


@pytest.fixture(scope="module", params=VARIANTS)
def variant(request: pytest.FixtureRequest) -> JobPlan:
    text = VARIANTS[request.param]
    assert text != EXAMPLE or request.param == "example"
    return planned(text)


@pytest.mark.parametrize("seed", range(5))
def test_the_parts_are_right_whatever_the_steps_leave_open(variant: JobPlan, seed: int) -> None:
    assert carried_out(variant, work_of(variant), seed) == []


def test_the_parts_of_random_jobs_are_right() -> None:
    """A few of the thousands that `benchmarks/order_of_work.py` carries out."""
    for seed in range(JOBS):
        plan = plan_job(read_job(random_job(seed)), time_limit=FEW_SECONDS)
        assert (seed, carried_out(plan, work_of(plan), seed)) == (seed, [])


def test_the_parts_of_random_jobs_of_two_cutters_are_right() -> None:
    """As those of one cutter."""
    for seed in (0, 6):
        entries = two_cutter_entries(seed, seed + 1)
        plan = plan_job(read_job(text_of(entries)), time_limit=FEW_SECONDS)
        work = work_of(plan)
        changes = [item.cutter for item in work if isinstance(item, ChangeCutter)]
        assert (seed, changes) == (seed, ["one", "other"])
        assert (seed, carried_out(plan, work, seed)) == (seed, [])


def test_the_kinds_of_work_of_a_job_are_all_done() -> None:
    plan = planned(VARIANTS["front edges apart"])
    shop = VirtualShop(plan.job.sheet_sizes, kerf=plan.job.saw.kerf, table=plan.job.table)
    shop.carry_out(work_of(plan))
    bores = len(plan.pull_holes)
    assert shop.done["Bore"] == bores > 0
    assert sum(len(piece.holes) for piece in shop.parts.values()) == bores
    assert sum(len(piece.grooves) for piece in shop.parts.values()) == sum(
        part.groove is not None for part in plan.parts
    )
    handed = [part for part in plan.parts if part.is_handed]
    assert handed
    assert sum(len(glued.drawers) for glued in shop.glued) == len(plan.job.all_boxes)


@pytest.mark.parametrize("name", ["front edges apart", "front edges below", "fronts cover unequally below"])
def test_the_report_tells_the_lower_edge_that_the_groove_gets(name: str) -> None:
    """Of bands that lie as they are and of turned ones, as the sheets have them."""
    plan = planned(VARIANTS[name])
    shop = VirtualShop(plan.job.sheet_sizes, kerf=plan.job.saw.kerf, table=plan.job.table)
    shop.carry_out(work_of(plan))
    told = 0
    for band, mark in zip(bands_data(plan.stocks, plan.run.bands), plan.run.bands, strict=True):
        for strip, part in zip(band["strips"], mark.parts, strict=True):
            if mark.marked and strip["lower_edge"] is not None:
                piece = shop.parts[part]
                begins = piece.lower == back(piece.across)
                assert strip["lower_edge"] == f"towards the band's {'start' if begins else 'end'}"
                told += 1
    assert told


# -- spoilt orders of work -------------------------------------------------------------------------------------------

Spoiler = Callable[[list[Work]], list[Work]]


def changed(
    kind: type, change: Callable[[Work], Work], at: Callable[[Work], bool] = lambda item: True
) -> Spoiler:
    """The first item of a kind (for which `at` holds) done otherwise."""

    def spoil(work: list[Work]) -> list[Work]:
        place = next(n for n, item in enumerate(work) if isinstance(item, kind) and at(item))
        return [*work[:place], change(work[place]), *work[place + 1 :]]

    return spoil


def left_out(kind: type) -> Spoiler:
    """The first item of a kind forgotten."""

    def spoil(work: list[Work]) -> list[Work]:
        place = next(n for n, item in enumerate(work) if isinstance(item, kind))
        return [*work[:place], *work[place + 1 :]]

    return spoil


def twice(kind: type) -> Spoiler:
    """The first item of a kind done twice."""

    def spoil(work: list[Work]) -> list[Work]:
        place = next(n for n, item in enumerate(work) if isinstance(item, kind))
        return [*work[: place + 1], *work[place:]]

    return spoil


def ripped_before_routing(work: list[Work]) -> list[Work]:
    rips = [item for item in work if isinstance(item, Rip)]
    place = next(n for n, item in enumerate(work) if isinstance(item, Rout))
    return [*work[:place], *rips, *(item for item in work[place:] if not isinstance(item, Rip))]


def rips_exchanged(work: list[Work]) -> list[Work]:
    """Lowest strips first."""
    rips = iter([item for item in reversed(work) if isinstance(item, Rip)])
    return [next(rips) if isinstance(item, Rip) else item for item in work]


def strips_exchanged(rip: Rip) -> Rip:
    """Two strips of one setting get each other's names."""
    first, *middle, last = rip.cuts
    return replace(rip, cuts=(replace(first, frees=last.frees), *middle, replace(last, frees=first.frees)))


def has_two_lengths(rip: Rip) -> bool:
    """Strips of bands of one length would only exchange names of equal parts."""
    first, last = rip.cuts[0], rip.cuts[-1]
    return first.frees is not None and first.band.placed.length != last.band.placed.length


def end_exchanged(grooves: CutGrooves) -> CutGrooves:
    """One handed side goes in the wrong way round."""
    place = next(n for n, each in enumerate(grooves.passes) if each.first is not None)
    each = grooves.passes[place]
    other = PartEnd.BACK if each.first is PartEnd.FRONT else PartEnd.FRONT
    passes = (*grooves.passes[:place], replace(each, first=other), *grooves.passes[place + 1 :])
    return replace(grooves, passes=passes)


def cuts_exchanged(sheet: CutSheet) -> CutSheet:
    """The last one first."""
    cuts = (sheet.cuts[-1], *sheet.cuts[:-1])
    return replace(sheet, cuts=tuple(replace(cut, order=order) for order, cut in enumerate(cuts, start=1)))


def settings_exchanged(work: list[Work]) -> list[Work]:
    """The last setting of the first stock goes before the first one, with its cuts."""
    stock = next(item.stock for item in work if isinstance(item, FetchSheet))
    first = next(n for n, item in enumerate(work) if isinstance(item, SetSaw))
    end = max(n for n, item in enumerate(work) if isinstance(item, CutSheet) and item.stock == stock) + 1
    last = max(n for n, item in enumerate(work[:end]) if isinstance(item, SetSaw))
    return [*work[:first], *work[last:end], *work[first:last], *work[end:]]


SPOILT: dict[str, Spoiler] = {
    "a kerf that is none": changed(MeasureKerf, lambda item: replace(item, lost=item.lost + 0.5)),
    "a sheet checked for another size": changed(
        CheckSheet, lambda item: replace(item, length=item.length + 12)
    ),
    "a sheet not fetched": left_out(FetchSheet),
    "a sheet fetched twice": twice(FetchSheet),
    "cuts of a sheet forgotten": left_out(CutSheet),
    "a setting of the saw forgotten": left_out(SetSaw),
    "stop of the saw off": changed(SetSaw, lambda item: replace(item, length=item.length + 0.2)),
    "ripped for crosscut": changed(SetSaw, lambda item: replace(item, is_crosscut=not item.is_crosscut)),
    "settings of the saw exchanged": settings_exchanged,
    "a band taken before it is free": changed(
        CutSheet, lambda item: replace(item, cuts=item.cuts[:-1]), lambda item: bool(item.bands)
    ),
    "a set-up forgotten": left_out(SetRouter),
    "an edge not routed": left_out(Rout),
    "an edge routed twice": twice(Rout),
    "a setting of the ripping forgotten": left_out(Rip),
    "grooves forgotten": left_out(CutGrooves),
    "grooves cut twice": twice(CutGrooves),
    "edging forgotten": left_out(BandEdges),
    "edging glued on twice": twice(BandEdges),
    "a hole forgotten": left_out(Bore),
    "ripped before routing": ripped_before_routing,
    "ripped in another order than numbered": rips_exchanged,
    "front edge for back edge": changed(
        Rout, lambda item: replace(item, edges=Edges.BACK), lambda item: item.edges is Edges.FRONT
    ),
    "one edge for both": changed(
        Rout, lambda item: replace(item, edges=Edges.FRONT), lambda item: item.edges is Edges.BOTH
    ),
    "held the other way": changed(Rout, lambda item: replace(item, role=Role.UPRIGHT)),
    "bit too high": changed(SetRouter, lambda item: replace(item, height_reading=item.height_reading + 0.02)),
    "true height instead of the reading": changed(
        SetRouter, lambda item: replace(item, height_reading=item.bit_height)
    ),
    "fence off": changed(SetRouter, lambda item: replace(item, fence_reading=item.fence_reading - 0.02)),
    "strips named for each other": changed(Rip, strips_exchanged, has_two_lengths),
    "fence of the saw off": changed(
        Rip, lambda item: replace(item, fence=item.fence + 0.2), lambda item: item.cuts[0].frees is not None
    ),
    "a side grooved the wrong way round": changed(
        CutGrooves, end_exchanged, lambda item: any(each.first for each in item.passes)
    ),
    "groove too high": changed(CutGrooves, lambda item: replace(item, height=item.height + 0.1)),
    "groove too deep": changed(CutGrooves, lambda item: replace(item, depth=item.depth + 0.1)),
    "hole from the right": changed(
        Bore, lambda item: replace(item, from_left=item.front_width - item.from_left - 1)
    ),
    "hole in the wrong front": changed(
        Bore,
        lambda item: replace(item, part=replace(item.part, kind=PartKind.BACK)),
        lambda item: item.part.kind is PartKind.FRONT,
    ),
    "cuts of a sheet exchanged": changed(CutSheet, cuts_exchanged, lambda item: len(item.cuts) > 4),
}


@pytest.fixture(scope="module")
def full() -> JobPlan:
    """A job with every kind of work, and with front edges that are routed apart from back edges."""
    plan = planned(VARIANTS["front edges apart"])
    assert any(isinstance(item, Rout) and item.edges is Edges.FRONT for item in work_of(plan))
    return plan


def test_the_order_is_right_before_it_is_spoilt(full: JobPlan) -> None:
    assert carried_out(full, work_of(full)) == []


@pytest.mark.parametrize("how", SPOILT)
def test_what_is_spoilt_is_found(full: JobPlan, how: str) -> None:
    assert carried_out(full, SPOILT[how](work_of(full)))


@pytest.mark.parametrize(
    "spoil",
    [
        left_out(ChangeCutter),
        lambda work: [item for item in work if not isinstance(item, ChangeCutter)],
        changed(ChangeCutter, lambda item: replace(item, cutter="another cutter")),
        changed(SetRouter, lambda item: replace(item, keeps_height=True)),
    ],
    ids=["first not put in", "never changed", "another put in", "height of no cutter kept"],
)
def test_a_cutter_that_is_not_the_drawers_own_is_found(spoil: Spoiler) -> None:
    plan = planned(VARIANTS["two cutters"])
    assert carried_out(plan, spoil(work_of(plan)))


def restacked(work: list[Work], stack: tuple[int, ...]) -> list[Work]:
    """The sheets of the last stock are laid on each other otherwise."""
    stock = [item.stock for item in work if isinstance(item, FetchSheet)][-1]
    return [
        replace(item, stack=stack)
        if isinstance(item, FetchSheet | CutSheet) and item.stock == stock and item.number in stack
        else item
        for item in work
    ]


def test_sheets_that_are_not_cut_alike_are_found_in_a_stack() -> None:
    plan = planned(VARIANTS["stacks"])
    (alike,) = (stack for stack in plan.stocks[-1].sheets.stacks if len(stack) > 1)
    assert carried_out(plan, restacked(work_of(plan), alike)) == []
    other = next(sheet for stack in plan.stocks[-1].sheets.stacks for sheet in stack if sheet not in alike)
    assert "not cut alike" in carried_out(plan, restacked(work_of(plan), (alike[0], other)))[0]


def test_tear_out_in_a_part_is_found() -> None:
    plan = planned(VARIANTS["one sacrificial strip"])
    work = [replace(item, needs_backing=False) if isinstance(item, Rout) else item for item in work_of(plan)]
    assert "tear-out" in carried_out(plan, work)[0]


def test_unmarked_front_edges_are_found(full: JobPlan) -> None:
    def unmarked(sheet: CutSheet) -> CutSheet:
        return replace(sheet, bands=tuple(replace(band, marked=None) for band in sheet.bands))

    work = [unmarked(item) if isinstance(item, CutSheet) else item for item in work_of(full)]
    assert "no marked" in carried_out(full, work)[0]
