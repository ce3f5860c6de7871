"""How many columns of each height and width hold parts that share columns, and which parts go into which of them."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from drawerwright.sheets.solver.clock import now
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
DIVE_SHARE = 5.0
"""Time for one dive, as a multiple of that for a choice."""
SHAKEN = 0.06
"""Share by which the values of parts differ from their sizes from the second of these times on."""

Counts = tuple[int, ...]
"""Columns by group, in their order."""
Group = tuple[int, int]
"""Number of a class of sheets, and width of a column."""


@dataclass(frozen=True, slots=True)
class ColumnRule:
    """Under some values all the parts are worth `need`, and a column of each group no more than `worths`."""

    need: int
    worths: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Filling:
    """Columns with their class, and what of the parts they do not hold."""

    stacks: tuple[tuple[int, Stack], ...]
    missing: Counter[int]


class SharedColumns:
    """Parts of which some columns hold several, and the columns that hold them, by class of sheets and by width.

    Parts that fit columns of one width only share them with each other alone; where bands may be trimmed, all share
    all.

    Rules are learnt from counts of columns that are too few: parts get values under which those columns are worth less
    than the parts (the dual of filling columns that may be divided).
    """

    def __init__(
        self,
        task: Task,
        sources: Mapping[bool, tuple[int, StackSource]],
        classes: Sequence[SheetClass],
    ) -> None:
        """`sources` make these columns, by direction, each with the number of its first kind in the task."""
        self._task, self._sources, self._classes = task, dict(sources), classes
        self.demands = tuple(
            sorted({d for _, source in sources.values() for d in source.demands if task.demand[d]})
        )
        self._kinds = {
            (way, width): kind
            for way, (_, source) in sources.items()
            for kind, width in enumerate(source.widths)
        }
        ones = [1] * len(self.demands)
        offers = self._offers(ones, task.demand)
        self.groups: tuple[Group, ...] = tuple(
            (number, width)
            for number, group in enumerate(classes)
            if group.transposed in offers
            for kind, width in enumerate(self._sources[group.transposed][1].widths)
            if group.longest >= width and offers[group.transposed][kind].value(group.height)
        )
        """Numbers of the classes whose sheets take such columns, and their widths."""
        self.widths = tuple(sorted({width for _, width in self.groups}))
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
        if len(self.widths) != 1:
            return []
        tallest = max(self._classes[number].height for number, _ in self.groups)
        sizes = [self._task.areas[demand] // self.widths[0] for demand in self.demands]
        return [[int(size * (most + 1) > tallest) for size in sizes] for most in (1, 2, 3)]

    def holds(self, counts: Sequence[float], stop: Callable[[], bool]) -> bool:
        """Whether columns in these counts (as `groups`) hold all parts if they may be divided; learns where not.

        True where `stop` ends the search for a reason why they would not.
        """
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
            if not is_new or stop():
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
        for attempt in (self._dived, self._chosen):
            if best.missing and not stop():
                made_so = attempt(counts, seconds, stop)
                if made_so is not None and self._area(made_so.missing) < self._area(best.missing):
                    best = made_so
        if not stop():  # else it is asked again when there is more time
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
        up = -1 if turn % 2 else 1
        order = sorted(
            range(len(counts)),
            key=lambda place: (-self.groups[place][1], up * self._classes[self.groups[place][0]].height),
        )
        made: list[tuple[int, Stack]] = []
        for place in order:
            for _ in range(counts[place]):
                stack = self._best(place, self._offers(values, left))
                surplus = Counter({d: n - left[d] for d, n in stack.takes if n > left[d]})
                kept = self._task.sizing.without(stack, surplus) if stack.elements else None
                if kept is None:
                    break
                for demand, count in kept.takes:
                    left[demand] -= count
                made.append((self.groups[place][0], kept))
                self._offer(place, kept)
        return Filling(
            tuple(made), Counter({demand: left[demand] for demand in self.demands if left[demand]})
        )

    def _dived(self, counts: Counts, seconds: float, stop: Callable[[], bool]) -> Filling:
        """The columns that divided ones are surest of are taken one by one, and the rest is asked for again."""
        try:
            return self._dived_into(counts, now() + DIVE_SHARE * seconds, stop)
        finally:  # the programme is asked for all parts again, even if time was up in between
            for row, demand in enumerate(self.demands):
                self._program.set_row(row, float(self._task.demand[demand]))

    def _dived_into(self, counts: Counts, until: float, stop: Callable[[], bool]) -> Filling:
        left = list(self._task.demand)
        room = list(counts)
        made: list[tuple[int, Stack]] = []
        while any(room) and not stop() and now() < until:
            for row, demand in enumerate(self.demands):
                self._program.set_row(row, float(left[demand]))
            for place, count in enumerate(room):
                self._program.set_row(len(self.demands) + place, -INFINITY, float(count))
            _, duals, values = self._program.solve()
            self._price(duals, room, left)
            stacks = list(self._stacks)
            sure = values[len(self.demands) :]
            taken = 0
            for number in np.argsort(-sure, kind="stable")[: sum(room)].tolist():
                place, stack = stacks[number]
                copies = max(1, int(sure[number] + MISSING)) if not taken else int(sure[number] + MISSING)
                for _ in range(min(copies, room[place])):
                    surplus = Counter({d: n - left[d] for d, n in stack.takes if n > left[d]})
                    kept = self._task.sizing.without(stack, surplus)
                    if kept is None or (surplus and taken):
                        break
                    taken += 1
                    room[place] -= 1
                    made.append((self.groups[place][0], kept))
                    for demand, count in kept.takes:
                        left[demand] -= count
            if not taken:
                break
        return Filling(tuple(made), Counter({d: left[d] for d in self.demands if left[d]}))

    def _price(self, duals: NDArray[np.float64], room: Sequence[int], left: Sequence[int]) -> None:
        """Add the columns of what is left that are worth most."""
        offers = self._offers([max(0, int(dual * VALUE_SCALE)) for dual in duals[: len(self.demands)]], left)
        for place, count in enumerate(room):
            if count:
                self._offer(place, self._best(place, offers))

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
                    made.append((self.groups[place][0], kept))
                    left.subtract(dict(kept.takes))
        return Filling(tuple(made), +left)

    def _offers(self, values: Sequence[int], at_most: Sequence[int]) -> dict[bool, list[Offer]]:
        """The best columns by direction and kind, where `values` are of these parts in turn."""
        everywhere = [0] * len(self._task.demand)
        for demand, value in zip(self.demands, values, strict=True):
            everywhere[demand] = value
        return {way: source.offers(everywhere, at_most) for way, (_, source) in self._sources.items()}

    def _best(self, place: int, offers: Mapping[bool, Sequence[Offer]]) -> Stack:
        """The best column of a group."""
        number, width = self.groups[place]
        group = self._classes[number]
        kind = self._kinds[group.transposed, width]
        stack = offers[group.transposed][kind].stack(group.height)
        first = self._sources[group.transposed][0]
        return replace(stack, kind=first + kind) if first else stack

    def _offer(self, place: int, stack: Stack) -> bool:
        if not stack.elements or (place, stack) in self._stacks:
            return False
        self._stacks[place, stack] = None
        rows = [self.demands.index(demand) for demand, _ in stack.takes]
        counts = [float(count) for _, count in stack.takes]
        self._program.add_column((0.0, [*rows, len(self.demands) + place], [*counts, 1.0]))
        return True

    def know(self, number: int, stack: Stack) -> None:
        """Make a column of a class known."""
        if (number, stack.u) in self.groups:
            self._offer(self.groups.index((number, stack.u)), stack)

    def learn(self, values: Sequence[int]) -> dict[Group, int]:
        """What columns are worth under `values` of all the task's parts, which becomes a rule."""
        rule, _ = self._learn([values[demand] for demand in self.demands])
        return dict(zip(self.groups, rule.worths, strict=True))

    def _learn(self, values: Sequence[int]) -> tuple[ColumnRule, bool]:
        """The rule of these values, and whether a column is new that is worth most under them."""
        offers = self._offers(values, self._task.demand)
        worths: list[int] = []
        is_new = False
        for place, (number, width) in enumerate(self.groups):
            group = self._classes[number]
            offer = offers[group.transposed][self._kinds[group.transposed, width]]
            worths.append(offer.value(group.height))
            if worths[-1]:
                is_new = self._offer(place, self._best(place, offers)) or is_new
        need = sum(
            value * self._task.demand[demand] for demand, value in zip(self.demands, values, strict=True)
        )
        rule = ColumnRule(need, tuple(worths))
        if need and rule not in self.rules:
            self.rules.append(rule)
        return rule, is_new
