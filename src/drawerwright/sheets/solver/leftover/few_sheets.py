"""Part of a plan as a task of its own: a few of its sheets and what is cut from them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from drawerwright.sheets.solver.columns import FilledSheet
from drawerwright.sheets.solver.task import Task


@dataclass(frozen=True, slots=True)
class FewSheets:
    """`sheets` alone, with frames numbered anew; `numbers` are those of the whole task."""

    task: Task
    sheets: tuple[FilledSheet, ...]
    numbers: tuple[int, ...]

    @classmethod
    def of(cls, task: Task, sheets: Sequence[FilledSheet]) -> FewSheets:
        """The task to cut the parts of `sheets` from no more than these sheets."""
        held: Counter[int] = Counter()
        for sheet in sheets:
            for stack in sheet.stacks:
                held.update(dict(stack.takes))
        used = Counter(task.frames[sheet.frame].size for sheet in sheets)
        numbers = tuple(number for number, frame in enumerate(task.frames) if used[frame.size])
        part = replace(
            task,
            frames=tuple(task.frames[number] for number in numbers),
            demand=tuple(held[demand] for demand in range(len(task.demand))),
            limits=tuple(used[size] for size in range(len(task.limits))),
            least_columns={},
            least_alone={},
        )
        own = tuple(replace(sheet, frame=numbers.index(sheet.frame)) for sheet in sheets)
        return cls(part, own, numbers)

    def of_the_whole(self, sheets: Iterable[FilledSheet]) -> list[FilledSheet]:
        """Sheets of this task as sheets of the whole one."""
        return [replace(sheet, frame=self.numbers[sheet.frame]) for sheet in sheets]
