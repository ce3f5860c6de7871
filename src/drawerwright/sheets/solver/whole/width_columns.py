"""How many columns of each height hold the parts of one width, and which parts go into which of them."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from drawerwright.sheets.solver.columns import Stack
from drawerwright.sheets.solver.filling.stacks import Offer, StackSource
from drawerwright.sheets.solver.programme.highs import INFINITY, Column, GrowingProgram, solve_whole
from drawerwright.sheets.solver.programme.pricing import VALUE_SCALE
from drawerwright.sheets.solver.task import Task
from drawerwright.sheets.solver.whole.sheet_classes import SheetClass

MISSING = 1e-6
"""Share of a column by which parts may be left over and still count as none, where columns may be divided."""
FILLINGS = 6
"""Times that columns are filled one after the other before a programme chooses among all fillings known."""
SHAKEN = 0.06
"""Share by which the values of parts differ from their sizes from the second of these times on."""

Counts = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class ColumnRule:
    """Under some values all parts of a width are worth `need`, and a column of each class no more than `worths`."""

    need: int
    worths: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Filling:
    """Columns by class, and what of the parts they do not hold."""

    stacks: tuple[tuple[int, Stack], ...]
    missing: Counter[int]


class WidthColumns:
    """The parts that fit columns of one width only, by the classes of sheets that such columns come from.

    Rules are learnt from counts of columns that are too few: parts get values under which those columns are worth less
    than the parts (the dual of filling columns that may be divided).
    """

    def __init__(
        self,
        task: Task,
        width: int,
        sources: Mapping[bool, tuple[int, StackSource]],
        classes: Sequence[SheetClass],
    ) -> None:
        """`sources` make columns of this width alone, by direction, each with the number of that kind in the task."""
        self.width = width
        self._task, self._sources, self._classes = task, dict(sources), classes
        self.demands = tuple(
            sorted({d for _, source in sources.values() for d in source.demands if task.demand[d]})
        )
        ones = [1] * len(self.demands)
        offers = self._offers(ones, task.demand)
        self.groups = tuple(
            number
            for number, group in enumerate(classes)
            if group.transposed in offers
            and group.longest >= width
            and offers[group.transposed].value(group.height)
        )
        """Numbers of the classes whose sheets take such columns."""
        self.rules: list[ColumnRule] = []
        biggest = max((task.areas[demand] for demand in self.demands), default=1)
        self._program = GrowingProgram(
            [*(float(task.demand[demand]) for demand in self.demands), *(-INFINITY for _ in self.groups)],
            [*(INFINITY for _ in self.demands), *(0.0 for _ in self.groups)],
        )
        for row, demand in enumerate(self.demands):
            self._program.add_column((task.areas[demand] / biggest, [row], [1.0]))
        self._stacks: dict[tuple[int, Stack], None] = {}
        self._fillings: dict[Counts, Filling] = {}
        self._enough: list[tuple[float, ...]] = []
        self._values = [VALUE_SCALE * task.areas[demand] // biggest for demand in self.demands]
        for values in (self._values, ones, *self._large_ones()):
            self._learn(values)

    def _large_ones(self) -> list[list[int]]:
        """One for every part of which a column of the tallest class holds no more than one, two or three; else none."""
        tallest = max((self._classes[number].height for number in self.groups), default=0)
        sizes = [self._task.areas[demand] // self.width for demand in self.demands]
        return [[int(size * (most + 1) > tallest) for size in sizes] for most in (1, 2, 3)]

    def holds(self, counts: Sequence[float]) -> bool:
        """Whether columns in these counts (as `groups`) hold all parts if they may be divided; learns where not."""
        if any(all(n >= m for n, m in zip(counts, known, strict=True)) for known in self._enough):
            return True
        for place, count in enumerate(counts):
            self._program.set_row(len(self.demands) + place, -INFINITY, float(count))
        while True:
            missing, duals, _ = self._program.solve()
            if missing < MISSING:
                self._enough.append(tuple(counts))
                return True
            values = [max(0, int(dual * VALUE_SCALE)) for dual in duals[: len(self.demands)]]
            rule, is_new = self._learn(values)
            if sum(w * n for w, n in zip(rule.worths, counts, strict=True)) < rule.need * (1 - MISSING):
                return False
            if not is_new:
                return True

    def fill(self, counts: Counts, seconds: float, stop: Callable[[], bool], dice: random.Random) -> Filling:
        """All parts, or as many as possible, in columns of these counts."""
        known = self._fillings.get(counts)
        if known is not None:
            return known
        best: Filling | None = None
        for turn in range(FILLINGS):
            made = self._in_turn(counts, turn, dice)
            if best is None or self._area(made.missing) < self._area(best.missing):
                best = made
            if not best.missing or stop():
                break
        assert best is not None
        if best.missing and not stop():
            best = self._chosen(counts, seconds, stop) or best
        self._fillings[counts] = best
        return best

    def _area(self, missing: Counter[int]) -> int:
        return sum(self._task.areas[demand] * count for demand, count in missing.items())

    def _in_turn(self, counts: Counts, turn: int, dice: random.Random) -> Filling:
        """Columns filled one after the other, each as full as the parts left allow."""
        left = [0] * len(self._task.demand)
        for demand in self.demands:
            left[demand] = self._task.demand[demand]
        values = [
            max(1, int(value * dice.uniform(1 - SHAKEN, 1 + SHAKEN))) if turn else value
            for value in self._values
        ]
        order = sorted(range(len(counts)), key=lambda place: self._classes[self.groups[place]].height)
        if turn % 2:
            order.reverse()
        made: list[tuple[int, Stack]] = []
        for place in order:
            group = self._classes[self.groups[place]]
            for _ in range(counts[place]):
                kind, _ = self._sources[group.transposed]
                offer = self._offers(values, left)[group.transposed]
                stack = offer.stack(group.height)
                surplus = Counter({d: n - left[d] for d, n in stack.takes if n > left[d]})
                kept = (
                    self._task.sizing.without(replace(stack, kind=kind), surplus) if stack.elements else None
                )
                if kept is None:
                    break
                for demand, count in kept.takes:
                    left[demand] -= count
                made.append((self.groups[place], kept))
                self._offer(place, kept)
        return Filling(
            tuple(made), Counter({demand: left[demand] for demand in self.demands if left[demand]})
        )

    def _chosen(self, counts: Counts, seconds: float, stop: Callable[[], bool]) -> Filling | None:
        """The best choice among the columns known."""
        row_of = {demand: row for row, demand in enumerate(self.demands)}
        stacks = list(self._stacks)
        columns: list[Column] = []
        for place, stack in stacks:
            rows = [row_of[demand] for demand, _ in stack.takes]
            columns.append((0.0, [*rows, len(row_of) + place], [*(float(n) for _, n in stack.takes), 1.0]))
        columns += [(float(self._task.areas[demand]), [row], [1.0]) for demand, row in row_of.items()]
        answer = solve_whole(
            columns,
            [*(float(self._task.demand[demand]) for demand in self.demands), *(-INFINITY for _ in counts)],
            [*(INFINITY for _ in self.demands), *(float(count) for count in counts)],
            seconds=seconds,
            stop=stop,
        )
        if answer.values is None:
            return None
        left = Counter({demand: self._task.demand[demand] for demand in self.demands})
        made: list[tuple[int, Stack]] = []
        for (place, stack), count in zip(stacks, answer.values, strict=False):
            for _ in range(count):
                surplus = Counter({d: n - left[d] for d, n in stack.takes if n > left[d]})
                kept = self._task.sizing.without(stack, surplus)
                if kept is not None:
                    made.append((self.groups[place], kept))
                    left.subtract(dict(kept.takes))
        return Filling(tuple(made), +left)

    def _offers(self, values: Sequence[int], at_most: Sequence[int]) -> dict[bool, Offer]:
        """The best column by direction, where `values` are of this width's parts in turn."""
        everywhere = [0] * len(self._task.demand)
        for demand, value in zip(self.demands, values, strict=True):
            everywhere[demand] = value
        return {way: source.offers(everywhere, at_most)[0] for way, (_, source) in self._sources.items()}

    def _offer(self, place: int, stack: Stack) -> bool:
        if (place, stack) in self._stacks:
            return False
        self._stacks[place, stack] = None
        rows = [self.demands.index(demand) for demand, _ in stack.takes]
        counts = [float(count) for _, count in stack.takes]
        self._program.add_column((0.0, [*rows, len(self.demands) + place], [*counts, 1.0]))
        return True

    def _learn(self, values: Sequence[int]) -> tuple[ColumnRule, bool]:
        """The rule of these values, and whether a column is new that is worth most under them."""
        offers = self._offers(values, self._task.demand)
        worths: list[int] = []
        is_new = False
        for place, number in enumerate(self.groups):
            group = self._classes[number]
            offer = offers[group.transposed]
            worths.append(offer.value(group.height))
            stack = replace(offer.stack(group.height), kind=self._sources[group.transposed][0])
            if stack.elements:
                is_new = self._offer(place, stack) or is_new
        need = sum(
            value * self._task.demand[demand] for demand, value in zip(self.demands, values, strict=True)
        )
        rule = ColumnRule(need, tuple(worths))
        if need and rule not in self.rules:
            self.rules.append(rule)
        return rule, is_new
