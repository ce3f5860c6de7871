"""Parts that fit columns of one width only, from sheets of several kinds: whole columns first, then all the rest."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from drawerwright.sheets.problem import LaterAim
from drawerwright.sheets.solver.columns import FilledSheet
from drawerwright.sheets.solver.outcome import Outcome, Watch
from drawerwright.sheets.solver.search.best_so_far import BestSoFar
from drawerwright.sheets.solver.search.cheapest import search
from drawerwright.sheets.solver.search.greedy import fill_sheets
from drawerwright.sheets.solver.task import Task, area_bound
from drawerwright.sheets.solver.whole.columns_first import SURE, ColumnsFirst, suits


def search_in_columns(task: Task, watch: Watch, aims: Sequence[LaterAim] = ()) -> Outcome | None:
    """The cheapest sheets where each part fits columns of one width only; None where that is not so."""
    if not suits(task):
        return None
    found = BestSoFar(task, watch, area_bound(task))
    finder = ColumnsFirst(task, watch, random.Random(len(task.demand)), search)
    while not (found.is_done and found.best is not None):
        step = finder.step(found.cost if found.best is not None else None)
        found.raise_bound(Fraction(finder.bound * (1 - SURE)))
        if step is None:
            break
        if step.holds_nothing:
            return Outcome(None, 0, found.bound)
        if step.is_last:
            break
        found.offer(_completed(task, step.sheets, step.missing, watch))
    known = [found.best] if found.best is not None else []
    return search(task, watch, least_bound=found.bound, aims=aims, known=known)


def _completed(
    task: Task, sheets: list[FilledSheet], missing: Counter[int], watch: Watch
) -> Sequence[FilledSheet] | None:
    """`sheets` and more of them for the parts that are missing; None where there are not enough."""
    if not missing:
        return sheets
    used = Counter(task.frames[sheet.frame].size for sheet in sheets)
    rest = replace(
        task,
        demand=tuple(missing[demand] for demand in range(len(task.demand))),
        limits=tuple(None if limit is None else limit - used[size] for size, limit in enumerate(task.limits)),
    )
    more = fill_sheets(rest, task.areas, give_up=watch.is_over)
    return None if more is None else [*sheets, *more]
