"""Columns of a plan made anew, some at a time, so that all together want less of the sheets.

Every kind of column has a worth: that of the best column of its kind, for the parts' values in the certificate of
the bound. A column falls short of its worth by what its own parts are worth less. What all columns fall short
adds to the bound, so columns are exchanged for others that fall short by less.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Sequence

from drawerwright.sheets.solver.columns import Stack
from drawerwright.sheets.solver.programme.highs import INFINITY, Column, solve_whole
from drawerwright.sheets.solver.programme.master import Master

TOGETHER = (4, 9)
"""Columns made anew at a time, from and to."""
MOST_COLUMNS = 400
"""Columns to choose from at a time; beyond, those that fall short the most are left out."""
LEAST_SHARE = 0.01
"""Columns are looked for that fall short by this share at least of what those before them fall short."""
LEAST_GAIN = 1e-5
"""Share by which columns made anew must want less, well above the solver's tolerance."""
STEP_SECONDS = 0.1
WIDTH_SHARE = 0.6
"""How much the width of a column counts, against its worth."""


class Refining:
    """Makes columns of one class anew."""

    def __init__(self, master: Master, dice: random.Random) -> None:
        """`master` has a certificate and one frame."""
        assert master.certificate is not None
        self._master, self._dice = master, dice
        self._frame = master.task.frames[0]
        self._source = master.task.sources[self._frame.transposed]
        self._values = master.certificate.values
        offers = self._source.offers(self._values, master.task.demand)
        self._worth = {offer.kind: offer.value(self._frame.width) for offer in offers}
        self._sheet = 1 / float(master.certificate.scale) * self._frame.cost

    def total(self, stacks: Sequence[Stack]) -> float:
        """What columns want of the sheets, in sheets."""
        return sum(self._cost(stack) for stack in stacks)

    def _cost(self, stack: Stack) -> float:
        by_worth = self._worth[stack.kind] / self._sheet
        return (1 - WIDTH_SHARE) * by_worth + WIDTH_SHARE * stack.u / self._frame.length

    def _shortfall(self, stack: Stack) -> int:
        return self._worth[stack.kind] - sum(self._values[demand] * count for demand, count in stack.takes)

    def step(self, stacks: Sequence[Stack], seconds: float, stop: Callable[[], bool]) -> list[Stack] | None:
        """`stacks` with some of them made anew and better; None when none were found."""
        dice = self._dice
        short = [self._shortfall(stack) for stack in stacks]
        most = max(short) or 1
        keys = [dice.random() ** (1 / (0.1 + value / most)) for value in short]
        order = sorted(range(len(stacks)), key=keys.__getitem__, reverse=True)
        chosen = set(order[: dice.randint(*TOGETHER)])
        freed = [stack for place, stack in enumerate(stacks) if place in chosen]
        kept = [stack for place, stack in enumerate(stacks) if place not in chosen]
        wanted: Counter[int] = Counter()
        for stack in freed:
            wanted.update(dict(stack.takes))
        columns = self._columns(wanted, sum(short[place] for place in chosen))
        if not columns:
            return None
        rows = {demand: row for row, demand in enumerate(sorted(wanted))}
        scale = self.total(freed)
        programme: list[Column] = [
            (
                self._cost(stack) / scale,
                [*(rows[demand] for demand, _ in stack.takes), len(rows)],
                [*(float(count) for _, count in stack.takes), self._cost(stack) / scale],
            )
            for stack in columns
        ]
        lower = [*(float(wanted[demand]) for demand in rows), -INFINITY]
        upper = [*([INFINITY] * len(rows)), 1 - LEAST_GAIN]
        answer = solve_whole(programme, lower, upper, seconds=min(seconds, STEP_SECONDS), stop=stop)
        if answer.values is None:
            return None
        made = [stack for stack, count in zip(columns, answer.values, strict=True) for _ in range(count)]
        return [*kept, *self._trimmed(made, wanted)]

    def _columns(self, wanted: Counter[int], room: int) -> list[Stack]:
        """Columns from `wanted` parts that fall short by `room` at the most, those by least if they are many."""
        at_most = [wanted[demand] for demand in range(len(self._values))]
        share = 1.0
        while share > LEAST_SHARE:
            found = self._listed(at_most, int(room * share))
            if found is not None:
                return found
            share *= 0.6
        return []

    def _listed(self, at_most: Sequence[int], room: int) -> list[Stack] | None:
        found: list[Stack] = []
        for kind, worth in self._worth.items():
            if worth:
                listed = self._source.listing(
                    kind, self._frame.width, self._values, at_most, worth - room, MOST_COLUMNS - len(found)
                )
                if listed is None:
                    return None
                found += listed
        return found

    def _trimmed(self, stacks: Sequence[Stack], wanted: Counter[int]) -> list[Stack]:
        surplus: Counter[int] = Counter()
        for stack in stacks:
            surplus.update(dict(stack.takes))
        surplus.subtract(wanted)
        left = [self._master.task.sizing.without(stack, surplus) for stack in stacks]
        return [stack for stack in left if stack is not None]
