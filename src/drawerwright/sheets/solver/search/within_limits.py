"""Where sheets are limited, they are first planned as if there were any number of them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from drawerwright.sheets.problem import LaterAim
from drawerwright.sheets.solver.columns import FilledSheet
from drawerwright.sheets.solver.filling.stacks import GivenUpError
from drawerwright.sheets.solver.outcome import Outcome, Watch
from drawerwright.sheets.solver.search.by_width import search_by_width
from drawerwright.sheets.solver.search.cheapest import search
from drawerwright.sheets.solver.search.greedy import fill_sheets
from drawerwright.sheets.solver.search.in_columns import search_in_columns
from drawerwright.sheets.solver.task import Task

UNTRIMMED_SHARE, LARGE_SHARE = 0.35, 0.5
"""Shares of the time for a plan in which no band is trimmed, with which the search begins: for the cheapest, and, of a
large task, for one that fills one sheet after the other."""
PASSES_A_SECOND = 9_000
"""Passes over a column for the bands that may lie in it trimmed, of ten thousand ticks or more, on a slow machine."""
LEAST_TIMES = 50
"""A task is large where the best trimmed bands can be found less often than this in its time."""


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
    known: list[tuple[FilledSheet, ...]] = []
    if task.untrimmed:
        if is_large(task, watch.seconds):
            filled = fill_sheets(
                task.plain, task.areas, give_up=watch.within(watch.seconds * LARGE_SHARE).is_over
            )
            known += [tuple(filled)] if filled is not None else []
        if not known:
            soon = watch.within(watch.seconds * UNTRIMMED_SHARE)
            untrimmed = cheapest_sheets(task.plain, soon, ())
            known += [untrimmed.sheets] if untrimmed.sheets is not None else []
    return (
        search_by_width(task, watch, aims)
        or search_in_columns(task, watch, aims, known)
        or search(task, watch, aims=aims, known=known)
    )


def is_large(task: Task, seconds: float) -> bool:
    """Whether trimmed bands are too many for their best choice to be found often enough in these `seconds`.

    Counted in passes over a column, not in seconds, so that other work on the machine does not tell.
    """
    left = int(seconds * PASSES_A_SECOND / LEAST_TIMES)

    def are_too_many() -> bool:
        nonlocal left
        left -= 1
        return left < 0

    try:
        for source in task.watched(are_too_many).sources.values():
            source.offers(task.areas, task.demand)
    except GivenUpError:
        return True
    return False
