"""The best bands above each other in a column that may be wider than they are long.

A band that is shorter than its column is wide gets one cut more, which trims it. So a column takes bands of all
families up to its width, and each band brings its sacrificial strips with it: strips in limited numbers with a set-up
for each family (a knapsack with set-ups: Chebil and Khemakhem, Comput. Oper. Res. 64, 2015, pp. 40-50).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from drawerwright.sheets.solver.columns import Sizing
from drawerwright.sheets.solver.filling.families import Family

CLOSED, ONE_SHORT, OPEN = 0, 1, 2
"""What a column ends with: whole bands; a single strip that is too short to rout; a band long enough to."""
IMPOSSIBLE = -(1 << 60)
"""The value of what cannot be."""

Best = NDArray[np.int64]


class BandLayers:
    """The best bands for every length of column, family by family from the shortest, each family in one band.

    Lengths count one kerf more than columns. How long a band the router table takes is not looked after here: that
    makes values too high at the worst.
    """

    def __init__(
        self,
        families: Sequence[Family],
        sizing: Sizing,
        tallest: int,
        values: Sequence[int],
        at_most: Sequence[int],
    ) -> None:
        """`families` in the order of their lengths."""
        self._sizing, self._size = sizing, tallest + sizing.kerf + 1
        self._steps: list[tuple[int, int, int | None, int, int, NDArray[np.bool_]]] = []
        self._best: list[Best] = [np.zeros(self._size, np.int64), self._nothing(), self._nothing()]
        self._after: list[tuple[int, Best]] = [(0, self._best[CLOSED])]
        for family in families:
            wanted = [demand for demand in family.demands if values[demand] > 0 and at_most[demand]]
            if wanted:
                self._add(wanted, values, at_most)
            self._after.append((len(self._steps), self._best[CLOSED]))

    def best(self, count: int) -> Best:
        """Values of columns that hold the first `count` families alone."""
        return self._after[count][1]

    def taken(self, count: int, capacity: int) -> list[dict[int, int]]:
        """Strips by demand of each band in the best column of the first `count` families."""
        bands: list[dict[int, int]] = []
        state = CLOSED
        for target, source, demand, copies, size, better in reversed(self._steps[: self._after[count][0]]):
            if target != state or capacity < size or not better[capacity - size]:
                continue
            if state == CLOSED:
                bands.append({})
            if demand is not None:
                bands[-1][demand] = bands[-1].get(demand, 0) + copies
            state, capacity = source, capacity - size
        return bands

    def _nothing(self) -> Best:
        return np.full(self._size, IMPOSSIBLE, np.int64)

    def _add(self, wanted: Sequence[int], values: Sequence[int], at_most: Sequence[int]) -> None:
        sizing = self._sizing
        kerf, heights = sizing.kerf, sizing.heights
        room = sizing.shortest + kerf - sizing.overhead
        self._best[ONE_SHORT], self._best[OPEN] = self._nothing(), self._nothing()
        short = [demand for demand in wanted if heights[demand] + kerf < room]
        for demand in sorted(wanted, key=lambda demand: -heights[demand]):
            size, left, copies = heights[demand] + kerf, at_most[demand], 1
            while left > 0:
                copies = min(copies, left)
                left -= copies
                sources = [OPEN, CLOSED] if copies > 1 or demand not in short else [OPEN]
                for source in (*sources, ONE_SHORT) if demand in short else sources:
                    self._move(OPEN, source, demand, copies, copies * size, copies * values[demand])
                if demand in short and copies == 1:
                    self._move(ONE_SHORT, CLOSED, demand, 1, size, values[demand])
                copies *= 2
        self._best[CLOSED] = self._best[CLOSED].copy()
        if short:
            best = max(short, key=lambda demand: values[demand])
            self._move(CLOSED, CLOSED, best, 1, sizing.shortest + kerf, values[best])
        self._move(CLOSED, OPEN, None, 0, sizing.overhead, 0)

    def _move(self, target: int, source: int, demand: int | None, copies: int, size: int, value: int) -> None:
        if size >= self._size:
            return
        tried = self._best[source][: self._size - size] + value
        better = tried > self._best[target][size:]
        if better.any():
            self._steps.append((target, source, demand, copies, size, better))
            np.maximum(self._best[target][size:], tried, out=self._best[target][size:])
