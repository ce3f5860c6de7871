"""Whole columns first, against every way there is, counted by plain recursion."""

from __future__ import annotations

import itertools
import random
from collections.abc import Sequence

import pytest

from drawerwright.sheets.solver.clock import now
from drawerwright.sheets.solver.columns import Frame
from drawerwright.sheets.solver.outcome import Watch
from drawerwright.sheets.solver.programme.master import Master
from drawerwright.sheets.solver.search.best_so_far import BestSoFar
from drawerwright.sheets.solver.search.cheapest import search
from drawerwright.sheets.solver.search.in_columns import _Counting, search_in_columns
from drawerwright.sheets.solver.whole.columns_first import ColumnsFirst
from tiny_sheets import Part, fits, random_task


def cheapest(parts: Sequence[Part], frames: Sequence[Frame], offcuts: int) -> int:
    """The least cost of new sheets beside all `offcuts` (the last frames)."""
    new, free = frames[: len(frames) - offcuts], frames[len(frames) - offcuts :]
    ranked = sorted(
        (sum(frame.cost * n for frame, n in zip(new, numbers, strict=True)), numbers)
        for numbers in itertools.product(range(4), repeat=len(new))
    )
    ordered = sorted(parts, key=lambda part: (part[0], -part[1]))
    for cost, numbers in ranked:
        sheets = [frame for frame, n in zip(new, numbers, strict=True) for _ in range(n)]
        if fits(ordered, [*sheets, *free]):
            return cost
    raise AssertionError("more sheets are needed than were tried")


@pytest.mark.parametrize("seed", range(40))
def test_the_cost_is_the_least_there_is_and_proven(seed: int) -> None:
    task, parts, offcuts = random_task(seed)
    outcome = search_in_columns(task, Watch(now() + 60))
    assert outcome is not None
    assert outcome.cost == outcome.bound == cheapest(parts, task.frames, offcuts)


@pytest.mark.parametrize("seed", range(6))
def test_what_a_programme_over_all_columns_uses_is_enough(seed: int) -> None:
    task, _, _ = random_task(seed)
    master = Master(task)
    master.generate(now() + 60)
    finder = ColumnsFirst(task, Watch(now() + 60), random.Random(1), search)
    finder.begin_with(master)
    assert finder._enough
    for share in finder._shares:
        assert share.holds([finder._enough.get(group, 0.0) + 1e-6 for group in share.groups], lambda: False)


@pytest.mark.parametrize("seed", range(6))
def test_counting_goes_on_where_it_left_off(seed: int) -> None:
    task, parts, offcuts = random_task(seed)
    found = BestSoFar(task, Watch(now() + 60), 0)
    counting = _Counting(found, found.watch)
    seconds = 0.005
    while not counting.is_last and (found.best is None or found.cost > found.bound):
        assert counting.go_on(seconds)
        seconds *= 1.5
        assert seconds < 60
    assert found.cost == cheapest(parts, task.frames, offcuts)
