"""From the Corner page into the job: keep the settings that were tried, or go back to the recommended ones."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import TYPE_CHECKING

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import joined, phrase
from drawerwright.store.records import JobRecord
from drawerwright.web.fields import job_text
from drawerwright.web.fields.lengths_form import LengthsForm
from drawerwright.web.pages.parts.corner_choice import meant_corner
from drawerwright.web.pages.parts.job_frame import CHANGED_IN_BETWEEN, job_id_of, save_and_announce, seen_text
from drawerwright.web.pages.parts.typed_corner import typed_measures
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import shop_of

if TYPE_CHECKING:
    from drawerwright.job.planning.draft import Corner


async def keep(request: Request) -> Response:
    """Keep the settings that the form holds for one corner of the job."""
    form = await request.form()
    return await asyncio.to_thread(_save, request, form, _setting, _kept, phrase("settings of a corner"))


async def release(request: Request) -> Response:
    """Take every kept setting out of the job."""
    form = await request.form()
    return await asyncio.to_thread(
        _save, request, form, _own_settings, _released, phrase("recommended settings")
    )


def _save(
    request: Request,
    form: FormData,
    concern: Callable[[FormData, str], object],
    change: Callable[[Request, FormData, JobRecord], str],
    note: str,
) -> Response:
    shop = shop_of(request)
    job = shop.jobs.load(job_id_of(request))
    if concern(form, job.text) != concern(form, seen_text(shop, job, str(form.get("base", "")))):
        raise InvalidValueError(CHANGED_IN_BETWEEN)
    text = change(request, form, job)
    return save_and_announce(shop, job, text, note)


def _kept(request: Request, form: FormData, job: JobRecord) -> str:
    from drawerwright.job.kept_settings import keep_tried
    from drawerwright.job.tried_corner import SETTINGS, measures_of

    corner = _corner(form, job.text)
    typed = {name: str(value)[:40].strip() for name, value in form.items()}
    measures = typed_measures(measures_of(corner.setting), request.state.reader)
    if any(typed.get(name) != value for name, value in measures.items()):
        raise InvalidValueError(
            _("The cutter or wood entered here is not the job's: change it in the job first, or set it back.")
        )
    lengths = LengthsForm(typed, request.state.reader)
    lengths.read([name for name in SETTINGS if typed.get(name)], over_zero=True)
    if lengths.faults:
        raise InvalidValueError(joined(lengths.faults.values(), "; "))
    return keep_tried(job.text, corner.key, lengths.values)


def _released(request: Request, form: FormData, job: JobRecord) -> str:
    from drawerwright.job.kept_settings import release_settings

    return release_settings(job.text)


def _own_settings(_form: FormData, text: str) -> object:
    from drawerwright.job.kept_settings import own_settings

    return own_settings(text)


def _setting(form: FormData, text: str) -> object:
    return _corner(form, text).setting


def _corner(form: FormData, text: str) -> Corner:
    """The corner that the form names, as a text has it."""
    draft = job_text.shown(text).draft
    return meant_corner(() if draft is None else draft.corners, str(form.get("corner", "")))


ROUTES = (
    Route("/jobs/{job_id:int}/corner/keep", keep, methods=["POST"]),
    Route("/jobs/{job_id:int}/corner/release", release, methods=["POST"]),
)
