"""How each offcut is cut, so that what is left comes out in whole columns.

Simulated annealing (Kirkpatrick, Gelatt, Vecchi, Science 220, 1983): one offcut at a time is cut another way, and
what counts is what the columns for all that is left take of the sheets.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drawerwright.sheets.solver.columns import FilledSheet
from drawerwright.sheets.solver.mix.column_counts import ColumnCounts, Wanted
from drawerwright.sheets.solver.mix.offcut_ways import Way

WARM, COLD = 0.02, 0.0003
"""Share of a mean sheet that a step may cost and still be taken now and then, at the beginning and at the end."""
LOOK_EVERY, SETTLE_EVERY = 64, 2_048
"""Steps between two looks at the clock, and between two checks that what is left does come out."""


@dataclass(frozen=True, slots=True)
class Rest:
    """An offcut: its frame number, and the ways to cut it."""

    frame: int
    ways: tuple[Way, ...]


class OffcutChoice:
    """One way for each offcut, made better step by step."""

    def __init__(
        self,
        rests: Sequence[Rest],
        widths: Sequence[ColumnCounts],
        demand: Sequence[int],
        dice: random.Random,
    ) -> None:
        self._rests, self._widths, self._dice = rests, widths, dice
        place_of = {
            demand: (number, place)
            for number, width in enumerate(widths)
            for place, demand in enumerate(width.demands)
        }
        self._takes = [[_takes(way, place_of) for way in rest.ways] for rest in rests]
        self._left = [[demand[part] for part in width.demands] for width in widths]
        self._way = [0] * len(rests)
        self._off = self._prices = np.zeros(1)
        """What the columns for all that is left take of the sheets, by each list of prices."""
        for takes in self._takes:
            self._put(takes[0], -1)

    def left(self, number: int) -> Wanted:
        """What is left of each part of width `number`."""
        return tuple([count if count > 0 else 0 for count in self._left[number]])

    def sheets(self) -> list[FilledSheet]:
        """The offcuts as they are cut now."""
        return [
            FilledSheet(rest.frame, rest.ways[way])
            for rest, way in zip(self._rests, self._way, strict=True)
            if rest.ways[way]
        ]

    def reprice(self, off: NDArray[np.float64]) -> None:
        """The widths price columns anew; `off` is what sheets on hand take off the total, by each list of prices."""
        self._off = off
        self._price_all()

    def improve(self, steps: int, warm: float, is_over: Callable[[], bool]) -> None:
        """Cut offcuts anew so many times, beginning at the heat `warm`."""
        free = [number for number, takes in enumerate(self._takes) if len(takes) > 1]
        for step in range(steps if free else 0):
            if step % LOOK_EVERY == 0 and is_over():
                break
            if step % SETTLE_EVERY == 0:
                self._settle()
            self._step(self._dice.choice(free), warm * (COLD / warm) ** (step / steps))
        self._settle()

    def _settle(self) -> None:
        for number, width in enumerate(self._widths):
            width.settle(self.left(number))
        self._price_all()

    def _price_all(self) -> None:
        self._prices = self._off + np.sum(
            [width.cheapest(self.left(number)) for number, width in enumerate(self._widths)], axis=0
        )

    def _step(self, rest: int, heat: float) -> None:
        takes, dice = self._takes[rest], self._dice
        way = int(dice.random() ** 2 * len(takes))
        old, new = takes[self._way[rest]], takes[way]
        if way == self._way[rest]:
            return
        concerned = [number for number in {**old, **new} if old.get(number) != new.get(number)]
        prices = self._prices.copy()
        for number in concerned:
            prices -= self._widths[number].cheapest(self.left(number))
        self._put(old, 1)
        self._put(new, -1)
        for number in concerned:
            prices += self._widths[number].cheapest(self.left(number))
        more = float(prices.max() - self._prices.max())
        if more <= 0 or dice.random() < math.exp(-more / heat):
            self._way[rest], self._prices = way, prices
        else:
            self._put(new, 1)
            self._put(old, -1)

    def _put(self, takes: dict[int, tuple[tuple[int, int], ...]], sign: int) -> None:
        for number, parts in takes.items():
            left = self._left[number]
            for place, count in parts:
                left[place] += sign * count


def _takes(way: Way, place_of: dict[int, tuple[int, int]]) -> dict[int, tuple[tuple[int, int], ...]]:
    """What a way holds, by the number of the width: (place of the part in it, count)."""
    total: dict[int, dict[int, int]] = {}
    for stack in way:
        for demand, count in stack.takes:
            number, place = place_of[demand]
            parts = total.setdefault(number, {})
            parts[place] = parts.get(place, 0) + count
    return {number: tuple(sorted(parts.items())) for number, parts in total.items()}
