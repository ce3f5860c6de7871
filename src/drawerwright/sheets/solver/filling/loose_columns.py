"""The best columns of loose parts alone, for all widths at once: rows above each other."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from drawerwright.sheets.solver.columns import Piece, Sizing, Stack
from drawerwright.sheets.solver.filling.fill_table import NARROW, FillTable
from drawerwright.sheets.solver.filling.raster import Raster
from drawerwright.sheets.solver.filling.rows import Rows
from drawerwright.sheets.solver.filling.stacks import Offer, Takes

Worths = NDArray[np.int32] | NDArray[np.int64]

COARSE_STEPS = 400
"""Steps into which columns are divided where good ones will do."""
LARGE = 60_000
"""Entries of a table from which on coarse steps come first."""


class LooseColumns:
    """What is the same whatever the parts are worth: their sizes, the widths of columns, and which rooms differ."""

    def __init__(self, pieces: Sequence[Piece], sizing: Sizing, widths: Sequence[int], tallest: int) -> None:
        """`pieces` come with the lowest first; `tallest` is the longest column."""
        self.pieces, self.sizing, self.widths, self.tallest = pieces, sizing, widths, tallest
        self.by_width = sorted(pieces, key=lambda piece: (piece.u, piece.v))
        self._heights = sorted({piece.v for piece in pieces})
        self._rasters: dict[tuple[int, int], Raster] = {}

    def raster(self, capacity: int, grain: int = 1) -> Raster:
        """Rooms in a column, where a row takes its height and one kerf, in steps of `grain`."""
        if (capacity, grain) not in self._rasters:
            sizes = [-(-(height + self.sizing.kerf) // grain) for height in self._heights]
            self._rasters[capacity, grain] = Raster(sizes, capacity // grain)
        return self._rasters[capacity, grain]

    @property
    def is_large(self) -> bool:
        """Whether exact tables take so long that good columns are first looked for in coarse steps."""
        return len(self.raster(self.tallest + self.sizing.kerf).rooms) * len(self.widths) > LARGE


class PiledRows:
    """Columns of rows for given values of the parts. Rows may hold a part more often than it is wanted."""

    def __init__(
        self,
        columns: LooseColumns,
        rows: Rows,
        values: Sequence[int],
        at_most: Sequence[int],
        steps: int | None = None,
    ) -> None:
        """With `steps` the longest column is measured in so many: good columns, not the best."""
        self._columns, self._rows, self._values, self._at_most = columns, rows, values, at_most
        self.kerf = columns.sizing.kerf
        self._grain = max(1, (columns.tallest + columns.sizing.kerf) // steps) if steps else 1
        self._tables: dict[int, Worths] = {}
        self._known: dict[int, list[int]] = {}
        self._single: tuple[list[int], list[int], list[Worths], FillTable] | None = None

    def offer(self, kind: int) -> Offer:
        """The best column of a kind."""
        return _RowsOffer(kind, self)

    def worths(self, capacity: int) -> list[int]:
        """What the best column of each kind is worth."""
        known = self._known.get(capacity)
        if known is None:
            known = self._known[capacity] = self._table(capacity)[-1].tolist()
        return known

    def _table(self, capacity: int) -> Worths:
        """The best values by room left in a column of `capacity`, and by kind."""
        if capacity not in self._tables:
            raster, gains = self._columns.raster(capacity, self._grain), self._rows.gains
            most = int(raster.rooms[-1]) // max(int(raster.rooms[raster.rooms > 0].min(initial=1)), 1)
            narrow = int(gains.max(initial=0)) * most <= NARROW
            shape = len(raster.rooms), gains.shape[1]
            best: Worths = np.zeros(shape, np.int32) if narrow else np.zeros(shape, np.int64)
            used: list[bool] = [bool(each.any()) for each in gains]
            for each, moves, is_used in zip(gains.astype(best.dtype), raster.moves, used, strict=True):
                for copies, first, left in moves if is_used else ():
                    np.maximum(best[first:], best[left] + copies * each, out=best[first:])
            self._tables[capacity] = best
        return self._tables[capacity]

    def _levels(self, kind: int, capacity: int) -> list[int]:
        """Which rows, by their height, lie in the best column."""
        after = self._columns.raster(capacity, self._grain).places_after
        best: list[int] = self._table(capacity)[:, kind].tolist()
        gains = [(level, gain) for level, gain in enumerate(self._rows.gains[:, kind].tolist()) if gain]
        place = len(best) - 1
        levels: list[int] = []
        while best[place]:
            for level, gain in gains:
                left = after[level][place]
                if left >= 0 and best[left] + gain == best[place]:
                    break
            levels.append(level)
            place = left
        return sorted(levels)

    def stack(self, kind: int, capacity: int) -> Stack:
        """The best column of a kind."""
        elements = [self._rows.element(level, kind) for level in self._levels(kind, capacity)]
        return self._columns.sizing.stack(kind, self._columns.widths[kind], elements)

    def takes(self, kind: int, capacity: int) -> Takes:
        """What it holds."""
        held: dict[int, int] = {}
        for level in self._levels(kind, capacity):
            for demand, count in self._rows.takes(level, kind):
                held[demand] = held.get(demand, 0) + count
        return held.items()

    def others(self, kind: int, capacity: int, floor: int) -> list[Stack]:
        """Loose parts above each other: rows may hold a part more often than it is wanted, these do not."""
        pieces, sizing = self._columns.by_width, self._columns.sizing
        widths, marks, bests, table = self._one_above_another()
        place = bisect_right(widths, self._columns.widths[kind]) - 1
        if place < 0 or int(bests[place][capacity]) <= floor:
            return []
        counts, _ = table.taken(capacity, marks[place])
        chosen = [pieces[piece] for piece, count in sorted(counts.items()) for _ in range(count)]
        if not chosen:
            return []
        chosen.sort(key=lambda piece: (-piece.u, -piece.v))
        return [sizing.stack(kind, self._columns.widths[kind], chosen)]

    def _one_above_another(self) -> tuple[list[int], list[int], list[Worths], FillTable]:
        """One table for all widths: those of the parts, and its state when parts up to each of them are in it."""
        if self._single is None:
            kerf, table = (
                self._columns.sizing.kerf,
                FillTable(self._columns.tallest + self._columns.sizing.kerf),
            )
            widths: list[int] = []
            marks: list[int] = []
            bests: list[Worths] = []
            for width, group in groupby(
                enumerate(self._columns.by_width), key=lambda numbered: numbered[1].u
            ):
                for place, piece in group:
                    table.offer(
                        place, piece.v + kerf, self._values[piece.demand], self._at_most[piece.demand]
                    )
                widths.append(width)
                marks.append(table.mark)
                bests.append(table.best)
            self._single = widths, marks, bests, table
        return self._single


class _RowsOffer(Offer):
    """One of the many columns of rows: made by the hundred, so nothing is bound to it that it can ask for."""

    __slots__ = ("_piled",)

    def __init__(self, kind: int, piled: PiledRows) -> None:
        self.kind, self._piled, self._kerf = kind, piled, piled.kerf

    def value(self, width: int) -> int:
        return self._piled.worths(width + self._kerf)[self.kind]

    def stack(self, width: int) -> Stack:
        return self._piled.stack(self.kind, width + self._kerf)

    def takes(self, width: int) -> Takes:
        return self._piled.takes(self.kind, width + self._kerf)

    def others(self, width: int, floor: int) -> list[Stack]:
        return self._piled.others(self.kind, width + self._kerf, floor)
