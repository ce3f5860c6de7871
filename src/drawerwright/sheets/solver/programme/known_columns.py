"""The programme over the columns that are known: its rows, and what a column does in them.

Two kinds of variables: stacks (what fills a column) and sheet patterns (how many columns of each kind a sheet
holds). A link per frame and kind of column says that no more stacks are used than patterns provide. That is
as strong as patterns of whole sheets (Gilmore and Gomory, Oper. Res. 13, 1965) and lets stacks change places
freely. Frames that are `apart` (offcuts) take patterns of whole sheets instead.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from drawerwright.sheets.solver.columns import FilledSheet, Frame, Stack
from drawerwright.sheets.solver.programme.highs import INFINITY, Column, GrowingProgram
from drawerwright.sheets.solver.task import Task


@dataclass
class Pool:
    """Columns found so far, as the whole-number programme needs them."""

    stacks: dict[tuple[int, Stack], int] = field(default_factory=dict)
    patterns: dict[tuple[int, tuple[tuple[int, int], ...]], int] = field(default_factory=dict)
    whole: dict[tuple[int, tuple[Stack, ...]], int] = field(default_factory=dict)


class KnownColumns:
    """The programme over a task with the columns that are known (the restricted master of the literature)."""

    def __init__(self, task: Task) -> None:
        self.task = task
        frames = task.frames
        self.classes: list[tuple[bool, int]] = sorted(
            {(frame.transposed, frame.width) for frame in frames if not frame.apart}
        )
        self._class_of = {pair: number for number, pair in enumerate(self.classes)}
        self.mean_cost = max(1.0, max((frame.cost for frame in frames), default=1))
        self.columns: list[Column] = []
        self.meanings: list[tuple[str, int, object]] = []
        self.pool = Pool()
        self._has_placed = False
        self._lay_rows()
        self.program = GrowingProgram(self.lower, self.upper)
        big = 20.0
        self.spare: list[int] = []
        for demand in range(len(task.demand)):
            self.spare.append(self.program.add_column((big, [demand], [1.0])))
            self.columns.append((big, [demand], [1.0]))
            self.meanings.append(("spare", demand, None))
        for row in self.least_row.values():
            self.spare.append(self.program.add_column((big, [row], [1.0])))
            self.columns.append((big, [row], [1.0]))
            self.meanings.append(("spare", row, None))

    def _lay_rows(self) -> None:
        task = self.task
        self.lower: list[float] = [float(count) for count in task.demand]
        self.upper: list[float] = [INFINITY] * len(task.demand)
        self.link: dict[tuple[int, int], int] = {}
        for number, (transposed, _) in enumerate(self.classes):
            for kind in range(len(task.sources[transposed].widths)):
                self.link[number, kind] = len(self.lower)
                self.lower.append(0.0)
                self.upper.append(INFINITY)
        self.limit_row: dict[int, int] = {}
        for size, limit in enumerate(task.limits):
            if limit is not None:
                self.limit_row[size] = len(self.lower)
                self.lower.append(-INFINITY)
                self.upper.append(float(limit))
        self.least_row: dict[int, int] = {}
        for width, count in task.least_columns.items():
            self.least_row[width] = len(self.lower)
            self.lower.append(float(count))
            self.upper.append(INFINITY)

    @property
    def first(self) -> int:
        """Number of the first column that stands for something to be cut."""
        return len(self.spare)

    def class_of(self, frame: Frame) -> int:
        """Number of the class in which a frame's stacks are exchanged."""
        return self._class_of[frame.transposed, frame.width]

    def add_stack(self, number: int, stack: Stack) -> int | None:
        """Let `stack` be used in class `number`; its column, None when it was there already."""
        key = (number, stack)
        if key in self.pool.stacks or not stack.elements:
            return None
        rows = [demand for demand, _ in stack.takes]
        coefficients = [float(count) for _, count in stack.takes]
        rows.append(self.link[number, stack.kind])
        coefficients.append(-1.0)
        if stack.u in self.least_row:
            rows.append(self.least_row[stack.u])
            coefficients.append(1.0)
        self.pool.stacks[key] = self._add((0.0, rows, coefficients), ("stack", number, stack))
        return self.pool.stacks[key]

    def add_pattern(self, frame_number: int, counts: tuple[tuple[int, int], ...]) -> int | None:
        """Let sheets of a frame hold these columns (kind, count)."""
        key = (frame_number, counts)
        if key in self.pool.patterns or not counts:
            return None
        frame = self.task.frames[frame_number]
        number = self._class_of[frame.transposed, frame.width]
        rows = [self.link[number, kind] for kind, _ in counts]
        coefficients = [float(count) for _, count in counts]
        if frame.size in self.limit_row:
            rows.append(self.limit_row[frame.size])
            coefficients.append(1.0)
        column = (frame.cost / self.mean_cost, rows, coefficients)
        self.pool.patterns[key] = self._add(column, ("pattern", frame_number, counts))
        return self.pool.patterns[key]

    def add_whole(self, frame_number: int, stacks: tuple[Stack, ...]) -> int | None:
        """Let a sheet of a frame that is apart be cut into these stacks."""
        stacks = tuple(sorted((stack for stack in stacks if stack.elements), key=repr))
        key = (frame_number, stacks)
        if key in self.pool.whole or not stacks:
            return None
        frame = self.task.frames[frame_number]
        total: dict[int, float] = {}
        for stack in stacks:
            for demand, count in stack.takes:
                total[demand] = total.get(demand, 0.0) + count
            if stack.u in self.least_row:
                row = self.least_row[stack.u]
                total[row] = total.get(row, 0.0) + 1
        if frame.size in self.limit_row:
            total[self.limit_row[frame.size]] = 1.0
        column = (frame.cost / self.mean_cost, list(total), list(total.values()))
        self.pool.whole[key] = self._add(column, ("whole", frame_number, stacks))
        return self.pool.whole[key]

    def _add(self, column: Column, meaning: tuple[str, int, object]) -> int:
        self.columns.append(column)
        self.meanings.append(meaning)
        return self.program.add_column(column)

    def add_sheets(self, sheets: Sequence[FilledSheet]) -> None:
        """Make a plan known, so that the programme starts no worse than it."""
        for sheet in sheets:
            frame = self.task.frames[sheet.frame]
            if frame.apart:
                self.add_whole(sheet.frame, sheet.stacks)
                continue
            number = self._class_of[frame.transposed, frame.width]
            counts: dict[int, int] = {}
            for stack in sheet.stacks:
                self.add_stack(number, stack)
                counts[stack.kind] = counts.get(stack.kind, 0) + 1
            self.add_pattern(sheet.frame, tuple(sorted(counts.items())))

    def values_of(self, sheets: Sequence[FilledSheet]) -> dict[int, int]:
        """How often each column (by number) is used by sheets that `add_sheets` has made known."""
        values: Counter[int] = Counter()
        for sheet in sheets:
            frame = self.task.frames[sheet.frame]
            if frame.apart:
                stacks = tuple(sorted((stack for stack in sheet.stacks if stack.elements), key=repr))
                values[self.pool.whole[sheet.frame, stacks]] += 1
                continue
            kinds = Counter(stack.kind for stack in sheet.stacks)
            values[self.pool.patterns[sheet.frame, tuple(sorted(kinds.items()))]] += 1
            values.update(self.pool.stacks[self.class_of(frame), stack] for stack in sheet.stacks)
        return dict(values)

    def share_stacks(self) -> None:
        """Offer every stack to every class it fits."""
        for _, stack in list(self.pool.stacks):
            for number, (transposed, width) in enumerate(self.classes):
                home = self.task.sources[transposed].widths
                fits = stack.v <= width and stack.kind < len(home) and home[stack.kind] == stack.u
                if fits and len({pair[0] for pair in self.classes}) == 1:
                    self.add_stack(number, stack)

    def want(
        self,
        left: Sequence[int],
        stock: Sequence[int | None],
        placed: Mapping[tuple[int, int], int] | None = None,
    ) -> None:
        """Ask the programme for this much of each demand, from so many sheets of each size.

        Columns `placed` (by class and kind) are there already and want sheets.
        """
        if placed or self._has_placed:
            for key, row in self.link.items():
                self.program.set_row(row, float(placed.get(key, 0)) if placed else 0.0)
            self._has_placed = bool(placed)
        for demand, count in enumerate(left):
            self.program.set_row(demand, float(count))
        for size, row in self.limit_row.items():
            self.program.set_row(row, -INFINITY, float(stock[size] or 0))
        whole = tuple(left) == self.task.demand
        for width, row in self.least_row.items():
            self.program.set_row(row, float(self.task.least_columns[width]) if whole else 0.0)
