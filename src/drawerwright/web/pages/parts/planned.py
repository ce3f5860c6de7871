"""What the pages made from a plan share: waiting for it, cancelling it, and saying why there is none."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.store.records import JobRecord
from drawerwright.web.fields import job_text
from drawerwright.web.fields.every_field import fault_links
from drawerwright.web.pages.parts.day_choice import day_context, day_of
from drawerwright.web.pages.parts.job_frame import job_id_of, job_page
from drawerwright.web.pages.parts.panels import panel
from drawerwright.web.server.shop import shop_of
from drawerwright.web.work.background import PATIENCE_SECONDS
from drawerwright.web.work.plan_desk import PlanState

if TYPE_CHECKING:
    from drawerwright.job.planning.job_plan import JobPlan

Content = Callable[[Request, JobRecord, "JobPlan"], Mapping[str, Any]]

KEPT = ("day", "view", "step", "corner", "sheet", "piece")
"""What a page's address may say about how to show the plan; the part that asks again says so too."""


def plan_of(request: Request, job: JobRecord, patience: float = PATIENCE_SECONDS) -> PlanState:
    """The plan that a page shows: of the day it is asked for, where the job is split."""
    return shop_of(request).plans.ask(job.text, patience, job.id, day=day_of(request, job))


def planned_page(
    request: Request, tab: str, title: str, part: str, content: Content, *, by_day: bool = True
) -> Response:
    """A page made from the job's plan; `part` is the template of what changes with the plan.

    With `by_day` it shows one day at a time of a job that is split.

    The whole page is drawn at once; it asks for itself again while the plan is in the making, and for the part
    after each change of the job.
    """
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    state = plan_of(request, job) if by_day else shop.plans.ask(job.text, job_id=job.id)
    kept = [
        f"&{name}={request.query_params[name]}"
        for name in KEPT
        if request.query_params.get(name, "").isalnum()
    ]
    context: dict[str, Any] = {
        "query": "".join(kept),
        "job": job,
        "tab": tab,
        "heading": title,
        "part": "plan_absent.html",
        **(day_context(request, job) if by_day else {}),
    }
    context |= {"work": state.work, "fault": state.fault, "faults": job_text.faults_of(job.text)}
    context["fault_links"] = fault_links(job.text)
    if state.made is not None:
        plan = reader_plan(request, state.made)
        context |= {"part": part, "plan": plan, **panel(request, lambda: content(request, job, plan), {})}
        if context["panel_fault"]:
            context["part"] = "panel_fault.html"
    if request.query_params.get("part"):
        return shop.renderer.page(request, context["part"], context)
    return job_page(request, "planned.html", tab, job, context)


def reader_plan(request: Request, plan: JobPlan) -> JobPlan:
    """The plan with lengths written as the reader of the page wants them."""
    return plan.shown_in(request.state.reader.lengths)


def cancel(request: Request) -> Response:
    """Take the best plan found so far."""
    shop = shop_of(request)
    shop.plans.cancel(shop.jobs.load(job_id_of(request)).text)
    return Response(status_code=204)


def search_on(request: Request) -> Response:
    """Plan the job again from the start, for a search that was stopped too early."""
    shop = shop_of(request)
    text = shop.jobs.load(job_id_of(request)).text
    shop.plans.forget(text)
    shop.papers.forget(text)
    return Response(status_code=204, headers={"hx-trigger": '{"job-changed": {}}'})


ROUTES = (
    Route("/jobs/{job_id:int}/plan/cancel", cancel, methods=["POST"]),
    Route("/jobs/{job_id:int}/plan/again", search_on, methods=["POST"]),
)
