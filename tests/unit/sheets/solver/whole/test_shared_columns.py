"""Columns that share parts: what they hold is told the same whatever was tried before."""

from __future__ import annotations

import contextlib
import itertools
import math

import pytest

from drawerwright.sheets.solver.filling.stacks import GivenUpError
from drawerwright.sheets.solver.whole.columns_first import shares_of
from drawerwright.sheets.solver.whole.shared_columns import SharedColumns
from drawerwright.sheets.solver.whole.sheet_classes import classes_of
from tiny_sheets import random_task


@pytest.mark.parametrize("seed", range(6))
def test_a_filling_cut_short_takes_nothing_from_what_is_asked_for(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    task, _, _ = random_task(seed)
    classes = classes_of(task.frames)
    for sources in shares_of(task):
        cut_short, fresh = (SharedColumns(task, sources, classes) for _ in range(2))
        calls = itertools.count()

        def price(*_: object, calls: itertools.count[int] = calls) -> None:
            if next(calls):
                raise GivenUpError

        monkeypatch.setattr(cut_short, "_price", price)
        many = tuple(9 for _ in cut_short.groups)
        with contextlib.suppress(GivenUpError):
            cut_short._dived(many, math.inf, lambda: False)
        for counts in itertools.product(range(3), repeat=len(many)):
            expected = fresh.holds(counts, lambda: False)
            assert cut_short.holds(counts, lambda: False) == expected
