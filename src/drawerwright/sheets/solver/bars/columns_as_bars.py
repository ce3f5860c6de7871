"""Columns that are known, side by side on sheets of one kind: a task of one dimension."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from drawerwright.sheets.solver.columns import FilledSheet, Frame, Piece, Sizing, Stack
from drawerwright.sheets.solver.filling.pieces import PieceStacks
from drawerwright.sheets.solver.task import Task


def column_bars(frame: Frame, kerf: int, counts: Mapping[int, int]) -> Task:
    """The task of cutting columns, `counts` by width in ticks, from sheets of `frame` as if they were bars.

    Its demands are the widths in rising order.
    """
    widths = sorted(counts)
    pieces = [Piece(number, 1, width) for number, width in enumerate(widths)]
    return Task(
        (Frame(0, 1, frame.length, frame.cost),),
        tuple(counts[width] for width in widths),
        tuple(widths),
        (None,),
        Sizing(kerf),
        {False: PieceStacks(pieces, kerf=kerf, tallest=frame.length, exact=True)},
    )


def put_columns(bars: Sequence[FilledSheet], stacks: Sequence[Stack], frame: int = 0) -> list[FilledSheet]:
    """Sheets of a frame (by number) that hold `stacks` as the cut `bars` of `column_bars` say."""
    waiting: dict[int, list[Stack]] = {}
    for stack in stacks:
        waiting.setdefault(stack.u, []).append(stack)
    widths = sorted(waiting)
    made: list[FilledSheet] = []
    for bar in bars:
        chosen = [
            waiting[widths[demand]].pop()
            for stack in bar.stacks
            for demand, count in stack.takes
            for _ in range(min(count, len(waiting[widths[demand]])))
        ]
        if chosen:
            made.append(FilledSheet(frame, tuple(chosen)))
    return made
