"""Every sheet drawn, the shopping list, and what is left over."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.store import JobRecord
from drawerwright.web.pages.planned import planned_page
from drawerwright.web.words import gettext as _

if TYPE_CHECKING:
    from drawerwright.job.planning import JobPlan


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


ROUTES = (Route("/jobs/{job_id:int}/sheets", page),)
