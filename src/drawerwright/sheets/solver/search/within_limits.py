"""Where sheets are limited, they are first planned as if there were any number of them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from drawerwright.sheets.problem import LaterAim
from drawerwright.sheets.solver.columns import FilledSheet
from drawerwright.sheets.solver.outcome import Outcome, Watch
from drawerwright.sheets.solver.search.by_width import search_by_width
from drawerwright.sheets.solver.search.cheapest import search
from drawerwright.sheets.solver.search.in_columns import search_in_columns
from drawerwright.sheets.solver.search.mixed_at_once import mixed_at_once
from drawerwright.sheets.solver.task import Task


def cheapest_sheets(task: Task, watch: Watch, aims: Sequence[LaterAim]) -> Outcome:
    """The cheapest sheets; limited ones are first planned as if there were any number of them.

    A plan that then needs no more than there are is as good for the task itself, and found sooner than where every
    step of the search has to keep the limits. Where all that is there cannot pay for what is needed at the least,
    there is no plan.
    """
    bought = {frame.size: frame.cost for frame in task.frames if frame.cost}
    limits = {size: limit for size in bought if (limit := task.limits[size])}
    if limits:
        boundless = replace(
            task, limits=tuple(None if size in limits else limit for size, limit in enumerate(task.limits))
        )
        is_closed = all(task.limits[size] is not None for size in bought)
        most = sum(limit * bought[size] for size, limit in limits.items())

        def settles(cost: int | None, bound: int) -> bool:
            if cost is not None and len(bought) == 1 and cost <= most:
                watch.report(cost, bound)  # of one size, what costs no more takes no more sheets
            return is_closed and bound > most

        free = cheapest_sheets(boundless, watch.until(watch.seconds / 2, settles), ())
        if is_closed and free.bound > most:
            return Outcome(None, 0, free.bound)
        used = Counter(task.frames[sheet.frame].size for sheet in free.sheets or ())
        if free.sheets is not None and all(used[size] <= limit for size, limit in limits.items()):
            return search(task, watch, least_bound=free.bound, aims=aims, known=[free.sheets])
    known: list[list[FilledSheet]] = []
    if task.untrimmed and (mixed := mixed_at_once(task)) is not None:
        known.append(mixed)
    return (
        search_by_width(task, watch, aims)
        or search_in_columns(task, watch, aims, known)
        or search(task, watch, aims=aims, known=known)
    )
