"""From the values of a programme's columns to sheets that hold exactly what is wanted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from drawerwright.sheets.solver.columns import FilledSheet, Stack
from drawerwright.sheets.solver.programme.master import Master
from drawerwright.sheets.solver.task import Task


def sheets_from(
    master: Master, values: dict[int, int], placed: Sequence[tuple[int, Stack]] = ()
) -> list[FilledSheet]:
    """Sheets from the values of a programme's columns; every pattern's places take the stacks of their kind.

    `placed` are stacks (class number, stack) that are wanted beside those of the values.
    """
    waiting: dict[tuple[int, int], list[Stack]] = {}
    for number, stack in placed:
        waiting.setdefault((number, stack.kind), []).append(stack)
    slots: list[tuple[int, int, tuple[tuple[int, int], ...]]] = []
    sheets: list[FilledSheet] = []
    for column, count in values.items():
        what, number, content = master.meanings[column]
        if what == "stack":
            assert isinstance(content, Stack)
            waiting.setdefault((number, content.kind), []).extend([content] * count)
        elif what == "whole":
            assert isinstance(content, tuple)
            sheets.extend([FilledSheet(number, content)] * count)
        elif what == "pattern":
            frame = master.task.frames[number]
            group = master.class_of(frame)
            assert isinstance(content, tuple)
            slots.extend([(number, group, content)] * count)
    for frame_number, group, content in slots:
        stacks: list[Stack] = []
        for kind, count in content:
            ready = waiting.get((group, kind), [])
            stacks.extend(ready.pop() for _ in range(min(count, len(ready))))
        if stacks:
            sheets.append(FilledSheet(frame_number, tuple(stacks)))
    return sheets


def exactly(task: Task, sheets: Sequence[FilledSheet]) -> list[FilledSheet]:
    """`sheets` without what they hold beyond the demand; sheets left empty fall away."""
    surplus: Counter[int] = Counter()
    for sheet in sheets:
        for stack in sheet.stacks:
            for demand, count in stack.takes:
                surplus[demand] += count
    for demand, count in enumerate(task.demand):
        surplus[demand] -= count
    surplus = +surplus
    if not surplus:
        return list(sheets)
    kept: list[FilledSheet] = []
    for sheet in reversed(sheets):
        stacks = tuple(
            left for stack in sheet.stacks if (left := task.sizing.without(stack, surplus)) is not None
        )
        if stacks:
            kept.append(replace(sheet, stacks=stacks))
    return kept[::-1]
