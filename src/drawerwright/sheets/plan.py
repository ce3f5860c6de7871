"""The use of this room: what has to be cut, onto which sheets, proven where it can be."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

from drawerwright.basics.errors import NoPlanError
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.sheets.by_width import search_by_width
from drawerwright.sheets.columns import CutSheet
from drawerwright.sheets.figures import figures_of
from drawerwright.sheets.later import gather_offcut
from drawerwright.sheets.layout import Numbering, lay_out
from drawerwright.sheets.outcome import Outcome, Watch
from drawerwright.sheets.patterns import SheetLayout
from drawerwright.sheets.problem import LATER_AIMS, LaterAim, Preferences, SheetPlan, SheetProblem
from drawerwright.sheets.search import search
from drawerwright.sheets.setting_up import Setup, set_up
from drawerwright.sheets.task import area_bound

__all__ = ["LATER_AIMS", "LaterAim", "Preferences", "Progress", "SheetPlan", "SheetProblem", "plan_sheets"]

USUAL_SECONDS = 4.5
"""How long a plan may take when nobody says otherwise."""

FOR_COST = 0.8
"""Share of the time for the cost of new sheets; the rest is for the later aims."""

LAYOUT_SECONDS, MOST_FOR_LAYOUT = 2e-5, 0.3
"""Time set aside for placing one part on its sheet, and the largest share of the limit that this may take."""


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a plan is: the cost of the best sheets so far (None: none yet), a cost none can undercut, seconds."""

    best_cost: float | None
    lower_bound: float
    seconds: float


def plan_sheets(
    problem: SheetProblem,
    *,
    progress: Callable[[Progress], None] | None = None,
    time_limit: float | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> SheetPlan:
    """Plan the sheets of one stock.

    Args:
        problem: sizes, saw, band rules and everything that is wanted.
        progress: told whenever the plan or its bound gets better.
        time_limit: seconds after which the best plan so far is returned with its bound.
        cancelled: asked often; True returns the best plan so far.

    Raises:
        NoPlanError: a part fits no sheet, or the sheets on hand cannot hold everything: the text says which
            part, why, and what would make it possible.
        InvalidValueError: a length lies off the planner's grid.
    """
    began = time.perf_counter()
    setup = set_up(problem)

    def report(cost: int | None, bound: int) -> None:
        if progress is not None:
            best = None if cost is None else setup.price(cost)
            progress(Progress(best, setup.price(bound), time.perf_counter() - began))

    limit = USUAL_SECONDS if time_limit is None else time_limit
    limit -= min(MOST_FOR_LAYOUT * limit, LAYOUT_SECONDS * sum(setup.task.demand))
    watch = Watch(began + FOR_COST * limit, cancelled or (lambda: False), report, began + limit)
    if not any(setup.task.demand):
        outcome = Outcome((), 0, 0)
    else:
        aims = problem.preferences.later_aims
        outcome = search_by_width(setup.task, watch, aims) or search(setup.task, watch, aims=aims)
    if outcome.sheets is None:
        raise NoPlanError(_too_few(problem, setup))
    sheets = outcome.sheets
    if "largest-offcut" in problem.preferences.later_aims:
        sheets = gather_offcut(setup.task, sheets)
    layouts = lay_out_all(setup, sheets)
    figures = figures_of(problem, layouts)
    lowest = outcome.bound if setup.is_complete else area_bound(setup.task)
    bound = setup.price(lowest)
    return SheetPlan(
        problem,
        layouts,
        min(bound, figures.new_sheet_cost),
        outcome.cost <= lowest,
        time.perf_counter() - began,
        figures,
    )


def check_problem(problem: SheetProblem) -> None:
    """Look, without planning, whether every part fits some sheet.

    Raises:
        NoPlanError, InvalidValueError: as `plan_sheets`.
    """
    set_up(problem)


def lay_out_all(setup: Setup, sheets: tuple[CutSheet, ...]) -> tuple[SheetLayout, ...]:
    """Every sheet in mm, offcuts first, alike sheets together."""
    numbers = Numbering()
    frames = setup.task.frames
    ordered = sorted(
        sheets,
        key=lambda sheet: (not setup.sizes[frames[sheet.frame].size].is_offcut, frames[sheet.frame].size),
    )
    return tuple(
        lay_out(
            setup.shop,
            setup.sizes[frames[sheet.frame].size],
            frames[sheet.frame],
            sheet,
            setup.trims[frames[sheet.frame].size],
            numbers,
        )
        for sheet in ordered
    )


def _too_few(problem: SheetProblem, setup: Setup) -> Phrase:
    on_hand = [
        phrase("{limit} of {size}", limit=limit, size=size.label)
        for size, limit in zip(setup.sizes, setup.task.limits, strict=True)
        if limit is not None
    ]
    return phrase(
        "the sheets of {stock} on hand ({on_hand}) do not hold every part: {count} parts are wanted; allow more "
        "sheets, add a size, or cut fewer drawers",
        stock=problem.stock,
        on_hand=joined(on_hand, ", ") if on_hand else phrase("none"),
        count=sum(problem.demand.values()),
    )
