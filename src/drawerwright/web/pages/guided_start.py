"""A guided start: a dozen entries to a first packet."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from drawerwright.basics.phrases import phrase
from drawerwright.web.fields import job_text
from drawerwright.web.fields.field import stored
from drawerwright.web.pages.parts.draft_taken import taken
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.rendering import set_reader_of_form
from drawerwright.web.server.shop import shop_of


def form(request: Request) -> Response:
    """The empty form."""
    return _form(request, {}, {}, 200)


def _form(request: Request, typed: Mapping[str, str], faults: Mapping[str, str], status: int) -> Response:
    from drawerwright.job.file.first_questions import question_groups

    groups = question_groups(request.state.reader.lengths)
    context: dict[str, Any] = {"groups": groups, "typed": typed, "faults": faults}
    return shop_of(request).renderer.page(request, "guided.html", context, status=status)


async def make(request: Request) -> Response:
    """Make the job, or say beside each field what is wrong with it."""
    posted = await request.form()
    set_reader_of_form(request, posted)
    typed = {name: str(given)[:200] for name, given in posted.items()}
    return taken(await asyncio.to_thread(_make, request, typed), posted)


def _make(request: Request, typed: Mapping[str, str]) -> Response:
    from drawerwright.job.planning.guided_job import guided_job, questions

    reader: Preferences = request.state.reader
    asked = questions(reader.lengths)
    typed = {question.name: typed.get(question.name, "") for question in asked}
    made = guided_job(
        reader.lengths,
        {
            question.name: stored(typed[question.name], question.kind, reader, reader.typed_unit)
            for question in asked
        },
    )
    shop, title, faults = shop_of(request), job_text.title_of(made.text), dict(made.faults)
    if title and any(job.title == title for job in shop.jobs.list()):
        words = phrase("another job already has this name: give this one another")
        faults.setdefault("job", words)
    if faults:
        return _form(request, typed, faults, 422)
    job = shop.jobs.add(title, made.text, phrase("guided start"))
    return RedirectResponse(f"/jobs/{job.id}", 303)


ROUTES = (Route("/jobs/new", form), Route("/jobs/new", make, methods=["POST"]))
