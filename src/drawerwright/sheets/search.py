"""From a task to the cheapest sheets, with a bound that says how sure that is."""

from __future__ import annotations

import random
import time
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.errors import SolverError
from drawerwright.sheets.assembly import exactly, sheets_from
from drawerwright.sheets.columns import CutSheet, Stack
from drawerwright.sheets.greedy import fill_sheets
from drawerwright.sheets.later import LaterChoice
from drawerwright.sheets.master import Master, Task
from drawerwright.sheets.problem import LaterAim
from drawerwright.sheets.solve import INFINITY, solve_whole

MOST_TURNS = 40
"""Dives after which a search gives up even with time left."""
SURE = 0.6
"""A stack that the programme uses less often than this is not committed along with many others."""
SHARES = tuple(0.8**step for step in range(24, -1, -1))
"""Shares of the room between bound and best cost within which all columns are listed, as far as they are few."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """The best sheets found (None: none can be), their cost, and a cost that nothing can undercut."""

    sheets: tuple[CutSheet, ...] | None
    cost: int
    bound: int

    @property
    def is_proven(self) -> bool:
        return self.sheets is not None and self.cost <= self.bound


@dataclass(frozen=True, slots=True)
class Watch:
    """When to stop, and whom to tell."""

    deadline: float
    cancelled: Callable[[], bool] = lambda: False
    report: Callable[[int | None, int], None] = lambda cost, bound: None
    later: float = 0.0
    """When to stop looking after the later aims; `deadline` is for the cost alone."""

    def is_over(self) -> bool:
        return time.perf_counter() > self.deadline or self.cancelled()

    @property
    def seconds(self) -> float:
        return max(0.0, self.deadline - time.perf_counter())

    def within(self, seconds: float) -> Watch:
        """The same, with at most `seconds` from now, reporting to nobody."""
        return Watch(min(self.deadline, time.perf_counter() + seconds), self.cancelled)


def search(
    task: Task,
    watch: Watch,
    *,
    least_bound: int = 0,
    aims: Sequence[LaterAim] = (),
    known: Sequence[Sequence[CutSheet]] = (),
) -> Outcome:
    """The cheapest sheets for `task`.

    Args:
        task: what is wanted.
        watch: time limit, cancellation, reports of the best cost and bound so far.
        least_bound: a lower bound already known.
        aims: what is looked after among plans of equal cost, in this order.
        known: plans to begin with.
    """
    run = _Search(task, watch, max(least_bound, area_bound(task)))
    for sheets in known:
        run.offer(sheets)
    run.go()
    if aims and run.best is not None:
        run.prefer(aims)
    return Outcome(tuple(run.best) if run.best is not None else None, run.cost, run.bound)


def area_bound(task: Task) -> int:
    """No sheet holds more area than it has; limited sheets that cost nothing are taken for granted."""
    wanted = sum(area * count for area, count in zip(task.areas, task.demand, strict=True))
    biggest: dict[int, tuple[int, int]] = {}
    for frame in task.frames:
        area = frame.length * frame.width
        if area >= biggest.get(frame.size, (0, 0))[0]:
            biggest[frame.size] = (area, frame.cost)
    rate: Fraction | None = None
    for size, (area, cost) in biggest.items():
        if cost == 0:
            limit = task.limits[size]
            if limit is None:
                return 0
            wanted -= limit * area
        else:
            each = Fraction(cost, area)
            rate = each if rate is None else min(rate, each)
    return task.round_up(max(0, wanted) * rate) if rate is not None else 0


class _Search:
    def __init__(self, task: Task, watch: Watch, bound: int, depth: int = 0) -> None:
        self.task, self.watch, self.depth = task, watch, depth
        self.allowed: int | None = None
        """Only plans up to this cost are of use (None: any)."""
        self.bound = bound
        self.best: list[CutSheet] | None = None
        self.cost = sum(task.demand) * (max((frame.cost for frame in task.frames), default=0) + 1)
        self.master: Master | None = None
        self.looked_at = 0
        self.dice = random.Random(len(task.demand))

    @property
    def is_done(self) -> bool:
        if self.allowed is not None and self.bound > self.allowed:
            return True
        return (self.best is not None and self.cost <= self.bound) or self.watch.is_over()

    def go(self) -> None:
        task = self.task
        if self.depth == 0:
            self.offer(fill_sheets(task, task.areas, give_up=self._give_up))
        if self.is_done and self.best is not None:
            return
        master = self.master = Master(task)
        if self.best:
            master.add_sheets(self.best)
        known = self.cost if self.best is not None else None
        while not master.generate(
            self.watch.deadline, cancelled=self.watch.cancelled, known=known, rounds=15
        ):
            self.raise_bound(master.bound)
            if self.is_done or task.round_up(master.bound) >= master.target:
                break
        self.raise_bound(master.bound)
        if self.is_done and self.best is not None:
            return
        if self.depth == 0:
            self.offer(fill_sheets(task, self._prices(), give_up=self._give_up))
        if self.best is None and self.watch.is_over():
            self.offer(fill_sheets(task, task.areas))
        master.share_stacks()
        if not self.is_done and self.depth == 0:
            self.correct(self._prices(), min(self.watch.seconds / 3, 1.5))
        if not self.is_done:
            self.enrich()
            self.pick(min(self.watch.seconds / (4 if self.depth == 0 else 2), 1.0))
        turn = 0
        while not self.is_done and turn < (MOST_TURNS if self.depth == 0 else 3):
            if self.exhaust(700 * 3 ** min(turn, 4)):
                return
            for _ in range(2 + turn):
                if not self.is_done:
                    self.dive(turn)
            if not self.is_done:
                self.enrich()
                self.pick(min(self.watch.seconds, 1.0 + turn))
            turn += 1

    def correct(self, values: list[int], seconds: float) -> None:
        """Fill sheets again and again, valuing parts more that were left for the worst sheet.

        Worth its time for few sheets, where the programme's columns say little about whole plans.
        """
        task, dice = self.task, self.dice
        if self.bound > 6 * max(frame.cost for frame in task.frames):
            return
        watch = self.watch.within(seconds)
        biggest = max(frame.length * frame.width for frame in task.frames)
        values = [value + 10**8 * area // biggest for value, area in zip(values, task.areas, strict=True)]
        for attempt in range(60):
            if watch.is_over() or self.is_done:
                return
            shaken = [max(1, int(value * dice.uniform(0.85, 1.15))) if attempt else value for value in values]
            sheets = fill_sheets(task, shaken, give_up=watch.is_over)
            if sheets is None:
                return
            self.offer(sheets)
            worst = min(
                sheets, key=lambda sheet: sum(task.areas[d] * n for s in sheet.stacks for d, n in s.takes)
            )
            for demand in {demand for stack in worst.stacks for demand, _ in stack.takes}:
                values[demand] = int(values[demand] * dice.uniform(1.05, 1.3)) + 1

    def prefer(self, aims: Sequence[LaterAim]) -> None:
        """Among plans of this cost, one that serves the later aims better; a second or two is spent on it."""
        assert self.best is not None
        if self.watch.cancelled():
            return
        if self.master is None:
            self.master = Master(self.task)
            self.master.add_sheets(self.best)
            self.master.generate(self.watch.later, cancelled=self.watch.cancelled, rounds=12)
            self.master.share_stacks()
        else:
            self.master.add_sheets(self.best)
        start = self.master.values_of(self.best)
        values = LaterChoice(self.master, self.cost).choose(aims, self.watch.later, start)
        if values is not None:
            known = {column: count for column, count in values.items() if column < len(self.master.columns)}
            sheets = exactly(self.task, sheets_from(self.master, known))
            if sum(self.task.frames[sheet.frame].cost for sheet in sheets) <= self.cost:
                self.best = sheets

    def exhaust(self, most: int) -> bool:
        """Look at all columns that can be in a better plan, or at the `most` likely ones; True when that settles it."""
        master = self.master
        assert master is not None
        if self.best is None:
            return False
        few, many = self.looked_at, len(SHARES) + 1
        while many - few > 1:
            middle = (few + many) // 2 if few or many <= len(SHARES) else len(SHARES)
            if self.watch.is_over():
                return False
            if master.complete(self.cost, most, SHARES[middle - 1]):
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
            self.bound = self.cost
            self.watch.report(self.cost, self.bound)
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
        return self.best is not None and self.watch.is_over()

    def _prices(self) -> list[int]:
        assert self.master is not None
        biggest = max(frame.length * frame.width for frame in self.task.frames)
        return [
            int(price * 10**8) + 10**5 * area // biggest
            for price, area in zip(self.master.prices, self.task.areas, strict=True)
        ]

    def raise_bound(self, bound: Fraction) -> None:
        rounded = self.task.round_up(bound)
        if rounded > self.bound:
            self.bound = rounded
            self.watch.report(self.cost if self.best is not None else None, self.bound)

    def offer(self, sheets: Sequence[CutSheet] | None) -> bool:
        """Take `sheets` as the best so far if they are."""
        if sheets is None:
            return False
        trimmed = exactly(self.task, sheets)
        used = Counter(self.task.frames[sheet.frame].size for sheet in trimmed)
        if any(limit is not None and used[size] > limit for size, limit in enumerate(self.task.limits)):
            raise SolverError("a plan uses more sheets than there are: this is a fault of the program")
        cost = sum(self.task.frames[sheet.frame].cost for sheet in trimmed)
        if self.best is not None and cost >= self.cost:
            return False
        self.best, self.cost = trimmed, cost
        self.watch.report(self.cost, self.bound)
        return True

    def pick(self, seconds: float, *, presolve: bool = True) -> bool:
        """The best whole-number choice among the columns found; True when there is no better among them."""
        master, task = self.master, self.task
        assert master is not None
        first = master.first
        columns = master.columns[first:]
        scale = master.mean_cost
        low = self.bound / scale
        high = INFINITY
        if self.best is not None:
            high = (self.cost - task.unit) / scale
        elif self.allowed is not None:
            high = self.allowed / scale
        costs = [number for number, column in enumerate(columns) if column[0]]
        row = len(master.lower)
        limited = [
            (column[0], [*column[1], row], [*column[2], column[0]]) if column[0] else column
            for column in columns
        ]
        if not costs:
            low, high = -INFINITY, INFINITY
        answer = solve_whole(
            limited,
            [*master.lower, low - 1e-6],
            [*master.upper, high + 1e-6],
            seconds=min(seconds, self.watch.seconds),
            stop=self.watch.cancelled,
            presolve=presolve,
        )
        if answer.values is not None:
            self.offer(sheets_from(master, {first + n: v for n, v in enumerate(answer.values) if v}))
        return answer.finished

    def dive(self, turn: int) -> None:
        """Commit sheets that the programme uses most, let columns for what is left come in, and so on.

        When a few sheets are left they are searched as a task of their own.
        """
        master, task, dice = self.master, self.task, self.dice
        assert master is not None
        left = list(task.demand)
        stock = list(task.limits)
        made: list[CutSheet] = []
        spent = 0
        few = dice.choice((3.2, 4.2, 5.2, 6.2)) * master.mean_cost
        while any(left) and not self.watch.is_over():
            master.want(left, stock)
            master.generate(
                self.watch.deadline, cancelled=self.watch.cancelled, rounds=5 if made else 1, left=left
            )
            cost, _, values = master.program.solve()
            rest = cost * master.mean_cost
            if self.best is not None and spent + rest > self.cost - task.unit * (1 - 1e-6):
                break
            if rest <= few and self.depth == 0 and made:
                small = replace(task, demand=tuple(left), limits=tuple(stock), least_columns={})
                watch = self.watch.within(min(1.0, self.watch.seconds / 2))
                run = _Search(small, watch, area_bound(small), depth=1)
                run.allowed = self.cost - task.unit - spent if self.best is not None else None
                run.go()
                if run.best is not None:
                    self.offer([*made, *run.best])
                break
            batch = self._best_commit(values, left, stock, floors=not made, share=1.0 if turn == 0 else 0.7)
            if not batch:
                break
            made += batch
            spent += sum(task.frames[sheet.frame].cost for sheet in batch)
        if not any(left):
            self.offer(made)
        master.want(task.demand, task.limits)

    def _best_commit(
        self,
        values: NDArray[np.float64],
        left: list[int],
        stock: list[int | None],
        *,
        floors: bool,
        share: float,
    ) -> list[CutSheet]:
        """The best of a few ways to commit, by what the programme then says of the whole; taken from `left`."""
        master, task = self.master, self.task
        assert master is not None
        best: tuple[float, list[CutSheet], list[int], list[int | None]] | None = None
        for attempt in range(1 if floors else 5):
            tried, kept = list(left), list(stock)
            batch = self._commit(values, tried, kept, floors=floors and not attempt, share=share)
            if not batch:
                continue
            master.want(tried, kept)
            cost, _, _ = master.program.solve()
            total = cost * master.mean_cost + sum(task.frames[sheet.frame].cost for sheet in batch)
            if best is None or total < best[0] - 1e-9:
                best = (total, batch, tried, kept)
        if best is None:
            return []
        left[:], stock[:] = best[2], best[3]
        return best[1]

    def _commit(
        self,
        values: NDArray[np.float64],
        left: list[int],
        stock: list[int | None],
        *,
        floors: bool,
        share: float,
    ) -> list[CutSheet]:
        """Sheets that the programme's values speak for; their parts are taken from `left`."""
        master, task, dice = self.master, self.task, self.dice
        assert master is not None
        weights: dict[tuple[int, int], dict[Stack, float]] = {}
        patterns: list[tuple[float, int, object]] = []
        for column in np.flatnonzero(values > 1e-6).tolist():
            what, number, content = master.meanings[column]
            if what == "stack":
                assert isinstance(content, Stack)
                weights.setdefault((number, content.kind), {})[content] = float(values[column])
            elif what != "spare":
                patterns.append((float(values[column]), column, content))
        if not patterns:
            return []
        patterns.sort(key=lambda entry: (-entry[0], entry[1]))
        if floors and patterns[0][0] >= 1:
            chosen = [(max(1, int(worth * share)), column) for worth, column, _ in patterns if worth >= 1]
        else:
            place = dice.choices(range(len(patterns)), [entry[0] ** 2 for entry in patterns])[0]
            chosen = [(1, patterns[place][1])]
        sheets: list[CutSheet] = []
        for copies, column in chosen:
            what, number, content = master.meanings[column]
            frame = task.frames[number]
            for _ in range(copies):
                if stock[frame.size] == 0:
                    break
                sure = True
                if what == "whole":
                    assert isinstance(content, tuple)
                    wanted = list(content)
                else:
                    assert isinstance(content, tuple)
                    group = master.class_of(frame)
                    wanted = []
                    for kind, count in content:
                        ready = weights.get((group, kind))
                        for _ in range(count):
                            if not ready:
                                continue
                            stack = max(ready, key=ready.__getitem__)
                            sure = sure and ready[stack] >= SURE
                            ready[stack] -= 1
                            wanted.append(stack)
                if len(chosen) > 1 and sheets and not sure:
                    break
                stacks = []
                for stack in wanted:
                    surplus = Counter({d: n - left[d] for d, n in stack.takes if n > left[d]})
                    kept = task.sizing.without(stack, surplus)
                    if kept is not None:
                        stacks.append(kept)
                        for demand, count in kept.takes:
                            left[demand] -= count
                if stacks:
                    sheets.append(CutSheet(number, tuple(stacks)))
                    stock[frame.size] = _one_less(stock[frame.size])
        return sheets


def _one_less(count: int | None) -> int | None:
    return None if count is None else count - 1
