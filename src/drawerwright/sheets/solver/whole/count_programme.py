"""The programme over whole sheets and whole columns: so many sheets of each frame, so many columns of each width.

    least cost of the sheets, so that
        the columns of each width are worth what its parts are worth, by every rule learnt
        the columns of each class go onto its sheets, by length and by every rule learnt
        there are as many sheets as there are on hand
        counts that did not come out do not come back

Its answer undercuts every plan that is cut in columns of one width each.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drawerwright.sheets.solver.programme.highs import INFINITY, Column, WholeAnswer, relaxed, solve_whole
from drawerwright.sheets.solver.task import Task
from drawerwright.sheets.solver.whole.class_room import ClassRoom
from drawerwright.sheets.solver.whole.shared_columns import Counts, Group, SharedColumns
from drawerwright.sheets.solver.whole.sheet_classes import SheetClass

ROUNDING = 1e-6
"""What a cost may be off in floating point."""

Row = tuple[dict[int, float], float, float]
"""Coefficients by column, and what the row lies between."""


@dataclass(frozen=True, slots=True)
class CountsFound:
    """Sheets by frame, columns by class and width; no plan undercuts `bound`."""

    sheets: dict[int, float]
    columns: dict[Group, float]
    cost: float
    bound: float
    finished: bool = True


class CountProgramme:
    """Asked again and again, as rules are learnt."""

    def __init__(
        self,
        task: Task,
        classes: Sequence[SheetClass],
        shares: Sequence[SharedColumns],
        rooms: Sequence[ClassRoom],
    ) -> None:
        self._task, self._classes, self._shares, self._rooms = task, classes, shares, rooms
        self._frames = range(len(task.frames))
        self._place: dict[Group, int] = {
            group: place
            for place, group in enumerate((g for share in shares for g in share.groups), len(self._frames))
        }
        self._barred: list[tuple[int, Counts]] = []
        self._barred_rooms: list[tuple[dict[int, int], dict[int, int]]] = []

    def bar(self, place: int, counts: Counts) -> None:
        """Never again so few columns of a share, by its groups."""
        self._barred.append((place, counts))

    def bar_room(self, number: int, columns: Mapping[int, int], sheets: Mapping[int, int]) -> None:
        """Never again so many columns of a class, by their width, on so few of its sheets, by frame."""
        own = {self._place[number, width]: count for width, count in columns.items()}
        self._barred_rooms.append((own, dict(sheets)))

    def relax(self) -> CountsFound:
        """The answer where sheets and columns may be divided.

        Raises:
            NothingFitsError: no number of sheets on hand holds the parts.
        """
        columns, lower, upper = self._written(None, barred=False)
        cost, values = relaxed(columns, lower, upper)
        return self._read(values, cost, cost)

    def solve(self, least: int, allowed: int | None, seconds: float, stop: Callable[[], bool]) -> CountsFound:
        """The cheapest whole numbers that cost from `least` to `allowed`; without columns where none were found.

        `bound` is infinite where there are none.
        """
        columns, lower, upper = self._written((least, allowed), barred=True)
        answer: WholeAnswer = solve_whole(columns, lower, upper, seconds=seconds, stop=stop)
        if answer.values is None:
            return CountsFound({}, {}, INFINITY, answer.bound, answer.finished)
        return self._read(np.array(answer.values, np.float64), answer.cost, answer.bound, answer.finished)

    def _read(
        self, values: NDArray[np.float64], cost: float, bound: float, finished: bool = True
    ) -> CountsFound:
        return CountsFound(
            {number: float(values[number]) for number in self._frames},
            {key: float(values[place]) for key, place in self._place.items()},
            cost,
            bound,
            finished,
        )

    def _written(
        self, between: tuple[int, int | None] | None, *, barred: bool
    ) -> tuple[list[Column], list[float], list[float]]:
        rows: list[Row] = []
        task, kerf = self._task, self._task.sizing.kerf
        for number, (group, room) in enumerate(zip(self._classes, self._rooms, strict=True)):
            own = {width: at for (g, width), at in self._place.items() if g == number}
            if not own:
                continue
            length = float(group.longest + kerf)
            row = {at: (width + kerf) / length for width, at in own.items()}
            for frame in group.frames:
                row[frame] = -(task.frames[frame].length + kerf) / length
            rows.append((row, -INFINITY, 0.0))
            for rule in room.rules:
                top = float(max(rule.worths.values()) or 1)
                row = {at: price / top for width, at in own.items() if (price := rule.prices.get(width, 0))}
                row.update({frame: -worth / top for frame, worth in rule.worths.items()})
                rows.append((row, -INFINITY, 0.0))
        for share in self._shares:
            for learnt in share.rules:
                top = float(max(learnt.worths, default=0) or 1)
                row = {
                    self._place[at]: worth / top
                    for at, worth in zip(share.groups, learnt.worths, strict=True)
                    if worth
                }
                rows.append((row, learnt.need / top, INFINITY))
        sizes: dict[int, dict[int, float]] = {}
        for number, seen in enumerate(task.frames):
            if task.limits[seen.size] is not None:
                sizes.setdefault(seen.size, {})[number] = 1.0
        rows += [(row, -INFINITY, float(task.limits[size] or 0)) for size, row in sizes.items()]
        costs = {number: float(frame.cost) for number, frame in enumerate(task.frames)}
        if between is not None:
            top = float(max(costs.values()) or 1)
            least, allowed = between
            high = INFINITY if allowed is None else (allowed + ROUNDING) / top
            rows.append(
                ({n: cost / top for n, cost in costs.items() if cost}, (least - ROUNDING) / top, high)
            )
        size = len(self._frames) + len(self._place)
        if barred:
            for place, counts in self._barred:
                one_of: dict[int, float] = {}
                for at_group, count in zip(self._shares[place].groups, counts, strict=True):
                    rows.append(({self._place[at_group]: 1.0, size: -float(count + 1)}, 0.0, INFINITY))
                    one_of[size] = 1.0
                    size += 1
                rows.append((one_of, 1.0, INFINITY))
            for own, sheets in self._barred_rooms:
                one_of = {}
                for at, count in own.items():
                    most = float(sum(task.demand))
                    rows.append(({at: 1.0, size: most}, -INFINITY, most + count - 1))
                    one_of[size] = 1.0
                    size += 1
                for frame, count in sheets.items():
                    rows.append(({frame: 1.0, size: -float(count + 1)}, 0.0, INFINITY))
                    one_of[size] = 1.0
                    size += 1
                rows.append((one_of, 1.0, INFINITY))
        entries: list[tuple[list[int], list[float]]] = [([], []) for _ in range(size)]
        for number, (coefficients, _, _) in enumerate(rows):
            for at, value in coefficients.items():
                entries[at][0].append(number)
                entries[at][1].append(value)
        columns: list[Column] = [(costs.get(at, 0.0), *entry) for at, entry in enumerate(entries)]
        return columns, [low for _, low, _ in rows], [high for _, _, high in rows]
