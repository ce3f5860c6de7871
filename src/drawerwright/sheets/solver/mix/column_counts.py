"""How many columns of each height hold the parts of one width."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from drawerwright.sheets.solver.columns import Stack
from drawerwright.sheets.solver.filling.stacks import StackSource
from drawerwright.sheets.solver.programme.highs import INFINITY, Column, GrowingProgram, solve_whole
from drawerwright.sheets.solver.programme.master import Master
from drawerwright.sheets.solver.programme.pricing import VALUE_SCALE

TOLERANCE = 1e-6
"""Parts left over that count as none, in a programme that may divide columns."""
NEVER = 10**9
"""More columns than there can be."""
MOST_LISTED = 300
"""Fillings of a column that are all known beforehand; of more, those are that rules come from."""

Wanted = tuple[int, ...]
Counts = tuple[int, ...]


class ColumnCounts:
    """Which counts of columns, by height, hold so many parts of one width.

    A rule gives every part a whole-number value: columns that are worth less together than the parts wanted do
    not hold them (the dual of filling columns that may be divided). Rules are learnt from counts that turn out
    to be too few, so that those left are nearly always enough.
    """

    def __init__(self, master: Master, kind: int, source: StackSource, groups: Sequence[int]) -> None:
        """`source` makes columns of this width alone; `groups` are the classes of frames that take them."""
        self.kind, self.groups = kind, tuple(groups)
        self.demands = tuple(sorted(source.demands))
        self._master, self._source = master, source
        self._prices = np.empty((len(self.groups), 0))
        self._values = np.empty((0, len(self.demands)), np.int64)
        self._worths = np.empty((0, len(self.groups)), np.int64)
        self._known: dict[Wanted, NDArray[np.float64]] = {}
        self._refused: dict[Wanted, set[Counts]] = {}
        self._enough: set[tuple[Wanted, Counts]] = set()
        self._program = GrowingProgram(
            [*(0.0 for _ in self.demands), *(-INFINITY for _ in self.groups)],
            [*(INFINITY for _ in self.demands), *(0.0 for _ in self.groups)],
        )
        for row in range(len(self.demands)):
            self._program.add_column((1.0, [row], [1.0]))
        self._stacks: dict[tuple[int, Stack], None] = {}
        for number, stack in master.pool.stacks:
            if stack.kind == kind and number in self.groups:
                self._offer(number, stack)
        for number in self.groups:
            for stack in (
                self._source.listing(
                    0, self._height(number), [1] * len(master.task.demand), master.task.demand, 0, MOST_LISTED
                )
                or ()
            ):
                self._offer(number, replace(stack, kind=kind))
        for row in range(len(self.demands)):
            self._learn([VALUE_SCALE if place == row else 0 for place in range(len(self.demands))])

    def reprice(self, prices: NDArray[np.float64]) -> None:
        """Price columns like this from now on: a row for each class, a column for each list of prices."""
        self._prices = prices
        self._known.clear()

    def cheapest(self, wanted: Wanted) -> NDArray[np.float64]:
        """The least price of columns that may hold `wanted`, as far as the rules tell, by each list of prices."""
        known = self._known.get(wanted)
        if known is None:
            known = self._known[wanted] = (self._candidates(wanted) @ self._prices).min(axis=0)
        return known

    def choices(self, wanted: Wanted, most: int) -> list[Counts]:
        """Counts of columns that may hold `wanted`, the cheapest by the last list of prices first."""
        counts = self._candidates(wanted)
        order = np.argsort(counts @ self._prices[:, -1], kind="stable")
        return [tuple(pair) for pair in dict.fromkeys(map(tuple, counts[order].tolist()))][:most]

    def least(self, wanted: Wanted, prices: Sequence[int]) -> int | None:
        """What columns that hold `wanted` are priced at the least; None where that is not known.

        Counts of more than two heights are not gone through, so nothing is known of them.
        """
        if len(self.groups) > 2:
            return None
        return int((self._lawful(wanted) @ np.array(prices, np.int64)).min())

    def settle(self, wanted: Wanted) -> None:
        """Learn until the cheapest columns do hold `wanted`, if they may be divided."""
        while not self.holds(wanted, self.choices(wanted, 1)[0]):
            pass

    def holds(self, wanted: Wanted, counts: Counts) -> bool:
        """Whether columns in these counts hold `wanted` if they may be divided; learns where they do not."""
        if (wanted, counts) in self._enough:
            return True
        for row, count in enumerate(wanted):
            self._program.set_row(row, float(count))
        for place, count in enumerate(counts):
            self._program.set_row(len(wanted) + place, -INFINITY, float(count))
        while True:
            missing, duals, _ = self._program.solve()
            if missing < TOLERANCE:
                self._enough.add((wanted, counts))
                return True
            values = [max(0, int(dual * VALUE_SCALE)) for dual in duals[: len(wanted)]]
            worths, is_new = self._learn(values)
            if sum(w * n for w, n in zip(worths, counts, strict=True)) < sum(
                v * n for v, n in zip(values, wanted, strict=True)
            ):
                return False
            if not is_new:
                self.refuse(wanted, counts)
                return False

    def fill(
        self, wanted: Wanted, counts: Counts, seconds: float, stop: Callable[[], bool]
    ) -> list[tuple[int, Stack]] | None:
        """`wanted` in columns of these counts, with their class; None, and never again, where it does not come out."""
        stacks = list(self._stacks)
        row_of = {demand: row for row, demand in enumerate(self.demands)}
        columns: list[Column] = []
        for number, stack in stacks:
            takes = [(row_of[demand], float(count)) for demand, count in stack.takes]
            place = len(row_of) + self.groups.index(number)
            columns.append((0.0, [*(row for row, _ in takes), place], [*(count for _, count in takes), 1.0]))
        areas = self._master.task.areas
        columns += [(float(areas[demand]), [row], [1.0]) for demand, row in row_of.items()]
        answer = solve_whole(
            columns,
            [*(float(count) for count in wanted), *(-INFINITY for _ in counts)],
            [*(INFINITY for _ in wanted), *(float(count) for count in counts)],
            seconds=seconds,
            stop=stop,
        )
        if answer.values is None or any(answer.values[len(stacks) :]):
            self.refuse(wanted, counts)
            return None
        return [pair for pair, count in zip(stacks, answer.values, strict=False) for _ in range(count)]

    def refuse(self, wanted: Wanted, counts: Counts) -> None:
        """Leave these counts out from now on: whole columns do not hold `wanted`."""
        self._refused.setdefault(wanted, set()).add(counts)
        self._known.pop(wanted, None)

    def _height(self, number: int) -> int:
        return self._master.classes[number][1]

    def _candidates(self, wanted: Wanted) -> NDArray[np.int64]:
        """As `_lawful`, with one column more in place of counts that were refused."""
        counts = self._lawful(wanted)
        refused = self._refused.get(wanted)
        if refused:
            for row in counts:
                while tuple(row.tolist()) in refused:
                    row[-1] += 1
        return counts

    def _lawful(self, wanted: Wanted) -> NDArray[np.int64]:
        """Counts that keep every rule: columns of one height or of two, as few of the second as the first leave.

        Where that is not enough, columns of all heights are among them.
        """
        needs = self._values @ np.array(wanted, np.int64)
        alone = np.where(self._worths > 0, -(-needs[:, None] // np.maximum(self._worths, 1)), 0).max(axis=0)
        found: list[NDArray[np.int64]] = [alone[None, :]]
        size = len(self.groups)
        for first in range(size):
            for second in range(first + 1, size) if size > 1 else (first,):
                counts = np.zeros((int(alone[first]) + 1 if size > 1 else 1, size), np.int64)
                if size > 1:
                    counts[:, first] = np.arange(len(counts))
                rest = needs[:, None] - np.outer(self._worths[:, first], counts[:, first])
                worth = self._worths[:, second, None]
                short = np.where(worth > 0, -(-rest // np.maximum(worth, 1)), np.where(rest > 0, NEVER, 0))
                counts[:, second] = np.maximum(short.max(axis=0), 0)
                found.append(counts[counts[:, second] < NEVER])
        return np.concatenate(found)

    def _offer(self, number: int, stack: Stack) -> bool:
        if (number, stack) in self._stacks:
            return False
        self._stacks[number, stack] = None
        rows = [self.demands.index(demand) for demand, _ in stack.takes]
        self._program.add_column(
            (
                0.0,
                [*rows, len(self.demands) + self.groups.index(number)],
                [*(float(n) for _, n in stack.takes), 1.0],
            )
        )
        return True

    def _learn(self, values: Sequence[int]) -> tuple[list[int], bool]:
        """The rule of these values: what a column is worth at the most, by height; and whether it is a new column."""
        task = self._master.task
        everywhere = [0] * len(task.demand)
        for demand, value in zip(self.demands, values, strict=True):
            everywhere[demand] = value
        offer = self._source.offers(everywhere, task.demand)[0]
        worths: list[int] = []
        is_new = False
        for number in self.groups:
            height = self._height(number)
            worths.append(offer.value(height))
            stack = replace(offer.stack(height), kind=self.kind)
            if stack.elements:
                is_new = self._offer(number, stack) or is_new
        self._values = np.vstack([self._values, np.array(values, np.int64)])
        self._worths = np.vstack([self._worths, np.array(worths, np.int64)])
        self._known.clear()
        return worths, is_new
