"""So many sheets on hand: how many drawers do they give? Asked on the page Sheets, answered in the background."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics.phrases import phrase
from drawerwright.store.records import JobRecord
from drawerwright.web.fields import job_text
from drawerwright.web.fields.field import shown
from drawerwright.web.fields.posted_numbers import whole_number
from drawerwright.web.pages.parts.day_choice import day_context, day_of, days_of
from drawerwright.web.pages.parts.job_frame import job_id_of
from drawerwright.web.pages.parts.planned import plan_of
from drawerwright.web.pages.saving_fields import LONGEST_TYPED
from drawerwright.web.server.shop import shop_of

if TYPE_CHECKING:
    from drawerwright.job.job import Job
    from drawerwright.job.planning.within_stock import WithinStock
    from drawerwright.web.work.background import Work

MOST_SHEETS = 999
"""Nobody counts more sheets than this on a rack."""
TEMPLATE = "within_stock.html"


def within_stock(request: Request) -> Response:
    """The answer, or how far it is; with the question, so that another number can be asked about."""
    from drawerwright.job.planning.within_stock import plan_within_stock, within_stock_words

    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    asked = request.query_params.get("on_hand", "").strip()
    context = _question(request, job) | {"on_hand": asked}
    now = _job_of(request, job)
    if now is None:
        return shop.renderer.page(request, TEMPLATE, context)
    on_hand = whole_number(asked) if len(asked) <= len(str(MOST_SHEETS)) else None
    fault = _fault(now, asked, on_hand)
    if fault:
        return shop.renderer.page(request, TEMPLATE, context | {"asked_wrongly": fault}, status=422)

    def make(work: Work[WithinStock]) -> WithinStock:
        return plan_within_stock(now, on_hand=on_hand, step=work.step, cancelled=work.cancelled.is_set)

    variant = (day_of(request, job), on_hand)
    state = shop.within_stock.ask(job.text, make, variant=variant, job_id=job.id)
    context |= {"work": state.work, "fault": state.fault, "found": state.made}
    if state.made is not None:
        context |= {
            "words": within_stock_words(state.made, on_hand),
            "days": _two_days(request, job, state.made),
        }
    return shop.renderer.page(request, TEMPLATE, context)


def _question(request: Request, job: JobRecord) -> dict[str, Any]:
    """What the template needs before anything is asked."""
    empty = {"job_id": job.id, "on_hand": "", "asked_wrongly": "", "work": None, "fault": "", "found": None}
    return empty | day_context(request, job) | {"revision": job.revision.number, "days": ""}


def _job_of(request: Request, job: JobRecord) -> Job | None:
    """The job whose drawers are counted: of one day, where it is split; without a plan the whole of it."""
    plan = plan_of(request, job).made
    if plan is not None:
        return plan.job
    return None if days_of(job) else job_text.job_of(job.text)


def _two_days(request: Request, job: JobRecord, found: WithinStock) -> str:
    """What the field for the days says when the drawers left out get a day of their own.

    Nothing where they cannot have one: a job whose own sheets do not hold them has none on another day either.
    """
    if days_of(job) or not found.left_out or plan_of(request, job).made is None:
        return ""
    typed = shown([list(found.drawers), list(found.left_out)], "name-groups", request.state.reader)
    return typed if len(typed) <= LONGEST_TYPED else ""


def _fault(job: Job, asked: str, on_hand: int | None) -> str:
    from drawerwright.job.planning.within_stock import counts_sheets

    if asked and on_hand is None:
        return phrase(
            "The number of sheets must be a whole number from 0 to {most}, not {given!r}.",
            most=MOST_SHEETS,
            given=asked,
        )
    if not asked and not counts_sheets(job):
        return phrase("Say how many sheets you have: the job sets no limit for any size.")
    return ""


def stop(request: Request) -> Response:
    """Look no further."""
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    shop.within_stock.forget(job.text)
    return shop.renderer.page(request, TEMPLATE, _question(request, job))


ROUTES = (
    Route("/jobs/{job_id:int}/sheets/within-stock", within_stock),
    Route("/jobs/{job_id:int}/sheets/within-stock/stop", stop, methods=["POST"]),
)
