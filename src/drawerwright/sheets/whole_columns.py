"""Plans from few sizes and many offcuts: first how many columns of each width, then what fills them.

The waste of a plan arises where a width needs a fraction of a column, and where columns need a fraction of a
sheet. One programme decides just that in whole numbers: what each offcut is cut into, how many columns of each
width the sheets of each height give, and how many sheets of each size are taken. Everything else stays
divisible in it. Then parts are put into columns, width by width, and columns into sheets, size by size:
one-dimensional tasks that nearly always come out. A width that does not come out is decided part by part
in the next programme.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from drawerwright.sheets.columns import CutSheet, Frame, Piece, Sizing, Stack
from drawerwright.sheets.master import Master
from drawerwright.sheets.outcome import Outcome, Watch
from drawerwright.sheets.solve import INFINITY, Column, solve_mixed, solve_whole
from drawerwright.sheets.stacks import PieceStacks
from drawerwright.sheets.task import Task

MOST_ATTEMPTS = 5
"""Programmes solved for one choice of offcuts, with more and more widths decided part by part."""
SECONDS_FIRST, SECONDS_AGAIN = 0.5, 0.3
"""Time for the first programme and for each further attempt."""
SECONDS_FILL, SECONDS_PACK = 0.2, 0.3
"""Time to put the parts of a width into columns, and the columns of a class into sheets."""
SURE = 0.99
"""Offcuts that the linear programme cuts in one way this far are taken as settled."""
SET_FREE = (4, 6, 9, 12)
"""How many offcuts are cut anew while the others stay as they are."""

Kind = tuple[int, int]
"""A class of frames and a kind of column."""
Pack = Callable[[Task, Watch], Outcome]


@dataclass
class _Choice:
    """What a programme has decided: sheets cut from offcuts, what they leave, and columns by class and kind."""

    made: list[CutSheet]
    left: list[int]
    columns: dict[Kind, int]


@dataclass
class _Programme:
    """Columns and rows under construction, and what the columns mean."""

    lower: list[float]
    upper: list[float]
    columns: list[Column] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)

    def row(self, low: float, high: float) -> int:
        self.lower.append(low)
        self.upper.append(high)
        return len(self.lower) - 1

    def add(self, column: Column, *, whole: bool) -> int:
        self.columns.append(column)
        self.whole.append(whole)
        return len(self.columns) - 1


class WholeColumns:
    """Looks for plans with the columns that a programme knows.

    `pack` puts columns into the sheets of one class: a search of a one-dimensional task.
    """

    def __init__(self, master: Master, watch: Watch, dice: random.Random, pack: Pack) -> None:
        self.master, self.watch, self.dice, self.pack = master, watch, dice, pack
        self.exact: set[int] = set()
        """Kinds whose stacks are whole in the programme, as they did not come out once."""
        self.groups = groups_of(master.task)

    def find(
        self, best: Sequence[CutSheet], known: int, kept: Sequence[CutSheet], *, target: float
    ) -> list[CutSheet] | None:
        """Sheets that cost less than `known`; None when there are none such or time is up.

        Args:
            best: the sheets that cost `known`, to begin from.
            known: see there.
            kept: sheets of offcuts that stay as they are.
            target: a cost at which no better one is looked for.
        """
        for attempt in range(MOST_ATTEMPTS):
            seconds = min(SECONDS_FIRST if not attempt else SECONDS_AGAIN, self.watch.seconds / 2)
            choice = self._choose(best, known, kept, target, seconds)
            if choice is None:
                return None
            filled, missing = self._fill(choice)
            if not missing:
                return self._sheets(choice, filled)
            self.exact |= missing
            kept = choice.made
        return None

    def settled(self) -> list[CutSheet]:
        """Sheets of the offcuts that the linear programme cuts in one way."""
        master, task = self.master, self.master.task
        _, _, values = master.program.solve()
        left = list(task.demand)
        kept: list[CutSheet] = []
        for column in np.flatnonzero(values > SURE).tolist():
            what, number, content = master.meanings[column]
            if what != "whole":
                continue
            assert isinstance(content, tuple)
            for _ in range(int(values[column] + 1 - SURE)):
                sheet = _trimmed(task.sizing, CutSheet(number, content), left)
                if sheet is not None:
                    kept.append(sheet)
        return kept

    def some_kept(self, best: Sequence[CutSheet]) -> list[CutSheet]:
        """The sheets of `best` that are cut from offcuts, but for a few by chance."""
        kept = [sheet for sheet in best if self.master.task.frames[sheet.frame].apart]
        return self.dice.sample(kept, max(0, len(kept) - self.dice.choice(SET_FREE)))

    # -- the programme ---------------------------------------------------------------------------------

    def _choose(
        self,
        best: Sequence[CutSheet],
        known: int,
        kept: Sequence[CutSheet],
        target: float,
        seconds: float,
    ) -> _Choice | None:
        master, task = self.master, self.master.task
        left = list(task.demand)
        stock = list(task.limits)
        for sheet in kept:
            for demand, count in takes_of(sheet.stacks):
                left[demand] -= count
            stock[task.frames[sheet.frame].size] = _less(stock[task.frames[sheet.frame].size], 1)
        programme = _Programme(list(master.lower), list(master.upper))
        programme.lower[: len(left)] = [float(max(0, count)) for count in left]
        for size, row in master.limit_row.items():
            programme.upper[row] = float(stock[size] or 0)
        given = {key: programme.row(0.0, INFINITY) for key in master.link}
        number_of: dict[int, int] = {}
        counted: dict[int, int] = {}
        for number, frame in enumerate(task.frames):
            if not frame.apart:
                counted[number] = programme.row(0.0, 0.0)
                column = (frame.cost / master.mean_cost, [counted[number]], [-1.0])
                number_of[number] = programme.add(column, whole=True)
        counts = {
            key: programme.add((0.0, [master.link[key], given[key]], [1.0, -1.0]), whole=True)
            for key in master.link
        }
        place_of: dict[int, int] = {}
        limit_rows = set(master.limit_row.values())
        for column_number in range(master.first, len(master.columns)):
            cost, rows, values = master.columns[column_number]
            what, number, content = master.meanings[column_number]
            if what == "stack":
                assert isinstance(content, Stack)
                place = programme.add((cost, rows, values), whole=content.kind in self.exact)
            elif what == "pattern":
                assert isinstance(content, tuple)
                key = master.class_of(task.frames[number])
                limits = [row for row in rows if row in limit_rows]
                place = programme.add(
                    (
                        0.0,
                        [*(given[key, kind] for kind, _ in content), counted[number], *limits],
                        [*(float(count) for _, count in content), 1.0, *(1.0 for _ in limits)],
                    ),
                    whole=False,
                )
            elif stock[task.frames[number].size] != 0:
                place = programme.add((cost, rows, values), whole=True)
            else:
                continue
            place_of[column_number] = place
        start: list[float] | None = None
        is_kept = {id(sheet) for sheet in kept}
        if best and is_kept <= {id(sheet) for sheet in best}:
            start = [0.0] * len(programme.columns)
            others = [sheet for sheet in best if id(sheet) not in is_kept]
            for column_number, count in master.values_of(others).items():
                start[place_of[column_number]] = float(count)
            for sheet in others:
                if sheet.frame in number_of:
                    start[number_of[sheet.frame]] += 1
                    for stack in sheet.stacks:
                        start[counts[master.class_of(task.frames[sheet.frame]), stack.kind]] += 1
        answer = solve_mixed(
            programme.columns,
            programme.lower,
            programme.upper,
            programme.whole,
            seconds=seconds,
            start=start,
            stop=self.watch.cancelled,
            target=target / master.mean_cost,
        )
        if answer.values is None or answer.cost * master.mean_cost > known - 0.5 * task.unit:
            return None
        made = list(kept)
        for column_number, place in place_of.items():
            what, number, content = master.meanings[column_number]
            if what == "whole":
                assert isinstance(content, tuple)
                for _ in range(round(answer.values[place])):
                    new = _trimmed(task.sizing, CutSheet(number, content), left)
                    if new is not None:
                        made.append(new)
        return _Choice(made, left, {key: round(answer.values[place]) for key, place in counts.items()})

    # -- parts into columns ----------------------------------------------------------------------------

    def _fill(self, choice: _Choice) -> tuple[dict[Kind, list[Stack]], set[int]]:
        """Stacks for the columns, and the kinds for which they do not hold every part."""
        filled: dict[Kind, list[Stack]] = {key: [] for key in choice.columns}
        missing: set[int] = set()
        for kind, demands in self.groups.items():
            wanted = [demand for demand in demands if choice.left[demand] > 0]
            if not wanted:
                continue
            stacks = self._fill_kind(choice, kind, wanted)
            if stacks is None:
                missing.add(kind)
                continue
            left = list(choice.left)
            for number, stack in stacks:
                kept = _trimmed_stack(self.master.task.sizing, stack, left)
                if kept is not None:
                    filled[number, kind].append(kept)
        return filled, missing

    def _fill_kind(self, choice: _Choice, kind: int, wanted: Sequence[int]) -> list[tuple[int, Stack]] | None:
        master = self.master
        known = [(number, stack) for (number, stack) in master.pool.stacks if stack.kind == kind]
        row_of = {demand: row for row, demand in enumerate(wanted)}
        classes = range(len(master.classes))
        columns: list[Column] = []
        for number, stack in known:
            takes = [(row_of[demand], float(count)) for demand, count in stack.takes if demand in row_of]
            columns.append(
                (0.0, [*(row for row, _ in takes), len(wanted) + number], [*(n for _, n in takes), 1.0])
            )
        columns += [(float(master.task.areas[demand]), [row], [1.0]) for demand, row in row_of.items()]
        answer = solve_whole(
            columns,
            [*(float(choice.left[demand]) for demand in wanted), *(-INFINITY for _ in classes)],
            [*(INFINITY for _ in wanted), *(float(choice.columns[number, kind]) for number in classes)],
            seconds=min(self.watch.seconds, SECONDS_FILL),
            stop=self.watch.cancelled,
        )
        if answer.values is None or any(answer.values[len(known) :]):
            return None
        return [
            pair for pair, count in zip(known, answer.values[: len(known)], strict=True) for _ in range(count)
        ]

    # -- columns into sheets ---------------------------------------------------------------------------

    def _sheets(self, choice: _Choice, filled: dict[Kind, list[Stack]]) -> list[CutSheet] | None:
        task = self.master.task
        sheets = list(choice.made)
        for number, (_, width) in enumerate(self.master.classes):
            frames = [n for n, frame in enumerate(task.frames) if not frame.apart and frame.width == width]
            waiting = {kind: filled[number, kind] for kind in self.groups if filled[number, kind]}
            if not waiting:
                continue
            kinds = sorted(waiting)
            widths = [task.sources[False].widths[kind] for kind in kinds]
            kerf = task.sizing.kerf
            pieces = [Piece(place, 1, width) for place, width in enumerate(widths)]
            longest = max(task.frames[n].length for n in frames)
            one = Task(
                tuple(
                    Frame(place, 1, task.frames[n].length, task.frames[n].cost)
                    for place, n in enumerate(frames)
                ),
                tuple(len(waiting[kind]) for kind in kinds),
                tuple(widths),
                tuple(task.limits[task.frames[n].size] for n in frames),
                Sizing(kerf),
                {False: PieceStacks(pieces, kerf=kerf, tallest=longest, exact=True)},
            )
            outcome = self.pack(one, self.watch.within(SECONDS_PACK))
            if outcome.sheets is None:
                return None
            for sheet in outcome.sheets:
                stacks = tuple(
                    waiting[kinds[element.demand]].pop()
                    for element in sheet.stacks[0].elements
                    if isinstance(element, Piece)
                )
                sheets.append(CutSheet(frames[sheet.frame], stacks))
        return sheets


def suits(task: Task) -> bool:
    """Whether there are several widths, and sheets of several heights or offcuts to cut them from."""
    heights = {frame.width for frame in task.frames if not frame.apart}
    is_mixed = len(heights) > 1 or any(frame.apart for frame in task.frames)
    return is_mixed and bool(heights) and len(groups_of(task)) > 1


def groups_of(task: Task) -> dict[int, tuple[int, ...]]:
    """Demand numbers by kind of column, where each demand fits one width alone; else nothing."""
    if set(task.sources) != {False}:
        return {}
    widths = {width: kind for kind, width in enumerate(task.sources[False].widths)}
    return {widths[part.widths[0]]: tuple(sorted(part.demands)) for part in task.sources[False].by_width()}


def _less(count: int | None, by: int) -> int | None:
    return None if count is None else count - by


def takes_of(stacks: Iterable[Stack]) -> list[tuple[int, int]]:
    return [pair for stack in stacks for pair in stack.takes]


def _trimmed_stack(sizing: Sizing, stack: Stack, left: list[int]) -> Stack | None:
    surplus = Counter({demand: count - left[demand] for demand, count in stack.takes if count > left[demand]})
    kept = sizing.without(stack, surplus)
    if kept is not None:
        for demand, count in kept.takes:
            left[demand] -= count
    return kept


def _trimmed(sizing: Sizing, sheet: CutSheet, left: list[int]) -> CutSheet | None:
    kept = [_trimmed_stack(sizing, stack, left) for stack in sheet.stacks]
    stacks = tuple(stack for stack in kept if stack is not None)
    return CutSheet(sheet.frame, stacks) if stacks else None
