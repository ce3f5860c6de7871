"""Filling one length from pieces of limited number, on whole numbers.

The whole job rests on this table: best value of every capacity at once, exact, with the way back to the pieces.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.int64]


class FillTable:
    """Best total value of pieces whose sizes add up to at most c, for every c from 0 to `capacity`.

    Pieces are offered one kind at a time; `best` may be read in between (take a copy). A table may begin from
    another one's `best`, whose own way back its owner keeps.
    """

    def __init__(self, capacity: int, base: Values | None = None) -> None:
        self.capacity = capacity
        self.best: Values = np.zeros(capacity + 1, np.int64) if base is None else base.copy()
        self._steps: list[tuple[int, int, int, NDArray[np.bool_]]] = []

    @property
    def mark(self) -> int:
        """The present state, to be handed to `taken`."""
        return len(self._steps)

    def offer(self, piece: int, size: int, value: int, at_most: int) -> None:
        """Allow up to `at_most` copies of `piece`."""
        if value <= 0 or size > self.capacity:
            return
        left = min(at_most, self.capacity // size) if size else 0
        copies = 1
        while left > 0:
            copies = min(copies, left)
            left -= copies
            width = copies * size
            if width > self.capacity:
                break
            tried = self.best[: self.capacity + 1 - width] + copies * value
            better = tried > self.best[width:]
            if better.any():
                self._steps.append((piece, copies, width, better))
                best = self.best.copy()
                np.maximum(best[width:], tried, out=best[width:])
                self.best = best
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
