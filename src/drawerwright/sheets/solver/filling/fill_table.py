"""Filling one length from pieces of limited number, on whole numbers.

The whole job rests on this table: best value of every capacity at once, exact, with the way back to the pieces.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from drawerwright.sheets.solver.clock import now

Values = NDArray[np.int32] | NDArray[np.int64]
NARROW = 2**31 - 1
"""Values up to this are kept in half the space, which more than halves the time."""


class FillTable:
    """Best total value of pieces whose sizes add up to at most c, for every c from 0 to `capacity`.

    Pieces are offered one kind at a time; `best` may be read in between. A table may begin from
    another one's `best`, whose own way back its owner keeps.
    """

    def __init__(self, capacity: int, base: Values | None = None) -> None:
        self.capacity = capacity
        self._best: Values = np.zeros(capacity + 1, np.int32) if base is None else base.copy()
        self._is_shared = False
        self._steps: list[tuple[int, int, int, NDArray[np.bool_]]] = []

    @property
    def best(self) -> Values:
        """Best value by capacity, as of now: what is offered later does not change it."""
        self._is_shared = True
        return self._best

    def at(self, capacities: NDArray[np.int64]) -> NDArray[np.int64]:
        """Best values of some capacities, as of now."""
        return self._best[capacities].astype(np.int64)

    @property
    def mark(self) -> int:
        """The present state, to be handed to `taken`."""
        return len(self._steps)

    def offer(self, piece: int, size: int, value: int, at_most: int) -> None:
        """Allow up to `at_most` copies of `piece`."""
        if value <= 0 or size > self.capacity:
            return
        left = min(at_most, self.capacity // size) if size else 0
        if self._best.dtype == np.int32 and int(self._best[-1]) + left * value > NARROW:
            self._best, self._is_shared = self._best.astype(np.int64), False
        copies = 1
        while left > 0:
            copies = min(copies, left)
            left -= copies
            width = copies * size
            if width > self.capacity:
                break
            tried = self._best[: self.capacity + 1 - width] + copies * value
            better = tried > self._best[width:]
            if better[better.argmax()]:  # sooner known than any() tells
                self._steps.append((piece, copies, width, better))
                if self._is_shared:
                    self._best, self._is_shared = self._best.copy(), False
                np.maximum(self._best[width:], tried, out=self._best[width:])
            copies *= 2

    def taken(self, capacity: int, mark: int | None = None) -> tuple[dict[int, int], int]:
        """Copies of each piece in the best filling of `capacity`, and what of the capacity is left for the base."""
        counts: dict[int, int] = {}
        for piece, copies, width, better in reversed(self._steps[:mark]):
            if capacity >= width and better[capacity - width]:
                counts[piece] = counts.get(piece, 0) + copies
                capacity -= width
        return counts, capacity


def best_fill(
    sizes: Sequence[int], values: Sequence[int], at_most: Sequence[int], capacity: int
) -> tuple[int, dict[int, int]]:
    """Best value and copies of each piece within `capacity`.

    >>> best_fill([5, 4], [10, 7], [1, 3], 13)
    (24, {0: 1, 1: 2})
    """
    table = FillTable(capacity)
    for piece, (size, value, limit) in enumerate(zip(sizes, values, at_most, strict=True)):
        table.offer(piece, size, value, limit)
    return int(table.best[capacity]), dict(sorted(table.taken(capacity)[0].items()))


def parted(
    filling: dict[int, int], sizes: Sequence[int], count: int
) -> tuple[dict[int, int], dict[int, int]]:
    """A filling parted into a share as long as the `count`th part of it, as far as possible, and the rest."""
    total = sum(sizes[piece] * copies for piece, copies in filling.items())
    pieces = list(filling)
    lengths = [sizes[piece] for piece in pieces]
    _, taken = best_fill(lengths, lengths, [filling[piece] for piece in pieces], total // count)
    first = {pieces[place]: copies for place, copies in taken.items()}
    return first, {
        piece: copies - first.get(piece, 0)
        for piece, copies in filling.items()
        if copies > first.get(piece, 0)
    }


def all_fillings(
    sizes: Sequence[int],
    values: Sequence[int],
    at_most: Sequence[int],
    capacity: int,
    *,
    floor: int,
    most: int,
    deadline: float = math.inf,
) -> list[dict[int, int]] | None:
    """Every filling worth at least `floor` to which no further piece can be added.

    None beyond `most` of them, or at the `deadline` (a reading of `clock.now`).

    >>> all_fillings([5, 4], [10, 7], [2, 3], 13, floor=20, most=10)
    [{0: 2}, {0: 1, 1: 2}, {1: 3}]
    """
    order = sorted(range(len(sizes)), key=lambda piece: -sizes[piece])
    table = FillTable(capacity)
    rest = [table.best]
    for piece in reversed(order):
        table.offer(piece, sizes[piece], values[piece], at_most[piece])
        rest.append(table.best)
    rest.reverse()
    found: list[dict[int, int]] = []
    tries = 60 * most
    counts: list[int] = [0] * len(sizes)

    def fits_more(room: int) -> bool:
        return any(size <= room and counts[piece] < at_most[piece] for piece, size in enumerate(sizes))

    def extend(place: int, room: int, worth: int) -> bool:
        nonlocal tries
        tries -= 1
        if tries < 0 or len(found) > most or (tries % 1024 == 0 and now() > deadline):
            return False
        if worth + int(rest[place][room]) < floor:
            return True
        if place == len(order):
            if not fits_more(room):
                found.append({piece: count for piece, count in enumerate(counts) if count})
            return True
        piece = order[place]
        for count in range(min(at_most[piece], room // sizes[piece]), -1, -1):
            counts[piece] = count
            if not extend(place + 1, room - count * sizes[piece], worth + count * values[piece]):
                return False
        counts[piece] = 0
        return True

    return found if extend(0, capacity, 0) and len(found) <= most else None
