"""Every sheet drawn, the shopping list, and what is left over."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.store.records import JobRecord
from drawerwright.web.pages.parts.day_choice import day_context, day_of, days_of
from drawerwright.web.pages.parts.job_frame import job_id_of
from drawerwright.web.pages.parts.planned import plan_of, planned_page
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import shop_of

if TYPE_CHECKING:
    from drawerwright.job.planning.job_plan import JobPlan
    from drawerwright.job.planning.what_if import WhatIf
    from drawerwright.web.work.background import Work


def page(request: Request) -> Response:
    """The page."""
    return planned_page(request, "sheets", _("Sheets"), "sheets_part.html", _content)


def _content(request: Request, job: JobRecord, plan: JobPlan) -> Mapping[str, Any]:
    from drawerwright.job.papers.cut_lists import cut_list
    from drawerwright.job.pictures.run_pictures import sheet_pictures

    stocks = [
        (stock, list(zip(stock.sheets.layouts, sheet_pictures(plan, stock), strict=True)))
        for stock in plan.stocks
    ]
    day_plans = shop_of(request).plans.all_days(job.text) if days_of(job) else ()
    lists = [(stock.blanks.stock.name, cut_list(plan, stock)) for stock in plan.stocks]
    return {"stocks": stocks, "cut_lists": lists, "day_plans": day_plans}


def alternatives(request: Request) -> Response:
    """What else the sheets could be: asked for with a button, made in the background, shown when it is ready."""
    from drawerwright.job.planning.what_if import what_if_words

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    plan = plan_of(request, job).made
    context: dict[str, Any] = {"job": job, "work": None, "found": None, "fault": ""}
    context |= day_context(request, job)
    if plan is not None:
        state = shop.what_ifs.ask(
            job.text, lambda work: _what_if(plan, work), variant=day_of(request, job), job_id=job.id
        )
        context |= {"work": state.work, "found": state.made, "fault": state.fault}
        if state.made is not None:
            context["words"] = what_if_words(state.made)
    return shop.renderer.page(request, "alternatives.html", context)


def _what_if(plan: JobPlan, work: Work[WhatIf]) -> WhatIf:
    from drawerwright.job.planning.what_if import what_if

    return what_if(plan, step=work.step)


def stop_alternatives(request: Request) -> Response:
    """Look for no more alternatives."""
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    shop.what_ifs.cancel(job.text, day_of(request, job))
    shop.what_ifs.forget(job.text)
    return shop.renderer.page(
        request, "alternatives_button.html", {"job_id": job.id, **day_context(request, job)}
    )


ROUTES = (
    Route("/jobs/{job_id:int}/sheets", page),
    Route("/jobs/{job_id:int}/sheets/alternatives", alternatives),
    Route("/jobs/{job_id:int}/sheets/alternatives/stop", stop_alternatives, methods=["POST"]),
)
