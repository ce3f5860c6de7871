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
from drawerwright.web.pages.parts.job_frame import JOB_CHANGED, job_id_of, job_page
from drawerwright.web.pages.parts.panels import panel
from drawerwright.web.server.shop import shop_of
from drawerwright.web.work.background import PATIENCE_SECONDS
from drawerwright.web.work.plan_desk import PlanState

if TYPE_CHECKING:
    from drawerwright.job.planning.draft import JobDraft
    from drawerwright.job.planning.job_plan import JobPlan

Content = Callable[[Request, JobRecord, "JobPlan"], Mapping[str, Any]]
DraftContent = Callable[[Request, JobRecord, "JobDraft"], Mapping[str, Any]]

KEPT = ("day", "view", "step", "corner", "sheet", "piece")
"""What a page's address may say about how to show the plan; the part that asks again says so too."""


def plan_of(request: Request, job: JobRecord, patience: float = PATIENCE_SECONDS) -> PlanState:
    """The plan that a page shows: of the day it is asked for, where the job is split."""
    return shop_of(request).plans.ask(job.text, patience, job.id, day=day_of(request, job))


def planned_page(request: Request, tab: str, title: str, part: str, content: Content) -> Response:
    """A page made from the job's plan; `part` is the template of what changes with the plan.

    It shows one day at a time of a job that is split. The whole page is drawn at once; it asks for itself again while
    the plan is in the making, and for the part after each change of the job.
    """
    job = shop_of(request).jobs.load(job_id_of(request))
    state = plan_of(request, job)
    context: dict[str, Any] = {**day_context(request, job), "work": state.work, "fault": state.fault}
    if state.made is not None:
        plan = reader_plan(request, state.made)
        context |= {"plan": plan, **_made(request, part, lambda: content(request, job, plan))}
    return _page_or_part(request, tab, title, job, context)


def drafted_page(request: Request, tab: str, title: str, part: str, content: DraftContent) -> Response:
    """A page made from what needs no sheets: it waits for no plan, and is there where none can be made."""
    job = shop_of(request).jobs.load(job_id_of(request))
    context: dict[str, Any] = {"work": None, "fault": ""}
    draft = job_text.shown(job.text).draft
    if draft is not None:
        context |= _made(request, part, lambda: content(request, job, draft))
    return _page_or_part(request, tab, title, job, context)


def _made(request: Request, part: str, make: Callable[[], Mapping[str, Any]]) -> dict[str, Any]:
    """What a part shows and its template, another where it names one itself; or why it cannot be made."""
    made = panel(request, make, {})
    return {"part": part, **made} if not made["panel_fault"] else {**made, "part": "panel_fault.html"}


def _page_or_part(
    request: Request, tab: str, title: str, job: JobRecord, context: Mapping[str, Any]
) -> Response:
    """The page, or its part alone where that is asked for; why there is none where `context` names none."""
    kept = [
        f"&{name}={request.query_params[name]}"
        for name in KEPT
        if request.query_params.get(name, "").isalnum()
    ]
    context = {
        "query": "".join(kept),
        "job": job,
        "tab": tab,
        "heading": title,
        "part": "plan_absent.html",
        "faults": job_text.faults_of(job.text),
        "fault_links": fault_links(job.text),
        **context,
    }
    if request.query_params.get("part"):
        return shop_of(request).renderer.page(request, context["part"], context)
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
    return Response(status_code=204, headers=JOB_CHANGED)


ROUTES = (
    Route("/jobs/{job_id:int}/plan/cancel", cancel, methods=["POST"]),
    Route("/jobs/{job_id:int}/plan/again", search_on, methods=["POST"]),
)
