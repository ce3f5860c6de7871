"""Which numbers of sheets of each size cannot hold all that is wanted, and the bound that follows.

Sheets are bought whole, so a cost is only reached by certain numbers of each size. For each of them, the cheapest
first, values of the parts are looked for by which all that is wanted is worth more than the sheets can hold, counted
in whole numbers (Farkas' lemma). The first numbers without such a proof give the bound.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from drawerwright.sheets.solver.programme.master import Master
from drawerwright.sheets.solver.programme.pricing import Certificate
from drawerwright.sheets.solver.task import Task

MOST_NUMBERS = 400
"""Numbers of sheets looked at; beyond, costs lie too close for this to be worth while."""
MOST_TRIED = 20_000
"""Numbers of all sizes but one that are gone through."""
MOST_STEPS = 60
"""Times that values are looked for, for one choice of numbers."""


class NumberProofs:
    """Proofs for a task, one holding for many numbers of sheets."""

    def __init__(self, task: Task, known: Master | None = None) -> None:
        """`known` has columns to begin with."""
        self._task = task
        self.sizes = sorted({frame.size for frame in task.frames if frame.cost})
        """Numbers of the sizes that are bought."""
        self._costs = [max(frame.cost for frame in task.frames if frame.size == size) for size in self.sizes]
        self._proofs: list[Certificate] = []
        if known is not None and known.certificate is not None:
            self._proofs.append(known.certificate)
        self._master: Master | None = None
        self._known = known

    def least_cost(self, bound: int, cost: int, is_over: Callable[[], bool]) -> int:
        """A cost that no sheets undercut, from `bound` to `cost`."""
        ranked = self._numbers(bound, cost)
        for total, numbers in ranked or ():
            if not self.rules_out(numbers, is_over):
                return total
        return bound if ranked is None else cost

    def _numbers(self, bound: int, cost: int) -> list[tuple[int, tuple[int, ...]]] | None:
        """Numbers of sheets of each size that cost from `bound` to less than `cost`, by cost; None if too many."""
        *others, (last, each) = zip(self.sizes, self._costs, strict=True)
        found: list[tuple[int, tuple[int, ...]]] = []
        ranges = [range(self._most(size, cost, price) + 1) for size, price in others]
        if math.prod(len(one) for one in ranges) > MOST_TRIED:
            return None
        for numbers in itertools.product(*ranges):
            spent = sum(count * price for count, (_, price) in zip(numbers, others, strict=True))
            if spent < cost:
                least = max(0, -(-(bound - spent) // each))
                for count in range(least, self._most(last, cost - spent, each) + 1):
                    found.append((spent + count * each, (*numbers, count)))
                    if len(found) > MOST_NUMBERS:
                        return None
        return sorted(found)

    def _most(self, size: int, cost: int, each: int) -> int:
        """The most sheets of a size that cost less than `cost`."""
        limit = self._task.limits[size]
        most = (cost - 1) // each
        return most if limit is None else min(most, limit)

    def rules_out(self, numbers: Sequence[int], is_over: Callable[[], bool]) -> bool:
        """Whether these numbers of sheets (in the order of `sizes`) provably cannot hold everything wanted."""
        used = [(size, count) for size, count in zip(self.sizes, numbers, strict=True) if count]
        if len(used) == 1 and used[0][1] < self._task.least_alone.get(used[0][0], 0):
            return True
        if any(self._proves(proof, numbers) for proof in self._proofs):
            return True
        master = self._limited()
        stock: list[int | None] = list(master.task.limits)
        for size, count in zip(self.sizes, numbers, strict=True):
            stock[size] = count
        master.want(self._task.demand, stock)
        for _ in range(MOST_STEPS):
            if is_over():
                return False
            proof, is_short, added = master.step()
            self._proofs.append(proof)
            if self._proves(proof, numbers):
                return True
            if not is_short or not added:
                return False
        return False

    def _limited(self) -> Master:
        """A programme in which the number of sheets of every size can be set."""
        if self._master is None:
            most = sum(self._task.demand)
            limits = tuple(most if limit is None else limit for limit in self._task.limits)
            self._master = Master(replace(self._task, limits=limits))
            if self._known is not None:
                for number, stack in self._known.pool.stacks:
                    self._master.add_stack(number, stack)
                for number, counts in self._known.pool.patterns:
                    self._master.add_pattern(number, counts)
                for number, stacks in self._known.pool.whole:
                    self._master.add_whole(number, stacks)
        return self._master

    def _proves(self, proof: Certificate, numbers: Sequence[int]) -> bool:
        """Whether all that is wanted is worth more than these sheets and all free ones can hold."""
        tops: dict[int, int] = {}
        for frame, top in zip(self._task.frames, proof.tops, strict=True):
            tops[frame.size] = max(tops.get(frame.size, 0), top)
        given = dict(zip(self.sizes, numbers, strict=True))
        held = 0
        for size, top in tops.items():
            count = given.get(size, self._task.limits[size])
            if count is None:
                return False
            held += count * top
        return proof.total > held
