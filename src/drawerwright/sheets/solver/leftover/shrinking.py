"""The last sheet made shorter step by step, for as long as the rest holds all parts at the same cost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawerwright.sheets.solver.columns import Band, FilledSheet, Stack
from drawerwright.sheets.solver.leftover.last_sheet import LastSheet, Worth, best_left
from drawerwright.sheets.solver.outcome import Watch
from drawerwright.sheets.solver.search.cheapest import search
from drawerwright.sheets.solver.search.gathering import narrowed
from drawerwright.sheets.solver.search.in_columns import within_cost
from drawerwright.sheets.solver.task import Task, least_room
from drawerwright.sheets.solver.whole.columns_first import is_by_width

WORTH_IT = 0.03
"""Share by which a leftover must be able to grow for a last sheet to be asked for again."""
MOST_SECONDS = 0.12
"""Time for a question where parts fit columns of several widths: what is found there is mostly found at once."""
STEP, STEP_OF_MANY, MANY = 0.4, 0.25, 8
"""Share of what may still be gained that a question asks for, and for that of many sheets together, `MANY` or more."""
SECONDS_EACH = 0.4
"""Time for one question, from the second round on that much more often."""
LONGER = 4


@dataclass
class _Way:
    """A last sheet, and what its leftover may be worth at the most (`ceiling`), as far as is known."""

    last: LastSheet
    ceiling: float


class Shrinking:
    """Looks for sheets of the same cost that leave a better piece over than `left` is worth."""

    def __init__(
        self, task: Task, sheets: Sequence[FilledSheet], worth: Worth, left: float, watch: Watch
    ) -> None:
        self._task, self._worth, self._watch = task, worth, watch
        self.sheets, self.left = list(sheets), left
        self.cost = sum(task.frames[sheet.frame].cost for sheet in sheets)
        self._in_columns = is_by_width(task.plain)
        self._has_trims = any(is_trimmed(stack) for sheet in sheets for stack in sheet.stacks)
        self._ways = self._possible()

    @property
    def ceiling(self) -> float:
        """What a leftover may be worth at the most, as far as is known."""
        return max((way.ceiling for way in self._ways), default=self.left)

    @property
    def is_done(self) -> bool:
        """Whether nothing is to be gained that is worth it."""
        return not self._may_gain(self.ceiling)

    def know(self, sheets: Sequence[FilledSheet], left: float) -> None:
        """Go on from better sheets that were found elsewhere."""
        self.sheets, self.left = list(sheets), left

    def ask(self, seconds: float) -> bool:
        """One question, of the last sheet that promises most; True when it led to something better."""
        way = max(self._ways, key=lambda way: way.ceiling)
        step = STEP if len(self.sheets) < MANY else STEP_OF_MANY
        target = self.left + step * (way.ceiling - self.left)
        found = self._ask(way.last, way.last.most_used(self._task, target, self._worth), seconds)
        if found is None:
            way.ceiling = target
            return False
        return self._take(way.last, found)

    def _may_gain(self, worth: float) -> bool:
        return worth > self.left * (1 + WORTH_IT)

    def _take(self, last: LastSheet, found: Sequence[FilledSheet]) -> bool:
        sheets = narrowed(last.restored(self._task, found))
        left = best_left(self._task, sheets, self._worth)
        if left <= self.left:
            return False
        self.sheets, self.left = list(sheets), left
        return True

    def _ask(self, last: LastSheet, used: int, seconds: float) -> Sequence[FilledSheet] | None:
        """Sheets where only `used` of the last one may be used."""
        if used <= 0:
            return None
        allowed = self.cost - self._task.frames[last.frame].cost
        short = last.shortened(self._task, used, 0)
        if self._in_columns:
            found = within_cost(short.plain, allowed, self._watch.within(seconds))
            if found is not None or not self._has_trims:
                return found

        def settles(cost: int | None, bound: int) -> bool:
            return bound > allowed or (cost is not None and cost <= allowed)

        outcome = search(short, self._watch.until(min(seconds, MOST_SECONDS), settles))
        return None if outcome.sheets is None or outcome.cost > allowed else outcome.sheets

    def _possible(self) -> list[_Way]:
        """Every sheet that can be the last one, with what the parts' area lets its leftover be worth."""
        task, kerf, parts = self._task, self._task.sizing.kerf, least_room(self._task)
        used = {task.frames[sheet.frame].size for sheet in self.sheets}
        ways: list[_Way] = []
        for number, frame in enumerate(task.frames):
            if frame.size not in used or (self.cost and not frame.cost):
                continue
            others = self._most_area(self.cost - frame.cost, frame.size if not frame.cost else None)
            needed = max(0, parts - others)
            for ripped in (True, False):
                last = LastSheet(number, ripped)
                least = max(0, needed // ((frame.length if ripped else frame.width) + kerf) - kerf)
                most = last.worth_beyond(task, least, self._worth)
                if self._may_gain(most):
                    ways.append(_Way(last, most))
        return ways

    def _most_area(self, cost: int, without: int | None) -> int:
        """The most area, with a kerf, of sheets of this cost and of all free ones; of size `without` one less."""
        task, kerf = self._task, self._task.sizing.kerf
        free: dict[int, int] = {}
        rate = 0.0
        for frame in task.frames:
            area = (frame.length + kerf) * (frame.width + kerf)
            if frame.cost:
                rate = max(rate, area / frame.cost)
            else:
                free[frame.size] = max(area, free.get(frame.size, 0))
        total = int(rate * cost)
        for size, area in free.items():
            total += area * ((task.limits[size] or 0) - (size == without))
        return total


def is_trimmed(stack: Stack) -> bool:
    """Whether a band is shorter than its column is wide."""
    return any(isinstance(element, Band) and element.u < stack.u for element in stack.elements)
