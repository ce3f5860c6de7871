"""A dive: commit the sheets that the programme uses most, let columns for the rest come in, and so on to the end."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from drawerwright.sheets.columns import CutSheet, Stack
from drawerwright.sheets.master import Master
from drawerwright.sheets.outcome import Watch
from drawerwright.sheets.task import Task

SURE = 0.6
"""A stack that the programme uses less often than this is not committed along with many others."""

Finish = Callable[[Task, int | None], Sequence[CutSheet] | None]
"""Sheets for a task of few sheets, of use only up to a cost (None: any); None when there are none such."""


class Dive:
    """Dives into one programme; each one takes another way by chance."""

    def __init__(self, master: Master, watch: Watch, dice: random.Random) -> None:
        self.master, self.watch, self.dice = master, watch, dice

    def run(self, turn: int, known: int | None, finish: Finish | None) -> list[CutSheet] | None:
        """Sheets for the whole task; None when it cannot become cheaper than `known` on this way, or time is up.

        Args:
            turn: how many rounds of dives went before; later ones commit more cautiously.
            known: cost of the best plan so far (None: there is none).
            finish: searches what is left as a task of its own when that is a few sheets.
        """
        master, task, dice = self.master, self.master.task, self.dice
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
            if known is not None and spent + rest > known - task.unit * (1 - 1e-6):
                break
            if rest <= few and finish is not None and made:
                small = replace(task, demand=tuple(left), limits=tuple(stock), least_columns={})
                last = finish(small, known - task.unit - spent if known is not None else None)
                if last is not None:
                    made += last
                    left = [0] * len(left)
                break
            batch = self._best_commit(values, left, stock, floors=not made, share=1.0 if turn == 0 else 0.7)
            if not batch:
                break
            made += batch
            spent += sum(task.frames[sheet.frame].cost for sheet in batch)
        master.want(task.demand, task.limits)
        return None if any(left) else made

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
        master, task = self.master, self.master.task
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
        master, task, dice = self.master, self.master.task, self.dice
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
