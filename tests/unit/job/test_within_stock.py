"""How many drawers the sheets on hand give where loose parts (bottoms, applied fronts) share them with bands."""

from __future__ import annotations

import random

import pytest

from drawerwright.basics.errors import NoPlanError
from drawerwright.job.file.building import read_job
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.job_plan import plan_job
from drawerwright.job.planning.needs import drawer_batches
from drawerwright.job.planning.within_stock import WithinStock, count_within, limited_sizes, plan_within_stock
from drawerwright.sheets import referee

HEAD = """
format: 1
job: crates
cutter: {mid_depth: 5.65, step: 3.45}
machine:
  saw: {kerf: 3}
  router_table: {shortest_piece: 0}
stock:
  ash15: {nominal: 15, measured: [15.0], sheets: [{length: 1000, width: 500, price: 20}]}
  ash8: {nominal: 8, measured: [8.0], sheets: [{length: 1000, width: 500, price: 11}]}
"""
CRATES = """
boxes:
  - name: crate
    count: 6
    outer: {width: 400, depth: 300, height: 90}
    box: {all: ash15}
    bottom: {style: fixed, stock: BOTTOM}
"""
"""A crate takes two strips of 400 and two of 292.6 by 90 mm, and a bottom of 398.5 by 298.5 mm whose grain is fixed.

A column of a 500 mm wide sheet as wide as the long pieces holds five strips, or one bottom and two strips
(298.5 + 2 x 93 = 484.5); one of 292.6 holds five strips. A sheet of 1000 mm has two columns of 400, or one of 400 and
two of 292.6. n crates need n columns of 400 for their bottoms, whose strips have room beside them, and 2n / 5 of 292.6,
rounded up. A sheets of the second kind and s in all: 2s - A >= n and 2A >= the columns of 292.6, so that one sheet
gives one crate, two give three, three give five, and six crates need four."""


def accepted(found: WithinStock) -> WithinStock:
    for stock in found.plan.stocks:
        assert referee.check(stock.sheets) == []
    return found


@pytest.mark.parametrize(("sheets", "crates"), [(1, 1), (2, 3), (3, 5), (4, 6), (9, 6)])
def test_bottoms_share_the_sheets_of_the_bands(sheets: int, crates: int) -> None:
    job = read_job(HEAD + CRATES.replace("BOTTOM", "ash15"))
    found = accepted(plan_within_stock(job, on_hand=sheets))
    assert found.drawers == tuple(f"crate {number}" for number in range(1, crates + 1))
    assert found.left_out == tuple(f"crate {number}" for number in range(crates + 1, 7))
    assert found.short == (("ash15",) if crates < 6 else ())
    (use,) = found.sizes
    assert (use.used, use.left) == (min(sheets, 4), max(sheets - 4, 0))


def test_the_stock_of_the_bottoms_may_be_what_runs_short() -> None:
    """A sheet holds two bottoms beside each other; two sheets of each stock give five crates but four bottoms."""
    job = read_job(HEAD + CRATES.replace("BOTTOM", "ash8"))
    found = accepted(plan_within_stock(job, on_hand=2))
    assert len(found.drawers) == 4
    assert found.short == ("ash8",)
    assert [(use.stock, use.used, use.left) for use in found.sizes] == [("ash15", 2, 0), ("ash8", 2, 0)]


FRONTS = """
  oak19: {nominal: 19, measured: [19.0], sheets: [{length: 500, width: 330, price: 9}]}
banks:
  - name: chest
    opening: {width: 460, height: 500, depth: 400}
    fronts: {style: applied, stock: oak19, match: MATCH, reveal: 3, heights: {equal: 3}}
    box: {all: ash15}
"""
"""Three fronts of 454 by about 163 mm; a sheet of 330 mm holds two above each other, a block of three (495 mm) none."""


@pytest.mark.parametrize(("match", "made"), [("false", 3), ("true", 2)])
def test_fronts_that_hang_together_need_their_block_in_one_sheet(match: str, made: int) -> None:
    found = accepted(plan_within_stock(read_job(HEAD + FRONTS.replace("MATCH", match)), on_hand=2))
    assert len(found.drawers) == made


def test_not_a_single_front_is_no_drawer() -> None:
    small = FRONTS.replace("MATCH", "false").replace("width: 330", "width: 160")
    with pytest.raises(NoPlanError):
        plan_within_stock(read_job(HEAD + small), on_hand=2)


def two_kinds(dice: random.Random) -> str:
    boxes = [
        f"  - {{name: kind {kind}, count: 4, outer: {{width: {dice.randrange(300, 480)}, "
        f"depth: {dice.randrange(200, 300)}, height: {dice.randrange(60, 120)}}}, box: {{all: ash15}}, "
        "bottom: {style: fixed, stock: ash15}}"
        for kind in range(2)
    ]
    return "sheets: {time_limit: 2}\nboxes:\n" + "\n".join(boxes) + "\n"


def test_as_many_as_the_planner_finds_and_no_more_than_it_proves() -> None:
    """Against plans without limits: what they need for so many boxes, and what they prove for one more."""
    job = read_job(HEAD + two_kinds(random.Random(3)))
    names = [box.name for box in job.all_boxes]
    needed, proven = [], []
    for count in range(1, len(names) + 1):
        (stock,) = plan_job(job.only(names[:count])).stocks
        needed.append(stock.sheets.figures.new_sheets)
        proven.append(round(stock.sheets.lower_bound / 20))
    assert sum(map(int.__eq__, needed, proven)) > len(names) / 2
    for sheets in range(needed[0], needed[-1] + 1):
        made = len(accepted(plan_within_stock(job, on_hand=sheets)).drawers)
        assert made >= sum(number <= sheets for number in needed)
        assert made <= sum(number <= sheets for number in proven)


def test_the_last_look_finds_what_quick_questions_missed() -> None:
    """Of these boxes two come out of a sheet, as the test above proves; without any time six are not found in three."""
    job = read_job(HEAD + two_kinds(random.Random(3)))
    draft = draft_job(job)
    question = draft, "ash15", limited_sizes(job, "ash15", 3), drawer_batches(draft)
    assert count_within(*question, seconds=1e-6) < 6
    assert count_within(*question, seconds=1e-6, last_seconds=30) == 6


def test_what_is_shown_by_then_counts_when_somebody_stops() -> None:
    job = read_job(HEAD + CRATES.replace("BOTTOM", "ash15"))
    answers = 0

    def step(done: int, count: int) -> None:
        nonlocal answers
        answers += 1
        assert 0 < done < count

    found = accepted(plan_within_stock(job, on_hand=3, step=step, cancelled=lambda: answers > 0))
    assert 0 < len(found.drawers) <= 5
    assert len(found.drawers) + len(found.left_out) == 6
