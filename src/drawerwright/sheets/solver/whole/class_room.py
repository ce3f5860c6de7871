"""Whether so many sheets of a class hold so many columns of each width, and how they lie on them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from drawerwright.sheets.solver.columns import FilledSheet, Frame, Piece, Sizing, Stack
from drawerwright.sheets.solver.filling.fill_table import best_fill
from drawerwright.sheets.solver.filling.pieces import PieceStacks
from drawerwright.sheets.solver.outcome import Outcome, Watch
from drawerwright.sheets.solver.programme.highs import INFINITY, GrowingProgram
from drawerwright.sheets.solver.programme.pricing import VALUE_SCALE
from drawerwright.sheets.solver.task import Task
from drawerwright.sheets.solver.whole.sheet_classes import SheetClass

MISSING = 1e-6
"""Columns left over that count as none, where sheets may be divided."""

Pack = Callable[[Task, Watch], Outcome]
"""A search of a one-dimensional task."""


@dataclass(frozen=True, slots=True)
class RoomRule:
    """Prices of columns by width under which no sheet of a frame (by number) holds more than `worths`."""

    prices: dict[int, int]
    worths: dict[int, int]


class ClassRoom:
    """What the sheets of one class hold in columns of these widths."""

    def __init__(self, task: Task, group: SheetClass, widths: Sequence[int]) -> None:
        self._task, self._group = task, group
        self.widths = tuple(width for width in widths if width <= group.longest)
        self.rules: list[RoomRule] = []
        self._program = GrowingProgram(
            [*(0.0 for _ in self.widths), *(-INFINITY for _ in group.frames)],
            [*(INFINITY for _ in self.widths), *(0.0 for _ in group.frames)],
        )
        for row, width in enumerate(self.widths):
            self._program.add_column((width / group.longest, [row], [1.0]))
        self._known: set[tuple[int, tuple[tuple[int, int], ...]]] = set()
        kerf = task.sizing.kerf
        for most in (1, 2, 3):
            self._learn([int((width + kerf) * (most + 1) > group.longest + kerf) for width in self.widths])

    def holds(self, columns: Mapping[int, float], numbers: Mapping[int, float]) -> bool:
        """Whether these numbers of sheets, by frame, hold the columns, by width, if sheets may be divided.

        Learns a rule where they do not.
        """
        if not self.widths:
            return True
        for row, width in enumerate(self.widths):
            self._program.set_row(row, float(columns.get(width, 0)))
        for place, number in enumerate(self._group.frames):
            self._program.set_row(len(self.widths) + place, -INFINITY, float(numbers.get(number, 0)))
        while True:
            missing, duals, _ = self._program.solve()
            if missing < MISSING:
                return True
            prices = [max(0, int(dual * VALUE_SCALE)) for dual in duals[: len(self.widths)]]
            rule, is_new = self._learn(prices)
            asked = sum(rule.prices[width] * count for width, count in columns.items() if count)
            if asked * (1 - MISSING) > sum(rule.worths[number] * count for number, count in numbers.items()):
                return False
            if not is_new:
                return True

    def learn(self, prices: Mapping[int, int]) -> None:
        """The rule of these prices by width, and the sheets that are worth most under them."""
        self._learn([prices.get(width, 0) for width in self.widths])

    def _learn(self, prices: Sequence[int]) -> tuple[RoomRule, bool]:
        """The rule of these prices, and whether a sheet is new that is worth most under them."""
        kerf = self._task.sizing.kerf
        worths: dict[int, int] = {}
        is_new = False
        for place, number in enumerate(self._group.frames):
            length = self._task.frames[number].length
            fitting = [row for row, width in enumerate(self.widths) if width <= length]
            worths[number], counts = best_fill(
                [self.widths[row] + kerf for row in fitting],
                [prices[row] for row in fitting],
                [length // self.widths[row] for row in fitting],
                length + kerf,
            )
            content = tuple((fitting[item], count) for item, count in sorted(counts.items()))
            if content and (number, content) not in self._known:
                is_new = True
                self._known.add((number, content))
                rows = [*(row for row, _ in content), len(self.widths) + place]
                self._program.add_column((0.0, rows, [*(float(count) for _, count in content), 1.0]))
        rule = RoomRule(dict(zip(self.widths, prices, strict=True)), worths)
        if any(prices) and rule not in self.rules:
            self.rules.append(rule)
        return rule, is_new

    def pack(
        self, stacks: Sequence[Stack], numbers: Mapping[int, int], pack: Pack, watch: Watch
    ) -> tuple[list[FilledSheet], list[Stack]]:
        """Sheets in at most these numbers that hold the columns, and the columns for which there is no place."""
        waiting: dict[int, list[Stack]] = {}
        for stack in stacks:
            waiting.setdefault(stack.u, []).append(stack)
        widths = sorted(waiting)
        if not widths:
            return [], []
        one = self._bars({width: len(waiting[width]) for width in widths}, numbers)
        outcome = pack(one, watch) if one.frames else Outcome(None, 0, 0)
        if outcome.sheets is None:
            return self._in_turn(waiting, numbers)
        frames = [number for number, count in numbers.items() if count]
        sheets: list[FilledSheet] = []
        for sheet in outcome.sheets:
            taken = [
                waiting[widths[element.demand]].pop()
                for element in sheet.stacks[0].elements
                if isinstance(element, Piece)
            ]
            sheets.append(FilledSheet(frames[sheet.frame], tuple(taken)))
        return sheets, []

    def _bars(self, counts: Mapping[int, int], numbers: Mapping[int, int]) -> Task:
        """The columns as parts of bars, as many of each length as there are sheets."""
        kerf, frames = self._task.sizing.kerf, [number for number, count in numbers.items() if count]
        longest = max((self._task.frames[number].length for number in frames), default=0)
        pieces = [Piece(place, 1, width) for place, width in enumerate(counts)]
        return Task(
            tuple(
                Frame(place, 1, self._task.frames[number].length, 1) for place, number in enumerate(frames)
            ),
            tuple(counts.values()),
            tuple(counts),
            tuple(numbers[number] for number in frames),
            Sizing(kerf),
            {False: PieceStacks(pieces, kerf=kerf, tallest=longest, exact=True)},
        )

    def _in_turn(
        self, waiting: dict[int, list[Stack]], numbers: Mapping[int, int]
    ) -> tuple[list[FilledSheet], list[Stack]]:
        """Sheets filled one after the other, each as full as it goes."""
        kerf = self._task.sizing.kerf
        sheets: list[FilledSheet] = []
        for number, count in sorted(numbers.items(), key=lambda pair: self._task.frames[pair[0]].length):
            length = self._task.frames[number].length
            for _ in range(count):
                fitting = [width for width, stacks in waiting.items() if stacks and width <= length]
                _, taken = best_fill(
                    [width + kerf for width in fitting],
                    [width + kerf for width in fitting],
                    [len(waiting[width]) for width in fitting],
                    length + kerf,
                )
                held = [waiting[fitting[item]].pop() for item, copies in taken.items() for _ in range(copies)]
                if held:
                    sheets.append(FilledSheet(number, tuple(held)))
        return sheets, [stack for stacks in waiting.values() for stack in stacks]
