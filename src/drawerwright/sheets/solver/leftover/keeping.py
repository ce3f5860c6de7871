"""From a plan to one of the same cost that leaves more over."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace

from drawerwright.sheets.problem import LaterAim
from drawerwright.sheets.solver.clock import now
from drawerwright.sheets.solver.columns import FilledSheet
from drawerwright.sheets.solver.leftover.few_sheets import FewSheets
from drawerwright.sheets.solver.leftover.last_sheet import LastSheet, Worth, best_left
from drawerwright.sheets.solver.leftover.shrinking import Shrinking
from drawerwright.sheets.solver.outcome import Watch
from drawerwright.sheets.solver.search.cheapest import preferred
from drawerwright.sheets.solver.search.gathering import gather_offcut
from drawerwright.sheets.solver.task import Task

MOST_AT_ONCE = 12
"""Sheets that are looked at together as long as there are no more."""
FEW = (3, 4, 4, 5)
"""How many of more sheets are looked at together, in turn."""
QUESTIONS_EACH = 2
"""Questions in a row to a few sheets that may lead to nothing better."""
QUESTIONS = 3
"""Times that the time left would do for questions to all sheets together."""
LEAST_PATIENCE, MOST_PATIENCE = 0.1, 0.3
"""Seconds without anything better that are always waited for, and the share of all time that is waited at the most: in
45 stocks of real and generated jobs nothing came of waiting longer."""
SECONDS_FEW = 0.1
"""Time for one question to a few of many sheets."""


def keep_most(task: Task, sheets: Sequence[FilledSheet], worth: Worth, watch: Watch) -> list[FilledSheet]:
    """Sheets of the same cost with a better piece left over, if there are."""
    if watch.is_over():
        return list(sheets)
    gathered = gather_offcut(task, sheets)
    known = max(sheets, gathered, key=lambda sheets: best_left(task, sheets, worth))
    search = _Keeping(task, known, worth, watch)
    search.run()
    return search.sheets


class _Keeping:
    """Looks at all sheets together, where they are few enough, and at a few of them, in turn."""

    def __init__(self, task: Task, sheets: Sequence[FilledSheet], worth: Worth, watch: Watch) -> None:
        self._task, self._worth, self._watch = task, worth, watch
        self.sheets, self.left = list(sheets), best_left(task, sheets, worth)
        self._dice = random.Random(len(sheets))
        self._all = Shrinking(task, sheets, worth, self.left, watch)
        self._seconds = watch.seconds
        self._better_at = now()

    def run(self) -> None:
        """Look until time is up, or until it is too long that something better was found."""
        are_few = len(self.sheets) <= MOST_AT_ONCE
        turn = 0
        while not self._all.is_done and self._is_patient:
            if len(self.sheets) > min(FEW):
                self._look_at(FEW[turn % len(FEW)])
            if are_few and self._is_patient and self._all.ask(self._seconds / QUESTIONS):
                self._take(self._all.sheets)
            turn += 1

    @property
    def _is_patient(self) -> bool:
        """The more may be gained, the longer the wait."""
        share = min((1 - self.left / self._all.ceiling) ** 2, MOST_PATIENCE)
        waited = now() - self._better_at
        return not self._watch.is_over() and waited < max(LEAST_PATIENCE, self._seconds * share)

    def _take(self, sheets: Sequence[FilledSheet]) -> None:
        self.sheets, self.left = list(sheets), best_left(self._task, sheets, self._worth)
        self._better_at = now()

    def _look_at(self, count: int) -> None:
        """Ask for more of `count` sheets."""
        chosen = self._chosen(count)
        few = FewSheets.of(self._task, [self.sheets[place] for place in chosen])
        part = Shrinking(few.task, few.sheets, self._worth, self.left, self._watch)
        before, failures = self.left, 0
        while failures < QUESTIONS_EACH and not part.is_done and not self._watch.is_over():
            failures = 0 if part.ask(SECONDS_FEW) else failures + 1
        if part.left <= before:
            return
        others = [sheet for place, sheet in enumerate(self.sheets) if place not in chosen]
        self._take([*others, *few.of_the_whole(part.sheets)])
        self._all.know(self.sheets, self.left)

    def _chosen(self, count: int) -> set[int]:
        """Places of a few sheets: that with the best piece left over, and others, rather those with much waste."""
        task, sheets = self._task, self.sheets
        best = max(range(len(sheets)), key=lambda place: best_left(task, [sheets[place]], self._worth))
        waste = []
        for sheet in sheets:
            frame = task.frames[sheet.frame]
            parts = sum(task.areas[d] * n for stack in sheet.stacks for d, n in stack.takes)
            waste.append(frame.length * frame.width - parts)
        order = sorted(
            (place for place in range(len(sheets)) if place != best),
            key=lambda place: self._dice.random() ** (1 / max(waste[place], 1)),
            reverse=True,
        )
        return {best, *order[: count - 1]}


def prefer_beside(
    task: Task, sheets: Sequence[FilledSheet], aims: Sequence[LaterAim], worth: Worth, watch: Watch
) -> Sequence[FilledSheet]:
    """Sheets of the same cost that leave the best piece over as it is and serve `aims` better, if there are."""
    kerf = task.sizing.kerf
    left = best_left(task, sheets, worth)
    for place, sheet in enumerate(sheets):
        for ripped in (True, False):
            last = LastSheet(sheet.frame, ripped)
            used = sheet.height if ripped else sum(stack.u + kerf for stack in sheet.stacks) - kerf
            if used is None or (sheet.height is not None) != ripped:
                continue
            if last.worth_beyond(task, used, worth) < left:
                continue
            doubled = replace(task, frames=tuple(replace(f, cost=2 * f.cost) for f in task.frames))
            # A little cheaper than a whole one, the short sheet is part of every plan that costs so little.
            short = last.shortened(doubled, used, max(0, 2 * task.frames[sheet.frame].cost - 1))
            own = [*sheets]
            own[place] = FilledSheet(len(task.frames), sheet.stacks)
            quiet = Watch(watch.deadline, watch.cancelled, later=watch.later)
            better = list(last.restored(task, preferred(short, own, aims, quiet)))
            return better if best_left(task, better, worth) >= left else sheets
    return sheets
