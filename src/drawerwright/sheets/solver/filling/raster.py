"""Which sums of sizes matter where a length is filled: far fewer than its ticks.

What fits into a room depends only on the largest sum of sizes that is no longer than it, so that rooms between two
sums are one (the raster points of Terno, Lindemann and Scheithauer, Zuschnittprobleme und ihre praktische Lösung,
Harri Deutsch, 1987; from memory).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

Ticks = NDArray[np.int64]


def sums_of(sizes: Iterable[tuple[int, int | None]], capacity: int) -> Ticks:
    """Every sum of sizes up to `capacity`, 0 among them, rising; each size with how often it may be taken (None: any).

    >>> sums_of([(5, 1), (4, None)], 13).tolist()
    [0, 4, 5, 8, 9, 12, 13]
    """
    within = (1 << (capacity + 1)) - 1
    reached = 1  # bit s stands for the sum s
    for size, count in sizes:
        left = capacity // size if count is None else min(count, capacity // size)
        copies = 1
        while left > 0:
            copies = min(copies, left)
            reached |= (reached << (copies * size)) & within
            left -= copies
            copies *= 2
    bits = np.frombuffer(reached.to_bytes(capacity // 8 + 1, "little"), np.uint8)
    return np.flatnonzero(np.unpackbits(bits, bitorder="little"))


def down_to(sums: Ticks, rooms: Ticks) -> Ticks:
    """The largest of `sums` that is no longer than each room; -1 where a room is negative.

    >>> down_to(np.array([0, 4, 5]), np.array([7, 4, 3, -2])).tolist()
    [5, 4, 0, -1]
    """
    found: Ticks = np.where(rooms < 0, -1, sums[np.searchsorted(sums, rooms, "right") - 1])
    return found


class Raster:
    """The rooms that can be left in `capacity` when any number of `sizes` is taken from it.

    `rooms` rise to the whole; `after[n]` are the places among them of what is left when `sizes[n]` is taken from each,
    -1 where it does not fit.
    """

    def __init__(self, sizes: Sequence[int], capacity: int) -> None:
        sums = sums_of([(size, None) for size in sizes], capacity)
        each = np.array(sizes, np.int64)
        is_room = np.zeros(len(sums), bool)
        new = np.array([len(sums) - 1])
        while new.size:
            # There may be a turn for each small part in a long sheet: it looks at what is new alone.
            is_room[new] = True
            left = (sums[new][:, None] - each).ravel()
            reached = np.unique(np.searchsorted(sums, left[left >= 0], "right") - 1)
            new = reached[~is_room[reached]]
        rooms = sums[is_room]
        self.rooms: Ticks = rooms
        left = down_to(sums, rooms - each[:, None])
        self.after: Ticks = np.where(left < 0, -1, np.searchsorted(rooms, left))
        self.places_after: list[list[int]] = self.after.tolist()
        self.moves = [list(_doubled(after)) for after in self.after]
        """By size: how many of it are taken at once, the first place from which they are, and what is left from there
        on; twice as many each time, which leads to every number of them."""


def _doubled(after: Ticks) -> Iterator[tuple[int, int, Ticks]]:
    copies, left = 1, after
    while (first := int(np.searchsorted(left, 0))) < len(left):  # rooms too small come first
        yield copies, first, left[first:]
        copies, left = 2 * copies, np.where(left < 0, -1, left[left])
