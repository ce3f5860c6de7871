"""A dive: commit the columns that the programme is surest of, let others for the rest come in, and so on to the end.

Whole columns are committed, not whole sheets: which columns share a sheet stays open until all are known.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from drawerwright.sheets.assembly import sheets_from
from drawerwright.sheets.choice import choose
from drawerwright.sheets.columns import CutSheet, Stack
from drawerwright.sheets.master import Master
from drawerwright.sheets.outcome import Watch

WHOLE = 1 - 1e-6
"""From this value on a column counts as used once for certain."""
LIKELY = 0.75
"""Columns used this much are committed along with the likeliest one."""
AT_ONCE = 6
"""Columns that are not certain, committed in one step at the most."""
SETTLED_TOGETHER = 0.35
"""Share of the parts that may be left when the rest is settled by a whole-number programme."""
SETTLING_SECONDS = 0.6

Arrange = Callable[[Sequence[Stack], int | None], Sequence[CutSheet] | None]
"""Sheets for given columns, of use only up to a cost (None: any); None when there are none such."""


class Dive:
    """Dives into one programme; each one takes another way by chance."""

    def __init__(self, master: Master, watch: Watch, dice: random.Random, arrange: Arrange | None) -> None:
        """`arrange` puts columns together into sheets where a task has one kind of sheet only."""
        self.master, self.watch, self.dice, self.arrange = master, watch, dice, arrange
        self._holders: dict[int, list[tuple[int, int]]] = {}
        """Columns by demand number with the copies that each holds."""
        self._listed = 0

    def run(self, turn: int, known: int | None, bound: int) -> list[CutSheet] | None:
        """Sheets for the whole task; None when this way leads to none cheaper than `known`, or time is up.

        Args:
            turn: how many rounds of dives went before; the first takes the likeliest columns, later ones vary.
            known: cost that the sheets must stay below (None: any will do).
            bound: cost that they cannot stay below.
        """
        master, task = self.master, self.master.task
        left, stock = list(task.demand), list(task.limits)
        placed: Counter[tuple[int, int]] = Counter()
        stacks: list[tuple[int, Stack]] = []
        apart: list[CutSheet] = []
        blocked: set[int] = set()
        few = SETTLED_TOGETHER * sum(left)
        allowed = None if known is None else known - task.unit
        made: list[CutSheet] | None = None
        try:
            while not self.watch.is_over():
                if not any(left):
                    made = self._arranged(stacks, apart, placed, stock, allowed)
                    break
                master.want(left, stock, placed)
                master.generate(self.watch.deadline, cancelled=self.watch.cancelled, rounds=3, left=left)
                cost, _, values = master.program.solve()
                spent = sum(task.frames[sheet.frame].cost for sheet in apart)
                if allowed is not None and spent + cost * master.mean_cost > allowed + 1e-6 * task.unit:
                    break
                if sum(left) <= few and task.limits == tuple(stock):
                    few = 0.0
                    made = self._settled(left, stacks, placed, allowed, bound)
                    if made is not None:
                        break
                before = list(left)
                if not self._commit(values, turn, left, stock, placed, stacks, apart):
                    break
                self._block(before, left, blocked)
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
        apart: list[CutSheet],
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
                    apart.append(CutSheet(number, tuple(kept)))
                    size = task.frames[number].size
                    limit = stock[size]
                    stock[size] = None if limit is None else limit - 1
                else:
                    stacks.append((number, kept[0]))
                    placed[number, kept[0].kind] += 1
        return True

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
        placed: Counter[tuple[int, int]],
        allowed: int | None,
        bound: int,
    ) -> list[CutSheet] | None:
        """Sheets for the columns committed and, from the columns known, the best for the rest."""
        master = self.master
        answer = choose(
            master,
            seconds=min(SETTLING_SECONDS, self.watch.seconds / 2),
            stop=self.watch.cancelled,
            bound=bound,
            allowed=allowed,
            left=left,
            placed=placed,
        )
        if answer.values is None:
            return None
        return sheets_from(master, answer.values, stacks)

    def _arranged(
        self,
        stacks: Sequence[tuple[int, Stack]],
        apart: Sequence[CutSheet],
        placed: Counter[tuple[int, int]],
        stock: Sequence[int | None],
        allowed: int | None,
    ) -> list[CutSheet] | None:
        """All columns are known: the fewest sheets that hold them."""
        master, task = self.master, self.master.task
        if self.arrange is not None:
            found = self.arrange([stack for _, stack in stacks], allowed)
            return None if found is None else list(found)
        left = [0] * len(task.demand)
        master.want(left, stock, placed)
        master.generate(self.watch.deadline, cancelled=self.watch.cancelled, rounds=20, left=left)
        spent = sum(task.frames[sheet.frame].cost for sheet in apart)
        answer = choose(
            master,
            seconds=min(SETTLING_SECONDS, self.watch.seconds / 2),
            stop=self.watch.cancelled,
            bound=0,
            allowed=None if allowed is None else allowed - spent,
            left=left,
            placed=placed,
            stock=stock,
        )
        if answer.values is None:
            return None
        return [*apart, *sheets_from(master, answer.values, stacks)]
