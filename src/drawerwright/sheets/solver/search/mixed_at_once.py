"""A plan in next to no time where bands may be trimmed: columns of several lengths, as many sheets as they take."""

from __future__ import annotations

import random
from bisect import bisect_left
from collections.abc import Sequence

from drawerwright.sheets.solver.columns import FilledSheet, Frame, Stack
from drawerwright.sheets.solver.filling.fill_table import best_fill
from drawerwright.sheets.solver.filling.first_fit import first_fit
from drawerwright.sheets.solver.filling.mixed_columns import mixed_columns
from drawerwright.sheets.solver.task import Task

SPREADS = (0.0, 0.05, 0.1, 0.2)
"""Shares by which the worth of elements is off their area, from one attempt to the next."""


def mixed_at_once(task: Task) -> list[FilledSheet] | None:
    """Free sheets first, then sheets of the kind that holds the rest for the least, a cheaper one last if it will do.

    None where parts fit no such sheet, or where sheets that cost something are limited.
    """
    left = list(task.demand)
    dice = random.Random(len(left))
    sheets = _on_free_sheets(task, left, dice)
    if not any(left):
        return sheets
    best: list[FilledSheet] | None = None
    for number, frame in enumerate(task.frames):
        if not frame.cost or task.limits[frame.size] is not None:
            continue
        for spread in SPREADS:
            columns = _columns(task, frame, left, dice, spread)
            if columns is None:
                break
            made = _side_by_side(task, number, columns)
            if best is None or _cost(task, made) < _cost(task, best):
                best = made
    if best is None:
        return None
    return [*sheets, *_with_a_cheaper_last(task, best, dice)]


def _cost(task: Task, sheets: Sequence[FilledSheet]) -> int:
    return sum(task.frames[sheet.frame].cost for sheet in sheets)


def _columns(
    task: Task, frame: Frame, left: Sequence[int], dice: random.Random, spread: float
) -> list[Stack] | None:
    """All parts left in columns of a frame; None where one of them does not fit."""
    columns, held = _columns_of_most(task, frame, left, dice, spread)
    return columns if held == sum(left) else None


def _columns_of_most(
    task: Task, frame: Frame, left: Sequence[int], dice: random.Random, spread: float
) -> tuple[list[Stack], int]:
    """The parts left that fit a frame, in columns, and how many these are."""
    source, sizing = task.sources[frame.transposed], task.sizing
    elements = source.elements(left, frame.length, frame.width)
    held = sum(count for element in elements for _, count in element.takes)
    columns = mixed_columns(elements, frame.width, sizing.kerf, dice if spread else None, spread)
    stacks: list[Stack] = []
    for column in columns:
        kind = bisect_left(source.widths, column[0].u)
        stacks.append(sizing.stack(kind, source.widths[kind], column))
    return stacks, held


def _side_by_side(task: Task, number: int, columns: Sequence[Stack]) -> list[FilledSheet]:
    kerf = task.sizing.kerf
    sheets = first_fit(((stack.u + kerf, stack) for stack in columns), task.frames[number].length + kerf)
    return [FilledSheet(number, tuple(stacks)) for stacks in sheets]


def _on_free_sheets(task: Task, left: list[int], dice: random.Random) -> list[FilledSheet]:
    """Sheets that cost nothing, the largest first, each with the columns of most area; taken from `left`."""
    kerf = task.sizing.kerf
    sheets: list[FilledSheet] = []
    stock = list(task.limits)
    free = [number for number, frame in enumerate(task.frames) if not frame.cost]
    for number in sorted(free, key=lambda n: -task.frames[n].length * task.frames[n].width):
        frame = task.frames[number]
        while any(left) and stock[frame.size] != 0:
            columns, _ = _columns_of_most(task, frame, left, dice, 0.0)
            worths = [sum(task.areas[d] * count for d, count in stack.takes) for stack in columns]
            _, taken = best_fill(
                [stack.u + kerf for stack in columns], worths, [1] * len(columns), frame.length + kerf
            )
            if not taken:
                break
            chosen = tuple(columns[place] for place in taken)
            sheets.append(FilledSheet(number, chosen))
            limit = stock[frame.size]
            stock[frame.size] = None if limit is None else limit - 1
            for stack in chosen:
                for demand, count in stack.takes:
                    left[demand] -= count
    return sheets


def _with_a_cheaper_last(task: Task, sheets: list[FilledSheet], dice: random.Random) -> list[FilledSheet]:
    """The sheet that holds the least replaced by the cheapest that holds as much."""
    areas = [sum(task.areas[d] * count for s in sheet.stacks for d, count in s.takes) for sheet in sheets]
    last = sheets.pop(areas.index(min(areas)))
    held = [0] * len(task.demand)
    for stack in last.stacks:
        for demand, count in stack.takes:
            held[demand] += count
    best = [last]
    for number, frame in enumerate(task.frames):
        if 0 < frame.cost < _cost(task, best) and task.limits[frame.size] is None:
            columns = _columns(task, frame, held, dice, 0.0)
            made = _side_by_side(task, number, columns) if columns is not None else best
            if _cost(task, made) < _cost(task, best):
                best = made
    return [*sheets, *best]
