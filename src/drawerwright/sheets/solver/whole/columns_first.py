"""Plans in whole columns: sheets and columns are counted first, then columns are filled, then sheets are.

The programme over counts (`count_programme`) is answered again and again. Where its columns do not hold the parts, or
its sheets not the columns, a rule is learnt that says so (Benders, Numer. Math. 4, 1962, pp. 238-252); where they would
if they were divided but no whole filling is found, those counts are barred. As long as nothing was barred the
programme's cost is a bound, and the first answer that comes out is the cheapest plan.
"""

from __future__ import annotations

import math
import random
from collections import Counter
from dataclasses import dataclass
from fractions import Fraction

from drawerwright.sheets.solver.clock import now
from drawerwright.sheets.solver.columns import FilledSheet, Stack
from drawerwright.sheets.solver.filling.bands import BandStacks
from drawerwright.sheets.solver.filling.stacks import StackSource
from drawerwright.sheets.solver.outcome import Watch
from drawerwright.sheets.solver.programme.highs import NothingFitsError
from drawerwright.sheets.solver.programme.master import Master
from drawerwright.sheets.solver.task import Task
from drawerwright.sheets.solver.whole.class_room import ClassRoom, Pack
from drawerwright.sheets.solver.whole.count_programme import CountProgramme, CountsFound
from drawerwright.sheets.solver.whole.shared_columns import MISSING, Group, SharedColumns
from drawerwright.sheets.solver.whole.sheet_classes import classes_of

MOST_RELAXED = 40
"""Times that the programme is answered in divided sheets before whole ones are asked for."""
GAIN = 5e-4
"""Share by which each of these answers has to raise the bound: below it, whole sheets teach more."""
SECONDS_FILL, SECONDS_PACK = 0.2, 0.2
"""Time to put the parts of a width into columns, and the columns of a class into sheets."""
SECONDS_SOLVE = 2.0
"""Time for an answer of the programme in whole numbers; twice as much each time that it does not do."""
ROUNDED = 1e-5
"""Share by which divided columns that are enough are taken for more, so that rounding makes them no fewer."""
MOST_WIDTHS = 1200
"""Widths of column that can be counted one by one."""
SURE = 1e-6
"""Share by which a bound is lowered before it is rounded up to what sheets can cost."""


@dataclass(frozen=True, slots=True)
class TriedCounts:
    """What one answer of the programme leads to.

    `sheets` hold all but the `missing` parts. `is_last` says that there is no cheaper plan in whole columns, or none
    that this way would find.
    """

    sheets: list[FilledSheet]
    missing: Counter[int]
    is_last: bool = False
    holds_nothing: bool = False
    """No number of the sheets there are holds all parts."""


