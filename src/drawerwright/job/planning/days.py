"""A job split into days: each day is a job of its own, cut from what the day before left."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

from drawerwright.basics.errors import NoPlanError
from drawerwright.basics.phrases import phrase
from drawerwright.job.job import Job
from drawerwright.job.planning.job_plan import JobPlan, SheetPlanner, Watcher, plan_job
from drawerwright.sheets.alternatives import left_after
from drawerwright.sheets.plan import plan_sheets


def plan_days(
    job: Job,
    *,
    watch: Watcher | None = None,
    time_limit: float | None = None,
    cancelled: Callable[[], bool] | None = None,
    planner: SheetPlanner = plan_sheets,
    at_once: int = 1,
) -> tuple[JobPlan, ...]:
    """One plan for each day of a job: the sheets on hand are used up, and offcuts of one day serve the next.

    Args:
        job: one with `days`.
        watch, time_limit, cancelled, planner, at_once: as for `plan_job`, for each day.

    Raises:
        NoPlanError: the text names the day that cannot be cut.
    """
    sizes = dict(job.sheet_sizes)
    plans: list[JobPlan] = []
    for number, drawers in enumerate(job.days, start=1):
        name = phrase("{job}, day {number}", job=job.name, number=number)
        today = replace(job.only(drawers), name=name, sheet_sizes=dict(sizes), days=())
        try:
            plan = plan_job(
                today,
                watch=watch,
                time_limit=time_limit,
                cancelled=cancelled,
                planner=planner,
                at_once=at_once,
            )
        except NoPlanError as error:
            raise NoPlanError(phrase("day {number}: {error}", number=number, error=str(error))) from None
        plans.append(plan)
        for stock in plan.stocks:
            sizes[stock.blanks.stock.name] = left_after(stock.sheets, number)
    return tuple(plans)


def day_data(plan: JobPlan) -> dict[str, Any]:
    """What is cut on a day, from how many sheets, and how long it takes, as JSON-ready data."""
    return {
        "drawers": [box.name for box in plan.job.all_boxes],
        "sheets": [
            {
                "stock": stock.blanks.stock.name,
                "new_sheets": stock.sheets.figures.new_sheets,
                "cost": None if stock.sheets.cost is None else round(stock.sheets.cost, 2),
                "offcuts_used": stock.sheets.figures.offcuts_used,
                "proven": stock.sheets.proven,
            }
            for stock in plan.stocks
        ],
        "router_setups": len(plan.run.setups),
        "bench_setups": plan.bench_setups,
        "minutes": round(plan.run.effort.minutes),
    }


def days_data(plans: Sequence[JobPlan]) -> list[dict[str, Any]]:
    """All days in order, numbered."""
    return [{"day": number, **day_data(plan)} for number, plan in enumerate(plans, start=1)]
