"""Loose parts side by side in a column."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from drawerwright.sheets.solver.columns import Element, Piece, Sizing
from drawerwright.sheets.solver.filling.fill_table import FillTable


class Rows:
    """The best row for every width, as rows grow taller; with `alike` a row holds parts of one kind only.

    `gains` are the values by height (of `heights`, rising) and kind of column (of `widths`), nought where a lower row
    is worth as much.
    """

    def __init__(
        self,
        pieces: Sequence[Piece],
        sizing: Sizing,
        widths: Sequence[int],
        values: Sequence[int],
        at_most: Sequence[int],
        alike: bool,
    ) -> None:
        """`pieces` come with the lowest first."""
        self._pieces, self._sizing, self._alike = pieces, sizing, alike
        self._rooms = np.array(widths, np.int64) + sizing.kerf
        self._values, self._at_most = values, at_most
        self._table = FillTable(int(self._rooms[-1]) if widths else 0)
        self._marks: list[int] = []
        self._chosen: list[NDArray[np.int64]] = []
        self._elements: dict[tuple[int, int], Element] = {}
        self._known: dict[tuple[int, int], dict[int, int]] = {}
        self._takes: dict[tuple[int, int], list[tuple[int, int]]] = {}
        self.heights: list[int] = []
        worth: list[NDArray[np.int64]] = []
        for height, group in groupby(range(len(pieces)), key=lambda place: pieces[place].v):
            places = list(group)
            self.heights.append(height)
            worth.append(self._of_one_kind(places) if alike else self._of_all(places))
        self.gains: NDArray[np.int64] = np.array(worth).reshape(len(worth), len(widths))
        if len(worth) > 1:
            lower = np.maximum.accumulate(self.gains)[:-1]
            self.gains[1:][self.gains[1:] <= lower] = 0

    def _of_all(self, places: list[int]) -> NDArray[np.int64]:
        for place in places:
            piece = self._pieces[place]
            self._table.offer(
                place, piece.u + self._sizing.kerf, self._values[piece.demand], self._at_most[piece.demand]
            )
        self._marks.append(self._table.mark)
        return self._table.at(self._rooms)

    def _of_one_kind(self, places: list[int]) -> NDArray[np.int64]:
        worth = []
        for place in places:
            piece = self._pieces[place]
            copies = np.minimum(self._rooms // (piece.u + self._sizing.kerf), self._at_most[piece.demand])
            worth.append(copies * max(self._values[piece.demand], 0))
        every = np.array(worth)
        first = every.argmax(axis=0)
        self._chosen.append(np.array(places)[first])
        best: NDArray[np.int64] = every.max(axis=0)
        return best

    def choices(self, kind: int) -> list[tuple[int, int, Callable[[], Element]]]:
        """Height, value and way to build of every row worth more than all lower ones."""
        worth = self.gains[:, kind]
        return [
            (self.heights[level], int(worth[level]), partial(self.element, level, kind))
            for level in np.flatnonzero(worth).tolist()
        ]

    def element(self, level: int, kind: int) -> Element:
        """The best row of a height in a column of a kind, the same to all who ask: columns share most of their rows."""
        if (level, kind) not in self._elements:
            self._elements[level, kind] = self._element(level, kind)
        return self._elements[level, kind]

    def takes(self, level: int, kind: int) -> list[tuple[int, int]]:
        """Demand and count of what that row holds, a demand as often as its pieces differ."""
        if (level, kind) not in self._takes:
            counts = self._counts(level, kind)
            self._takes[level, kind] = [(self._pieces[place].demand, n) for place, n in counts.items()]
        return self._takes[level, kind]

    def _counts(self, level: int, kind: int) -> dict[int, int]:
        """How often each piece, by its place, lies in the best row of a height in a column of a kind."""
        if (level, kind) not in self._known:
            room = int(self._rooms[kind])
            if self._alike:
                place = int(self._chosen[level][kind])
                piece = self._pieces[place]
                count = min(room // (piece.u + self._sizing.kerf), self._at_most[piece.demand])
                self._known[level, kind] = {place: count}
            else:
                self._known[level, kind] = self._table.taken(room, self._marks[level])[0]
        return self._known[level, kind]

    def _element(self, level: int, kind: int) -> Element:
        counts = self._counts(level, kind)
        pieces = [self._pieces[place] for place, count in counts.items() for _ in range(count)]
        return self._sizing.row(self.heights[level], pieces)
