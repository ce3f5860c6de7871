"""The best stack of every column width where columns hold single parts."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from drawerwright.sheets.solver.columns import Element, Piece, Sizing, Stack
from drawerwright.sheets.solver.filling.fill_table import FillTable, all_fillings
from drawerwright.sheets.solver.filling.least_room import least_rooms
from drawerwright.sheets.solver.filling.mixed_columns import single_pieces
from drawerwright.sheets.solver.filling.stacks import Bars, Offer, StackSource, lookup

COARSE_STEPS = (2_000, 10_000)
"""Steps into which a column is divided when good stacks will do."""
MOST_OTHERS = 40
"""Stacks handed over beside the best one, at the most."""


class PieceStacks:
    """Stacks of single parts: as wide as their column (exact) or at most as wide (trimmed afterwards)."""

    def __init__(self, pieces: Sequence[Piece], *, kerf: int, tallest: int, exact: bool) -> None:
        """`tallest` is the longest column there is."""
        self._pieces = sorted((piece for piece in pieces if piece.v <= tallest), key=lambda piece: piece.u)
        self._kerf, self._tallest, self._exact = kerf, tallest, exact
        self._sizing = Sizing(kerf)
        self.widths = tuple(sorted({piece.u for piece in self._pieces}))

    @property
    def coarse_steps(self) -> tuple[int, ...]:
        return tuple(steps for steps in COARSE_STEPS if 4 * steps <= self._tallest)

    @property
    def greedy_steps(self) -> int | None:
        return None

    def offers(
        self, values: Sequence[int], at_most: Sequence[int], *, steps: int | None = None
    ) -> list[Offer]:
        found: list[Offer] = []
        grain = max(1, (self._tallest + self._kerf) // steps) if steps else 1
        capacity = (self._tallest + self._kerf) // grain
        table = FillTable(capacity)
        place = 0
        for kind, width in enumerate(self.widths):
            if self._exact:
                table = FillTable(capacity)
            while place < len(self._pieces) and self._pieces[place].u == width:
                piece = self._pieces[place]
                size = -(-(piece.v + self._kerf) // grain)
                table.offer(place, size, values[piece.demand], at_most[piece.demand])
                place += 1
            build = self._builder(kind, table, table.mark, grain)
            others = self._other_builder(kind, table, table.mark, place, values, at_most, grain)
            found.append(Offer(kind, lookup(table.best, grain), self._kerf, build, others))
        return found

    @property
    def is_complete(self) -> bool:
        return True

    def bounding(self) -> PieceStacks:
        return self

    def watched(self, give_up: Callable[[], bool]) -> PieceStacks:
        """Nothing here takes long."""
        return self

    def _other_builder(
        self,
        kind: int,
        table: FillTable,
        mark: int,
        end: int,
        values: Sequence[int],
        at_most: Sequence[int],
        grain: int,
    ) -> Callable[[int, int], list[Stack]]:
        """One part of each kind, and the best of what fits beside it."""
        best, width = table.best, self.widths[kind]

        def build(capacity: int, floor: int) -> list[Stack]:
            ranked: list[tuple[int, int, int]] = []
            for place in range(end):
                piece = self._pieces[place]
                room = (capacity - piece.v - self._kerf) // grain
                if room < 0 or (self._exact and piece.u != width) or not at_most[piece.demand]:
                    continue
                worth = values[piece.demand] + int(best[room])
                if worth > floor:
                    ranked.append((worth, place, room))
            ranked.sort(reverse=True)
            stacks: list[Stack] = []
            for _, place, room in ranked[:MOST_OTHERS]:
                counts, _ = table.taken(room, mark)
                counts[place] = counts.get(place, 0) + 1
                if counts[place] <= at_most[self._pieces[place].demand]:
                    stacks.append(self._stack(kind, counts))
            return stacks

        return build

    def listing(
        self,
        kind: int,
        width: int,
        values: Sequence[int],
        at_most: Sequence[int],
        floor: int,
        most: int,
        deadline: float = math.inf,
    ) -> list[Stack] | None:
        wide = self.widths[kind]
        pieces = [
            piece
            for piece in self._pieces
            if at_most[piece.demand] and (piece.u == wide if self._exact else piece.u <= wide)
        ]
        if not any(piece.u == wide for piece in pieces):
            return []
        fillings = all_fillings(
            [piece.v + self._kerf for piece in pieces],
            [values[piece.demand] for piece in pieces],
            [at_most[piece.demand] for piece in pieces],
            width + self._kerf,
            floor=floor,
            most=most,
            deadline=deadline,
        )
        if fillings is None:
            return None
        stacks = []
        for filling in fillings:
            chosen = [pieces[place] for place, count in filling.items() for _ in range(count)]
            if any(piece.u == wide for piece in chosen):
                chosen.sort(key=lambda piece: (-piece.u, -piece.v))
                stacks.append(self._sizing.stack(kind, wide, chosen))
        return stacks

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

    def elements(self, counts: Sequence[int], width: int, height: int) -> list[Element]:
        return single_pieces(self._pieces, counts, width, height)

    def least_rooms(self, counts: Sequence[int]) -> dict[int, int]:
        return least_rooms((), self._pieces, self._sizing, counts, self._tallest)

    def bars(self, width: int) -> Bars | None:
        places: dict[int, int] = {}
        for place, piece in enumerate(self._pieces):
            if piece.demand in places:
                return None
            places[piece.demand] = place
        if not self._exact or len(self.widths) != 1:
            return None
        return Bars(
            {demand: self._pieces[place].v + self._kerf for demand, place in places.items()},
            width + self._kerf,
            lambda counts: self._stack(0, {places[demand]: count for demand, count in counts.items()}),
        )

    def _builder(self, kind: int, table: FillTable, mark: int, grain: int) -> Callable[[int], Stack]:
        def build(capacity: int) -> Stack:
            return self._stack(kind, table.taken(capacity // grain, mark)[0])

        return build

    def _stack(self, kind: int, counts: dict[int, int]) -> Stack:
        order = sorted(counts, key=lambda place: (-self._pieces[place].u, -self._pieces[place].v))
        elements = [self._pieces[place] for place in order for _ in range(counts[place])]
        return self._sizing.stack(kind, self.widths[kind], elements)
