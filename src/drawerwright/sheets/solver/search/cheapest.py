"""From a task to the cheapest sheets, with a bound that says how sure that is."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from fractions import Fraction

from drawerwright.sheets.problem import LaterAim
from drawerwright.sheets.solver.bars.columns_as_bars import column_bars, put_columns
from drawerwright.sheets.solver.bars.one_dimension import bars_of
from drawerwright.sheets.solver.columns import FilledSheet, Stack
from drawerwright.sheets.solver.filling.stacks import GivenUpError
from drawerwright.sheets.solver.mix.number_proofs import NumberProofs
from drawerwright.sheets.solver.mix.whole_columns import WholeColumns, suits
from drawerwright.sheets.solver.outcome import Outcome, Watch
from drawerwright.sheets.solver.programme.master import Master
from drawerwright.sheets.solver.programme.shortlist import add_shortlist
from drawerwright.sheets.solver.programme.whole_choice import choose
from drawerwright.sheets.solver.programme.whole_sheets import exactly, sheets_from
from drawerwright.sheets.solver.search.at_once import at_once
from drawerwright.sheets.solver.search.best_so_far import BestSoFar
from drawerwright.sheets.solver.search.dive import Dive
from drawerwright.sheets.solver.search.greedy import fill_sheets
from drawerwright.sheets.solver.search.refining import Refining
from drawerwright.sheets.solver.search.repacking import Repacking
from drawerwright.sheets.solver.search.tie_breakers import TieBreakers
from drawerwright.sheets.solver.task import Task, area_bound

NUMBERS_SHARE = 0.1
"""Share of the time for finding out which numbers of sheets cannot hold all that is wanted."""
REPACKING_SHARE = 0.15
"""Share of the time left for sheets emptied and filled anew, each time."""
FIRST_SHARE = 0.8
"""Share of the time after which the first plan is brought to an end in haste."""
MOST_FAILS = 8
"""Choices of whole columns that lead to nothing better, after which dives take over."""
MOST_TURNS = 40
"""Dives after which a search gives up even with time left."""
FIRST_DIVES, FIRST_DIVES_OF_BARS, FIRST_DIVES_BY_COST = (0, 1, 2), (1, 1, 1, 1), (0, 1, 1, 1, 1, 1, 1, 2)
"""Turns of the first dives, and of those for bars; more where sheets differ in cost: their mix is found by chance."""
DIVING_SECONDS, MOST_DIVES = 3.0, 20
"""Seconds for dives, and their number, before the programme's columns are looked at as a whole again."""
REFINED_DIVES = 2
MOST_FAILURES = 40
"""Times in a row that making columns anew may lead to none better."""
ARRANGING_SECONDS = 0.4
"""Seconds for putting columns together into sheets."""
SHARES = tuple(0.8**step for step in range(24, -1, -1))
"""Shares of the room between bound and best cost within which all columns are listed, as far as they are few."""


def search(
    task: Task,
    watch: Watch,
    *,
    least_bound: int = 0,
    aims: Sequence[LaterAim] = (),
    known: Sequence[Sequence[FilledSheet]] = (),
    master: Master | None = None,
) -> Outcome:
    """The cheapest sheets for `task`.

    Args:
        task: what is wanted.
        watch: time limit, cancellation, reports of the best cost and bound so far.
        least_bound: a lower bound already known.
        aims: what is looked after among plans of equal cost, in this order.
        known: plans to begin with.
        master: the programme over the columns of this task, as far as it has grown.
    """
    run = _Search(task, watch, max(least_bound, area_bound(task)))
    run.master = master
    for sheets in known:
        run.found.offer(sheets)
    with suppress(GivenUpError):  # what was found by then counts
        run.go()
    if aims and run.found.best is not None:
        run.prefer(aims)
    return run.found.outcome


def preferred(
    task: Task, sheets: Sequence[FilledSheet], aims: Sequence[LaterAim], watch: Watch
) -> list[FilledSheet]:
    """Sheets of the same cost that serve `aims` better, in this order, or `sheets` themselves."""
    run = _Search(task, watch, 0)
    run.found.offer(sheets)
    run.prefer(aims)
    assert run.found.best is not None
    return run.found.best


