"""Whether given numbers of sheets hold given numbers of columns of each width."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from drawerwright.sheets.solver.filling.fill_table import best_fill
from drawerwright.sheets.solver.programme.highs import INFINITY, GrowingProgram
from drawerwright.sheets.solver.programme.master import Master
from drawerwright.sheets.solver.programme.pricing import VALUE_SCALE

Kind = tuple[int, int]
"""A class of frames and a kind of column."""

TOLERANCE = 1e-6
"""Share of a mean sheet by which sheets may be short and still count as enough."""


class SheetCounts:
    """Rules about sheets and the columns that they hold, learnt from counts of columns that they do not hold.

    A rule of a class gives every column a price and every sheet a worth that no sheet's columns exceed; columns
    dearer than the sheets are worth do not go onto them (the dual of filling sheets that may be divided).
    """

    def __init__(self, master: Master) -> None:
        self._master = master
        task = master.task
        self.frames = [number for number, frame in enumerate(task.frames) if not frame.apart]
        self._kinds = list(master.link)
        kinds = len(self._kinds)
        self._program = GrowingProgram(
            [*(0.0 for _ in self._kinds), *(-INFINITY for _ in self.frames)],
            [*(INFINITY for _ in self._kinds), *(0.0 for _ in self.frames)],
        )
        self._row_of = {key: row for row, key in enumerate(self._kinds)}
        self._costs = [task.frames[number].cost / master.mean_cost for number in self.frames]
        for place, cost in enumerate(self._costs):
            self._program.add_column((cost, [kinds + place], [-1.0]))
        self.patterns: dict[tuple[int, tuple[tuple[int, int], ...]], None] = {}
        """Sheets in whole columns: frame number, and kinds with counts."""
        self.prices: list[NDArray[np.float64]] = [
            np.empty((0, self._size(g))) for g in range(len(master.classes))
        ]
        """By class, prices of columns by kind: a row for each rule."""
        self.worths: list[NDArray[np.float64]] = [np.empty((0, len(self.frames))) for _ in master.classes]
        """By class, worths of sheets by place of their frame: a row for each rule."""
        for number in self.frames:
            frame = task.frames[number]
            for kind, width in enumerate(task.sources[frame.transposed].widths):
                if width <= frame.length:
                    self._add(
                        number, ((kind, (frame.length + task.sizing.kerf) // (width + task.sizing.kerf)),)
                    )
        for number, content in master.pool.patterns:
            self._add(number, content)

    def _size(self, group: int) -> int:
        return len(self._master.task.sources[self._master.classes[group][0]].widths)

    def _add(self, number: int, content: tuple[tuple[int, int], ...]) -> bool:
        if not content or (number, content) in self.patterns:
            return False
        self.patterns[number, content] = None
        group = self._master.class_of(self._master.task.frames[number])
        rows = [self._row_of[group, kind] for kind, _ in content]
        self._program.add_column(
            (
                0.0,
                [*rows, len(self._kinds) + self.frames.index(number)],
                [*(float(count) for _, count in content), 1.0],
            )
        )
        return True

    def holds(self, columns: Mapping[Kind, int], numbers: Sequence[int]) -> bool:
        """Whether these numbers of sheets hold the columns if sheets may be divided; learns where they do not."""
        for row, key in enumerate(self._kinds):
            self._program.set_row(row, float(columns.get(key, 0)))
        for place, count in enumerate(numbers):
            self._program.set_row(len(self._kinds) + place, -INFINITY, float(count))
        while True:
            short, duals, _ = self._program.solve()
            if short < TOLERANCE:
                return True
            if not self._price(duals):
                break
        self.learn(duals[: len(self._kinds)], -duals[len(self._kinds) :])
        return False

    def learn(self, prices: NDArray[np.float64], worths: NDArray[np.float64]) -> None:
        """Take in a rule: prices by class and kind, worths by place of the frame."""
        task = self._master.task
        for group in range(len(self._master.classes)):
            own = [prices[self._row_of[group, kind]] for kind in range(self._size(group))]
            worth = [
                worths[place] if self._master.class_of(task.frames[number]) == group else 0.0
                for place, number in enumerate(self.frames)
            ]
            self.prices[group] = np.vstack([self.prices[group], np.maximum(own, 0.0)])
            self.worths[group] = np.vstack([self.worths[group], worth])

    def tops(self, prices: Mapping[Kind, int]) -> list[tuple[int, bool]]:
        """What a sheet of each frame holds at the most at these prices, and whether such a sheet was unknown so far."""
        task, found = self._master.task, []
        kerf = task.sizing.kerf
        for number in self.frames:
            frame = task.frames[number]
            group = self._master.class_of(frame)
            widths = task.sources[frame.transposed].widths
            kinds = [kind for kind, width in enumerate(widths) if width <= frame.length]
            worth, counts = best_fill(
                [widths[kind] + kerf for kind in kinds],
                [prices[group, kind] for kind in kinds],
                [frame.length // widths[kind] for kind in kinds],
                frame.length + kerf,
            )
            content = tuple((kinds[piece], count) for piece, count in sorted(counts.items()))
            found.append((worth, self._add(number, content)))
        return found

    def _price(self, duals: NDArray[np.float64]) -> bool:
        """Add sheets in columns that are worth more than the programme thinks; False when there are none."""
        prices = {key: int(max(0.0, duals[row]) * VALUE_SCALE) for key, row in self._row_of.items()}
        return any(
            is_new and worth > (-duals[len(self._kinds) + place] + TOLERANCE) * VALUE_SCALE
            for place, (worth, is_new) in enumerate(self.tops(prices))
        )
