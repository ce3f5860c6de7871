"""What is judged after the cost of new sheets: among plans of equal cost, the one the shop would rather cut."""

from __future__ import annotations

from collections.abc import Sequence

from drawerwright.sheets.problem import LaterAim
from drawerwright.sheets.solver.clock import now
from drawerwright.sheets.solver.columns import Band, RowOfPieces, Stack
from drawerwright.sheets.solver.programme.highs import INFINITY, Column, solve_whole
from drawerwright.sheets.solver.programme.master import Master

SECONDS_EACH = 0.2
"""Time for each later aim; what is found by then counts. Three times as long found nothing better on real jobs."""


class TieBreakers:
    """Chooses among a programme's columns, aim after aim, never giving back what an earlier aim has reached."""

    def __init__(self, master: Master, cost: int) -> None:
        self._master = master
        self._first = master.first
        self._columns: list[Column] = list(master.columns[self._first :])
        self._meanings = master.meanings[self._first :]
        self._lower, self._upper = list(master.lower), list(master.upper)
        self._keep([column[0] for column in self._columns], cost / master.mean_cost + 1e-6)

    def _keep(self, weights: Sequence[float], most: float) -> None:
        """Add a row: the sum of `weights` must not exceed `most`."""
        row = len(self._lower)
        self._columns = [
            (cost, [*rows, row], [*values, weight]) if weight else (cost, rows, values)
            for (cost, rows, values), weight in zip(self._columns, weights, strict=True)
        ]
        self._lower.append(-INFINITY)
        self._upper.append(most)

    def choose(
        self, aims: Sequence[LaterAim], deadline: float, start: dict[int, int]
    ) -> dict[int, int] | None:
        """Values of the programme's columns (by column number), None when nothing better was found in time.

        `start` are the values of the plan at hand.
        """
        found = tuple(start.get(self._first + place, 0) for place in range(len(self._columns)))
        is_new = False
        for aim in aims:
            weights = self._weights(aim)
            if not any(weights):
                continue
            left = deadline - now()
            if left < 0.02:
                break
            columns = [
                (weight, rows, values)
                for (_, rows, values), weight in zip(self._columns, weights, strict=True)
            ]
            found += (1,) * (len(columns) - len(found))
            answer = solve_whole(
                columns, self._lower, self._upper, seconds=min(left, SECONDS_EACH), start=found
            )
            if answer.values is None:
                break
            found, is_new = answer.values, True
            self._keep(weights, answer.cost + 1e-6 * max(1.0, abs(answer.cost)))
        if not is_new:
            return None
        return {self._first + number: value for number, value in enumerate(found) if value}

    def _weights(self, aim: LaterAim) -> list[float]:
        if aim == "offcuts":
            task = self._master.task
            scale = max(task.areas) or 1
            return [
                -sum(
                    task.areas[demand] * count for stack in _stacks(content) for demand, count in stack.takes
                )
                / scale
                if what == "whole"
                else 0.0
                for what, _, content in self._meanings
            ]
        if aim == "routing":
            return [
                float(
                    sum(isinstance(element, Band) for stack in _stacks(content) for element in stack.elements)
                )
                for _, _, content in self._meanings
            ]
        if aim == "fences":
            return self._fence_columns()
        return self._taken_areas()

    def _taken_areas(self) -> list[float]:
        """What the columns take of their sheets: what they leave is gathered on one sheet afterwards."""
        task = self._master.task
        scale = max(frame.length * frame.width for frame in task.frames)
        weights = []
        for what, number, content in self._meanings:
            stacks = _stacks(content)
            height = 0
            if stacks:
                height = task.frames[number].width if what == "whole" else self._master.classes[number][1]
            weights.append(height / scale * sum(stack.u + task.sizing.kerf for stack in stacks))
        return weights

    def _fence_columns(self) -> list[float]:
        """A switch for every setting of the fence; a column that needs it may be used when it is on."""
        users: dict[int, list[int]] = {}
        for number, (_, _, content) in enumerate(self._meanings):
            for setting in {setting for stack in _stacks(content) for setting in _settings(stack)}:
                users.setdefault(setting, []).append(number)
        most = float(sum(self._master.task.demand))
        added: dict[int, tuple[list[int], list[float]]] = {}
        switches: list[Column] = []
        for _, numbers in sorted(users.items()):
            row = len(self._lower)
            self._lower.append(-INFINITY)
            self._upper.append(0.0)
            for number in numbers:
                rows, values = added.setdefault(number, ([], []))
                rows.append(row)
                values.append(1.0)
            switches.append((0.0, [row], [-most]))
        for number, (rows, values) in added.items():
            cost, old_rows, old_values = self._columns[number]
            self._columns[number] = (cost, [*old_rows, *rows], [*old_values, *values])
        weights = [0.0] * len(self._columns) + [1.0] * len(switches)
        self._columns += switches
        self._meanings = [*self._meanings, *[("switch", 0, None)] * len(switches)]
        return weights


def _stacks(content: object) -> tuple[Stack, ...]:
    if isinstance(content, Stack):
        return (content,)
    if isinstance(content, tuple) and content and isinstance(content[0], Stack):
        return content
    return ()


def _settings(stack: Stack) -> set[int]:
    """Fence settings that are not the same for every plan: column, bands and rows, pieces of rows."""
    found = {stack.u}
    for element in stack.elements:
        found.add(element.v)
        if isinstance(element, RowOfPieces):
            found |= {piece.u for piece in element.pieces}
    return found
