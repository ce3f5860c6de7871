"""What is left over, against every way there is, counted by plain recursion."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace

import pytest

from drawerwright.sheets.solver.clock import now
from drawerwright.sheets.solver.columns import Frame
from drawerwright.sheets.solver.leftover.keeping import keep_most, prefer_beside
from drawerwright.sheets.solver.leftover.last_sheet import best_left
from drawerwright.sheets.solver.leftover.shrinking import WORTH_IT
from drawerwright.sheets.solver.outcome import Watch
from drawerwright.sheets.solver.search.in_columns import search_in_columns
from tiny_sheets import KERF, Part, fits, random_task


def worth(frame: Frame, u: int, v: int) -> float:
    return max(0, u - 20) * v


def shortest(parts: Sequence[Part], others: Sequence[Frame], last: Frame, side: str) -> int:
    """The least length or width of the last sheet with which all parts are held, as every larger one holds them."""
    low, high = -1, getattr(last, side)
    while high - low > 1:
        middle = (low + high) // 2
        holds = fits(parts, [*others, replace(last, **{side: middle})])
        low, high = (low, middle) if holds else (middle, high)
    return high


def most_left(parts: Sequence[Part], frames: Sequence[Frame], cost: int) -> float:
    """The best single piece left over of any sheets that cost so much, off the end of one or along the whole of it."""
    ordered = sorted(parts, key=lambda part: (part[0], -part[1]))
    new, free = [f for f in frames if f.cost], [f for f in frames if not f.cost]
    best = 0.0
    for numbers in itertools.product(range(4), repeat=len(new)):
        if sum(frame.cost * n for frame, n in zip(new, numbers, strict=True)) != cost:
            continue
        sheets = [frame for frame, n in zip(new, numbers, strict=True) for _ in range(n)]
        for last in [frame for frame, n in zip(new, numbers, strict=True) if n]:
            others = [*sheets, *free]
            others.remove(last)
            if fits(ordered, [*others, last]):
                length = last.length - KERF - shortest(ordered, others, last, "length")
                width = last.width - KERF - shortest(ordered, others, last, "width")
                best = max(best, worth(last, length, last.width), worth(last, last.length, width))
    return best


@pytest.mark.parametrize("seed", range(14))
def test_no_way_of_this_cost_leaves_much_more_over(seed: int) -> None:
    """The search ends where less than `WORTH_IT` could be gained."""
    task, parts, _ = random_task(seed)
    outcome = search_in_columns(task, Watch(now() + 60))
    assert outcome is not None
    assert outcome.sheets is not None
    kept = keep_most(task, outcome.sheets, worth, Watch(now() + 60))
    assert sum(task.frames[sheet.frame].cost for sheet in kept) == outcome.cost
    held = [0] * len(task.demand)
    for sheet in kept:
        for stack in sheet.stacks:
            for demand, count in stack.takes:
                held[demand] += count
    assert tuple(held) == task.demand
    assert best_left(task, kept, worth) >= most_left(parts, task.frames, outcome.cost) / (1 + WORTH_IT)


@pytest.mark.parametrize("seed", range(6))
def test_the_other_aims_leave_the_best_piece_as_it_is(seed: int) -> None:
    task, _, _ = random_task(seed)
    outcome = search_in_columns(task, Watch(now() + 60))
    assert outcome is not None
    assert outcome.sheets is not None
    kept = keep_most(task, outcome.sheets, worth, Watch(now() + 60))
    watch = Watch(now() + 2, later=now() + 2)
    better = prefer_beside(task, kept, ("offcuts", "routing", "fences"), worth, watch)
    assert sum(task.frames[sheet.frame].cost for sheet in better) == outcome.cost
    assert best_left(task, better, worth) >= best_left(task, kept, worth)
