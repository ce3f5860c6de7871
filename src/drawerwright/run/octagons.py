"""Many sets of bounds on positions, their sums and their differences, closed under all consequences.

One set of such bounds is an octagon (Miné, The octagon abstract domain, Higher-Order and Symbolic Computation
19, 2006): whether it holds any point at all, and how far each position reaches, follows from shortest paths, and
over the real numbers that is exact. Thousands of octagons are kept in one array, so that a step on all of them
costs little more than on one.
"""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import Mm

Numbers: TypeAlias = NDArray[np.float64]
Indices: TypeAlias = NDArray[np.intp]
Mask: TypeAlias = NDArray[np.bool_]
Positions: TypeAlias = int | Indices
Lengths: TypeAlias = float | Numbers

ROUNDING: Mm = 1e-9


class Octagons:
    """As many octagons as there are rows, each over the same number of positions.

    Of a position a, variable 2 a stands for itself and 2 a + 1 for its negative; `bounds[row, i, j]` bounds
    variable i less variable j. The methods that keep something change all rows in place and return which rows
    still hold a point; rows that do not mean nothing from then on.
    """

    __slots__ = ("bounds",)

    def __init__(self, bounds: Numbers) -> None:
        self.bounds = bounds

    @classmethod
    def within(cls, rows: int, count: int, least: Mm, most: Mm) -> Octagons:
        """`count` positions that lie between two limits (mm; the upper one may be infinite)."""
        octagons = cls(np.full((rows, 2 * count, 2 * count), np.inf))
        variables = np.arange(2 * count)
        octagons.bounds[:, variables, variables] = 0.0
        for a in range(count):
            octagons.keep_range(a, least, most)
        return octagons

    def __len__(self) -> int:
        return len(self.bounds)

    @property
    def count(self) -> int:
        """Positions of each octagon."""
        return int(self.bounds.shape[1]) // 2

    def taken(self, rows: Indices) -> Octagons:
        """A copy of some rows, in this order."""
        return Octagons(self.bounds[rows])

    def keep_sum(self, a: Positions, b: Positions, low: Lengths, high: Lengths) -> Mask:
        """Add ``low <= p_a + p_b <= high``; each argument is one for all rows or an array with one for each."""
        holds = self._add(2 * a, 2 * b + 1, high)
        holds &= self._add(2 * b, 2 * a + 1, high)
        holds &= self._add(2 * a + 1, 2 * b, -low)
        holds &= self._add(2 * b + 1, 2 * a, -low)
        return holds

    def keep_range(self, a: Positions, low: Lengths, high: Lengths) -> Mask:
        """Add ``low <= p_a <= high``."""
        holds = self._add(2 * a, 2 * a + 1, 2 * high)
        holds &= self._add(2 * a + 1, 2 * a, -2 * low)
        return holds

    def keep_order(self, a: Positions, b: Positions, gap: Lengths) -> Mask:
        """Add ``p_a <= p_b + gap``; an infinite gap adds nothing."""
        holds = self._add(2 * a, 2 * b, gap)
        holds &= self._add(2 * b + 1, 2 * a + 1, gap)
        return holds

    def _add(self, i: Positions, j: Positions, bound: Lengths) -> Mask:
        """Add ``v_i - v_j <= bound`` and all that follows from it."""
        rows = np.arange(len(self.bounds))
        most = np.broadcast_to(bound, len(rows))
        holds: Mask = most + self.bounds[rows, j, i] >= -ROUNDING
        if np.any(most < self.bounds[rows, i, j]):
            from_j = most[:, None] + self.bounds[rows, j, :]
            through = self.bounds[rows, :, i][:, :, None] + from_j[:, None, :]
            np.minimum(self.bounds, through, out=self.bounds)
        return holds

    def ranges(self) -> tuple[Numbers, Numbers]:
        """Least and greatest value of each position, (rows, count)."""
        even = np.arange(0, 2 * self.count, 2)
        return -self.bounds[:, even + 1, even] / 2, self.bounds[:, even, even + 1] / 2

    def sums(self) -> tuple[Numbers, Numbers]:
        """Least and greatest sum of each two positions, (rows, count, count)."""
        low, high = self.ranges()
        least = np.maximum(-self.bounds[:, 1::2, 0::2], low[:, :, None] + low[:, None, :])
        most = np.minimum(self.bounds[:, 0::2, 1::2], high[:, :, None] + high[:, None, :])
        return least, most
