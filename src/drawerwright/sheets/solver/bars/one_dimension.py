"""Tasks of one dimension: every sheet is a bar that parts share lengthwise, or a single column is."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence

from drawerwright.sheets.solver.bars.swapping import fit_by_swapping
from drawerwright.sheets.solver.columns import FilledSheet
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


def swap_into_fewer(
    task: Task,
    bars: Bars,
    sheets: Sequence[FilledSheet],
    count: int,
    *,
    dice: random.Random,
    is_over: Callable[[], bool],
) -> list[FilledSheet] | None:
    """The parts of `sheets` in `count` bars, beginning from the fullest of them; None when no way was found."""
    demands: list[int] = []
    filled: list[list[int]] = []
    for sheet in sheets:
        parts: list[int] = []
        for stack in sheet.stacks:
            for demand, copies in stack.takes:
                parts += range(len(demands), len(demands) + copies)
                demands += [demand] * copies
        filled.append(parts)
    lengths = [bars.lengths[demand] for demand in demands]
    filled.sort(key=lambda parts: -sum(lengths[part] for part in parts))
    beside = [part for parts in filled[count:] for part in parts]
    found = fit_by_swapping(lengths, bars.capacity, filled[:count], beside, dice=dice, is_over=is_over)
    if found is None:
        return None
    made: list[FilledSheet] = []
    for parts in found:
        counts: dict[int, int] = {}
        for part in parts:
            counts[demands[part]] = counts.get(demands[part], 0) + 1
        if counts:
            made.append(FilledSheet(0, (bars.build(counts),)))
    return made