class _Search:
    def __init__(self, task: Task, watch: Watch, bound: int, depth: int = 0) -> None:
        self.watch, self.depth = watch, depth
        self.found = BestSoFar(task, watch, bound)
        self.task = task.watched(self._give_up)
        self.master: Master | None = None
        self.bars = bars_of(task)
        self.diver: Dive | None = None
        self.is_alone = (
            self.bars is None and len(task.frames) == 1 and task.limits[task.frames[0].size] is None
        )
        """Whether there is one kind of sheet, so that columns become sheets as parts become bars."""
        self.columns: list[Stack] = []
        """The columns that `refine` goes on with."""
        self.repacking: Repacking | None = None
        self.looked_at = 0
        self.dice = random.Random(len(task.demand))

    def go(self) -> None:
        task = self.task
        if not any(task.demand):
            self.found.best, self.found.cost = [], 0
            return
        if self.depth == 0 and self.found.best is None:
            soon = self.watch.within(self.watch.seconds * FIRST_SHARE)
            self.found.offer(fill_sheets(task, task.areas, give_up=self._give_up, in_haste=soon.is_over))
            if soon.is_over():
                self.found.offer(at_once(task))
        self.repack(REPACKING_SHARE)
        if self.found.is_done and self.found.best is not None:
            return
        master = self.master = self.master or Master(task)
        if self.found.best:
            master.add_sheets(self.found.best)
        known = self.found.cost if self.found.best is not None else None
        while not master.generate(
            self.watch.deadline, cancelled=self.watch.cancelled, known=known, rounds=15
        ):
            self.found.raise_bound(master.bound)
            if self.found.is_done or task.round_up(master.bound) >= master.target:
                break
        self.found.raise_bound(master.bound)
        if self.found.is_done and self.found.best is not None:
            return
        if self.depth == 0:
            self.found.offer(fill_sheets(task, self._prices(), give_up=self._give_up))
        if self.found.best is None and self.watch.is_over():
            self.found.offer(fill_sheets(task, task.areas, in_haste=lambda: True))
        if not self.found.is_done and self.depth == 0:
            self.by_numbers()
            self.by_whole_columns()
        if self.bars is None and not self.found.is_done:
            soon = self.watch.within(self.watch.seconds / 3)
            master.generate(soon.deadline, cancelled=self.watch.cancelled, closer=True)
            self.found.raise_bound(master.bound)
        master.share_stacks()
        several = len({frame.cost for frame in task.frames}) > 1
        several_dives = FIRST_DIVES_BY_COST if several else FIRST_DIVES
        for turn in FIRST_DIVES_OF_BARS if self.bars is not None else several_dives:
            if not self.found.is_done:
                self.found.offer(self.dive(turn))
        self.repack(REPACKING_SHARE)
        if not self.found.is_done and not (self.is_alone and self.depth == 0):
            self.enrich()
            self.pick(min(self.watch.seconds / (4 if self.depth == 0 else 2), 1.0))
        turn = 0
        while not self.found.is_done and turn < (MOST_TURNS if self.depth == 0 else 3):
            if self.exhaust(700 * 3 ** min(turn, 3)):
                return
            if not self.found.is_done and self.depth == 0:
                self.refine(self.watch.seconds * 2 / 3)
            diving = self.watch.within(DIVING_SECONDS)
            for _ in range(MOST_DIVES):
                if self.found.is_done or diving.is_over():
                    break
                self.found.offer(self.dive(turn if self.bars is not None else turn + 1))
            self.repack(REPACKING_SHARE)
            if not self.found.is_done:
                self.enrich()
                self.pick(min(self.watch.seconds, 1.0 + turn))
            turn += 1

    def repack(self, share: float) -> None:
        """Empty a few sheets and fill them anew, for a share of the time at the most."""
        if self.found.best is None or self.depth or self.bars is not None:
            return
        if self.repacking is None:
            self.repacking = Repacking(self.found, self.dice)
        self.repacking.run(self.watch.within(self.watch.seconds * share))

    def by_numbers(self) -> None:
        """Raise the bound to the least cost of sheets in numbers that may hold all that is wanted."""
        if self.found.best is None or len({frame.size for frame in self.task.frames if frame.cost}) < 2:
            return
        watch = self.watch.within(self.watch.seconds * NUMBERS_SHARE)
        self.found.raise_bound(
            Fraction(
                NumberProofs(self.task, self.master).least_cost(
                    self.found.bound, self.found.cost, watch.is_over
                )
            )
        )

    def by_whole_columns(self) -> None:
        """Plans of sheets in several heights or from offcuts, where each part fits columns of one width only."""
        master, task = self.master, self.task
        assert master is not None
        if self.bars is not None or not suits(task):
            return
        finder = WholeColumns(master, self.watch, self.dice, search)
        before = self.found.bound
        self.found.raise_bound(finder.bound())
        if self.found.bound > before:
            self.by_numbers()
        fails = 0
        while not self.found.is_done and fails < MOST_FAILS:
            fails = 0 if self.found.offer(finder.find(self.found.cost)) else fails + 1

    def prefer(self, aims: Sequence[LaterAim]) -> None:
        """Among plans of this cost, one that serves the later aims better; a second or two is spent on it."""
        assert self.found.best is not None
        if replace(self.watch, deadline=self.watch.later).is_over():
            return
        if self.master is None:
            self.master = Master(self.task)
            self.master.add_sheets(self.found.best)
            self.master.generate(self.watch.later, cancelled=self.watch.cancelled, rounds=12)
            self.master.share_stacks()
        else:
            self.master.add_sheets(self.found.best)
        if aims[0] != "offcuts":
            self.master.add_sheets(self.from_new_sheets())
        start = self.master.values_of(self.found.best)
        values = TieBreakers(self.master, self.found.cost).choose(aims, self.watch.later, start)
        if values is not None:
            known = {column: count for column, count in values.items() if column < len(self.master.columns)}
            sheets = exactly(self.task, sheets_from(self.master, known))
            if sum(self.task.frames[sheet.frame].cost for sheet in sheets) <= self.found.cost:
                self.found.best = sheets

    def from_new_sheets(self) -> Sequence[FilledSheet]:
        """A plan that leaves what costs nothing on the rack, if it is no dearer: its columns are not found else."""
        task = self.task
        free = {frame.size for frame in task.frames if not frame.cost}
        if not free or len(free) == len(task.limits):
            return ()
        limits = tuple(0 if size in free else limit for size, limit in enumerate(task.limits))
        sheets = fill_sheets(replace(task, limits=limits), task.areas, give_up=self._give_up)
        if sheets is None or sum(task.frames[sheet.frame].cost for sheet in sheets) > self.found.cost:
            return ()
        return exactly(task, sheets)

    def exhaust(self, most: int) -> bool:
        """Look at all columns that can be in a better plan, or at the `most` likely ones; True when that settles it."""
        master = self.master
        assert master is not None
        if self.found.best is None:
            return False
        few, many = self.looked_at, len(SHARES) + 1
        while many - few > 1:
            middle = (few + many) // 2 if few or many <= len(SHARES) else len(SHARES)
            if self.watch.is_over():
                return False
            if add_shortlist(master, self.found.cost, most, SHARES[middle - 1], self.watch.deadline):
                few = middle
            else:
                many = middle
        if few == self.looked_at:
            return False
        self.looked_at = few
        settled = self.pick(min(self.watch.seconds / 3, 1.0 + most / 4000)) and few == len(SHARES)
        if settled:
            # A proof must not rest on the solver's presolve alone: it is known to err, see solve_whole.
            settled = self.pick(self.watch.seconds / 2, presolve=False)
        if settled:
            self.found.bound = self.found.cost
            self.watch.report(self.found.cost, self.found.bound)
        return settled

    def enrich(self) -> None:
        """More good columns: the best ones for values somewhat off the mark."""
        master = self.master
        assert master is not None
        for _ in range(6):
            if self.watch.is_over():
                return
            master.add_near(self.dice)

    def _give_up(self) -> bool:
        return self.found.best is not None and self.watch.is_over()

    def _prices(self) -> list[int]:
        assert self.master is not None
        biggest = max(frame.length * frame.width for frame in self.task.frames)
        return [
            int(price * 10**8) + 10**5 * area // biggest
            for price, area in zip(self.master.prices, self.task.areas, strict=True)
        ]

    def pick(self, seconds: float, *, presolve: bool = True) -> bool:
        """The best whole-number choice among the columns found; True when there is no better among them."""
        assert self.master is not None
        allowed = self.found.allowed if self.found.best is None else self.found.cost - self.task.unit
        choice = choose(
            self.master,
            seconds=min(seconds, self.watch.seconds),
            stop=self.watch.cancelled,
            bound=self.found.bound,
            allowed=allowed,
            presolve=presolve,
        )
        if choice.values is not None:
            self.found.offer(sheets_from(self.master, choice.values))
        return choice.finished

    def refine(self, seconds: float) -> None:
        """Make columns of the best of a few dives anew until fewer sheets hold them."""
        master = self.master
        if not self.is_alone or self.found.best is None or master is None or master.certificate is None:
            return
        watch = self.watch.within(seconds)
        found = [self.columns] if self.columns else []

        def collect(stacks: Sequence[Stack], allowed: int | None) -> None:
            found.append(list(stacks))

        diver = Dive(master, watch, self.dice, collect)
        for turn in range(1 if found else REFINED_DIVES):
            diver.run(turn, None, self.found.bound, settle=False)
        refining = Refining(master, self.dice)
        columns = self.columns = min(found, key=refining.total, default=[])
        failures = 0
        while columns and failures < MOST_FAILURES and not self.found.is_done and not watch.is_over():
            better = refining.step(columns, watch.seconds, self.watch.cancelled)
            failures = failures + 1 if better is None else 0
            if better is not None:
                columns = self.columns = better
                self.found.offer(self._arrange(columns, self.found.cost - self.task.unit))

    def dive(self, turn: int) -> list[FilledSheet] | None:
        """Sheets found by one dive into the programme; None when it does not end, or would not be better."""
        assert self.master is not None
        if self.diver is None:
            arrange = self._arrange if self.is_alone else None
            self.diver = Dive(self.master, self.watch, self.dice, arrange)
        known = self.found.allowed + self.task.unit if self.found.allowed is not None else None
        if self.found.best is not None:
            known = self.found.cost
        return self.diver.run(turn, known, self.found.bound)

    def _arrange(self, stacks: Sequence[Stack], allowed: int | None) -> Sequence[FilledSheet] | None:
        frame = self.task.frames[0]
        bars = column_bars(frame, self.task.sizing.kerf, Counter(stack.u for stack in stacks))
        bound = area_bound(bars)
        if allowed is not None and bound > allowed:
            return None
        run = _Search(
            bars, self.watch.within(min(ARRANGING_SECONDS, self.watch.seconds / 2)), bound, self.depth + 1
        )
        run.found.allowed = allowed
        run.go()
        return None if run.found.best is None else put_columns(run.found.best, stacks)
