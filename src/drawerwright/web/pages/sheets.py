"""Every sheet drawn, the shopping list, and what is left over."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.store import JobRecord
from drawerwright.web.pages.frame import job_id_of
from drawerwright.web.pages.planned import planned_page
from drawerwright.web.shop import shop_of
from drawerwright.web.words import gettext as _

if TYPE_CHECKING:
    from drawerwright.job.planning import JobPlan

COMPARING_SECONDS = 2.0
"""How long each alternative may be looked for."""


def page(request: Request) -> Response:
    """The page."""
    return planned_page(request, "sheets", _("Sheets"), "sheets_part.html", _content)


def _content(request: Request, job: JobRecord, plan: JobPlan) -> Mapping[str, Any]:
    from drawerwright.drawings.svg import write_svg
    from drawerwright.job.drawing import draw_plan_sheet

    stocks = [
        (
            stock,
            [
                (layout, write_svg(draw_plan_sheet(plan, stock, number), ground=False))
                for number, layout in enumerate(stock.sheets.layouts, start=1)
            ],
        )
        for stock in plan.stocks
    ]
    return {"stocks": stocks}


def alternatives(request: Request) -> Response:
    """The same parts with one thing changed at a time, and what each would cost or save."""
    from drawerwright.sheets.alternatives import compare_alternatives

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    plan = shop.plans.ask(job.text).made
    found = [
        (stock.blanks.stock.name, alternative)
        for stock in (plan.stocks if plan else ())
        for alternative in compare_alternatives(stock.sheets, time_limit=COMPARING_SECONDS)
    ]
    return shop.renderer.page(request, "alternatives.html", {"found": found})


ROUTES = (
    Route("/jobs/{job_id:int}/sheets", page),
    Route("/jobs/{job_id:int}/sheets/alternatives", alternatives),
)
