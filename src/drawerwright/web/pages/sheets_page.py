"""The sheets, one at a time and large, with their cut list, the shopping list, and what is left over."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.store.records import JobRecord
from drawerwright.web.pages.parts.day_choice import day_context, day_of, days_of
from drawerwright.web.pages.parts.job_frame import job_id_of
from drawerwright.web.pages.parts.job_glance import drawer_link
from drawerwright.web.pages.parts.planned import plan_of, planned_page
from drawerwright.web.pages.rack_page import rack_context
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import shop_of

if TYPE_CHECKING:
    from drawerwright.job.pictures.sheet_views import JobSheet
    from drawerwright.job.planning.job_plan import JobPlan
    from drawerwright.job.planning.what_if import WhatIf
    from drawerwright.web.work.background import Work


LONGEST_NUMBER = 4
"""Digits of the number of a sheet or part in an address."""


def page(request: Request) -> Response:
    """The page."""
    return planned_page(request, "sheets", _("Sheets"), "sheets_part.html", _content)


def _content(request: Request, job: JobRecord, plan: JobPlan) -> Mapping[str, Any]:
    from drawerwright.job.papers.cut_lists import cut_list
    from drawerwright.job.pictures.sheet_views import sheet_outlines, sheet_view_pictures

    outlines = sheet_outlines(plan)
    number = _asked(request, "sheet", len(outlines)) or 1
    sheet = outlines[number - 1][0]
    piece = _asked(request, "piece", len(sheet.parts))
    and_day = day_context(request, job)["and_day"]
    return {
        "outlines": outlines,
        "sheet": sheet,
        "pictures": sheet_view_pictures(
            plan, sheet, lambda part: f"?sheet={number}&piece={part}{and_day}#piece", piece
        ),
        **(_piece(request, job, plan, sheet, piece) if piece else {"piece": None}),
        "cut_list_rows": cut_list(plan, sheet.stock),
        **rack_context(request, job, plan),
        "day_plans": shop_of(request).plans.all_days(job.text) if days_of(job) else (),
    }


def _asked(request: Request, name: str, most: int) -> int | None:
    """A number from 1 that the address asks for; None where it names none that there is."""
    asked = request.query_params.get(name, "")
    if not asked.isdecimal() or len(asked) > LONGEST_NUMBER or not 1 <= int(asked) <= most:
        return None
    return int(asked)


def _piece(
    request: Request, job: JobRecord, plan: JobPlan, sheet: JobSheet, number: int
) -> Mapping[str, Any]:
    from drawerwright.job.pictures.sheet_views import part_in_chest_picture

    piece = sheet.parts[number - 1]
    style = request.state.reader.lengths
    return {
        "piece": piece.part,
        "piece_band": piece.band_number(plan),
        "piece_picture": part_in_chest_picture(plan, piece.part, drawer_link(job, piece.part.drawer), style),
    }


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
