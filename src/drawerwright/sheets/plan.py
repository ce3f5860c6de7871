"""The use of this room: what has to be cut, onto which sheets, proven where it can be."""

from __future__ import annotations

import math
import time
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from drawerwright.basics.errors import NoPlanError
from drawerwright.sheets.cut_list import in_saw_order, stacks_of
from drawerwright.sheets.figures import figures_of
from drawerwright.sheets.layout import Numbering, lay_out
from drawerwright.sheets.patterns import SheetLayout
from drawerwright.sheets.problem import LATER_AIMS, LaterAim, SheetPlan, SheetPreferences, SheetProblem
from drawerwright.sheets.shortage import Shortage
from drawerwright.sheets.solver.clock import now
from drawerwright.sheets.solver.columns import FilledSheet, Stack
from drawerwright.sheets.solver.leftover.keeping import keep_most, prefer_beside
from drawerwright.sheets.solver.outcome import Outcome, Watch
from drawerwright.sheets.solver.search.by_width import suits_by_width
from drawerwright.sheets.solver.search.gathering import gather_offcut, narrowed
from drawerwright.sheets.solver.search.sure_bound import sure_bound
from drawerwright.sheets.solver.search.within_limits import cheapest_sheets
from drawerwright.sheets.solver.task import area_bound
from drawerwright.sheets.solver.translation import TranslatedProblem, translate

__all__ = [
    "LATER_AIMS",
    "LaterAim",
    "PlanProgress",
    "SheetPlan",
    "SheetPreferences",
    "SheetProblem",
    "plan_sheets",
]

USUAL_SECONDS = 4.5
"""How long a plan may take when nobody says otherwise."""

FOR_COST = 0.8
"""Share of the time for the cost of new sheets; the rest is for the later aims."""

SECONDS_FOR_SHORTAGE = 2.0
"""How long the parts may be looked for that sheets on hand do not hold."""

FOR_LEFTOVER = 0.25
"""Share of the time in which what is left over may be made larger."""

WORTH_ALL_TIME, LEAST_TIME = 0.1, 0.3
"""Share of the cost that may still be saved from which on the search for it is worth all of its time, and the share of
this time that it gets in any case."""

LAYOUT_SECONDS, MOST_FOR_LAYOUT = 6e-5, 0.4
"""Time set aside for placing one part and putting its cuts in order, and the largest share of the limit that this may
take."""


@dataclass(frozen=True, slots=True)
class PlanProgress:
    """How far a plan is: the cost of the best sheets so far (None: none yet), a cost none can undercut, seconds.

    Where a size has no price (`has_prices` is false), costs are numbers of new sheets.
    """

    best_cost: float | None
    lower_bound: float
    seconds: float
    has_prices: bool = True


