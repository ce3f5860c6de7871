"""Whole columns first, then all the rest."""

from __future__ import annotations

import math
import random
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from drawerwright.sheets.problem import LaterAim
from drawerwright.sheets.solver.clock import now
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

COUNTING_SHARE, MASTER_SHARE = 0.9, 0.4
"""Shares of the time for whole columns that parts of several widths share, and of it for what parts are worth there."""
BEFORE, FIRST_TURN, FIRST_TURN_OF_SIZES, FIRST_COUNT = 0.02, 0.06, 0.12, 0.25
"""Shares of it for sheets of the first plan emptied and filled anew before the bound is looked for, which often says
that there is nothing to be found; for the first turn of that after it, longer where sizes may mix, which is found by
chance; and for the first count of whole columns, by which small tasks are done."""
LONGER = 2.0
"""How much longer sheets are filled anew after a time that led to something better."""
AT_ONCE_SHARE, AT_ONCE_SHARE_OF_LARGE = 0.2, 0.5
"""Share of it for a plan that fills one sheet after the other, where one is known, and of a large task, for which
there is hardly time for anything better; its last sheets are then made at once."""

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
    master: Master | None = None
    if by_width:
        soon = watch.within(watch.seconds * AT_ONCE_SHARE_OF_LARGE)
        aside = fill_sheets(task, task.areas, give_up=soon.is_over)
        holds_all = _Counting(found, watch).go_on()
        found.offer(aside)  # only now: a plan known to be good would narrow what is counted
    else:
        found.offer(_at_once(task, found, counting))
        holds_all, master = _in_turns(found, counting)
    if not holds_all:
        return Outcome(None, 0, found.bound)
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


def _in_turns(found: BestSoFar, watch: Watch) -> tuple[bool, Master | None]:
    """Sheets filled anew and columns counted in turn: nobody knows which is sooner.

    False where no number of sheets holds all parts; with it the programme that was made on the way.
    """
    repacking = Repacking(found, random.Random(len(found.task.demand)))
    repacking.run(watch.within(watch.seconds * BEFORE))
    if _is_settled(found):
        return True, None
    share = FIRST_TURN_OF_SIZES if repacking.has_sizes else FIRST_TURN
    seconds, counting_seconds = watch.seconds * share, watch.seconds * FIRST_COUNT
    master = Master(found.task)
    master.add_sheets(found.best or ())
    master.generate(watch.within(watch.seconds * MASTER_SHARE).deadline, cancelled=watch.cancelled)
    found.raise_bound(master.bound)
    counting, is_patient = _Counting(found, watch, master), True
    while not (_is_settled(found) or watch.is_over() or (counting.is_last and not is_patient)):
        if is_patient:
            before = repacking.gains
            repacking.try_one_size(watch.within(seconds))
            is_patient = repacking.run(watch.within(seconds))
            seconds *= LONGER if repacking.gains > before else 1
        if not _is_settled(found) and not counting.go_on(counting_seconds):
            return False, master
        counting_seconds *= 2
    return True, master


def _is_settled(found: BestSoFar) -> bool:
    return found.is_done and found.best is not None


class _Counting:
    """Columns counted first, for `found`: it goes on where it left off."""

    def __init__(self, found: BestSoFar, watch: Watch, master: Master | None = None) -> None:
        self._found, self._watch, self.master, self.is_last = found, watch, master, False
        self._finder: ColumnsFirst | None = None

    def go_on(self, seconds: float = math.inf) -> bool:
        """Look for better plans; False where no number of sheets holds all parts."""
        until, found = now() + seconds, self._found
        try:
            finder = self._finder = self._finder or self._begun()
            while not (_is_settled(found) or self.is_last):
                step = finder.step(found.cost if found.best is not None else None, until)
                if math.isfinite(finder.bound):  # else no columns hold the parts, which the step tells
                    found.raise_bound(Fraction(finder.bound * (1 - SURE)))
                if step is None:
                    break
                self.is_last = step.is_last
                if step.is_last:
                    return not step.holds_nothing
                found.offer(_completed(found.task, step.sheets, step.missing, found.watch))
        except GivenUpError:
            pass  # what was found by then counts
        return True

    def _begun(self) -> ColumnsFirst:
        finder = ColumnsFirst(
            self._found.task, self._watch, random.Random(len(self._found.task.demand)), search
        )
        if self.master is not None:
            finder.begin_with(self.master)
        return finder


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
