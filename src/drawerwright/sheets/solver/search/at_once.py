"""A plan for thousands of parts in no time: what fits first, the longest before the others."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from drawerwright.sheets.solver.columns import FilledSheet, Frame, Stack
from drawerwright.sheets.solver.filling.first_fit import first_fit
from drawerwright.sheets.solver.search.mixed_at_once import mixed_at_once
from drawerwright.sheets.solver.task import Task


def at_once(task: Task) -> list[FilledSheet] | None:
    """Bands that fill their columns, columns that fill sheets of one kind, that cost the least by their area.

    Where bands may be trimmed, columns hold several (`mixed_at_once`). None where sheets are limited, or where columns
    hold anything but one band of their own width.
    """
    if task.untrimmed:
        return mixed_at_once(task)
    frames = [n for n, frame in enumerate(task.frames) if frame.cost and task.limits[frame.size] is None]
    for number in sorted(frames, key=lambda n: _rate(task.frames[n])):
        columns = _columns(task, task.frames[number])
        if columns is not None:
            frame = task.frames[number]
            sheets = first_fit(
                ((stack.u + task.sizing.kerf, stack) for stack in columns), frame.length + task.sizing.kerf
            )
            return [FilledSheet(number, tuple(stacks)) for stacks in sheets]
    return None


def _rate(frame: Frame) -> float:
    return frame.cost / (frame.length * frame.width)


def _columns(task: Task, frame: Frame) -> list[Stack] | None:
    source = task.sources[frame.transposed]
    wanted = {demand for demand, count in enumerate(task.demand) if count}
    columns: list[Stack] = []
    for kind, part in enumerate(source.by_width()):
        mine = sorted(wanted & part.demands)
        if not mine:
            continue
        bars = part.bars(frame.width)
        if bars is None or part.widths[0] > frame.length:
            return None
        lengths = [(bars.lengths[demand], demand) for demand in mine for _ in range(task.demand[demand])]
        if max(lengths)[0] > bars.capacity:
            return None
        wanted.difference_update(mine)
        columns += [
            replace(bars.build(dict(Counter(held))), kind=kind) for held in first_fit(lengths, bars.capacity)
        ]
    return None if wanted else columns
