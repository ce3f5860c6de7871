"""Loose parts side by side in a column."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import groupby

from drawerwright.sheets.solver.columns import Element, Piece, Sizing
from drawerwright.sheets.solver.filling.fill_table import FillTable, Values


class Rows:
    """The best row for every width, as rows grow taller; with `alike` a row holds parts of one kind only."""

    def __init__(
        self,
        pieces: Sequence[Piece],
        kerf: int,
        widest: int,
        values: Sequence[int],
        at_most: Sequence[int],
        alike: bool,
    ) -> None:
        self._pieces, self._kerf = pieces, kerf
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