class ColumnsFirst:
    """Looks for plans of a task of which `shares_of` tells which parts share columns."""

    def __init__(self, task: Task, watch: Watch, dice: random.Random, pack: Pack, gain: float = GAIN) -> None:
        """`gain` is the share by which divided sheets and columns have to raise the bound to be asked for again.

        Raises:
            GivenUpError: time was up before enough was known to begin; so do `begin_with` and `step`.
        """
        task = task.watched(watch.is_over)
        self._task, self._watch, self._dice, self._pack = task, watch, dice, pack
        self._gain = gain
        self._classes = classes_of(task.frames)
        self._shares = [SharedColumns(task, sources, self._classes) for sources in shares_of(task)]
        widths = sorted({width for share in self._shares for width in share.widths})
        self._rooms = [ClassRoom(task, group, widths) for group in self._classes]
        self._programme = CountProgramme(task, self._classes, self._shares, self._rooms)
        self.bound = 0.0
        """A cost that no plan undercuts."""
        self._is_bound = True
        """Whether the programme's cost still is a bound: no counts were barred."""
        self._is_relaxed = False
        self._until = math.inf
        self._enough: dict[Group, float] = {}
        """Divided columns that hold all parts, as far as they are known."""
        self._seconds = SECONDS_SOLVE

    def begin_with(self, master: Master) -> None:
        """Take over what a programme over all columns has found: its bound, what parts are worth, its columns."""
        self.bound = max(self.bound, float(master.bound))
        by_look = {(group.transposed, group.height): number for number, group in enumerate(self._classes)}
        _, _, values = master.program.solve()
        is_enough = bool((values[master.spare] <= MISSING).all())
        stacks = [
            (master.classes[number], stack, float(values[column]))
            for (number, stack), column in master.pool.stacks.items()
        ]
        for (frame, content), column in master.pool.whole.items():
            seen = self._task.frames[frame]
            stacks += [((seen.transposed, seen.width), stack, float(values[column])) for stack in content]
        for look, stack, used in stacks:
            for share in self._shares:
                share.know(by_look[look], stack)
            if is_enough and used > MISSING:
                group = by_look[look], stack.u
                self._enough[group] = self._enough.get(group, 0.0) + used * (1 + ROUNDED)
        if master.certificate is None:
            return
        worths = {
            group: worth
            for share in self._shares
            for group, worth in share.learn(master.certificate.values).items()
        }
        for number, room in enumerate(self._rooms):
            room.learn({width: worth for (g, width), worth in worths.items() if g == number})

    def step(self, known: int | None, until: float = math.inf) -> TriedCounts | None:
        """The next step towards a plan cheaper than `known`; None when time is up.

        None as well soon after `until` (a reading of `clock.now`): an answer of the programme is not cut short.
        """
        self._until = until
        if not self._is_relaxed:
            self._relax(known)
            self._is_relaxed = not self._is_due()
        allowed = None if known is None else known - self._task.unit
        while not self._is_due():
            least = self._task.round_up(Fraction(self.bound * (1 - SURE)))
            if known is not None and least >= known:
                return TriedCounts([], Counter(), True)
            self._seconds = min(self._seconds, self._watch.seconds)
            found = self._programme.solve(least, allowed, self._seconds, self._watch.cancelled)
            if self._is_bound and found.bound > self.bound:
                self.bound = found.bound if known is None else min(found.bound, float(known))
            if not found.columns and found.finished:
                return TriedCounts([], Counter(), True, known is None and self._is_bound)
            if not found.finished:
                self._seconds *= 2
            if found.columns and not self._teaches(found) and not self._is_due():
                return self._settle(found)
        return None

    def _is_due(self) -> bool:
        return now() > self._until or self._watch.is_over()

    def _relax(self, known: int | None) -> None:
        """Learn the rules that divided sheets and columns break, while that raises the bound below `known`."""
        for _ in range(MOST_RELAXED):
            if self._is_due():
                return
            try:
                found = self._programme.relax()
            except NothingFitsError:
                return
            gain, self.bound = found.cost - self.bound, max(self.bound, found.cost)
            if known is not None and self._task.round_up(Fraction(self.bound * (1 - SURE))) >= known:
                return
            if not self._teaches(found) or gain < self._gain * self.bound:
                return

    def _teaches(self, found: CountsFound) -> bool:
        """Whether these counts break a rule that was not known."""
        is_new = False
        for share in self._shares:
            counts = [found.columns[group] for group in share.groups]
            if self._enough:  # a rule against what lies between these and enough of them says more
                between = [
                    (n + self._enough.get(g, 0.0)) / 2 for n, g in zip(counts, share.groups, strict=True)
                ]
                if not share.holds(between, self._is_due):
                    is_new = True
            if not share.holds(counts, self._is_due):
                is_new = True
        for number, room in enumerate(self._rooms):
            columns = {width: count for (g, width), count in found.columns.items() if g == number}
            if not room.holds(
                columns, {frame: found.sheets[frame] for frame in self._classes[number].frames}
            ):
                is_new = True
        return is_new

    def _settle(self, found: CountsFound) -> TriedCounts:
        """Fill the columns and the sheets; bar the counts that do not come out."""
        missing: Counter[int] = Counter()
        stacks: dict[int, list[Stack]] = {}
        for place, share in enumerate(self._shares):
            counts = tuple(round(found.columns[group]) for group in share.groups)
            filling = share.fill(
                counts, min(SECONDS_FILL, self._watch.seconds), self._watch.cancelled, self._dice
            )
            if filling.missing and not self._watch.is_over():
                self._bar(place, counts)
            missing += filling.missing
            for number, stack in filling.stacks:
                stacks.setdefault(number, []).append(stack)
        sheets: list[FilledSheet] = []
        for number, room in enumerate(self._rooms):
            numbers = {frame: round(found.sheets[frame]) for frame in self._classes[number].frames}
            made, over = room.pack(
                stacks.get(number, ()), numbers, self._pack, self._watch.within(SECONDS_PACK)
            )
            sheets += made
            for stack in over:
                missing.update(dict(stack.takes))
            if over and not self._watch.is_over():
                self._is_bound = False
                self._programme.bar_room(
                    number,
                    {width: round(n) for (g, width), n in found.columns.items() if g == number and round(n)},
                    numbers,
                )
        return TriedCounts(sheets, missing)

    def _bar(self, place: int, counts: tuple[int, ...]) -> None:
        self._is_bound = False
        self._programme.bar(place, counts)


def shares_of(task: Task) -> list[dict[bool, tuple[int, StackSource]]]:
    """Where columns come from that hold the same parts, by direction, each with the number of its first kind.

    One for every width where each part fits columns of one width only; else one for all.
    """
    found: dict[int, dict[bool, tuple[int, StackSource]]] = {}
    homes: dict[int, int] = {}
    for way, source in task.sources.items():
        for kind, part in enumerate(source.by_width()):
            if not any(task.demand[demand] for demand in part.demands):
                continue
            found.setdefault(part.widths[0], {})[way] = (kind, part)
            for demand in part.demands:
                if homes.setdefault(demand, part.widths[0]) != part.widths[0]:
                    return [{way: (0, source) for way, source in task.sources.items()}]
    if all(source.by_width() for source in task.sources.values()):
        return [sources for _, sources in sorted(found.items())]
    return [{way: (0, source) for way, source in task.sources.items()}]


def is_by_width(task: Task) -> bool:
    """Whether each part fits columns of one width only."""
    return all(len(source.widths) == 1 for share in shares_of(task) for _, source in share.values())


def suits(task: Task) -> bool:
    """Whether columns are worth counting by width, and few enough for it.

    Single parts that are trimmed to any width below their column's leave the counts next to nothing to say.
    """
    if not task.frames or sum(len(source.widths) for source in task.sources.values()) > MOST_WIDTHS:
        return False
    return is_by_width(task) or all(isinstance(source, BandStacks) for source in task.sources.values())
