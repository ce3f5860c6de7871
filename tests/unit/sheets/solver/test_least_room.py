"""What parts take of sheets at the least: a bound on the cost before any search."""

from __future__ import annotations

from collections import Counter
from itertools import product

import pytest

from drawerwright.sheets.solver.columns import Piece, Sizing
from drawerwright.sheets.solver.filling.families import Family
from drawerwright.sheets.solver.filling.least_room import least_rooms
from drawerwright.sheets.solver.task import area_bound
from tiny_sheets import fits, random_task


@pytest.mark.parametrize("seed", range(12))
def test_no_sheets_that_hold_all_parts_cost_less(seed: int) -> None:
    """Against every way to cut them, counted by code of its own."""
    task, parts, _ = random_task(seed)
    bound = area_bound(task)
    bought = [frame for frame in task.frames if frame.cost]
    free = [frame for frame in task.frames if not frame.cost]
    for counts in product(range(4), repeat=len(bought)):
        cost = sum(frame.cost * count for frame, count in zip(bought, counts, strict=True))
        if cost < bound:
            sheets = [f for frame, count in zip(bought, counts, strict=True) for f in [frame] * count]
            assert not fits(parts, [*sheets, *free]), (counts, bound)


def test_strips_bring_their_kerfs_and_the_sacrificial_strips_of_their_bands() -> None:
    """By hand: 7 strips 20 high with kerfs of 3 are 161; bands of 100 have room for 103 - 16 = 87, so two bands."""
    sizing = Sizing(3, (20, 0), 5, 2)
    rooms = least_rooms([Family(0, 40, (0,))], [Piece(1, 50, 30)], sizing, (7, 2), 100)
    assert rooms == {0: (40 + 3) * (161 + 2 * 16), 1: 2 * 53 * 33}


def test_a_band_too_short_to_rout_counts_as_long_as_it_is_made() -> None:
    sizing = Sizing(3, (20,), 5, 2, shortest=90)
    assert Counter(least_rooms([Family(0, 40, (0,))], (), sizing, (2,), 100)) == {0: 43 * 93}
