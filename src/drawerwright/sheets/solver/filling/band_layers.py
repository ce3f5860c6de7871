"""The best bands above each other in a column that may be wider than they are long.

A band that is shorter than its column is wide gets one cut more, which trims it. So a column takes bands of all
families up to its width, and each band brings its sacrificial strips with it: strips in limited numbers with a set-up
for each family (a knapsack with set-ups: Chebil and Khemakhem, Comput. Oper. Res. 64, 2015, pp. 40-50).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from drawerwright.sheets.solver.columns import Sizing
from drawerwright.sheets.solver.filling.families import Family
from drawerwright.sheets.solver.filling.stacks import GivenUpError, never

CLOSED, SHORT, OPEN, ALONE, ALONE_SHORT, ALONE_OPEN = range(6)
"""What a column ends with: whole bands; a single strip that is too short to rout; a band long enough to. The last three
are a band by itself, before any strip, with a short one, and long enough: it is put upon others when it is whole."""
IMPOSSIBLE, IMPOSSIBLE_NARROW = -(1 << 60), -(1 << 30)
"""The value of what cannot be, in wide and in narrow numbers: below nought with all that a column can hold upon it."""

COARSE_STEPS = 3000
"""Steps into which columns are divided where good ones will do."""
LARGE = 5_000_000
"""Entries of these tables from which on coarse steps come first."""

Best = NDArray[np.int32] | NDArray[np.int64]


class _Step(NamedTuple):  # made by the thousand
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


def are_large(families: Sequence[Family], copies: Sequence[int], tallest: int) -> bool:
    """Whether exact tables take so long that good columns are first looked for in coarse steps."""
    passes = sum(copies[demand].bit_length() for family in families for demand in family.demands)
    return 2 * passes * tallest > LARGE


class BandLayers:
    """The best bands for every length of column, family by family from the shortest.

    Lengths count one kerf more than columns. A family has one band in a column, or as many as it takes where the
    router table carries none so long. In steps of `grain` ticks what lies in a column is measured upwards, and the
    column downwards: good bands, not the best.
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
        grain: int = 1,
    ) -> None:
        """`families` in the order of their lengths; `longest` is the longest band.

        Raises:
            GivenUpError: `give_up`, asked before each pass over the column, says so.
        """
        self._give_up = give_up
        self._sizing, self._grain = sizing, grain
        self._size = (tallest + sizing.kerf) // grain + 1
        self._overhead = self._steps_of(sizing.overhead)
        self._shortest = self._steps_of(sizing.shortest + sizing.kerf)
        self._room = (longest + sizing.kerf - sizing.overhead) // grain
        """What strips and their kerfs may take of the longest band."""
        self._risky = self._steps_of(max(0, tallest - longest))
        """Upon less than this a band may be longer than the router table carries."""
        self._values, self._at_most = values, at_most
        self._steps: list[_Step] = []
        is_narrow = self._most_worth(families) < -IMPOSSIBLE_NARROW
        self._type: type[np.int32 | np.int64] = np.int32 if is_narrow else np.int64
        self._impossible = IMPOSSIBLE_NARROW if is_narrow else IMPOSSIBLE
        self._tried = self._all(0)
        """What a move leads to: kept, since every one of them writes it anew."""
        self._best: dict[int, Best] = {CLOSED: self._all(0)}
        self._after: list[tuple[int, Best]] = [(0, self._best[CLOSED])]
        for family in families:
            wanted = [demand for demand in family.demands if values[demand] > 0 and at_most[demand]]
            if wanted:
                self._add(wanted)
            self._after.append((len(self._steps), self._best[CLOSED]))

    def _steps_of(self, size: int) -> int:
        """A size in steps, rounded up."""
        return -(-size // self._grain)

    def _most_worth(self, families: Sequence[Family]) -> int:
        """No column holds more than if all of it were worth as much as the best strip, by its height."""
        return max(
            (
                self._values[demand]
                * (self._size // max(self._steps_of(self._sizing.heights[demand] + self._sizing.kerf), 1) + 1)
                for family in families
                for demand in family.demands
            ),
            default=0,
        )

    def best(self, count: int) -> Best:
        """Values of columns that hold the first `count` families alone."""
        return self._after[count][1]

    def taken(self, count: int, capacity: int) -> list[dict[int, int]]:
        """Strips by demand of each family's bands in the best column of the first `count` families.

        `capacity` is counted in steps.
        """
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

    def _all(self, worth: int) -> Best:
        """One value for every length."""
        if self._type is np.int32:
            return np.full(self._size, worth, np.int32)
        return np.full(self._size, worth, np.int64)

    def _add(self, wanted: Sequence[int]) -> None:
        """The bands of one family upon those of the families before it."""
        sizing = self._sizing
        kerf, heights = sizing.kerf, sizing.heights
        short = [d for d in wanted if heights[d] + kerf < sizing.shortest + kerf - sizing.overhead]
        before = self._best[CLOSED]
        all_of_it = sum(self._steps_of(heights[demand] + kerf) * self._at_most[demand] for demand in wanted)
        is_risky = self._risky > 0 and all_of_it > self._room
        if is_risky:
            self._best[CLOSED] = before.copy()
            self._best[CLOSED][: self._risky] = self._impossible
        self._strips(wanted, short, CLOSED, SHORT, OPEN)
        self._best[CLOSED] = before.copy()
        if short:
            best = max(short, key=lambda demand: self._values[demand])
            self._move(CLOSED, CLOSED, best, 1, self._shortest)
        self._move(CLOSED, OPEN, None, 0, self._overhead)
        if is_risky:
            self._best[ALONE] = self._all(0)
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
            size, most = below + count * self._overhead, count * self._room
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
        self._best[one], self._best[more] = self._all(self._impossible), self._all(self._impossible)
        heights, kerf = self._sizing.heights, self._sizing.kerf
        alone, with_one = (more, none), (more, none, one)
        for demand in sorted(wanted, key=lambda demand: -heights[demand]):
            size = self._steps_of(heights[demand] + kerf)
            left, copies = min(self._at_most[demand], (self._size - 1) // size), 1
            is_short = demand in short
            while left > 0:
                if self._give_up():
                    raise GivenUpError
                copies = min(copies, left)
                left -= copies
                if not is_short:
                    sources: tuple[int, ...] = alone
                else:
                    sources = with_one if copies > 1 else (more, one)
                for source in sources:
                    self._move(more, source, demand, copies, copies * size)
                if is_short and copies == 1:
                    self._move(one, none, demand, 1, size)
                copies *= 2

    def _move(self, target: int, source: int, demand: int | None, copies: int, size: int) -> None:
        if size >= self._size:
            return
        present = self._best[target][size:]
        tried = self._tried[: self._size - size]
        worth = self._type(0 if demand is None else copies * self._values[demand])  # sooner added than an int
        np.add(self._best[source][: self._size - size], worth, out=tried)
        better = tried > present
        if better[better.argmax()]:
            self._steps.append(_Step(target, source, demand, copies, size, better))
            np.maximum(present, tried, out=present)
