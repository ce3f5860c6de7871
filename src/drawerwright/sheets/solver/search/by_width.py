"""Parts of fixed direction: one column width after the other, then the sheets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drawerwright.sheets.problem import LaterAim
from drawerwright.sheets.solver.bars.columns_as_bars import column_bars, put_columns
from drawerwright.sheets.solver.columns import FilledSheet, Frame, Stack
from drawerwright.sheets.solver.mix.whole_columns import suits
from drawerwright.sheets.solver.outcome import Outcome, Watch
from drawerwright.sheets.solver.search.cheapest import search
from drawerwright.sheets.solver.search.greedy import fill_sheets
from drawerwright.sheets.solver.task import Task

ONE_SIZE_SHARE = 0.1
"""Share of the time for what each size needs alone, where there are better ways to a plan."""


def suits_by_width(task: Task) -> bool:
    """Whether sheets of one kind, as many as are needed, are cut in one direction into parts of one width each."""
    is_single = len(task.frames) == 1 and task.limits[task.frames[0].size] is None
    return is_single and set(task.sources) == {False} and bool(task.sources[False].by_width())


def search_by_width(task: Task, watch: Watch, aims: Sequence[LaterAim] = ()) -> Outcome | None:
    """Where every demand fits one column width only: first the least columns of each width, then the sheets.

    With one kind of frame this is exact; with several it gives `least_columns` to the whole task. None when
    the task is not of this kind.
    """
    if not suits_by_width(task):
        return None
    parts = task.sources[False].by_width()
    if all(frame.length < 2 * min(task.sources[False].widths) for frame in task.frames):
        return None
    tallest = max(frame.width for frame in task.frames)
    single = len(task.frames) == 1 and task.limits[task.frames[0].size] is None
    sooner = watch if single else watch.within(watch.seconds / 8)
    stacks: dict[int, list[Stack]] = {}
    least: dict[int, int] = {}
    for kind, part in enumerate(parts):
        width = part.widths[0]
        wanted = part.demands
        count = len(parts) - kind
        one = Task(
            (Frame(0, width, tallest, 1),),
            tuple(count if demand in wanted else 0 for demand, count in enumerate(task.demand)),
            task.areas,
            (None,),
            task.sizing,
            {False: part},
        )
        outcome = search(one, sooner.within(sooner.seconds / (count + 1)))
        if outcome.sheets is None:
            return None
        stacks[width] = [replace(sheet.stacks[0], kind=kind) for sheet in outcome.sheets]
        least[width] = outcome.bound
    if not single:
        known: list[list[FilledSheet]] = []
        alone: dict[int, int] = {}
        if not suits(task):
            known, alone = by_one_size(task, watch)
        elif not any(frame.apart for frame in task.frames):
            known, alone = by_one_size(task, watch.within(watch.seconds * ONE_SIZE_SHARE))
        return search(replace(task, least_columns=least, least_alone=alone), watch, aims=aims, known=known)
    frame = task.frames[0]
    bound, sheets = 0, None
    for counts in (least, {width: len(found) for width, found in stacks.items()}):
        if sheets is not None and counts == least:
            break
        whole = column_bars(frame, task.sizing.kerf, counts)
        outcome = search(whole, watch, least_bound=bound)
        if counts is least or counts == least:
            bound = max(bound, outcome.bound)
        sheets = outcome.sheets
    assert sheets is not None
    made = put_columns(sheets, [stack for found in stacks.values() for stack in found])
    return Outcome(tuple(made), frame.cost * len(made), bound)


def by_one_size(task: Task, watch: Watch) -> tuple[list[list[FilledSheet]], dict[int, int]]:
    """Plans that fill the free sheets first and then take sheets of one size only: quick, and hard to beat.

    With them, where there are no free sheets, the least number that is needed of a size alone, by its number.
    """
    free = fill_sheets(task, task.areas, only_free=True) or []
    left = list(task.demand)
    for sheet in free:
        for stack in sheet.stacks:
            for demand, count in stack.takes:
                left[demand] -= count
    plans: list[list[FilledSheet]] = []
    least: dict[int, int] = {}
    buyable = [n for n, frame in enumerate(task.frames) if frame.cost and task.limits[frame.size] is None]
    for number in buyable:
        frame = task.frames[number]
        one = replace(task, frames=(frame,), demand=tuple(left))
        outcome = search_by_width(one, watch.within(watch.seconds / (2 * len(buyable))))
        if outcome is not None and outcome.sheets is not None:
            plans.append([*free, *(replace(sheet, frame=number) for sheet in outcome.sheets)])
            if not free:
                least[frame.size] = -(-outcome.bound // frame.cost)
    return plans, least
