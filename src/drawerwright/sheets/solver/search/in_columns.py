"""Whole columns first, then all the rest."""

from __future__ import annotations

import math
import random
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from drawerwright.sheets.problem import LaterAim
from drawerwright.sheets.solver.columns import FilledSheet
from drawerwright.sheets.solver.filling.stacks import GivenUpError
from drawerwright.sheets.solver.outcome import Outcome, Watch
from drawerwright.sheets.solver.programme.master import Master
from drawerwright.sheets.solver.search.best_so_far import BestSoFar
from drawerwright.sheets.solver.search.cheapest import search
from drawerwright.sheets.solver.search.greedy import fill_sheets
from drawerwright.sheets.solver.search.repacking import Repacking
from drawerwright.sheets.solver.task import Task, area_bound
from drawerwright.sheets.solver.whole.columns_first import SURE, ColumnsFirst, is_by_width, suits

COUNTING_SHARE, MASTER_SHARE = 0.8, 0.4
"""Shares of the time for whole columns that parts of several widths share, and of it for what parts are worth there."""
FIRST_SHARE, SOON, ONE_SIZE_SHARE, REPACKING_SHARE = 0.02, 0.1, 0.4, 0.8
"""Shares of it for sheets of the first plan emptied and filled anew: before the bound is looked for, which often says
that there is nothing to be found; after it; and after counting, first those of one size each."""
AT_ONCE_SHARE, AT_ONCE_SHARE_OF_LARGE = 0.2, 0.5
"""Share of it for a plan that fills one sheet after the other, where one is known, and of a large task, for which
there is hardly time for anything better; its last sheets are then made at once."""

EARLY_SHARE = 0.3
"""Share of it for counting before sheets are filled anew for long: small tasks are done by then."""
QUICK_GAIN = 0.5
"""Share of the bound that divided columns must gain to be asked for again, where the cost is known and whole ones tell
sooner whether it is kept."""


def search_in_columns(
    task: Task,
    watch: Watch,
    aims: Sequence[LaterAim] = (),
    known: Sequence[Sequence[FilledSheet]] = (),
) -> Outcome | None:
    """The cheapest sheets, with `known` plans to begin with; None where there are too many widths of column."""
    if not suits(task):
        return None
    found = BestSoFar(task, watch, area_bound(task))
    for sheets in known:
        found.offer(sheets)
    by_width = is_by_width(task)
    counting = watch if by_width else watch.within(watch.seconds * COUNTING_SHARE)
    master = aside = None
    if by_width:  # kept aside: a plan known to be good would narrow what is counted
        aside = fill_sheets(
            task, task.areas, give_up=watch.within(watch.seconds * AT_ONCE_SHARE_OF_LARGE).is_over
        )
    else:
        found.offer(_at_once(task, found, counting))
        repacking = Repacking(found, random.Random(len(task.demand)))
        repacking.run(counting.within(counting.seconds * FIRST_SHARE))
        if not found.is_done or found.best is None:
            master = Master(task)
            master.add_sheets(found.best or ())
            soon = counting.within(counting.seconds * MASTER_SHARE)
            master.generate(soon.deadline, cancelled=watch.cancelled)
            found.raise_bound(master.bound)
            repacking.run(counting.within(counting.seconds * SOON))
            early = counting.within(counting.seconds * EARLY_SHARE)
            if not _counted(task, found, early, master):
                return Outcome(None, 0, found.bound)
            if not found.is_done or found.best is None:
                repacking.begin_with_one_size(counting.within(counting.seconds * ONE_SIZE_SHARE))
                repacking.run(counting.within(counting.seconds * REPACKING_SHARE))
    if not _counted(task, found, counting, master):
        return Outcome(None, 0, found.bound)
    found.offer(aside)
    best = [found.best] if found.best is not None else []
    return search(task, watch, least_bound=found.bound, aims=aims, known=best, master=master)


def _at_once(task: Task, found: BestSoFar, watch: Watch) -> Sequence[FilledSheet] | None:
    """A plan that fills one sheet after the other."""
    if found.best is None:
        return fill_sheets(task, task.areas, give_up=watch.is_over)
    if task.untrimmed and any(source.greedy_steps for source in task.sources.values()):
        soon = watch.within(watch.seconds * AT_ONCE_SHARE_OF_LARGE)
        return fill_sheets(task, task.areas, give_up=watch.is_over, in_haste=soon.is_over)
    return fill_sheets(task, task.areas, give_up=watch.within(watch.seconds * AT_ONCE_SHARE).is_over)


def _counted(task: Task, found: BestSoFar, watch: Watch, master: Master | None) -> bool:
    """Better plans by counting columns first, for `found`; False where no number of sheets holds all parts."""
    if found.is_done and found.best is not None:
        return True
    try:
        finder = ColumnsFirst(task, watch, random.Random(len(task.demand)), search)
        if master is not None:
            finder.begin_with(master)
        while not (found.is_done and found.best is not None):
            step = finder.step(found.cost if found.best is not None else None)
            if math.isfinite(finder.bound):  # else no columns hold the parts, which the step tells
                found.raise_bound(Fraction(finder.bound * (1 - SURE)))
            if step is None or step.is_last:
                return step is None or not step.holds_nothing
            found.offer(_completed(task, step.sheets, step.missing, found.watch))
    except GivenUpError:
        pass  # what was found by then counts
    return True


def within_cost(task: Task, allowed: int, watch: Watch) -> Sequence[FilledSheet] | None:
    """Sheets that cost no more than `allowed`, None where none are found; for tasks that this way suits."""
    found = BestSoFar(task, watch, 0)
    found.allowed = allowed
    try:
        finder = ColumnsFirst(task, watch, random.Random(len(task.demand)), search, QUICK_GAIN)
        while True:
            step = finder.step(allowed + task.unit)
            if step is None or step.is_last:
                return None
            if found.offer(_completed(task, step.sheets, step.missing, watch)) and found.cost <= allowed:
                return found.best
    except GivenUpError:
        return None


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
