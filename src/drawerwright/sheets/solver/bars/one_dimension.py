"""Tasks of one dimension: every sheet is a bar that parts share lengthwise, or a single column is."""

from __future__ import annotations

from drawerwright.sheets.solver.filling.stacks import Bars
from drawerwright.sheets.solver.task import Task


def bars_of(task: Task) -> Bars | None:
    """The bars that a task's sheets are; None when they are more than that."""
    if len(task.frames) != 1 or task.least_columns:
        return None
    frame = task.frames[0]
    source = task.sources[frame.transposed]
    if len(source.widths) != 1 or 2 * source.widths[0] + task.sizing.kerf <= frame.length:
        return None
    return source.bars(frame.width)
