"""The best stack of every column width, for given values of the parts."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Protocol

from drawerwright.sheets.columns import Piece, Sizing, Stack
from drawerwright.sheets.knapsack import FillTable, Values


class Offer:
    """What a column of one kind is worth: `best[c]` for stacks of at most c ticks less one kerf."""

    __slots__ = ("_build", "_kerf", "best", "kind")

    def __init__(self, kind: int, best: Values, kerf: int, build: Callable[[int], Stack]) -> None:
        self.kind, self.best, self._kerf, self._build = kind, best, kerf, build

    def value(self, width: int) -> int:
        """Value of the best stack in a column `width` ticks long."""
        return int(self.best[width + self._kerf])

    def stack(self, width: int) -> Stack:
        """The best stack itself."""
        return self._build(width + self._kerf)


class StackSource(Protocol):
    """Where stacks come from."""

    @property
    def widths(self) -> tuple[int, ...]:
        """Width along u of every kind of column, by kind number."""

    @property
    def demands(self) -> frozenset[int]:
        """Demand numbers that these stacks can meet."""

    def offers(self, values: Sequence[int], at_most: Sequence[int]) -> list[Offer]:
        """The best stacks for these values of one part of each demand, by kind."""

    def by_width(self) -> list[StackSource]:
        """One source for every width, where each demand fits a single width; else none."""


class PieceStacks:
    """Stacks of single parts: as wide as their column (exact) or at most as wide (trimmed afterwards)."""

    def __init__(self, pieces: Sequence[Piece], *, kerf: int, tallest: int, exact: bool) -> None:
        """`tallest` is the longest column there is."""
        self._pieces = sorted((piece for piece in pieces if piece.v <= tallest), key=lambda piece: piece.u)
        self._kerf, self._tallest, self._exact = kerf, tallest, exact
        self._sizing = Sizing(kerf)
        self.widths = tuple(sorted({piece.u for piece in self._pieces}))

    def offers(self, values: Sequence[int], at_most: Sequence[int]) -> list[Offer]:
        found: list[Offer] = []
        table = FillTable(self._tallest + self._kerf)
        place = 0
        for kind, width in enumerate(self.widths):
            if self._exact:
                table = FillTable(self._tallest + self._kerf)
            while place < len(self._pieces) and self._pieces[place].u == width:
                piece = self._pieces[place]
                table.offer(place, piece.v + self._kerf, values[piece.demand], at_most[piece.demand])
                place += 1
            found.append(Offer(kind, table.best, self._kerf, self._builder(kind, table, table.mark)))
        return found

    @property
    def demands(self) -> frozenset[int]:
        return frozenset(piece.demand for piece in self._pieces)

    def by_width(self) -> list[StackSource]:
        widths_of: dict[int, set[int]] = {}
        for piece in self._pieces:
            widths_of.setdefault(piece.demand, set()).add(piece.u)
        if not self._exact or any(len(widths) > 1 for widths in widths_of.values()):
            return []
        return [
            PieceStacks(
                [piece for piece in self._pieces if piece.u == width],
                kerf=self._kerf,
                tallest=self._tallest,
                exact=True,
            )
            for width in self.widths
        ]

    def _builder(self, kind: int, table: FillTable, mark: int) -> Callable[[int], Stack]:
        def build(capacity: int) -> Stack:
            counts, _ = table.taken(capacity, mark)
            elements = [
                self._pieces[place]
                for place in sorted(
                    counts, key=lambda place: (-self._pieces[place].u, -self._pieces[place].v)
                )
                for _ in range(counts[place])
            ]
            return self._sizing.stack(kind, self.widths[kind], elements)

        return build
