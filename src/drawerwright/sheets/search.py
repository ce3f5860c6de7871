"""From a task to the cheapest sheets, with a bound that says how sure that is."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from drawerwright.sheets.columns import CutSheet, Frame, Piece, Sizing, Stack
from drawerwright.sheets.greedy import fill_sheets
from drawerwright.sheets.master import Master, Task
from drawerwright.sheets.solve import INFINITY, solve_whole
from drawerwright.sheets.stacks import PieceStacks


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

    def is_over(self) -> bool:
        return time.perf_counter() > self.deadline or self.cancelled()

    @property
    def seconds(self) -> float:
        return max(0.0, self.deadline - time.perf_counter())

    def within(self, seconds: float) -> Watch:
        """The same, with at most `seconds` from now, reporting to nobody."""
        return Watch(min(self.deadline, time.perf_counter() + seconds), self.cancelled)


def search(task: Task, watch: Watch, *, least_bound: int = 0) -> Outcome:
    """The cheapest sheets for `task`.

    Args:
        task: what is wanted.
        watch: time limit, cancellation, reports of the best cost and bound so far.
        least_bound: a lower bound already known.
    """
    run = _Search(task, watch, max(least_bound, area_bound(task)))
    run.go()
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
    def __init__(self, task: Task, watch: Watch, bound: int) -> None:
        self.task, self.watch = task, watch
        self.bound = bound
        self.best: list[CutSheet] | None = None
        self.cost = sum(task.demand) * (max((frame.cost for frame in task.frames), default=0) + 1)
        self.master: Master | None = None

    @property
    def is_done(self) -> bool:
        return (self.best is not None and self.cost <= self.bound) or self.watch.is_over()

    def go(self) -> None:
        task = self.task
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
        self.offer(fill_sheets(task, self._prices(), give_up=self._give_up))
        if self.best is None and self.watch.is_over():
            self.offer(fill_sheets(task, task.areas))
        master.share_stacks()
        if not self.is_done:
            self.pick(min(self.watch.seconds / 3, 4.0))
        turn = 0
        while not self.is_done and turn < 12:
            self.dive(turn)
            if not self.is_done:
                self.pick(min(self.watch.seconds, 3.0 + 2.0 * turn))
            turn += 1

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
        cost = sum(self.task.frames[sheet.frame].cost for sheet in trimmed)
        if self.best is not None and cost >= self.cost:
            return False
        self.best, self.cost = trimmed, cost
        self.watch.report(self.cost, self.bound)
        return True

    def pick(self, seconds: float) -> None:
        """The best whole-number choice among the columns found."""
        master, task = self.master, self.task
        assert master is not None
        first = len(task.demand)
        columns = master.columns[first:]
        scale = master.mean_cost
        low = self.bound / scale
        high = (self.cost - task.unit) / scale if self.best is not None else INFINITY
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
        )
        if answer.values is not None:
            self.offer(sheets_from(master, {first + n: v for n, v in enumerate(answer.values) if v}))

    def dive(self, turn: int) -> None:
        """Fix what the programme uses most, let new columns come in, and so on to a whole plan."""
        master, task = self.master, self.task
        assert master is not None
        fixed: dict[int, float] = {}
        first = len(task.demand)
        for step in range(10_000):
            if self.watch.is_over():
                break
            master.generate(
                self.watch.deadline,
                cancelled=self.watch.cancelled,
                rounds=4 if step else 0,
                diving=True,
            )
            cost, _, values = master.program.solve()
            if cost * master.mean_cost > self.cost - task.unit + 1e-6 and self.best is not None:
                break
            loose = [
                (float(value) - fixed.get(number, 0.0), number)
                for number, value in enumerate(values)
                if number >= first and value - fixed.get(number, 0.0) > 1e-6
            ]
            if not loose:
                if all(value < 1e-6 for value in values[:first]):
                    self.offer(sheets_from(master, {n: round(v) for n, v in enumerate(values) if v > 0.5}))
                break
            whole = [(extra, number) for extra, number in loose if extra >= 1 - 1e-6]
            if whole and step == 0:
                for extra, number in whole:
                    keep = int(extra + 1e-6)
                    fixed[number] = fixed.get(number, 0.0) + (keep if turn == 0 else keep // 2)
                    master.program.set_bounds(number, fixed[number])
                continue
            stacks = [pair for pair in loose if master.meanings[pair[1]][0] != "pattern"] or loose
            ranked = sorted(stacks, key=lambda pair: (pair[0] % 1 or 1.0, -pair[1]), reverse=True)
            extra, number = ranked[min(turn % 3 if step < 4 else 0, len(ranked) - 1)]
            fixed[number] = fixed.get(number, 0.0) + max(1.0, float(int(extra + 1e-6)))
            master.program.set_bounds(number, fixed[number])
        for number in fixed:
            master.program.set_bounds(number, 0.0)


def sheets_from(master: Master, values: dict[int, int]) -> list[CutSheet]:
    """Sheets from the values of a programme's columns; every pattern's places take the stacks of their kind."""
    waiting: dict[tuple[int, int], list[Stack]] = {}
    slots: list[tuple[int, int, tuple[tuple[int, int], ...]]] = []
    sheets: list[CutSheet] = []
    for column, count in values.items():
        what, number, content = master.meanings[column]
        if what == "stack":
            assert isinstance(content, Stack)
            waiting.setdefault((number, content.kind), []).extend([content] * count)
        elif what == "whole":
            assert isinstance(content, tuple)
            sheets.extend([CutSheet(number, content)] * count)
        elif what == "pattern":
            frame = master.task.frames[number]
            group = master.class_of(frame)
            assert isinstance(content, tuple)
            slots.extend([(number, group, content)] * count)
    for frame_number, group, content in slots:
        stacks: list[Stack] = []
        for kind, count in content:
            ready = waiting.get((group, kind), [])
            stacks.extend(ready.pop() for _ in range(min(count, len(ready))))
        if stacks:
            sheets.append(CutSheet(frame_number, tuple(stacks)))
    return sheets


def exactly(task: Task, sheets: Sequence[CutSheet]) -> list[CutSheet]:
    """`sheets` without what they hold beyond the demand; sheets left empty fall away."""
    surplus: Counter[int] = Counter()
    for sheet in sheets:
        for stack in sheet.stacks:
            for demand, count in stack.takes:
                surplus[demand] += count
    for demand, count in enumerate(task.demand):
        surplus[demand] -= count
    surplus = +surplus
    if not surplus:
        return list(sheets)
    kept: list[CutSheet] = []
    for sheet in reversed(sheets):
        stacks = tuple(
            left for stack in sheet.stacks if (left := task.sizing.without(stack, surplus)) is not None
        )
        if stacks:
            kept.append(replace(sheet, stacks=stacks))
    return kept[::-1]


# -- parts of fixed direction: one width after the other ---------------------------------------------------


def search_by_width(task: Task, watch: Watch) -> Outcome | None:
    """Where every demand fits one column width only: first the least columns of each width, then the sheets.

    With one kind of frame this is exact; with several it gives `least_columns` to the whole task. None when
    the task is not of this kind.
    """
    if set(task.sources) != {False}:
        return None
    parts = task.sources[False].by_width()
    if not parts:
        return None
    tallest = max(frame.width for frame in task.frames)
    stacks: dict[int, list[Stack]] = {}
    least: dict[int, int] = {}
    for kind, part in enumerate(parts):
        width = part.widths[0]
        wanted = part.demands
        count = len(parts) - kind
        one = Task(
            (Frame(0, width, tallest, 1),),
            tuple(count if demand in wanted else 0 for demand, count in enumerate(task.demand)),
            task.areas,
            (None,),
            task.sizing,
            {False: part},
        )
        outcome = search(one, watch.within(watch.seconds / (count + 1)))
        if outcome.sheets is None:
            return None
        stacks[width] = [replace(sheet.stacks[0], kind=kind) for sheet in outcome.sheets]
        least[width] = outcome.bound
    single = len(task.frames) == 1 and task.limits[0] is None
    if not single:
        return search(replace(task, least_columns=least), watch)
    frame = task.frames[0]
    widths = sorted(stacks)
    bound, sheets = 0, None
    for counts in (least, {width: len(found) for width, found in stacks.items()}):
        if sheets is not None and counts == least:
            break
        pieces = [Piece(number, 1, width) for number, width in enumerate(widths)]
        kerf = task.sizing.kerf
        whole = Task(
            (Frame(0, 1, frame.length, frame.cost),),
            tuple(counts[width] for width in widths),
            tuple(widths),
            (None,),
            Sizing(kerf),
            {False: PieceStacks(pieces, kerf=kerf, tallest=frame.length, exact=True)},
        )
        outcome = search(whole, watch, least_bound=bound)
        if counts is least or counts == least:
            bound = max(bound, outcome.bound)
        sheets = outcome.sheets
    assert sheets is not None
    made: list[CutSheet] = []
    waiting = {width: list(found) for width, found in stacks.items()}
    for sheet in sheets:
        chosen = [
            waiting[widths[element.demand]].pop()
            for element in sheet.stacks[0].elements
            if isinstance(element, Piece)
        ]
        made.append(CutSheet(0, tuple(chosen)))
    return Outcome(tuple(made), frame.cost * len(made), bound)
