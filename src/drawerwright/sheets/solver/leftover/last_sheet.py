"""A sheet of which a part is left over: which one, how it is parted, and what that means for the rest."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from drawerwright.sheets.solver.columns import FilledSheet, Frame
from drawerwright.sheets.solver.task import Task

Worth: TypeAlias = Callable[[Frame, int, int], float]
"""What a piece of a frame is worth that is left over, by its sizes along u and v."""


@dataclass(frozen=True, slots=True)
class LastSheet:
    """A sheet of frame `frame` whose leftover comes off by the last crosscut, or by a first cut along it (`ripped`)."""

    frame: int
    ripped: bool

    def whole(self, task: Task) -> int:
        """What may be used of it at the most, in the direction in which it is made shorter."""
        frame = task.frames[self.frame]
        return frame.width if self.ripped else frame.length

    def worth_beyond(self, task: Task, used: int, worth: Worth) -> float:
        """What is left is worth, where `used` of it is taken."""
        frame = task.frames[self.frame]
        left = self.whole(task) - used - task.sizing.kerf
        if left <= 0:
            return 0.0
        return worth(frame, frame.length, left) if self.ripped else worth(frame, left, frame.width)

    def most_used(self, task: Task, target: float, worth: Worth) -> int:
        """The most that may be used so that what is left is worth `target`."""
        low, high = 0, self.whole(task)
        while high - low > 1:
            middle = (low + high) // 2
            if self.worth_beyond(task, middle, worth) >= target:
                low = middle
            else:
                high = middle
        return low

    def shortened(self, task: Task, used: int, cost: int) -> Task:
        """The task with one sheet of the frame replaced by one of which only `used` may be used, at `cost`."""
        frame = task.frames[self.frame]
        short = replace(
            frame,
            size=len(task.limits),
            length=frame.length if self.ripped else used,
            width=used if self.ripped else frame.width,
            cost=cost,
            apart=True,
        )
        limits = [
            limit - 1 if limit is not None and size == frame.size else limit
            for size, limit in enumerate(task.limits)
        ]
        return replace(
            task, frames=(*task.frames, short), limits=(*limits, 1), least_columns={}, least_alone={}
        )

    def used(self, task: Task, sheets: Iterable[FilledSheet]) -> int:
        """What `sheets` of a shortened task take of it."""
        taken = [sheet for sheet in sheets if sheet.frame == len(task.frames)]
        if self.ripped:
            return max((stack.v for sheet in taken for stack in sheet.stacks), default=0)
        kerf = task.sizing.kerf
        return max((sum(stack.u + kerf for stack in sheet.stacks) - kerf for sheet in taken), default=0)

    def restored(self, task: Task, sheets: Sequence[FilledSheet]) -> Iterator[FilledSheet]:
        """`sheets` of a shortened task as sheets of the task itself."""
        used = self.used(task, sheets)
        for sheet in sheets:
            if sheet.frame == len(task.frames):
                yield FilledSheet(self.frame, sheet.stacks, used if self.ripped else None)
            else:
                yield sheet


def best_left(task: Task, sheets: Iterable[FilledSheet], worth: Worth) -> float:
    """What the best single piece is worth that is left over."""
    kerf = task.sizing.kerf
    return max(
        (
            worth(task.frames[sheet.frame], u, v)
            for sheet in sheets
            for u, v in sheet.left_over(task.frames[sheet.frame], kerf)
            if u > 0 and v > 0
        ),
        default=0.0,
    )