def plan_sheets(
    problem: SheetProblem,
    *,
    progress: Callable[[PlanProgress], None] | None = None,
    time_limit: float | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> SheetPlan:
    """Plan the sheets of one stock.

    Args:
        problem: sizes, saw, band rules and everything that is wanted.
        progress: told at once what the parts' area asks for, then whenever the plan or its bound gets better.
        time_limit: seconds of the processor after which the best plan so far is returned with its bound; by the clock
            it takes twice as long at the most, where other work keeps the machine busy.
        cancelled: asked often; True returns the best plan so far.

    Raises:
        NoPlanError: a part fits no sheet, or the sheets on hand cannot hold everything: the text says which
            part, why, and what would make it possible.
        InvalidValueError: a length lies off the planner's grid.
    """
    plan = find_plan(problem, progress=progress, time_limit=time_limit, cancelled=cancelled)
    if plan is not None:
        return plan
    shortage = Shortage.of(problem)
    limit = SECONDS_FOR_SHORTAGE if time_limit is None else min(time_limit, SECONDS_FOR_SHORTAGE)
    raise NoPlanError(shortage.words(find_plan(shortage.eased, time_limit=limit, cancelled=cancelled)))


def find_plan(
    problem: SheetProblem,
    *,
    progress: Callable[[PlanProgress], None] | None = None,
    time_limit: float | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> SheetPlan | None:
    """As `plan_sheets`, but None where the sheets on hand do not hold everything, without asking what is short."""
    began, own = time.monotonic(), now()
    translated = translate(problem)
    enough = WorthWhile(own)

    def report(cost: int | None, bound: int) -> None:
        enough.hear(cost, bound)
        if progress is not None:
            best = None if cost is None else translated.price(cost)
            seconds = time.monotonic() - began
            sure = bound if translated.task.is_complete else least
            progress(PlanProgress(best, translated.price(sure), seconds, problem.has_prices))

    least = area_bound(translated.task)
    report(None, least)
    limit = USUAL_SECONDS if time_limit is None else time_limit
    limit -= min(MOST_FOR_LAYOUT * limit, LAYOUT_SECONDS * sum(translated.task.demand))
    watch = Watch.lasting(limit - (now() - own), cancelled or (lambda: False), report, FOR_COST)
    if len({problem.cost_of(size) for size in problem.sizes if not size.is_offcut}) == 1:
        enough.seconds = FOR_COST * limit  # with several prices there is nearly always a little to be saved
    outcome = _best_sheets(translated, problem.preferences.later_aims, watch, FOR_LEFTOVER * limit, enough)
    if outcome.sheets is None:
        return None
    layouts, settings = in_saw_order(lay_out_all(translated, outcome.sheets))
    figures = figures_of(problem, layouts, settings)
    bound = translated.price(outcome.bound)
    return SheetPlan(
        problem,
        layouts,
        min(bound, figures.new_sheet_cost),
        outcome.is_proven,
        time.monotonic() - began,
        figures,
        settings,
        stacks_of(layouts, problem.saw.stack),
    )


@dataclass
class WorthWhile:
    """How long a cheaper plan is looked for: the less of the cost may still be saved, the shorter.

    began: a reading of `clock.now`. seconds: for what is worth all time. share: of the cost that the best plan may be
    too dear.
    """

    began: float
    seconds: float = math.inf
    share: float = 1.0

    def hear(self, cost: int | None, bound: int) -> None:
        """A better plan or a better bound."""
        self.share = (cost - bound) / cost if cost else 1.0

    def is_over(self) -> bool:
        """Whether no more time is to be spent."""
        worth = min(1.0, max(LEAST_TIME, self.share / WORTH_ALL_TIME))
        return now() > self.began + worth * self.seconds


def _best_sheets(
    translated: TranslatedProblem,
    aims: Sequence[LaterAim],
    watch: Watch,
    seconds: float,
    enough: WorthWhile,
) -> Outcome:
    """The cheapest sheets, and of these the best by `aims` in turn; `seconds` for what is left over."""
    task, worth = translated.task, translated.terms.worth
    if not any(task.demand):
        return Outcome((), 0, 0)
    leftover_first = aims[:1] == ("largest-offcut",)
    if leftover_first:  # the other aims are looked after in the same search
        soon = replace(watch, cancelled=lambda: watch.cancelled() or enough.is_over())
        outcome = cheapest_sheets(task, soon, ())
    else:
        outcome = cheapest_sheets(task, watch, aims)
    if outcome.sheets is None:
        return outcome
    later = replace(watch, deadline=watch.later)
    bound = sure_bound(task, outcome, later.within(later.seconds / 2))
    sheets: Sequence[FilledSheet] = narrowed(outcome.sheets)
    if leftover_first:
        sheets = keep_most(task, sheets, worth, later.within(min(seconds, later.seconds / 2)))
        if len(aims) > 1 and not suits_by_width(task):
            sheets = narrowed(prefer_beside(task, sheets, aims[1:], worth, watch))
    elif "largest-offcut" in aims:
        sheets = gather_offcut(task, sheets)
    return replace(outcome, sheets=tuple(sheets), bound=bound)


def check_problem(problem: SheetProblem) -> None:
    """Look, without planning, whether every part fits some sheet.

    Raises:
        NoPlanError, InvalidValueError: as `plan_sheets`.
    """
    translate(problem)


def lay_out_all(translated: TranslatedProblem, sheets: tuple[FilledSheet, ...]) -> tuple[SheetLayout, ...]:
    """Every sheet in mm, offcuts first, alike sheets together: they can be cut as a stack."""
    numbers = Numbering(
        Counter(element.v for sheet in sheets for stack in sheet.stacks for element in stack.elements)
    )
    frames = translated.task.frames
    first_alike: dict[tuple[int, frozenset[tuple[Stack, int]]], int] = {}

    def turn(sheet: FilledSheet) -> tuple[bool, int, int]:
        size = frames[sheet.frame].size
        content = sheet.frame, frozenset(Counter(sheet.stacks).items())
        return not translated.sizes[size].is_offcut, size, first_alike.setdefault(content, len(first_alike))

    ordered = sorted(sheets, key=turn)
    return tuple(
        lay_out(
            translated.terms,
            translated.sizes[frames[sheet.frame].size],
            frames[sheet.frame],
            sheet,
            translated.trims[frames[sheet.frame].size],
            numbers,
        )
        for sheet in ordered
    )
