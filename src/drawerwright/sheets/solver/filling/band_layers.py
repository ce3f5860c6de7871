"""The best bands above each other in a column that may be wider than they are long.

A band that is shorter than its column is wide gets one cut more, which trims it. So a column takes bands of all
families up to its width, and each band brings its sacrificial strips with it: strips in limited numbers with a set-up
for each family (a knapsack with set-ups: Chebil and Khemakhem, Comput. Oper. Res. 64, 2015, pp. 40-50).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drawerwright.sheets.solver.columns import Sizing
from drawerwright.sheets.solver.filling.families import Family
from drawerwright.sheets.solver.filling.stacks import GivenUpError, never

CLOSED, SHORT, OPEN, ALONE, ALONE_SHORT, ALONE_OPEN = range(6)
"""What a column ends with: whole bands; a single strip that is too short to rout; a band long enough to. The last three
are a band by itself, before any strip, with a short one, and long enough: it is put upon others when it is whole."""
IMPOSSIBLE = -(1 << 60)
"""The value of what cannot be."""

Best = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class _Step:
    """So many copies of a strip (None: none) lead from one state to another, `size` longer, where that is better.

    What is put upon others leaves them what is `below` it, and its strips take `most` at the most.
    """

    target: int
    source: int
    demand: int | None
    copies: int
    size: int
    better: NDArray[np.bool_]
    below: int = 0
    most: int | None = None


class BandLayers:
    """The best bands for every length of column, family by family from the shortest.

    Lengths count one kerf more than columns. A family has one band in a column, or as many as it takes where the
    router table carries none so long.
    """

    def __init__(
        self,
        families: Sequence[Family],
        sizing: Sizing,
        tallest: int,
        longest: int,
        values: Sequence[int],
        at_most: Sequence[int],
        give_up: Callable[[], bool] = never,
    ) -> None:
        """`families` in the order of their lengths; `longest` is the longest band.

        Raises:
            GivenUpError: `give_up`, asked before each pass over the column, says so.
        """
        self._give_up = give_up
        self._sizing, self._size = sizing, tallest + sizing.kerf + 1
        self._room = longest + sizing.kerf - sizing.overhead
        """What strips and their kerfs may take of the longest band."""
        self._risky = max(0, tallest - longest)
        """Upon less than this a band may be longer than the router table carries."""
        self._values, self._at_most = values, at_most
        self._steps: list[_Step] = []
        self._best: dict[int, Best] = {CLOSED: np.zeros(self._size, np.int64)}
        self._after: list[tuple[int, Best]] = [(0, self._best[CLOSED])]
        for family in families:
            wanted = [demand for demand in family.demands if values[demand] > 0 and at_most[demand]]
            if wanted:
                self._add(wanted)
            self._after.append((len(self._steps), self._best[CLOSED]))

    def best(self, count: int) -> Best:
        """Values of columns that hold the first `count` families alone."""
        return self._after[count][1]

    def taken(self, count: int, capacity: int) -> list[dict[int, int]]:
        """Strips by demand of each family's bands in the best column of the first `count` families."""
        bands: list[dict[int, int]] = []
        state, below = CLOSED, 0
        for step in reversed(self._steps[: self._after[count][0]]):
            if step.target != state or capacity < step.size or not step.better[capacity - step.size]:
                continue
            if state == CLOSED:
                bands.append({})
                below = step.below
            if step.demand is not None:
                bands[-1][step.demand] = bands[-1].get(step.demand, 0) + step.copies
            state, capacity = step.source, capacity - step.size
            if step.most is not None:
                capacity = min(capacity, step.most)
            if state == ALONE:
                state, capacity = CLOSED, below
        return bands

    def _nothing(self) -> Best:
        return np.full(self._size, IMPOSSIBLE, np.int64)

    def _add(self, wanted: Sequence[int]) -> None:
        """The bands of one family upon those of the families before it."""
        sizing = self._sizing
        kerf, heights = sizing.kerf, sizing.heights
        short = [d for d in wanted if heights[d] + kerf < sizing.shortest + kerf - sizing.overhead]
        before = self._best[CLOSED]
        all_of_it = sum((heights[demand] + kerf) * self._at_most[demand] for demand in wanted)
        is_risky = self._risky > 0 and all_of_it > self._room
        if is_risky:
            self._best[CLOSED] = before.copy()
            self._best[CLOSED][: self._risky] = IMPOSSIBLE
        self._strips(wanted, short, CLOSED, SHORT, OPEN)
        self._best[CLOSED] = before.copy()
        if short:
            best = max(short, key=lambda demand: self._values[demand])
            self._move(CLOSED, CLOSED, best, 1, sizing.shortest + kerf)
        self._move(CLOSED, OPEN, None, 0, sizing.overhead)
        if is_risky:
            self._best[ALONE] = np.zeros(self._size, np.int64)
            self._strips(wanted, short, ALONE, ALONE_SHORT, ALONE_OPEN)
            steps = np.flatnonzero(np.diff(before[: self._risky])) + 1
            for below in (0, *steps.tolist()):
                self._put_upon(before, below)

    def _put_upon(self, before: Best, below: int) -> None:
        """A band by itself put upon others that take `below`, in as many bands as the router table asks for."""
        closed = self._best[CLOSED]
        if self._give_up():
            raise GivenUpError
        for count in range(1, self._size // self._room + 2):
            size, most = below + count * self._sizing.overhead, count * self._room
            if size >= self._size:
                return
            tried = self._best[ALONE_OPEN][: self._size - size] + int(before[below])
            tried[most:] = tried[min(most, len(tried) - 1)]
            better = tried > closed[size:]
            if better.any():
                np.maximum(closed[size:], tried, out=closed[size:])
                self._steps.append(_Step(CLOSED, ALONE_OPEN, None, 0, size, better, below, most))

    def _strips(self, wanted: Sequence[int], short: Sequence[int], none: int, one: int, more: int) -> None:
        """Strips of one family: from the state without any to that of one short strip, and to that of a band."""
        self._best[one], self._best[more] = self._nothing(), self._nothing()
        for demand in sorted(wanted, key=lambda demand: -self._sizing.heights[demand]):
            size, left, copies = self._sizing.heights[demand] + self._sizing.kerf, self._at_most[demand], 1
            while left > 0:
                copies = min(copies, left)
                left -= copies
                sources = [more, none] if copies > 1 or demand not in short else [more]
                for source in (*sources, one) if demand in short else sources:
                    self._move(more, source, demand, copies, copies * size)
                if demand in short and copies == 1:
                    self._move(one, none, demand, 1, size)
                copies *= 2

    def _move(self, target: int, source: int, demand: int | None, copies: int, size: int) -> None:
        if size >= self._size:
            return
        if self._give_up():
            raise GivenUpError
        worth = copies * self._values[demand] if demand is not None else 0
        tried = self._best[source][: self._size - size] + worth
        better = tried > self._best[target][size:]
        if better.any():
            self._steps.append(_Step(target, source, demand, copies, size, better))
            np.maximum(self._best[target][size:], tried, out=self._best[target][size:])
