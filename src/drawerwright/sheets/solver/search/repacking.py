"""A few sheets of a plan emptied and filled anew, again and again, until one of them is not needed.

The less lies on the emptiest sheet of a plan, the nearer it is to one sheet less. So this sheet and some others are
emptied, their parts valued by their areas, more or less, and put on sheets one after the other; what is no worse is
kept. That fills few sheets at a time, and so is tried many times a second (ruin and recreate: Schrimpf, Schneider,
Stamm-Wilbrandt and Dueck, J. Comput. Phys. 159, 2000, pp. 139-171).
"""

from __future__ import annotations

import math
import random
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from drawerwright.sheets.solver.columns import FilledSheet
from drawerwright.sheets.solver.outcome import Watch
from drawerwright.sheets.solver.search.best_so_far import BestSoFar, fullness
from drawerwright.sheets.solver.search.greedy import fill_sheets
from drawerwright.sheets.solver.task import area_bound

OTHERS = (1, 2, 2, 3)
"""How many sheets are emptied beside the emptiest one, by chance."""
SPREADS = (0.05, 0.1, 0.3)
"""Shares by which the values of parts differ from their areas, by chance."""
ONE_SIZE = 0.6
"""Share of the attempts that take new sheets of one size only, where there are several."""
NEAREST = 0.7
"""Share of the time of all sizes alone, or of what is left of it, that goes to the one nearest to one sheet less."""
PATIENCE = 500
"""Sheets filled anew that may lead to nothing better; as many as there were before, where these are more."""


class Repacking:
    """Looks for plans that cost less than the best that `found` knows."""

    def __init__(self, found: BestSoFar, dice: random.Random) -> None:
        self._found, self._task, self._dice = found, found.task, dice
        self._bought = sorted({frame.size for frame in self._task.frames if frame.cost})
        self._sheets: Sequence[FilledSheet] = ()
        self._rank = (0, 0.0)
        """What `_sheets` cost, and how full the emptiest of them is."""
        self._filled = 0
        self._alone: list[Repacking] = []
        """The same for each size of new sheets alone."""
        self.gains = 0
        """How often something better was found."""

    def run(self, watch: Watch) -> bool:
        """Go on until time is up; False where nothing better was found for so long that it is not worth more."""
        better_at = self._filled
        while not (self._found.is_done or watch.is_over()):
            best = self._found.best
            if best is None or self._filled - better_at > max(PATIENCE, better_at):
                return False
            rank = self._rank_of(best)
            if not self._sheets or rank < self._rank:
                self._sheets, self._rank, better_at = best, rank, self._filled
            made = self._refilled(watch)
            rank = self._rank_of(made)
            if made and rank <= self._rank:
                self.gains += rank < self._rank
                self._sheets, self._rank = made, rank
                self._found.offer(made)
        return True

    @property
    def has_sizes(self) -> bool:
        """Whether there are several sizes of new sheets."""
        return len(self._bought) > 1

    def try_one_size(self, watch: Watch) -> None:
        """Go on with each size of new sheets alone, where there are several: what is cheapest may begin dearer."""
        if not self.has_sizes:
            return
        if not self._alone:
            self._alone = [self._of_one_size(size) for size in self._bought]
        self._alone.sort(key=lambda one: one._rank[1])
        for one in self._alone:
            is_last = one is self._alone[-1]
            soon = watch.within(watch.seconds * (1.0 if is_last else NEAREST))
            one._found.allowed = self._found.cost - 1
            if one._found.best is None:
                one._found.offer(fill_sheets(one._task, one._task.areas, give_up=soon.is_over))
            one.run(soon)
            self._found.offer(one._found.best)

    def _of_one_size(self, size: int) -> Repacking:
        task = replace(self._task, limits=self._limits_of(size, self._task.limits))
        silent = self._found.watch.within(math.inf)
        return Repacking(BestSoFar(task, silent, area_bound(task)), self._dice)

    def _limits_of(self, one: int, limits: Sequence[int | None]) -> tuple[int | None, ...]:
        """`limits` where no new sheets but those of size `one` may be taken."""
        return tuple(0 if n in self._bought and n != one else limit for n, limit in enumerate(limits))

    def _rank_of(self, sheets: Sequence[FilledSheet]) -> tuple[int, float]:
        cost = sum(self._task.frames[sheet.frame].cost for sheet in sheets)
        return cost, min(fullness(self._task, sheets), default=0.0)

    def _refilled(self, watch: Watch) -> Sequence[FilledSheet]:
        """The sheets, of which some were emptied; none where the parts are not put onto sheets again."""
        task, dice = self._task, self._dice
        emptied = self._emptied()
        self._filled += len(emptied)
        kept = [sheet for place, sheet in enumerate(self._sheets) if place not in emptied]
        held: Counter[int] = Counter()
        for place in emptied:
            for stack in self._sheets[place].stacks:
                held.update(dict(stack.takes))
        used = Counter(task.frames[sheet.frame].size for sheet in kept)
        limits = [None if limit is None else limit - used[size] for size, limit in enumerate(task.limits)]
        if self.has_sizes and dice.random() < ONE_SIZE:
            limits = list(self._limits_of(dice.choice(self._bought), limits))
        part = replace(
            task,
            demand=tuple(held[demand] for demand in range(len(task.demand))),
            limits=tuple(limits),
            least_columns={},
            least_alone={},
        )
        spread = dice.choice(SPREADS)
        values = [max(1, int(area * dice.uniform(1 - spread, 1 + spread))) for area in task.areas]
        made = fill_sheets(part, values, give_up=watch.is_over)
        return () if made is None else [*kept, *made]

    def _emptied(self) -> set[int]:
        """Places of the emptiest sheet that costs something, and of some others."""
        places = range(len(self._sheets))
        paid = [place for place in places if self._task.frames[self._sheets[place].frame].cost]
        shares = fullness(self._task, self._sheets)
        emptiest = paid[shares.index(min(shares))]
        others = [place for place in places if place != emptiest]
        return {emptiest, *self._dice.sample(others, min(len(others), self._dice.choice(OTHERS)))}
