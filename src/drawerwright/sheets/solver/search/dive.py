"""A dive: commit the columns that the programme is surest of, let others for the rest come in, and so on to the end.

Whole columns are committed, not whole sheets: which columns share a sheet stays open until all are known.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from drawerwright.sheets.solver.columns import FilledSheet, Stack
from drawerwright.sheets.solver.outcome import Watch
from drawerwright.sheets.solver.programme.highs import NothingFitsError
from drawerwright.sheets.solver.programme.master import Master
from drawerwright.sheets.solver.programme.whole_choice import choose
from drawerwright.sheets.solver.programme.whole_sheets import sheets_from

WHOLE = 1 - 1e-6
"""From this value on a column counts as used once for certain."""
LIKELY = 0.75
"""Columns used this much are committed along with the likeliest one."""
MANY_SHEETS = 16
"""From this number of sheets on, those that the programme uses once or more are committed as they are."""
SURE = 0.6
"""A column that the programme uses less often than this is not committed along with a whole sheet."""
GIVEN_BACK = 10
"""Whole sheets left open again at the most, so that one dive differs from another."""
AT_ONCE = 6
"""Columns that are not certain, committed in one step at the most."""
SETTLED_TOGETHER = 0.35
"""Share of the parts that may be left when the rest is settled by a whole-number programme."""
SETTLING_SECONDS = 0.4

Arrange = Callable[[Sequence[Stack], int | None], Sequence[FilledSheet] | None]
"""Sheets for given columns, of use only up to a cost (None: any); None when there are none such."""


class Dive:
    """Dives into one programme; each one takes another way by chance."""

    def __init__(self, master: Master, watch: Watch, dice: random.Random, arrange: Arrange | None) -> None:
        """`arrange` puts columns together into sheets where a task has one kind of sheet only."""
        self.master, self.watch, self.dice, self.arrange = master, watch, dice, arrange
        self._holders: dict[int, list[tuple[int, int]]] = {}
        """Columns by demand number with the copies that each holds."""
        self._listed = 0

    def run(
        self, turn: int, known: int | None, bound: int, *, settle: bool = True
    ) -> list[FilledSheet] | None:
        """Sheets for the whole task; None when this way leads to none cheaper than `known`, or time is up.

        Args:
            turn: how many rounds of dives went before; the first takes the likeliest columns, later ones vary.
            known: cost that the sheets must stay below (None: any will do).
            bound: cost that they cannot stay below.
            settle: commit whole sheets first where there are many, and settle the last parts by a whole-number
                programme; without it every part goes into columns that are arranged at the end.
        """
        master, task = self.master, self.master.task
        left, stock = list(task.demand), list(task.limits)
        placed: Counter[tuple[int, int]] = Counter()
        stacks: list[tuple[int, Stack]] = []
        whole: list[FilledSheet] = []
        blocked: set[int] = set()
        few: float | None = None
        allowed = None if known is None else known - task.unit
        made: list[FilledSheet] | None = None
        try:
            while not self.watch.is_over():
                if not any(left):
                    made = self._arranged(stacks, whole, placed, stock, allowed)
                    break
                master.want(left, stock, placed)
                master.generate(self.watch.deadline, cancelled=self.watch.cancelled, rounds=3, left=left)
                cost, _, values = master.program.solve()
                spent = sum(task.frames[sheet.frame].cost for sheet in whole)
                if allowed is not None and spent + cost * master.mean_cost > allowed + 1e-6 * task.unit:
                    break
                before = list(left)
                if few is None:
                    many = settle and cost >= MANY_SHEETS
                    sheets = self._full_sheets(values, left, stock) if many else []
                    if turn and not whole:
                        self._give_back(sheets, left, stock)
                    if sheets:
                        whole += sheets
                        self._block(before, left, blocked)
                        continue
                    few = SETTLED_TOGETHER * sum(left)
                if settle and sum(left) <= few:
                    few = -1.0
                    made = self._settled(left, stacks, whole, placed, stock, allowed, bound)
                    if made is not None:
                        break
                if not self._commit(values, turn, left, stock, placed, stacks, whole):
                    break
                self._block(before, left, blocked)
        except NothingFitsError:
            # The columns taken so far do not go onto the sheets that are left: this way leads nowhere.
            return None
        finally:
            for column in blocked:
                master.program.allow(column, True)
            master.want(task.demand, task.limits)
        return made

    def _commit(
        self,
        values: NDArray[np.float64],
        turn: int,
        left: list[int],
        stock: list[int | None],
        placed: Counter[tuple[int, int]],
        stacks: list[tuple[int, Stack]],
        whole: list[FilledSheet],
    ) -> bool:
        """Take the columns that the programme's `values` speak for; False when there are none."""
        master, task, dice = self.master, self.master.task, self.dice
        ranked = [
            (float(values[column]) * (dice.uniform(0.8, 1) if turn else 1), column)
            for column in np.flatnonzero(values > 1e-6).tolist()
            if master.meanings[column][0] in ("stack", "whole")
        ]
        if not ranked:
            return False
        ranked.sort(key=lambda pair: (-pair[0], pair[1]))
        sure = [column for _, column in ranked if values[column] >= WHOLE]
        if turn and len(sure) > 1:
            sure = [column for column in sure if dice.random() < 0.85] or sure[:1]
        chosen = sure or [ranked[0][1], *(column for worth, column in ranked[1:AT_ONCE] if worth > LIKELY)]
        for place, column in enumerate(chosen):
            what, number, content = master.meanings[column]
            held = (content,) if isinstance(content, Stack) else content
            assert isinstance(held, tuple)
            for _ in range(max(1, int(values[column] + 1e-6))):
                takes: Counter[int] = Counter()
                for stack in held:
                    takes.update(dict(stack.takes))
                surplus = Counter({d: n - left[d] for d, n in takes.items() if n > left[d]})
                if surplus and place:
                    break
                kept = [cut for stack in held if (cut := task.sizing.without(stack, surplus)) is not None]
                if not kept or (what == "whole" and stock[task.frames[number].size] == 0):
                    break
                for stack in kept:
                    for demand, count in stack.takes:
                        left[demand] -= count
                if what == "whole":
                    whole.append(FilledSheet(number, tuple(kept)))
                    _take_one(stock, task.frames[number].size)
                else:
                    stacks.append((number, kept[0]))
                    placed[number, kept[0].kind] += 1
        return True

    def _full_sheets(
        self, values: NDArray[np.float64], left: list[int], stock: list[int | None]
    ) -> list[FilledSheet]:
        """Sheets that the programme uses once or more, with the columns it is surest of; taken from `left`."""
        master, task = self.master, self.master.task
        ready: dict[tuple[int, int], dict[Stack, float]] = {}
        patterns: list[tuple[float, int]] = []
        for column in np.flatnonzero(values > 1e-6).tolist():
            what, number, content = master.meanings[column]
            if isinstance(content, Stack):
                ready.setdefault((number, content.kind), {})[content] = float(values[column])
            elif what == "pattern" and values[column] >= WHOLE:
                patterns.append((float(values[column]), column))
        sheets: list[FilledSheet] = []
        for value, column in sorted(patterns, key=lambda pair: (-pair[0], pair[1])):
            _, number, content = master.meanings[column]
            assert isinstance(content, tuple)
            frame = task.frames[number]
            group = master.class_of(frame)
            kinds = [kind for kind, count in content for _ in range(count)]
            for _ in range(int(value + 1e-6)):
                chosen = _surest(ready, [(group, kind) for kind in kinds])
                takes: Counter[int] = Counter()
                for stack in chosen:
                    takes.update(dict(stack.takes))
                full = len(chosen) == len(kinds) and stock[frame.size] != 0
                if not full or any(n > left[demand] for demand, n in takes.items()):
                    break
                for stack in chosen:
                    ready[group, stack.kind][stack] -= 1
                for demand, count in takes.items():
                    left[demand] -= count
                sheets.append(FilledSheet(number, tuple(chosen)))
                _take_one(stock, frame.size)
        return sheets

    def _give_back(self, sheets: list[FilledSheet], left: list[int], stock: list[int | None]) -> None:
        """Leave a few sheets open after all."""
        for _ in range(min(len(sheets), self.dice.randint(0, GIVEN_BACK))):
            sheet = sheets.pop(self.dice.randrange(len(sheets)))
            for stack in sheet.stacks:
                for demand, count in stack.takes:
                    left[demand] += count
            size = self.master.task.frames[sheet.frame].size
            limit = stock[size]
            stock[size] = None if limit is None else limit + 1

    def _block(self, before: Sequence[int], left: Sequence[int], blocked: set[int]) -> None:
        """Shut out columns that hold more of a part than is left."""
        master = self.master
        for column in range(self._listed, len(master.meanings)):
            what, _, content = master.meanings[column]
            if what == "stack":
                assert isinstance(content, Stack)
                for demand, count in content.takes:
                    self._holders.setdefault(demand, []).append((count, column))
        self._listed = len(master.meanings)
        for demand, (old, new) in enumerate(zip(before, left, strict=True)):
            if new < old:
                for count, column in self._holders.get(demand, ()):
                    if count > new and column not in blocked:
                        blocked.add(column)
                        master.program.allow(column, False)

    def _settled(
        self,
        left: Sequence[int],
        stacks: Sequence[tuple[int, Stack]],
        whole: Sequence[FilledSheet],
        placed: Counter[tuple[int, int]],
        stock: Sequence[int | None],
        allowed: int | None,
        bound: int,
    ) -> list[FilledSheet] | None:
        """Sheets for the columns committed and, from the columns known, the best for the rest."""
        master = self.master
        spent = sum(master.task.frames[sheet.frame].cost for sheet in whole)
        answer = choose(
            master,
            seconds=min(SETTLING_SECONDS, self.watch.seconds / 2),
            stop=self.watch.cancelled,
            bound=max(0, bound - spent),
            allowed=None if allowed is None else allowed - spent,
            left=left,
            placed=placed,
            stock=stock,
        )
        if answer.values is None:
            return None
        return [*whole, *sheets_from(master, answer.values, stacks)]

    def _arranged(
        self,
        stacks: Sequence[tuple[int, Stack]],
        whole: Sequence[FilledSheet],
        placed: Counter[tuple[int, int]],
        stock: Sequence[int | None],
        allowed: int | None,
    ) -> list[FilledSheet] | None:
        """All columns are known: the fewest sheets that hold them."""
        master, task = self.master, self.master.task
        if self.arrange is not None:
            spent = sum(task.frames[sheet.frame].cost for sheet in whole)
            found = self.arrange([stack for _, stack in stacks], None if allowed is None else allowed - spent)
            return None if found is None else [*whole, *found]
        left = [0] * len(task.demand)
        master.want(left, stock, placed)
        master.generate(self.watch.deadline, cancelled=self.watch.cancelled, rounds=20, left=left)
        return self._settled(left, stacks, whole, placed, stock, allowed, 0)


def _surest(
    ready: dict[tuple[int, int], dict[Stack, float]], places: Sequence[tuple[int, int]]
) -> list[Stack]:
    """A column for each place (class, kind) among those used once or nearly; fewer where there are none."""
    taken: Counter[tuple[tuple[int, int], Stack]] = Counter()
    chosen: list[Stack] = []
    for place in places:
        left = {stack: value - taken[place, stack] for stack, value in ready.get(place, {}).items()}
        best = max(left, key=left.__getitem__, default=None)
        if best is None or left[best] < SURE:
            break
        taken[place, best] += 1
        chosen.append(best)
    return chosen


def _take_one(stock: list[int | None], size: int) -> None:
    limit = stock[size]
    stock[size] = None if limit is None else limit - 1
