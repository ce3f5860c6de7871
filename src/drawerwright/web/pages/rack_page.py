"""The rack: a finished run booked with one press, its labels, and the press taken back."""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING, Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from drawerwright.store.records import JobRecord
from drawerwright.web.fields.posted_numbers import whole_number
from drawerwright.web.pages.jobs_page import attachment, file_stem
from drawerwright.web.pages.papers_page import plan_to_take_from
from drawerwright.web.pages.parts.day_choice import chosen_day, day_of
from drawerwright.web.pages.parts.job_frame import JOB_CHANGED, job_id_of
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import Shop, shop_of

if TYPE_CHECKING:
    from drawerwright.job.planning.job_plan import JobPlan
    from drawerwright.store.records import FinishedRun


def rack_context(request: Request, job: JobRecord, plan: JobPlan) -> dict[str, Any]:
    """What a page of a plan says of the rack: who else wants what it takes, and whether its run is booked."""
    from drawerwright.job.rack_bookings import counted, rack_change, rack_doubts

    shop, day = shop_of(request), day_of(request, job)
    booked = next((run for run in shop.rack.runs(job.id) if run.day == day), None)
    return {
        "rack_doubts": rack_doubts(shop.rack, shop.shelf, job.id, plan, day),
        "rack_change": counted(rack_change(plan), shop.shelf, plan.job),
        "rack_booked": booked,
    }


def book(request: Request) -> Response:
    """Book the finished run."""
    from drawerwright.job.rack_bookings import book_run

    shop = shop_of(request)
    job, plan = plan_to_take_from(request)
    book_run(shop.rack, shop.shelf, job.id, job.text, plan, day_of(request, job))
    return _back(request, shop, job)


async def undo(request: Request) -> Response:
    """Take a booking back."""
    form = await request.form()
    return await asyncio.to_thread(_undo, request, whole_number(str(form.get("run", ""))))


def _undo(request: Request, run_id: int | None) -> Response:
    from drawerwright.job.rack_bookings import undo_run

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    undo_run(shop.rack, shop.shelf, _run(shop, job, run_id))
    return _back(request, shop, job)


def labels(request: Request) -> Response:
    """The labels of what a booked run left, as PDF."""
    from drawerwright.job.papers.rack_labels import rack_labels

    shop = shop_of(request)
    job, plan = plan_to_take_from(request)
    run = _run(shop, job, int(request.path_params["run"]))
    content = rack_labels(run, plan.job, plan.job.style)
    name = f"{file_stem(job.title)}-labels.pdf"
    return Response(content, media_type="application/pdf", headers={"content-disposition": attachment(name)})


def _run(shop: Shop, job: JobRecord, run_id: int | None) -> FinishedRun:
    found = next((run for run in shop.rack.runs(job.id) if run.id == run_id), None)
    if found is None:
        raise HTTPException(404, _("This run is no longer booked."))
    return found


def _back(request: Request, shop: Shop, job: JobRecord) -> Response:
    shop.hub.announce(job.id)
    if "hx-request" in request.headers:
        return Response("", headers=JOB_CHANGED)
    return RedirectResponse(f"/jobs/{job.id}/run{chosen_day(request)}#rack", 303)


ROUTES = (
    Route("/jobs/{job_id:int}/rack/book", book, methods=["POST"]),
    Route("/jobs/{job_id:int}/rack/undo", undo, methods=["POST"]),
    Route("/jobs/{job_id:int}/rack/labels/{run:int}", labels),
)
