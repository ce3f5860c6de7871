"""What is left over gathered on one sheet, by moving columns between sheets."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from drawerwright.sheets.solver.columns import FilledSheet, Stack
from drawerwright.sheets.solver.filling.fill_table import best_fill
from drawerwright.sheets.solver.task import Task


def narrowed(sheets: Iterable[FilledSheet]) -> tuple[FilledSheet, ...]:
    """Every column only as wide as the widest that lies in it: what it has beyond that is one piece with the rest."""
    return tuple(
        replace(
            sheet,
            stacks=tuple(
                replace(stack, u=max((element.u for element in stack.elements), default=stack.u))
                for stack in sheet.stacks
            ),
        )
        for sheet in sheets
    )


def gather_offcut(task: Task, sheets: Sequence[FilledSheet]) -> tuple[FilledSheet, ...]:
    """Move columns between sheets of one frame so that a single sheet is left as empty as can be.

    All sheets but one are filled as full as they go; the columns themselves stay as they are.
    """
    groups: dict[int, list[FilledSheet]] = {}
    for sheet in sheets:
        groups.setdefault(sheet.frame, []).append(sheet)
    result: list[FilledSheet] = []
    for number, group in groups.items():
        result += _gathered(task, number, group) if len(group) > 1 else group
    return tuple(result)


def _gathered(task: Task, number: int, group: list[FilledSheet]) -> list[FilledSheet]:
    frame, kerf = task.frames[number], task.sizing.kerf
    if frame.apart:
        return group
    waiting: dict[int, list[Stack]] = {}
    for sheet in group:
        for stack in sheet.stacks:
            waiting.setdefault(stack.u, []).append(stack)
    made: list[FilledSheet] = []
    for _ in group[:-1]:
        widths = [width for width, stacks in waiting.items() if stacks]
        _, counts = best_fill(
            [width + kerf for width in widths],
            [width + kerf for width in widths],
            [len(waiting[width]) for width in widths],
            frame.length + kerf,
        )
        chosen = [waiting[widths[place]].pop() for place, count in counts.items() for _ in range(count)]
        if chosen:
            made.append(FilledSheet(number, tuple(chosen)))
    rest = [stack for stacks in waiting.values() for stack in stacks]
    room = sum(stack.u + kerf for stack in rest)
    if room > frame.length + kerf or room >= min(_used(sheet, kerf) for sheet in group):
        return group
    if rest:
        made.append(FilledSheet(number, tuple(rest)))
    return made


def _used(sheet: FilledSheet, kerf: int) -> int:
    return sum(stack.u + kerf for stack in sheet.stacks)
