"""The best plan that a search has found so far, and a cost that none can undercut."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from fractions import Fraction

from drawerwright.basics.errors import SolverError
from drawerwright.sheets.solver.columns import FilledSheet
from drawerwright.sheets.solver.outcome import Outcome, Watch
from drawerwright.sheets.solver.programme.whole_sheets import exactly
from drawerwright.sheets.solver.task import Task


class BestSoFar:
    """Takes better plans and higher bounds only, checks every plan that it takes, and reports both."""

    def __init__(self, task: Task, watch: Watch, bound: int) -> None:
        self.task, self.watch, self.bound = task, watch, bound
        self.allowed: int | None = None
        """Only plans up to this cost are of use (None: any)."""
        self.best: list[FilledSheet] | None = None
        self._emptiest = 0.0
        self.cost = sum(task.demand) * (max((frame.cost for frame in task.frames), default=0) + 1)

    @property
    def outcome(self) -> Outcome:
        """What the search answers if it ends now."""
        return Outcome(None if self.best is None else tuple(self.best), self.cost, self.bound)

    @property
    def is_done(self) -> bool:
        """Whether there is nothing more to look for, or no time."""
        if self.allowed is not None and self.bound > self.allowed:
            return True
        return (self.best is not None and self.cost <= self.bound) or self.watch.is_over()

    def raise_bound(self, bound: Fraction) -> None:
        """Take `bound`, rounded up to what sheets can cost, if it is higher."""
        rounded = self.task.round_up(bound)
        if rounded > self.bound:
            self.bound = rounded
            self.watch.report(self.cost if self.best is not None else None, self.bound)

    def offer(self, sheets: Sequence[FilledSheet] | None) -> bool:
        """Take `sheets` as the best so far if they are; True where they cost less.

        Of plans of one cost that is better whose emptiest sheet holds less: it is nearer to one sheet less.
        """
        if sheets is None:
            return False
        trimmed = exactly(self.task, sheets)
        held = Counter[int]()
        for sheet in trimmed:
            for stack in sheet.stacks:
                held.update(dict(stack.takes))
        if any(held[demand] != count for demand, count in enumerate(self.task.demand)):
            raise SolverError("a plan lacks parts: this is a fault of the program, please report it")
        used = Counter(self.task.frames[sheet.frame].size for sheet in trimmed)
        if any(limit is not None and used[size] > limit for size, limit in enumerate(self.task.limits)):
            raise SolverError("a plan uses more sheets than there are: this is a fault of the program")
        cost = sum(self.task.frames[sheet.frame].cost for sheet in trimmed)
        emptiest = min(fullness(self.task, trimmed), default=0.0)
        is_cheaper = self.best is None or cost < self.cost
        if not is_cheaper and (cost, emptiest) >= (self.cost, self._emptiest):
            return False
        self.best, self.cost, self._emptiest = trimmed, cost, emptiest
        if is_cheaper:
            self.watch.report(self.cost, self.bound)
        return is_cheaper


def fullness(task: Task, sheets: Iterable[FilledSheet]) -> list[float]:
    """Shares of their areas that the parts on those sheets take that cost something."""
    shares: list[float] = []
    for sheet in sheets:
        frame = task.frames[sheet.frame]
        if frame.cost:
            held = sum(task.areas[demand] * count for stack in sheet.stacks for demand, count in stack.takes)
            shares.append(held / (frame.length * frame.width))
    return shares
