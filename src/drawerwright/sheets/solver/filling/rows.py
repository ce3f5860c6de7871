"""Loose parts in a column: side by side in rows, or single ones above each other."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from itertools import groupby

from drawerwright.sheets.solver.columns import Element, Piece, Sizing
from drawerwright.sheets.solver.filling.fill_table import FillTable, Values

MOST_WIDTHS = 160
"""Column widths tried for loose parts side by side; past this, sums of fewer parts are tried."""


def widths_side_by_side(
    pieces: Sequence[Piece], copies: Sequence[int], kerf: int, widest: int
) -> tuple[set[int], bool]:
    """Widths that loose parts side by side can need (`copies` by demand), and whether these are all."""
    most: dict[int, int] = {}
    for u, count in sorted({(piece.u, copies[piece.demand]) for piece in pieces}):
        most[u] = most.get(u, 0) + count
    parts = sum(most.values())
    layers = [{0}]
    everything: set[int] = set()
    while layers[-1]:
        grown = {
            total + u + kerf
            for total in layers[-1]
            for u, count in most.items()
            if len(layers) <= parts and total + u <= widest and count
        } - everything
        if len(everything) + len(grown) > MOST_WIDTHS and len(layers) > 1:
            return {total - kerf for total in everything}, False
        everything |= grown
        layers.append(grown)
    return {total - kerf for total in everything}, True


class Rows:
    """The best row for every width, as rows grow taller; with `alike` a row holds parts of one kind only."""

    def __init__(
        self,
        pieces: Sequence[Piece],
        kerf: int,
        most: tuple[int, int],
        values: Sequence[int],
        at_most: Sequence[int],
        alike: bool,
    ) -> None:
        """`most` are the widest column and the tallest one."""
        widest, self._tallest = most
        self._pieces, self._kerf = pieces, kerf
        self._values, self._at_most = values, at_most
        self._piles: tuple[FillTable, list[int], list[tuple[Values, int]]] | None = None
        table = FillTable(widest + kerf)
        self._states: list[tuple[int, Values, FillTable, int]] = []
        self._narrowest = min((piece.u for piece in pieces), default=widest + 1)
        for height, group in groupby(enumerate(pieces), key=lambda numbered: numbered[1].v):
            for place, piece in group:
                if alike:
                    table = FillTable(widest + kerf)
                table.offer(place, piece.u + kerf, values[piece.demand], at_most[piece.demand])
                if alike:
                    self._states.append((height, table.best, table, table.mark))
            if not alike:
                self._states.append((height, table.best, table, table.mark))

    def fit(self, width: int) -> bool:
        """Whether any loose part is narrow enough for a column of `width`."""
        return self._narrowest <= width

    def above_each_other(self, width: int, capacity: int) -> tuple[int, list[Piece]]:
        """The best value of single parts above each other in a column, and those parts, the widest first.

        One table serves all widths: parts come in from the narrowest to the widest.
        """
        if self._piles is None:
            table = FillTable(self._tallest + self._kerf)
            order = sorted(range(len(self._pieces)), key=lambda place: self._pieces[place].u)
            marks: list[tuple[Values, int]] = [(table.best, table.mark)]
            for place in order:
                piece = self._pieces[place]
                table.offer(
                    place, piece.v + self._kerf, self._values[piece.demand], self._at_most[piece.demand]
                )
                marks.append((table.best, table.mark))
            self._piles = table, [self._pieces[place].u for place in order], marks
        table, lengths, marks = self._piles
        best, mark = marks[bisect_right(lengths, width)]
        counts, _ = table.taken(capacity, mark)
        chosen = [self._pieces[place] for place, count in counts.items() for _ in range(count)]
        return int(best[capacity]), sorted(chosen, key=lambda piece: (-piece.u, -piece.v))

    def choices(self, width: int, sizing: Sizing) -> list[tuple[int, int, Callable[[], Element]]]:
        """Height, value and way to build of every row worth more than all lower ones."""
        found: list[tuple[int, int, Callable[[], Element]]] = []
        reached = 0
        for height, best, table, mark in self._states:
            value = int(best[width + self._kerf])
            if value > reached:
                reached = value
                found.append((height, value, self._builder(height, table, mark, width, sizing)))
        return found

    def _builder(
        self, height: int, table: FillTable, mark: int, width: int, sizing: Sizing
    ) -> Callable[[], Element]:
        def build() -> Element:
            counts, _ = table.taken(width + self._kerf, mark)
            pieces = [self._pieces[place] for place, count in counts.items() for _ in range(count)]
            return sizing.row(height, pieces)

        return build
