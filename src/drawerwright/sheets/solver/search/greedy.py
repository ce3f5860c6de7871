"""A plan at once: sheet after sheet, each filled as well as the parts still wanted allow."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from drawerwright.sheets.solver.columns import FilledSheet, Frame, Stack
from drawerwright.sheets.solver.filling.fill_table import FillTable
from drawerwright.sheets.solver.filling.stacks import GivenUpError, Offer, StackSource
from drawerwright.sheets.solver.search.at_once import at_once
from drawerwright.sheets.solver.task import Task

MOST_KINDS = 40
"""Widths of column to choose from at once."""


def fill_sheets(
    task: Task,
    values: Sequence[int],
    *,
    give_up: Callable[[], bool] = lambda: False,
    in_haste: Callable[[], bool] = lambda: False,
    only_free: bool = False,
) -> list[FilledSheet] | None:
    """A plan that takes the most valuable sheet each time (value per cost); None when sheets run out.

    Sheets that cost nothing come first, the largest before the others.

    Args:
        task: what is wanted.
        values: of one part of each demand.
        give_up: asked before each sheet, and while one is filled.
        in_haste: asked before each sheet; then the rest is planned `at_once`. Where that is no way, the sheet is
            repeated until none of its parts is wanted any more, so that few sheets are left to be thought of. What is
            cut beyond the demand is for the caller to leave out.
        only_free: fill only the sheets that cost nothing; what they do not hold is left out.
    """
    try:
        return _filled(task.watched(give_up), values, give_up, in_haste, only_free)
    except GivenUpError:
        return None


def _filled(
    task: Task,
    values: Sequence[int],
    give_up: Callable[[], bool],
    in_haste: Callable[[], bool],
    only_free: bool,
) -> list[FilledSheet] | None:
    left = list(task.demand)
    stock = list(task.limits)
    sheets: list[FilledSheet] = []
    costless = [
        all(frame.cost == 0 for frame in task.frames if frame.size == size) for size in range(len(stock))
    ]
    biggest = [
        max((frame.length * frame.width for frame in task.frames if frame.size == size), default=0)
        for size in range(len(stock))
    ]
    for size, area in enumerate(biggest):
        if not area:
            stock[size] = 0
    while any(left):
        if give_up():
            return None
        if in_haste():
            rest = at_once(replace(task, demand=tuple(left), limits=tuple(stock)))
            if rest is not None:
                return [*sheets, *rest]
        best: tuple[float, int, tuple[Stack, ...]] | None = None
        free = [size for size, is_free in enumerate(costless) if is_free and stock[size] != 0]
        in_turn = max(free, key=lambda size: (biggest[size], -size)) if free else None
        if only_free and in_turn is None:
            break
        tried: dict[tuple[bool, int, int, int], tuple[float, tuple[Stack, ...]]] = {}
        for number, frame in enumerate(task.frames):
            if stock[frame.size] == 0 or (in_turn is not None and frame.size != in_turn):
                continue
            shape = (frame.transposed, frame.length, frame.width, frame.cost)
            if shape not in tried:
                stacks = _fill_one(task, frame, values, left)
                total_worth = sum(values[demand] * count for stack in stacks for demand, count in stack.takes)
                tried[shape] = (total_worth / (frame.cost or frame.length * frame.width), stacks)
            worth, stacks = tried[shape]
            if stacks and (best is None or worth > best[0]):
                best = (worth, number, stacks)
        if best is None:
            if in_turn is None:
                return None
            stock[in_turn] = 0
            continue
        _, number, stacks = best
        total: dict[int, int] = {}
        for stack in stacks:
            for demand, count in stack.takes:
                total[demand] = total.get(demand, 0) + count
        size = task.frames[number].size
        if in_haste():
            times = max(-(-left[demand] // count) for demand, count in total.items())
        else:
            times = min(left[demand] // count for demand, count in total.items())
        limit = stock[size]
        if limit is not None:
            times = min(times, limit)
            stock[size] = limit - times
        sheets.extend([FilledSheet(number, stacks)] * times)
        for demand, count in total.items():
            left[demand] = max(left[demand] - times * count, 0)
    return sheets


def _fill_one(task: Task, frame: Frame, values: Sequence[int], left: Sequence[int]) -> tuple[Stack, ...]:
    """Columns for one sheet; what is wanted is never exceeded."""
    source, kerf = task.sources[frame.transposed], task.sizing.kerf
    left = list(left)
    room = frame.length
    placed: list[Stack] = []
    while room > 0:
        start = list(left)
        offers = _densest(source, source.offers(values, left, steps=source.greedy_steps), frame, room)
        table = FillTable(room + kerf)
        found: dict[int, _Column] = {}
        reached = 0
        for offer, most in offers:
            if most <= reached:
                continue  # a narrower column is worth as much
            column = _Column.of(offer, most, frame.width, values, left)
            if column.copies and column.worth > reached:
                reached = column.worth
                found[offer.kind] = column
                table.offer(offer.kind, source.widths[offer.kind] + kerf, column.worth, column.copies)
        counts, _ = table.taken(room + kerf)
        if not counts:
            break
        order = sorted(counts, key=lambda kind: found[kind].worth / source.widths[kind], reverse=True)
        stacks = {kind: found[kind].stack(task, frame.width, start) for kind in order}
        used = 0
        for kind in order:
            stack = stacks[kind]
            for _ in range(counts[kind]):
                if all(left[demand] >= count for demand, count in stack.takes):
                    placed.append(stack)
                    room -= stack.u + kerf
                    used += 1
                    for demand, count in stack.takes:
                        left[demand] -= count
        if not used:
            break
    return tuple(placed)


def _densest(
    source: StackSource, offers: Sequence[Offer], frame: Frame, room: int
) -> list[tuple[Offer, int]]:
    """The offers to choose from with their values, narrow ones first: the densest of them where they are many."""
    widths, height = source.widths, frame.width
    known = [(offer, offer.value(height)) for offer in offers if widths[offer.kind] <= room]
    if len(known) > MOST_KINDS:
        known.sort(key=lambda each: -each[1] / widths[each[0].kind])
    return sorted((each for each in known[:MOST_KINDS] if each[1]), key=lambda each: each[0].kind)


@dataclass(frozen=True, slots=True)
class _Column:
    """A column of the parts that are left, before it is made: of many few are chosen."""

    offer: Offer
    other: Stack | None
    """What is better than the best stack less its surplus."""
    worth: int
    copies: int
    """How often the parts that are left would do for it."""

    @classmethod
    def of(cls, offer: Offer, worth: int, height: int, values: Sequence[int], left: Sequence[int]) -> _Column:
        """The best column of an offer, `worth` so much, without what is more than wanted."""
        whole = dict(offer.takes(height))
        takes = {demand: min(count, left[demand]) for demand, count in whole.items()}
        other: Stack | None = None
        if takes != whole:
            worth = sum(values[demand] * count for demand, count in takes.items())
            for stack in offer.others(height, worth):
                if all(count <= left[demand] for demand, count in stack.takes):
                    better = sum(values[demand] * count for demand, count in stack.takes)
                    if better > worth:
                        worth, other, takes = better, stack, dict(stack.takes)
        copies = min((left[demand] // count for demand, count in takes.items() if count), default=0)
        return cls(offer, other, worth, copies)

    def stack(self, task: Task, height: int, left: Sequence[int]) -> Stack:
        """The column itself."""
        if self.other is not None:
            return self.other
        stack = self.offer.stack(height)
        surplus = Counter(
            {demand: count - left[demand] for demand, count in stack.takes if count > left[demand]}
        )
        kept = task.sizing.without(stack, surplus)
        assert kept is not None
        return kept
