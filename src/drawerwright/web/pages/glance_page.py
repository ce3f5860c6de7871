"""The first page of a job: the piece, what is next, what is known, what to set, to buy and to expect."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.store.records import JobRecord
from drawerwright.web.fields import job_text
from drawerwright.web.fields.every_field import entry_link, fault_links
from drawerwright.web.pages.parts.job_frame import job_id_of, job_page, job_pages
from drawerwright.web.pages.parts.job_glance import drawer_link, finding_place, glance_of, plans_of
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import shop_of

if TYPE_CHECKING:
    from drawerwright.job.glance.at_a_glance import Glance
    from drawerwright.job.glance.known_rows import KnownRow
    from drawerwright.job.glance.next_step import NextStep

PATIENCE_SECONDS = 0.05
"""So long the page waits for sheets and times, which fill in later; what is known is shown at once."""


def page(request: Request) -> Response:
    """The whole page, or the part of it that changes with the job, its plan and the run."""
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    state = plans_of(shop, job, PATIENCE_SECONDS)
    glance = glance_of(shop, job, state)
    style = request.state.reader.lengths
    context: dict[str, Any] = {
        "job": job,
        "tab": "glance",
        "heading": _("The job at a glance"),
        "glance": glance,
        "work": state.work,
        "no_plan": state.fault,
        "faults": job_text.faults_of(job.text),
        "fault_links": fault_links(job.text),
        "next_link": next_link(job, glance.next),
        "row_link": lambda row: _row_link(job, row),
        "finding_place": lambda placed: finding_place(job, placed),
        "percent": _percent,
        "fine_figure": lambda length: style.show(length, fine=True, with_unit=False),
        **_pictures(request, job, glance),
    }
    if request.query_params.get("part"):
        return shop.renderer.page(request, "glance_part.html", context)
    return job_page(request, "glance.html", "glance", job, context)


def _pictures(request: Request, job: JobRecord, glance: Glance) -> dict[str, Any]:
    from drawerwright.job.pictures.chest_picture import chest_pictures

    found = job_text.job_of(job.text)
    if found is None:
        return {"pictures": None}
    style = request.state.reader.lengths
    return {"pictures": chest_pictures(found, style, lambda name: drawer_link(job, name), glance.findings)}


def _row_link(job: JobRecord, row: KnownRow) -> str:
    """Where a row is filled in."""
    place = entry_link(job.text, row.entry) if row.entry else ""
    return f"/jobs/{job.id}/{place or row.topic}"


def next_link(job: JobRecord, step: NextStep) -> str:
    """Where the next step is done; empty where there is nowhere to go."""
    from drawerwright.job.glance.topics import Topic

    if step.topic is None:
        return ""
    place = str(step.topic)
    if step.field:
        place = fault_links(job.text).get(step.field, place)
    elif step.entry:
        place = entry_link(job.text, step.entry) or place
    elif step.topic is Topic.TEST_CUT and step.corner:
        place = f"{place}?{urlencode({'corner': step.corner})}"
    elif step.step is not None:
        day = {} if step.day is None else {"day": step.day}
        place = f"{place}?{urlencode({**day, 'view': 'one', 'step': step.step})}"
    return f"/jobs/{job.id}/{place}"


def _percent(chance: float) -> str:
    from drawerwright.job.planning.odds_words import percent

    return percent(chance)


ROUTES = (Route("/jobs/{job_id:int}/glance", page), Route("/jobs/{job_id:int}/pages", job_pages))
